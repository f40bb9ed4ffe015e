"""The end of a working: equivalent length, allowance, and what they come to."""

from __future__ import annotations

from collections.abc import Sequence

from ventsize.check.rate import RunRate
from ventsize.check.result import RunCheck
from ventsize.quantity.board import Kind
from ventsize.studies.working.steps import Given, Step, line, sum_of, weighted


def calculation_steps(run: RunCheck, rate: RunRate, total: Given, written: Sequence[Step]) -> list[Step]:
    """By calculation: the equivalent length, what is counted, and what the allowance comes to."""
    by_symbol = {step.symbol: step.result for step in written}
    gradient = by_symbol["G"]
    steps = []
    if rate.equivalent_length is not None:
        steps.append(line(f"the run as straight {run.reference_section.label} pipe", "L[e]", "{0} / {1}", total,
                          gradient, powers=(1, -1), value=rate.equivalent_length, kind=Kind.LENGTH,
                          source="definition"))  # fmt: skip
    if rate.flow.draft < 0.0:
        draft = by_symbol.get("B") or Given("draft", "B", rate.flow.draft, Kind.PRESSURE, "as cooled")
        steps.append(line("pressure counted, as draft hinders here", "Δp[c]", "{0} - {1}", total, draft,
                          value=rate.counted_pressure, kind=Kind.PRESSURE,
                          source="a draft that helps is not counted"))  # fmt: skip
    answer = run.table
    allowed, budget = rate.allowance_pressure, rate.budget_pressure
    if answer is not None and answer.allowable_length is not None and allowed is not None and budget is not None:
        length = Given("length allowed", "L[a]", answer.allowable_length, Kind.LENGTH, "the table")
        straight = line("straight pipe of the allowed length", "Δp[s]", "{0} * {1}", length, gradient, powers=(1, 1),
                        value=allowed, kind=Kind.PRESSURE, source="Darcy-Weisbach")  # fmt: skip
        more = Given(_MORE[answer.elbows is not None], "Δp[i]", budget - allowed, Kind.PRESSURE, "the table")
        steps += [straight, sum_of("what the allowance comes to", "Δp[a]", [straight.result, more], value=budget,
                                   kind=Kind.PRESSURE, source="the maker's own permission as pressure")]  # fmt: skip
    return steps


_MORE = {
    False: "what the fittings lose that the table counts as included",
    True: "what the combination of length and elbows that may lose most comes to beyond that",
}
"""By whether the row counts elbows: what the budget holds beside straight pipe."""


def table_steps(run: RunCheck) -> list[Step]:
    """By the table: the length compared, and what is left of the allowance."""
    answer = run.table
    if answer is None or answer.equivalent_length is None:
        return []
    parts = [Given("straight pipe of all runs counted", "L", answer.straight_length, Kind.LENGTH, "the job")]
    steps = []
    if answer.elbows is None and answer.deductions:
        pairs = [
            (
                Given(f"how many {row.fitting}", f"N[{number}]", row.count, source="the job"),
                Given(f"each {row.fitting}", f"d[{number}]", row.each, Kind.LENGTH,
                      "the table" if row.origin == "table" else "the job"),
            )
            for number, row in enumerate(answer.deductions, start=1)
        ]  # fmt: skip
        value = sum(row.total for row in answer.deductions)
        steps.append(weighted("fittings by the table", "L[f]", pairs, value=value, kind=Kind.LENGTH, source="table",
                              part="table"))  # fmt: skip
        parts.append(steps[0].result)
    compared = sum_of("length compared", "L[t]", parts, value=answer.equivalent_length, kind=Kind.LENGTH,
                      source="the table's rule", part="table")  # fmt: skip
    steps.append(compared)
    if answer.allowable_length is not None and run.margin is not None:
        allowed = Given("length allowed", "L[a]", answer.allowable_length, Kind.LENGTH, "the table's governing row")
        steps.append(line("length left: allowed less compared", "L[left]", "{0} - {1}", allowed, compared.result,
                          value=run.margin, kind=Kind.LENGTH, source="definition", part="table"))  # fmt: skip
    return steps
