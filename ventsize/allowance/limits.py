"""Limits that a page sets beside the length: of elbows, of level and rising pipe, and between vent and air."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from ventsize.allowance.case import COMBUSTION_AIR, FLUE_GAS, Site
from ventsize.allowance.counted import Counted
from ventsize.allowance.model import ONE_PIPE, RUNS_TOGETHER, SAME_LENGTH, AllowanceTable
from ventsize.catalog.records import same_size
from ventsize.finding import Finding, Outcome, State, Value, Where, length

LEVEL, RISE, DIFFERENCE, SIZES = "level-allowed", "rise-allowed", "difference-allowed", "sizes-alike"


def limit_conditions(table: AllowanceTable) -> tuple[str, ...]:
    """The conditions that a table's limits ask for, besides that of the elbows, which every table has."""
    limits = table.limits
    asked = (
        (LEVEL, limits.longest_level is not None),
        (RISE, limits.longest_rise is not None),
        (DIFFERENCE, limits.longest_difference is not None),
        (SIZES, limits.same_size),
    )
    return tuple(name for name, stated in asked if stated)


def limits_kept(table: AllowanceTable, runs: Sequence[Counted], site: Site) -> Iterator[Outcome]:
    """Whether runs judged together keep to each limit.

    runs: one run, the parts of a way out, or the vent and air runs that the table counts together; a limit on the
    lie of the pipe holds for the pipe of one gas.
    """
    limits = table.limits
    if limits.longest_level is not None:
        yield _lie(LEVEL, "level", limits.longest_level, runs, lambda run: run.level)
    if limits.longest_rise is not None:
        yield _lie(RISE, "rise", limits.longest_rise, runs, lambda run: run.rising)
    if limits.longest_difference is not None:
        yield _difference(limits.longest_difference, site)
    if limits.same_size:
        yield _alike(site)


def elbows_allowed(table: AllowanceTable, runs: Sequence[Counted]) -> Outcome:
    """Whether there are no more elbows of more than 30° than the page permits."""
    turns, most = sum(run.turns for run in runs), table.limits.most_elbows
    together = int(table.counts == RUNS_TOGETHER)
    if most is None:
        return _outcome("elbows-allowed", "met", "elbows-not-limited", {"elbows": turns})
    values: dict[str, Value] = {"elbows": turns, "most": most, "together": together}
    if turns <= most:
        return _outcome("elbows-allowed", "met", "elbows-within-limit", values)
    return _outcome("elbows-allowed", "not met", "too-many-elbows", values)


def _outcome(condition: str, state: State, code: str, values: dict[str, Value], run: str | None = None) -> Outcome:
    because = Finding(code, Where(run=run), values)
    return Outcome(condition=condition, state=state, because=because, if_not="over")


def _lie(condition: str, word: str, most: float, runs: Sequence[Counted], known: Callable[[Counted], float]) -> Outcome:
    """Level or rising pipe, of each gas by itself; the worst of them."""
    gases = dict.fromkeys(run.carries for run in runs)
    found = [_lie_of(condition, word, most, [run for run in runs if run.carries == gas], known) for gas in gases]
    order: tuple[State, ...] = ("not met", "not known", "met")
    return min(found, key=lambda outcome: order.index(outcome.state))


def _lie_of(
    condition: str, word: str, most: float, runs: Sequence[Counted], known: Callable[[Counted], float]
) -> Outcome:
    laid_out = [run for run in runs if run.laid_out]
    counted = sum(run.straight for run in runs if not run.laid_out)
    sure = sum(known(run) for run in laid_out)
    unsaid = sum(run.unsaid for run in laid_out)
    name = runs[0].name if len(runs) == 1 else None
    values: dict[str, Value] = {"found": length(sure), "most": length(most), "unsaid": length(unsaid + counted)}
    if sure > most + SAME_LENGTH:
        return _outcome(condition, "not met", f"{word}-over", {**values, "beyond": length(sure - most)}, name)
    if sure + unsaid + counted > most + SAME_LENGTH:
        code = f"{word}-not-laid-out" if counted else f"{word}-not-said"
        return _outcome(condition, "not known", code, values, name)
    return _outcome(condition, "met", f"{word}-within", values, name)


def _difference(most: float, site: Site) -> Outcome:
    """Whether vent and air differ in straight length by no more than the page permits."""
    values: dict[str, Value] = {"most": length(most)}
    if site.pipes == ONE_PIPE:
        return _outcome(DIFFERENCE, "met", "one-pipe", {})
    if site.difference is not None:
        values["found"] = length(site.difference)
        if site.difference > most + SAME_LENGTH:
            beyond = length(site.difference - most)
            return _outcome(DIFFERENCE, "not met", "difference-over", {**values, "beyond": beyond})
    if site.difference is None or site.pipes is None:
        return _outcome(DIFFERENCE, "not known", "other-pipe-not-known", {})
    return _outcome(DIFFERENCE, "met", "difference-within", values)


def _alike(site: Site) -> Outcome:
    """Whether vent and air are of one size."""
    if site.pipes == ONE_PIPE:
        return _outcome(SIZES, "met", "one-pipe", {})
    vent, air = site.sizes.get(FLUE_GAS, ()), site.sizes.get(COMBUSTION_AIR, ())
    if vent and air and not all(same_size(size, vent[0]) for size in (*vent, *air)):
        return _outcome(SIZES, "not met", "sizes-differ", {})
    if not vent or not air or site.pipes is None:
        return _outcome(SIZES, "not known", "other-pipe-not-known", {})
    return _outcome(SIZES, "met", "sizes-alike", {})
