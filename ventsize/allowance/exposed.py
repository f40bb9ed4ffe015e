"""Pipe in unheated space against what a page permits there, by design temperature and insulation."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ventsize.allowance.case import FLUE_GAS, Site
from ventsize.allowance.counted import ColdPipe, Counted
from ventsize.allowance.model import SAME_LENGTH, SAME_TEMPERATURE, AllowanceTable, ExposedRow
from ventsize.catalog.records import NOMINAL_TOLERANCE, same_size
from ventsize.finding import Finding, Outcome, State, Value, Verdict, Where, length, temperature

EXPOSED = "exposed-allowed"
COLD_BELOW = 283.15  # K; 50 degF: surroundings stated below it are unheated (contract)
COLD_SPACES = frozenset({"attic", "crawlspace", "outdoors"})


def exposed_row(rows: Sequence[ExposedRow], *, size: float, insulation: float, outdoor: float) -> ExposedRow | None:
    """The row for pipe of a size and insulation [m] at a design temperature [K]; None where the page has none.

    Of the listed temperatures at or below the design temperature the highest governs, and of the insulations listed
    for it the thickest that the pipe has.
    """
    of_size = [row for row in rows if same_size(row.size, size)]
    as_cold = [row.outdoor for row in of_size if row.outdoor <= outdoor + SAME_TEMPERATURE]
    if not as_cold:
        return None
    governing = max(as_cold)
    at_hand = [
        row
        for row in of_size
        if abs(row.outdoor - governing) <= SAME_TEMPERATURE and row.insulation <= insulation + NOMINAL_TOLERANCE
    ]
    return max(at_hand, key=lambda row: row.insulation, default=None)


def exposed_allowed(table: AllowanceTable, runs: Sequence[Counted], site: Site) -> Outcome:
    """Whether the flue pipe in unheated space is permitted: all of it together, by the strictest row it asks for."""
    runs = [run for run in runs if run.carries == FLUE_GAS]
    cold = [pipe for run in runs for pipe in run.cold]
    total = math.fsum(pipe.length for pipe in cold)
    found = _outcome("met", "nothing-exposed", {})
    if cold and site.design_outdoor is None:
        found = _outcome("not known", "design-outdoor-missing", {"length": length(total)})
    elif cold and site.design_outdoor is not None:
        found = _by_rows(table.exposed, cold, total, site.design_outdoor)
    unsaid = next((run for run in runs if run.cold_unsaid), None)
    if found.state == "met" and unsaid is not None:
        return _outcome("not known", "surroundings-not-said", {"length": length(unsaid.cold_unsaid)}, unsaid.name)
    return found


def _by_rows(rows: Sequence[ExposedRow], cold: Sequence[ColdPipe], total: float, outdoor: float) -> Outcome:
    values: dict[str, Value] = {"found": length(total), "outdoor": temperature(outdoor)}
    asked: list[ExposedRow] = []
    for pipe in cold:
        row = exposed_row(rows, size=pipe.size, insulation=pipe.insulation, outdoor=outdoor)
        if row is None:
            of_pipe: dict[str, Value] = {**values, "size": pipe.label, "insulation": length(pipe.insulation)}
            return _outcome("not met", "exposed-not-in-table", of_pipe, verdict="not covered")
        asked.append(row)
    strictest = min(asked, key=lambda row: row.allowable)
    values |= {"allowed": length(strictest.allowable), "row": strictest.number, "labels": _labels(strictest)}
    if total > strictest.allowable + SAME_LENGTH:
        beyond = length(total - strictest.allowable)
        return _outcome("not met", "exposed-over", {**values, "beyond": beyond})
    return _outcome("met", "exposed-within", values)


def _labels(row: ExposedRow) -> tuple[str, ...]:
    return (row.size_label, row.outdoor_label, row.insulation_label)


def _outcome(
    state: State, code: str, values: dict[str, Value], run: str | None = None, verdict: Verdict = "over"
) -> Outcome:
    because = Finding(code, Where(run=run or None), values)
    return Outcome(condition=EXPOSED, state=state, because=because, if_not=verdict)
