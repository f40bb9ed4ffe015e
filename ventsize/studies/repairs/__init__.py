"""Repairs: the smallest changes that bring a run within its table, singly and in pairs; for a run within, savings.

Every repair offered has been applied and judged by the steps of a check. A run that its table does not cover, or
of which something is missing, is not repaired by guesswork: what is missing is said instead.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from ventsize.check.inputs import Inputs
from ventsize.check.result import RunCheck
from ventsize.check.variants import VariantCheck, Variants
from ventsize.finding import Outcome, Verdict
from ventsize.jobfile.editing import Data
from ventsize.jobfile.job import Run
from ventsize.studies.altering.run_data import apply_runs
from ventsize.studies.options import inputs_with
from ventsize.studies.pricing import ChangeCost, Pricer
from ventsize.studies.repairs.remedies import (
    ELSEWHERE,
    Change,
    Kind,
    least_cut,
    move_terminal,
    saving_changes,
    shorten,
    single_changes,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Repair:
    """One change or two that make a run within.

    won: how much more of the allowance is left than before [m]; None where the run had no length to compare.
    margin: what is left then [m]. cost: what it costs, where there is a price list.
    within_by_calculation: the other answer, beside the table's; share_inside: how sure that is, by the model of doubt
    of `flow.doubt`, at the rate that is least so [-].
    """

    run: str
    changes: tuple[Change, ...]
    made: Run
    won: float | None
    margin: float | None
    cost: ChangeCost | None
    within_by_calculation: bool | None
    share_inside: float | None = None

    @property
    def elsewhere(self) -> bool:
        """Whether it needs another route, or another place for the end."""
        return any(change.what.code in ELSEWHERE for change in self.changes)

    @property
    def touched(self) -> int:
        """How many pieces are made new."""
        return sum(change.touched for change in self.changes)


@dataclass(frozen=True, slots=True, kw_only=True)
class RunRepairs:
    """What can be done for one run.

    repairs: for a run over; first those that leave route and end where they are, and of those the smallest.
    savings: for a run within, what still leaves it within.
    """

    run: str
    verdict: Verdict
    decides: Outcome
    margin: float | None
    repairs: tuple[Repair, ...]
    savings: tuple[Repair, ...]

    @property
    def first_elsewhere(self) -> Repair | None:
        """Where those begin that need another route, or another place for the end."""
        return next((repair for repair in self.repairs if repair.elsewhere), None)


def repairs(inputs: Inputs, *, pricer: Pricer | None = None, pairs: bool = True) -> Iterator[RunRepairs]:
    """Every run's repairs or savings, run by run: stop by no longer asking for more."""
    variants = Variants(inputs)
    whole = variants.judge({})
    for checked in whole.runs:
        run = next(run for run in inputs.job.runs if run.name == checked.run.name)
        yield _Bench(inputs, variants, run, checked, pricer).answer(pairs=pairs)


def apply_repair(data: Data, repair: Repair, *, inputs: Inputs) -> Data:
    """An open job's data with a repair: one edit."""
    return apply_runs(data, before=inputs.job, after={repair.run: repair.made}, catalog=inputs.catalog)


@dataclass(slots=True)
class _Bench:
    """One run on the bench: changes are made to it and judged."""

    inputs: Inputs
    variants: Variants
    run: Run
    checked: RunCheck
    pricer: Pricer | None
    known: dict[int, tuple[Run, VariantCheck]] = field(default_factory=dict)  # by the id of the run, kept with it

    def answer(self, *, pairs: bool) -> RunRepairs:
        """What can be done for the run."""
        verdict = self.checked.verdict
        found: tuple[Repair, ...] = ()
        saved: tuple[Repair, ...] = ()
        if verdict == "over":
            found = self._repairs(pairs=pairs)
        elif verdict == "within":
            saved = self._savings()
        return RunRepairs(
            run=self.run.name,
            verdict=verdict,
            decides=self.checked.decides,
            margin=self.checked.margin,
            repairs=self.costed(found),
            savings=self.costed(saved),
        )

    def judged(self, run: Run) -> RunCheck | None:
        """The run with a change, judged in its job; None where it cannot be built."""
        return self._whole(run).run(run.name)

    def _whole(self, run: Run) -> VariantCheck:
        if id(run) not in self.known:
            self.known[id(run)] = run, self.variants.judge({run.name: run})
        return self.known[id(run)][1]

    def costed(self, found: Sequence[Repair]) -> tuple[Repair, ...]:
        """The repairs with what they cost."""
        if self.pricer is None:
            return tuple(found)
        return tuple(replace(one, cost=self._cost(one.made, self._whole(one.made))) for one in found)

    def _repair(self, made: Sequence[Change]) -> Repair | None:
        """These changes as a repair, if the run is within with them."""
        run = made[-1].made
        checked = self.judged(run)
        if checked is None or checked.verdict != "within":
            return None
        before, after = self.checked.margin, checked.margin
        return Repair(
            run=run.name,
            changes=tuple(made),
            made=run,
            won=None if before is None or after is None else after - before,
            margin=after,
            cost=None,
            within_by_calculation=checked.within_by_calculation,
            share_inside=min(
                (share for rate in checked.rates if (share := rate.share_inside) is not None), default=None
            ),
        )

    def _cost(self, run: Run, check: VariantCheck) -> ChangeCost | None:
        if self.pricer is None:
            return None
        return self.pricer.change(self.inputs, inputs_with(self.inputs, {run.name: run}, check))

    def _repairs(self, *, pairs: bool) -> tuple[Repair, ...]:
        singles: list[Repair] = []
        failed: list[Change] = []
        for group in single_changes(self.run, self.inputs):
            worked = False
            for change in group:  # smallest first; the first of a group that works is the one to offer
                repair = self._repair([change])
                if repair:
                    singles.append(repair)
                    worked = True
                    break
            if not worked and group:
                failed.append(max(group, key=self._left))
        for cut in (shorten, move_terminal):
            singles += self._cut(cut, ())
        enough = {repair.changes[0].kind for repair in singles}
        doubles: list[Repair] = []
        if pairs:
            for change in failed:
                doubles += self._pairs_with(change, enough)
        return tuple(sorted((*singles, *_once(doubles)), key=_order))

    def _left(self, change: Change) -> float:
        checked = self.judged(change.made)
        return -math.inf if checked is None or checked.margin is None else checked.margin

    def _pairs_with(self, first: Change, enough: Collection[Kind]) -> Iterator[Repair]:
        """Repairs of two changes, neither of which is enough by itself; enough: kinds that are."""
        checked = self.judged(first.made)
        if checked is None or checked.verdict != "over":
            return
        for group in single_changes(first.made, self.inputs):
            for second in group:
                if second.kind in (first.kind, *enough):
                    continue
                repair = self._repair([first, second])
                if repair:
                    yield repair
                    break
        yield from self._cut(shorten, (first,))

    def _cut(self, cut: Callable[[Run, float], Change | None], before: tuple[Change, ...]) -> list[Repair]:
        """The least length to take off, after these changes; at most one repair."""
        run = before[-1].made if before else self.run
        checked = self.judged(run)
        if checked is None or checked.verdict != "over" or checked.margin is None or checked.margin >= 0.0:
            return []
        change = cut(run, least_cut(-checked.margin, self.run))
        repair = self._repair([*before, change]) if change else None
        return [repair] if repair else []

    def _savings(self) -> tuple[Repair, ...]:
        found: list[Repair] = []
        for group in saving_changes(self.run, self.inputs):
            for change in group:  # the one that saves most first
                repair = self._repair([change])
                if repair:
                    found.append(repair)
                    break
        return tuple(found)


def _order(repair: Repair) -> tuple[bool, bool, int, int]:
    return (repair.elsewhere, repair.within_by_calculation is False, len(repair.changes), repair.touched)


def _once(found: list[Repair]) -> list[Repair]:
    """Pairs made either way round, once."""
    return list({frozenset(change.what for change in repair.changes): repair for repair in reversed(found)}.values())


def cheapest_first(answer: RunRepairs) -> RunRepairs:
    """The same answer with its changes by what their new parts cost; those without a price last, or elsewhere."""

    def key(repair: Repair) -> tuple[bool, bool, Decimal]:
        known = repair.cost.parts.known if repair.cost else None
        return repair.elsewhere, known is None, known or Decimal(0)

    return replace(
        answer, repairs=tuple(sorted(answer.repairs, key=key)), savings=tuple(sorted(answer.savings, key=key))
    )
