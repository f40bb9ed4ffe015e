"""Many jobs with a hidden cause each, diagnosed; and as many again with none, a quarter of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from tests.faults.hiding import KINDS, drawn, taken, two
from tests.faults.making import a_job
from tests.faults.truth import Hidden, Truth
from ventsize.check.inputs import Inputs, prepare
from ventsize.jobfile.job import job_from_data
from ventsize.studies.diagnosis import diagnose
from ventsize.studies.diagnosis.result import Diagnosis

INDUCER = 1500.0  # Pa, 6 in w.c.: more than such inducers give, so that no job reads it
HEALTHY_SHARE, TWO_SHARE = 0.25, 0.15  # sound vents, and jobs with two causes, for each one with a cause
TWO = "two at once"


@dataclass(frozen=True, slots=True)
class Outcome:
    """One job. shows: whether the cause moves a reading beyond its accuracy. rank: the place of the true cause,
    a sound vent in between counted, from 1; None where it is not named. group: how many causes the group of the leading
    cause has. readings: how many."""

    kind: str
    what: str
    shows: bool
    verdict: str
    rank: int | None
    group: int
    readings: int
    leading: str
    seed: int
    off: bool
    solved_off: float
    alone: bool
    gain: float


def study(jobs: int, *, seed: int) -> list[Outcome]:
    """That many jobs with a cause, and a quarter as many with none."""
    found = []
    for number in range(jobs):
        found.append(one(seed * 1_000_003 + number, KINDS[number % len(KINDS)]))
    for number in range(int(jobs * HEALTHY_SHARE)):
        found.append(one(seed * 2_000_003 + number, "none"))
    for number in range(int(jobs * TWO_SHARE)):
        found.append(one(seed * 3_000_017 + number, TWO))
    return found


def one(seed: int, kind: str) -> Outcome:
    """A job with a cause of this kind, diagnosed."""
    inputs, data, hidden, kit_shows = _hidden_job(seed, kind)
    return _outcome(diagnose(_read(data)), hidden, kit_shows, len(data["reading"]), seed)


def _hidden_job(seed: int, kind: str):  # type: ignore[no-untyped-def]
    chance = Random(seed)
    while True:
        inputs, data = a_job(chance)
        hidden = Hidden() if kind == "none" else two(inputs, chance) if kind == TWO else drawn(inputs, kind, chance)
        if hidden is None:
            continue
        told = chance.random() < 0.6
        truth = Truth(inputs, chance, outdoor_told=told)
        kit = taken(truth, hidden, chance, outdoor_told=told)
        if max(map(abs, kit.pressures), default=0.0) <= INDUCER:
            break
    data["reading"] = kit.readings
    return inputs, data, hidden, kit.shows


def _read(data: dict[str, object]) -> Inputs:
    return prepare(job_from_data(data, file="job"), file="job")


def _outcome(found: Diagnosis, hidden: Hidden, shows: bool, readings: int, seed: int) -> Outcome:
    places = ranked(found)
    ranks = [next((n for n, kinds in enumerate(places, start=1) if kind in kinds), None) for kind in hidden.kinds]
    rank = None if None in ranks else max(one for one in ranks if one is not None)
    group = 0
    alone = bool(found.groups) and found.groups[0].causes[0].kind in hidden.kinds
    if rank is not None and found.outcome != "something is off":
        rank += 1
    if found.groups:
        group = len(found.groups[0].causes)
    return Outcome(
        kind=hidden.kind,
        what=hidden.what,
        shows=shows,
        verdict=found.outcome,
        rank=rank,
        group=group,
        readings=readings,
        leading=found.groups[0].causes[0].kind if found.groups else "-",
        seed=seed,
        off=any(reading.verdict in ("high", "low") for reading in found.readings.readings),
        solved_off=found.verified.off if found.verified else 0.0,
        alone=alone,
        gain=found.chi_square - found.groups[0].causes[0].score if found.groups else 0.0,
    )


def ranked(found: Diagnosis) -> list[set[str]]:
    """The causes in the order they are named: two at once first, then the groups.

    A cause counts for its group only where it is the first, or a reading is named that would tell it from the first.
    """
    places = [{cause.kind} for cause in found.two.causes] if found.two is not None else []
    for group in found.groups:
        told = (True, *(reading is not None for reading in group.next_readings))
        places.append({cause.kind for cause, named in zip(group.causes, told, strict=True) if named})
    return places


def shares(outcomes: Sequence[Outcome]) -> dict[str, float]:
    """The shares the study is held to."""
    shown = [one for one in outcomes if one.shows and " + " not in one.kind]
    both = [one for one in outcomes if one.shows and " + " in one.kind]
    sound = [one for one in outcomes if one.kind == "none"]
    called = [one for one in shown if one.verdict == "something is off"]
    return {
        "first": _share(shown, 1),
        "first three": _share(shown, 3),
        "two at once, both among the first three": _share(both, 3),
        "sound called sound": sum(one.verdict == "as it should be" for one in sound) / max(len(sound), 1),
        "mean group": sum(one.group for one in called) / max(len(called), 1),
        "first of its group too": sum(one.rank == 1 and one.alone for one in shown) / max(len(shown), 1),
        "first, of those called off": _share(called, 1),
        "first three, of those called off": _share(called, 3),
    }


def _share(outcomes: Sequence[Outcome], most: int) -> float:
    return sum(one.rank is not None and one.rank <= most for one in outcomes) / max(len(outcomes), 1)


def report(outcomes: Sequence[Outcome]) -> str:
    """The study as text."""
    shown = [one for one in outcomes if one.shows and " + " not in one.kind]
    lines = [
        f"{sum(one.kind != 'none' for one in outcomes)} jobs with a hidden cause, {len(shown)} of them show beyond the "
        f"accuracy of an instrument; {sum(one.kind == 'none' for one in outcomes)} sound ones",
    ]
    lines += [f"  {name:<34}{value:>8.3g}" for name, value in shares(outcomes).items()]
    lines += ["", f"  {'cause':<16}{'shown':>6}{'first':>7}{'three':>7}{'called':>8}{'group':>7}   instead of it"]
    for kind in KINDS:
        mine = [one for one in shown if one.kind == kind]
        called = [one for one in mine if one.verdict == "something is off"]
        wrong = Counter(one.leading for one in called if one.rank != 1)
        missed = len(mine) - len(called)
        instead = ", ".join(f"{name} {count}" for name, count in wrong.most_common(4))
        group = sum(one.group for one in called) / max(len(called), 1)
        lines.append(
            f"  {kind:<16}{len(mine):>6}{_share(mine, 1):>7.0%}{_share(mine, 3):>7.0%}"
            f"{1 - missed / max(len(mine), 1):>8.0%}{group:>7.2f}   {instead}"
        )
    sizes = Counter(one.group for one in shown if one.verdict == "something is off")
    lines.append("  groups of " + ", ".join(f"{size}: {count}" for size, count in sorted(sizes.items())))
    return "\n".join(lines)
