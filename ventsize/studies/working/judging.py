"""The end of a working: equivalent length, allowance, and what they come to."""

from __future__ import annotations

from collections.abc import Sequence

from ventsize.check.result import JobCheck, RunCheck, RunRate
from ventsize.studies.working.steps import Given, Kind, Step, sum_of, weighted


def calculation_steps(run: RunCheck, rate: RunRate, total: Given, written: Sequence[Step]) -> list[Step]:
    """By calculation: the equivalent length, what is counted, and what the allowance comes to."""
    by_symbol = {step.symbol: step.result for step in written}
    gradient = by_symbol["G"]
    steps = []
    if rate.equivalent_length is not None:
        steps.append(
            Step(
                name=f"the run as straight {run.reference_section.label} pipe",
                symbol="L[e]",
                template="{0} / {1}",
                inputs=(total, gradient),
                powers=(1, -1),
                value=rate.equivalent_length,
                kind=Kind.LENGTH,
                source="definition",
            )
        )
    if rate.flow.draft < 0.0:
        draft = by_symbol.get("B") or Given("draft", "B", rate.flow.draft, Kind.PRESSURE, "as cooled")
        steps.append(
            Step(
                name="pressure counted, as draft hinders here",
                symbol="Δp[c]",
                template="{0} - {1}",
                inputs=(total, draft),
                value=rate.counted_pressure,
                kind=Kind.PRESSURE,
                source="a draft that helps is not counted",
            )
        )
    answer = run.table
    if answer is not None and answer.budget_length is not None and rate.budget_pressure is not None:
        length = Given("length allowed as straight pipe alone", "L[s]", answer.budget_length, Kind.LENGTH, "the table")
        steps.append(
            Step(
                name="what the allowance comes to",
                symbol="Δp[a]",
                template="{0} * {1}",
                inputs=(length, gradient),
                powers=(1, 1),
                value=rate.budget_pressure,
                kind=Kind.PRESSURE,
                source="straight pipe of the allowed length",
            )
        )
    return steps


def table_steps(run: RunCheck) -> list[Step]:
    """By the table: the length compared, and what is left of the allowance."""
    answer = run.table
    if answer is None or answer.equivalent_length is None:
        return []
    straight = Given("straight pipe of all runs counted", "L", answer.straight_length, Kind.LENGTH, "the job")
    parts = [straight]
    steps = []
    if answer.elbows is None and answer.deductions:
        pairs = [
            (
                Given(f"how many {line.fitting}", f"N[{number}]", line.count, source="the job"),
                Given(f"each {line.fitting}", f"d[{number}]", line.each, Kind.LENGTH,
                      "the table" if line.origin == "table" else "the job"),
            )
            for number, line in enumerate(answer.deductions, start=1)
        ]  # fmt: skip
        value = sum(line.total for line in answer.deductions)
        steps.append(weighted("fittings by the table", "L[f]", pairs, value=value, kind=Kind.LENGTH, source="table"))
        parts.append(steps[0].result)
    compared = sum_of(
        "length compared", "L[t]", parts, value=answer.equivalent_length, kind=Kind.LENGTH, source="the table's rule"
    )
    steps.append(compared)
    if answer.allowable_length is not None and run.margin is not None:
        allowed = Given("length allowed", "L[a]", answer.allowable_length, Kind.LENGTH, "the table's governing row")
        steps.append(
            Step(
                name="length left of the allowance",
                symbol="L[left]",
                template="{0} - {1}",
                inputs=(allowed, compared.result),
                value=run.margin,
                kind=Kind.LENGTH,
                source="definition",
            )
        )
    return steps


def conclusions_of(check: JobCheck, run: RunCheck, rate: RunRate) -> tuple[str, ...]:
    """What the figures come to: by the table, which decides, and by calculation; and the job's, where another."""
    said = [f"{run.verdict}: {run.reason}"]
    if rate.within_allowance is not None:
        inside = "inside" if rate.within_allowance else "outside"
        said.append(f"By calculation, with all that shares the allowance, the run is {inside} it at {rate.name}.")
    if check.verdict != run.verdict:
        said.append(f"The job as a whole is not this run's verdict, but {check.verdict}: {check.reason}")
    return tuple(said)
