"""Many visits to jobs with one hidden cause, with two, and with none."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from random import Random

from tests.faults.hiding import KINDS, drawn, two
from tests.faults.ideal import NONE, ranking
from tests.faults.making import a_job
from tests.faults.truth import Hidden, Truth
from tests.faults.visiting import Visit
from ventsize.studies.diagnosis.result import Diagnosis

INDUCER = 750.0  # Pa, 3 in w.c.: what an inducer gives against a closed vent (common practice); no job reads more
HEALTHY_SHARE, TWO_SHARE = 0.25, 0.15  # sound vents, and jobs with two causes, for each one with a cause
TWO = "two at once"
PLAINLY = 4.0  # accuracies
PRIOR = {"one": 1.0 / 1.4, NONE: HEALTHY_SHARE / 1.4, "two": TWO_SHARE / 1.4}
"""How often each is drawn, which the ideal judge knows."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """One visit.

    shows: by how many accuracies what is hidden moves one of the readings always taken. named, ideal: causes in
    the order in which the diagnosis and the ideal judge name them by the readings, `NONE` for a sound vent; looked: the
    diagnosis once its first causes were looked for, and put right where two are at work: what was found before the
    others. readings, looks: how many.
    """

    kinds: tuple[str, ...]
    what: str
    shows: float
    named: tuple[str, ...]
    ideal: tuple[str, ...]
    looked: tuple[str, ...]
    readings: int
    looks: int
    counted: bool
    seed: int

    def among(self, most: int, judge: str) -> bool:
        """Whether all that is hidden is among the first few a judge names."""
        first = getattr(self, judge)[:most]
        return all(kind in first for kind in self.kinds)


def visits(jobs: int, *, seed: int) -> Iterator[tuple[int, str]]:
    """Seeds and kinds: so many jobs with one cause, and a quarter and 15 % as many with none and with two, in turn."""
    sound = two = 0
    for number in range(jobs):
        yield seed * 1_000_003 + number, KINDS[number % len(KINDS)]
        if sound < int((number + 1) * HEALTHY_SHARE):
            yield seed * 2_000_003 + (sound := sound + 1), NONE
        if two < int((number + 1) * TWO_SHARE):
            yield seed * 3_000_017 + (two := two + 1), TWO


def one(which: tuple[int, str], *, ideal: bool = True) -> Outcome:
    """A visit to a job with a cause of this kind."""
    seed, kind = which
    visit = hidden_job(seed, kind)
    found = visit.go()
    hidden = visit.hidden
    judged = tuple(ranking(visit.read(), seed=seed, prior=PRIOR)) if ideal else ()
    after, seen = visit.look(found)
    return Outcome(
        kinds=hidden.kinds if kind != NONE else (NONE,),
        what=hidden.what,
        shows=math.inf if kind == NONE else visit.kit.shows,
        named=named(found),
        ideal=judged,
        looked=tuple(dict.fromkeys((*seen, *named(after)))),
        readings=len(visit.taken),
        looks=len(visit.looked_for),
        counted=visit.truth.inputs.graph.runs["vent"].counted,
        seed=seed,
    )


def hidden_job(seed: int, kind: str) -> Visit:
    """A job with a cause of this kind, ready to be read."""
    chance = Random(seed)
    while True:
        inputs, data = a_job(chance)
        hidden = Hidden() if kind == NONE else two(inputs, chance) if kind == TWO else drawn(inputs, kind, chance)
        if hidden is None:
            continue
        told = chance.random() < 0.6
        truth = Truth(inputs, chance, outdoor_told=told)
        visit = Visit(truth, data, hidden, seed=seed, outdoor_told=told)
        if max(map(abs, visit.kit.pressures), default=0.0) <= INDUCER:
            return visit


def named(found: Diagnosis) -> tuple[str, ...]:
    """Causes in the order the diagnosis names them, each by itself: two at once, then the groups from top to bottom.

    Where it calls the vent sound, that is named first, then what could be there all the same.
    """
    causes = [cause for group in found.groups for cause in group.causes]
    if found.outcome == "something is off":
        both = found.two.causes if found.two is not None else ()
        return tuple(dict.fromkeys(cause.kind for cause in (*both, *causes)))
    return tuple(dict.fromkeys((NONE, *found.hardly_shown, *(cause.kind for cause in causes))))


def shares(outcomes: Sequence[Outcome], judge: str = "named") -> dict[str, float]:
    """The shares a judge is held to."""
    shown = [one for one in outcomes if one.shows > 1.0 and len(one.kinds) == 1 and one.kinds != (NONE,)]
    plainly = [one for one in shown if one.shows > PLAINLY]
    laid_out = [one for one in shown if not one.counted]
    both = [one for one in outcomes if one.shows > 1.0 and len(one.kinds) == 2]
    sound = [one for one in outcomes if one.kinds == (NONE,)]
    return {
        "first": _share(shown, 1, judge),
        "first three": _share(shown, 3, judge),
        "first, seen plainly": _share(plainly, 1, judge),
        "first three, seen plainly": _share(plainly, 3, judge),
        "first, vent laid out": _share(laid_out, 1, judge),
        "first three, vent laid out": _share(laid_out, 3, judge),
        "two at once, both among the first three": _share(both, 3, judge),
        "sound called sound": _share(sound, 1, judge),
    }


def _each(outcomes: Sequence[Outcome], what: str) -> str:
    return f"{sum(getattr(one, what) for one in outcomes) / max(len(outcomes), 1):.1f}"


def _share(outcomes: Sequence[Outcome], most: int, judge: str) -> float:
    return sum(one.among(most, judge) for one in outcomes) / max(len(outcomes), 1)


def report(outcomes: Sequence[Outcome]) -> str:
    """The study as text: each share of the diagnosis, and of the ideal judge."""
    shown = [one for one in outcomes if one.shows > 1.0 and len(one.kinds) == 1 and one.kinds != (NONE,)]
    counts = Counter(len(one.kinds) if one.kinds != (NONE,) else 0 for one in outcomes if one.shows > 1.0)
    lines = [
        f"{counts[1]} jobs whose one cause shows, {counts[2]} with two that show, {counts[0]} sound; "
        f"{_each(outcomes, 'readings')} readings and {_each(outcomes, 'looks')} looks a visit",
        f"  {'':<42}{'readings':>9}{'ideal':>9}{'and looks':>11}",
    ]
    judges = [shares(outcomes, judge) for judge in ("named", "ideal", "looked")]
    lines += [f"  {name:<42}{a:>9.1%}{b:>9.1%}{c:>11.1%}" for (name, a), b, c in
              zip(judges[0].items(), judges[1].values(), judges[2].values(), strict=True)]  # fmt: skip
    lines += [
        "",
        f"  {'cause':<16}{'shown':>6}{'first':>7}{'three':>7}{'ideal':>9}{'three':>7}{'looks':>9}{'three':>7}"
        "   first instead",
    ]
    for kind in KINDS:
        mine = [one for one in shown if one.kinds == (kind,)]
        wrong = Counter(one.named[0] for one in mine if one.named[:1] != (kind,))
        instead = ", ".join(f"{name} {count}" for name, count in wrong.most_common(4))
        cells = "".join(
            f"{_share(mine, most, judge):>{width}.0%}"
            for judge, most, width in (
                ("named", 1, 7),
                ("named", 3, 7),
                ("ideal", 1, 9),
                ("ideal", 3, 7),
                ("looked", 1, 9),
                ("looked", 3, 7),
            )
        )
        lines.append(f"  {kind:<16}{len(mine):>6}{cells}   {instead}")
    return "\n".join(lines)
