"""What could explain the readings on a vent: causes run through the model and compared, most likely first."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.special import chdtrc

from ventsize.check import shut_off
from ventsize.check.inputs import Inputs
from ventsize.check.result import JobCheck
from ventsize.check.verdict import check, settles_job
from ventsize.finding import Finding
from ventsize.studies.diagnosis.causes import Suspect, suspects
from ventsize.studies.diagnosis.fitting import Fit, Fitter
from ventsize.studies.diagnosis.outcome import outcome_of, without_causes
from ventsize.studies.diagnosis.result import (
    Cause,
    CauseGroup,
    CauseSize,
    Diagnosis,
    NextReading,
    Noticed,
    Part,
    TableSays,
    Two,
)
from ventsize.studies.diagnosis.separating import Candidate, next_reading, plan, possible
from ventsize.studies.diagnosis.together import all_together, just_past, unexplained
from ventsize.studies.diagnosis.verifying import verified
from ventsize.studies.readings import Looked, look
from ventsize.studies.readings.case import Array
from ventsize.studies.readings.margins import margins, usual_accuracy, wider
from ventsize.studies.readings.model import Change, Model
from ventsize.studies.readings.symptoms import MISSED, TIPS, looked_for, points_to
from ventsize.studies.uncertainty.ranges import ranges_of

ALIKE = 2.0  # standard deviations; predictions nearer than this cannot be told apart
AS_GOOD = 4.0  # of chi square; a place that leaves no more than so much beyond the best is as good
SIZED = ("terminal", "inside", "water", "air pipe", "leak")
FAR_OFF = 1.0  # of a reading's accuracy; where search and solver differ by more, it is said
# Of score, by which any two kinds are less likely beforehand than one: two at once in one visit of eight, and as likely
# any two of the thirteen kinds, 78 pairs (no source).
SELDOM = 2.0 * math.log(8.0 * 78.0 / 13.0)
COUNTS, MOST_COUNTED = 0.003, 6  # weight from which a cause counts for what to read next; places of each
MOST_PAIRED = 12  # pairs of kinds that are followed together, of those that explain most


@dataclass(frozen=True, slots=True, kw_only=True)
class _Evidence:
    """The readings that can be compared, and the model they are compared by. numbers: theirs in the job, from 1."""

    looked: Looked
    numbers: tuple[int, ...]
    fitter: Fitter
    accuracies: Array
    low: Array
    high: Array

    @property
    def count(self) -> int:
        return len(self.numbers)


def diagnose(inputs: Inputs, *, checked: JobCheck | None = None) -> Diagnosis:
    """What could explain a job's readings.

    checked: the check of the same job, where there is one already. Raises InputError as `readings` and `check` do.
    """
    looked = look(inputs)
    study = looked.study
    checked = checked or check(inputs)
    vent = [outcome for outcome in checked.conditions if outcome.condition != shut_off.CONDITION]  # that is said first
    by_table = TableSays(decides=settles_job(checked.runs, vent))
    if not any(reading.compared for reading in study.readings):
        return without_causes(study, by_table)
    evidence = _evidence(inputs, looked)
    if evidence.fitter.model.divided:
        return without_causes(study, by_table, Finding("gas-divides"))
    return _diagnosed(evidence, by_table)


def _evidence(inputs: Inputs, looked: Looked) -> _Evidence:
    compared = [reading for reading in looked.study.readings if reading.compared]
    read = [looked.taps[reading.number] for reading in compared]
    others = possible(looked.conditions, read)
    model = Model(looked.conditions, [*read, *others])
    expected = np.nan_to_num(model.base)
    accuracies = np.array(
        [
            *(looked.accuracies[reading.number] for reading in compared),
            *(usual_accuracy(tap, value) for tap, value in zip(others, expected[len(read) :], strict=True)),
        ]
    )
    ranges = ranges_of(inputs)
    measured = np.array([reading.measured for reading in compared])
    off = margins(model, ranges, accuracies, measured)
    return _Evidence(
        looked=looked,
        numbers=tuple(reading.number for reading in compared),
        fitter=Fitter(model, ranges, measured, off.covariance),
        accuracies=accuracies,
        low=off.low - model.base,
        high=off.high - model.base,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pair:
    """Two causes of different kinds at once. score: with how seldom two come together."""

    fits: tuple[Fit, Fit]
    sizes: Array
    chi_square: float
    score: float

    @property
    def kinds(self) -> tuple[str, ...]:
        """Of both."""
        return tuple(fit.suspect.kind for fit in self.fits)


@dataclass(frozen=True, slots=True)
class _Judged:
    """Every fit, best first; each kind by the evidence for it over all its places, by itself (`singles`) and with what
    two at once add (`kinds`): lower is likelier. pairs: every two, see `_pairs`. missed: kinds that somebody has
    looked for, and not found."""

    fits: Sequence[Fit]
    singles: Mapping[str, float]
    kinds: Mapping[str, float]
    pairs: Sequence[_Pair]
    missed: frozenset[str]

    @property
    def ranked(self) -> list[str]:
        """The kinds, the likeliest first."""
        return sorted(self.kinds, key=lambda kind: self.kinds[kind])

    @property
    def two_likelier(self) -> bool:
        """Whether two causes at once are likelier than any single one."""
        return bool(self.pairs) and self.pairs[0].score <= min(self.singles.values())

    def score(self, kind: str) -> float:
        """Of a kind as an explanation: what it only may be beside a cause that explains as much alone is none."""
        return (self.kinds if self.two_likelier else self.singles)[kind]

    def best(self, kind: str) -> Fit:
        return next(fit for fit in self.fits if fit.suspect.kind == kind)


def _judged(evidence: _Evidence, everything: Sequence[Suspect], left: float) -> _Judged:
    symptoms = evidence.fitter.model.conditions.inputs.job.symptoms
    tips, missed = points_to(symptoms), looked_for(symptoms)
    found = [(one, evidence.fitter.fit(one) if evidence.fitter.seen(one) else None) for one in everything]
    fits = sorted((fit for _, fit in found if fit is not None), key=lambda fit: fit.score)
    scores: dict[str, list[float]] = {}
    likely: dict[str, float] = defaultdict(float)
    for one, fit in found:
        scores.setdefault(one.kind, []).append(left - 2.0 * math.log(one.likely) if fit is None else fit.score)
        likely[one.kind] += one.likely
    singles: dict[str, float] = {
        kind: _sum(scores[kind]) + 2.0 * math.log(likely[kind]) - TIPS * (kind in tips) + MISSED * (kind in missed)
        for kind in dict.fromkeys(fit.suspect.kind for fit in fits)
    }
    pairs = _pairs(evidence, fits, missed)
    kinds: dict[str, float] = {
        kind: _sum([score, *(pair.score for pair in pairs if kind in pair.kinds)]) for kind, score in singles.items()
    }
    return _Judged(fits, singles, kinds, pairs, missed)


def _sum(scores: Sequence[float]) -> float:
    """The score of several things of which any may be the case."""
    least = min(scores)
    return least - 2.0 * math.log(math.fsum(math.exp(-(score - least) / 2.0) for score in scores))


def _diagnosed(evidence: _Evidence, by_table: TableSays) -> Diagnosis:
    fitter, study, model = evidence.fitter, evidence.looked.study, evidence.fitter.model
    left = fitter.unexplained(model.shows(Change()))
    chance = float(chdtrc(evidence.count, left))
    everything = list(suspects(model))
    judged = _judged(evidence, everything, left)
    looked_at = [fit.suspect for fit in judged.fits]
    together = all_together(chance=chance, left=left, kinds=judged.kinds)
    marked = unexplained(study, together)
    repeat = marked[0] if just_past(marked, together) else None
    strange = together.strange and evidence.count > 1  # one reading that could be right is not wrong together
    outcome, reasons = outcome_of(study, by_table, strange=strange, unexplained=marked, repeat=repeat)
    groups, against = _groups(evidence, judged)
    checked = verified(model, groups[0].best, evidence.count, evidence.accuracies) if groups else None
    unseen = {suspect.kind: (suspect.kind, suspect.form) for suspect in everything}
    for suspect in looked_at:
        unseen.pop(suspect.kind, None)
    spoken_for = [kind for kind in judged.ranked if judged.kinds[kind] < left]
    said = list(study.cautions)
    if groups and None in groups[0].next_readings and _counted(model):
        said.insert(1, Finding("counted-run-tells-less"))
    if all(evidence.looked.taps[n].place == "collar" for n in evidence.numbers):
        said.insert(0, Finding("collar-tells-little"))
    if checked is not None and checked.off > FAR_OFF:
        said.insert(1, Finding("solved-anew-differs"))
    weight = _weights([left, *(fit.score for fit in judged.fits)])
    weights = {id(fit): w for fit, w in zip(judged.fits, weight[1:], strict=True)}
    return Diagnosis(
        title=study.title,
        outcome=outcome,
        reasons=reasons,
        readings=study,
        by_table=by_table,
        repeat=None if repeat is None else repeat.number,
        chi_square=left,
        chance=chance,
        groups=tuple(_group(evidence, group, judged, weights) for group in groups),
        against_next=tuple(against),
        plan=plan(fitter, _candidates(evidence, judged, left), read=evidence.count, drill=outcome != "as it should be"),
        two=_two(evidence, judged, weights) if outcome == "something is off" else None,
        unseen=tuple(unseen.values()),
        hardly_shown=tuple(kind for kind in (*spoken_for, *unseen) if kind not in judged.missed),
        noticed=_noticed(fitter, looked_at) if outcome == "as it should be" else (),
        verified=checked,
        cautions=tuple(said),
    )


def _candidates(evidence: _Evidence, judged: _Judged, left: float) -> list[Candidate]:
    """What may be the case, the likeliest first: every kind as likely as the others beforehand, and nothing wrong."""
    found = [Candidate(kind="", shows=evidence.fitter.model.base, weight=left)]
    for kind in judged.kinds:
        places = [fit for fit in judged.fits if fit.suspect.kind == kind]
        shares = _weights([fit.score for fit in places])
        found += [
            Candidate(kind=kind, shows=fit.shows, weight=judged.score(kind) - 2.0 * math.log(max(share, 1e-300)))
            for fit, share in list(zip(places, shares, strict=True))[:MOST_COUNTED]
        ]
    weights = _weights([one.weight for one in found])
    found = [replace(one, weight=weight) for one, weight in zip(found, weights, strict=True) if weight > COUNTS]
    return sorted(found, key=lambda one: -one.weight)


def _pairs(evidence: _Evidence, fits: Sequence[Fit], missed: frozenset[str]) -> list[_Pair]:
    """Two at once for every two kinds: the likeliest followed together, best first; then others, by their sum."""
    if evidence.count < 3 or not fits:
        return []
    found: list[_Pair] = []
    for score, scarce, one, other in evidence.fitter.likeliest_pairs(fits):
        if one.suspect.stretch is not None and other.suspect.stretch is not None:
            continue
        sizes, chi_square = np.array([one.size, other.size]), score
        if len(found) < MOST_PAIRED:
            sizes, chi_square, score = evidence.fitter.fit_two(one, other)
            score += scarce
        score += SELDOM + MISSED * sum(fit.suspect.kind in missed for fit in (one, other))
        found.append(_Pair(fits=(one, other), sizes=sizes, chi_square=chi_square, score=score))
    return sorted(found[:MOST_PAIRED], key=lambda pair: pair.score) + found[MOST_PAIRED:]


def _two(evidence: _Evidence, judged: _Judged, weights: dict[int, float]) -> Two | None:
    """Two causes at once, where they are likelier than any single one."""
    if not judged.two_likelier:
        return None
    pair = judged.pairs[0]
    one, other = (fit.suspect.change(float(size)) for fit, size in zip(pair.fits, pair.sizes, strict=True))
    shows = evidence.fitter.model.shows(one.beside(other))
    fits = [replace(fit, size=float(size), low=float(size), high=float(size), shows=shows)
            for fit, size in zip(pair.fits, pair.sizes, strict=True)]  # fmt: skip
    first, second = (_cause(evidence, fit, judged, {**weights, id(fit): 0.0}) for fit in fits)
    missed = tuple(number for number in first.misses if number in second.misses)
    return Two(causes=(first, second), chi_square=pair.chi_square, score=pair.score, misses=missed)


def _noticed(fitter: Fitter, looked_at: Sequence[Suspect]) -> tuple[Noticed, ...]:
    """From which size on causes on the pipe would have shown, each at the place where it shows least."""
    found: dict[str, tuple[Suspect, float]] = {}
    for suspect in looked_at:
        size = fitter.noticed_from(suspect) if suspect.kind in SIZED else None
        if size is None:
            continue
        hides = min if suspect.size_kind == "open bore" else max
        before = found.get(suspect.kind)
        if before is None or hides(size, before[1]) == size:
            found[suspect.kind] = (suspect, size)
    return tuple(
        Noticed(
            kind=suspect.kind,
            form=suspect.form,
            part=suspect.part,
            size=CauseSize(kind=suspect.size_kind, value=size, low=size, high=size, of=suspect.of),
        )
        for suspect, size in found.values()
    )


def _counted(model: Model) -> bool:
    return any(run.counted for run in model.conditions.inputs.graph.runs.values())


@dataclass(slots=True)
class _Group:
    best: Fit
    others: list[Fit]
    next_readings: list[NextReading | None]


def _groups(evidence: _Evidence, judged: _Judged) -> tuple[list[_Group], list[NextReading | None]]:
    """The best fit of each kind, those that cannot be told apart together; and what tells each group from the first.

    What was looked for in vain stands apart from what nobody has looked for.
    """
    fitter = evidence.fitter
    groups: list[_Group] = []
    left = [judged.best(kind) for kind in judged.ranked]
    while left:
        first, rest = left[0], left[1:]
        both = [fit for fit in rest if (fit.suspect.kind in judged.missed) == (first.suspect.kind in judged.missed)]
        alike = [fit for fit in both if fitter.alike(first, fit) < ALIKE]
        tells = [next_reading(fitter, first, fit, read=evidence.count) for fit in alike]
        groups.append(_Group(first, alike, tells))
        left = [fit for fit in rest if not any(fit is one for one in alike)]
    against = [next_reading(fitter, groups[0].best, group.best, read=evidence.count) for group in groups[1:]]
    return groups, against


def _group(evidence: _Evidence, group: _Group, judged: _Judged, weights: dict[int, float]) -> CauseGroup:
    return CauseGroup(
        causes=tuple(_cause(evidence, fit, judged, weights) for fit in (group.best, *group.others)),
        next_readings=tuple(group.next_readings),
    )


def _cause(evidence: _Evidence, fit: Fit, judged: _Judged, weights: dict[int, float]) -> Cause:
    fitter, suspect, count = evidence.fitter, fit.suspect, evidence.count
    alike = [
        other
        for other in judged.fits
        if other.suspect.kind == suspect.kind and other.chi_square <= fit.chi_square + AS_GOOD
    ]
    shows = fit.shows[:count]
    change = suspect.change(fit.size)
    room = wider(fitter.model, fitter.ranges, change.swaps) if suspect.stretch is not None else None
    low, high = (evidence.low, evidence.high) if room is None else (evidence.low + room.low, evidence.high + room.high)
    lost = fitter.model.may_lose(change)
    low, high = low + np.minimum(lost, 0.0), high + np.maximum(lost, 0.0)
    room_low = shows + low[:count] - evidence.accuracies[:count]
    room_high = shows + high[:count] + evidence.accuracies[:count]
    missed = (fitter.measured < room_low) | (fitter.measured > room_high)
    added = [
        float(shows[row] - fitter.nominal[row])
        for case in fitter.model.cases
        for row in case.rows[case.in_pipe]
        if row < count
    ]
    return Cause(
        kind=suspect.kind,
        form=suspect.form,
        part=_part(fit),
        parts=tuple(dict.fromkeys((other.suspect.form, _part(other)) for other in (fit, *alike))),
        size=_size(fit),
        extra=max(added, key=abs) if added and suspect.run is not None else None,
        chi_square=fit.chi_square,
        score=judged.score(suspect.kind),
        likelihood=sum(weights[id(other)] for other in judged.fits if other.suspect.kind == suspect.kind),
        shows=tuple(float(value) for value in shows),
        misses=tuple(number for number, miss in zip(evidence.numbers, missed, strict=True) if miss),
        lumped=suspect.run is not None and _lumped(fitter.model, suspect.run),
        looked_for=suspect.kind in judged.missed,
    )


def _lumped(model: Model, run: str) -> bool:
    pieces = model.conditions.inputs.graph.runs[run].pieces
    return sum(piece.is_pipe for piece in pieces) == 1


def _part(fit: Fit) -> Part:
    stretch = fit.suspect.stretch
    partly = stretch is not None and stretch.part is not None
    return replace(fit.suspect.part, share=fit.size) if partly else fit.suspect.part


def _size(fit: Fit) -> CauseSize:
    suspect = fit.suspect
    if suspect.stretch is not None:
        bore = suspect.stretch.section.bore
        return CauseSize(kind="bore", value=bore, low=bore, high=bore, of=suspect.of)
    return CauseSize(kind=suspect.size_kind, value=fit.size, low=fit.low, high=fit.high, of=suspect.of)


def _weights(scores: Sequence[float]) -> list[float]:
    found = np.array(scores)
    weights = np.exp(-(found - found.min()) / 2.0)
    return [float(weight) for weight in weights / weights.sum()]
