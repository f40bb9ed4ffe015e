"""The verdict on a job: by the table, which decides, and beside it by calculation."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ventsize.allowance.answer import TableAnswer, Verdict
from ventsize.allowance.lookup import look_up
from ventsize.allowance.model import SAME_LENGTH
from ventsize.check import cautions
from ventsize.check.appliances import appliance_gases, firings, surroundings
from ventsize.check.counting import counted
from ventsize.check.difference import difference
from ventsize.check.inputs import Inputs
from ventsize.check.result import JobCheck, RunCheck, RunRate
from ventsize.flow.solve import RateFlow, RunFlow, solve
from ventsize.quantity import System
from ventsize.run.model import Run, Section

SEVERITY: tuple[Verdict, ...] = ("over", "short", "not covered", "incomplete", "within")
"""Verdicts, the one that settles a job first: what fails cannot be mended by filling in the rest."""


def check(inputs: Inputs, *, system: System = System.US) -> JobCheck:
    """The whole answer for a job.

    system: of units, for the sentences; no number and no verdict depends on it.

    Raises InputError where the job contradicts itself or physics.
    """
    around = surroundings(inputs)
    appliances = appliance_gases(inputs, around)
    rates = tuple(solve(inputs.graph, f, file=inputs.file) for f in firings(appliances, around))
    highest = {appliance.name: appliance.highest.gas.input for appliance in appliances}
    judged = _judge(inputs, rates, highest, system)
    runs = tuple(_run_check(group, run, rates, system) for group, run in judged)
    verdict, reason = _overall(inputs, runs)
    return JobCheck(
        title=inputs.job.title,
        verdict=verdict,
        reason=reason,
        cautions=cautions.for_job(inputs, around=around, appliances=appliances, rates=rates, runs=runs, system=system),
        appliances=appliances,
        runs=runs,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Group:
    """Runs that one look-up judges: one run, or all that a table counts together."""

    runs: tuple[Run, ...]
    serves: tuple[str, ...]
    input: float
    table_file: str | None
    answer: TableAnswer | None
    why_no_table: str


def _judge(
    inputs: Inputs, rates: Sequence[RateFlow], highest: Mapping[str, float], system: System
) -> list[tuple[_Group, Run]]:
    """Each run of the job, in the job's order, with the look-up that judges it."""
    waiting: dict[tuple[object, ...], list[Run]] = {}
    chosen: dict[str, tuple[str | None, str, tuple[str, ...]]] = {}
    for run in inputs.graph.runs.values():
        table_file, why = _table_for(run, inputs)
        serves = _served(run, rates, inputs)
        chosen[run.name] = (table_file, why, serves)
        together = table_file is not None and inputs.tables[table_file].counts == "runs together"
        waiting.setdefault((table_file, serves) if together else (run.name,), []).append(run)
    found = {}
    for runs in waiting.values():
        table_file, why, serves = chosen[runs[0].name]
        total = math.fsum(highest[name] for name in serves)
        answer = None
        if table_file is not None:
            answer = look_up(
                inputs.tables[table_file],
                input=total,
                altitude=inputs.job.site.altitude,
                counted=[counted(run) for run in runs],
                system=system,
            )
        group = _Group(
            runs=tuple(runs),
            serves=serves,
            input=total,
            table_file=table_file,
            answer=answer,
            why_no_table=why,
        )
        found.update({run.name: (group, run) for run in runs})
    return [found[name] for name in inputs.graph.runs]


def _table_for(run: Run, inputs: Inputs) -> tuple[str | None, str]:
    """The file of the table that judges a run, or why there is none."""
    if run.table is not None:
        return run.table, ""
    fitting = [name for name in dict.fromkeys(inputs.job.tables) if run.carries in inputs.tables[name].applies_to]
    if len(fitting) == 1:
        return fitting[0], ""
    if fitting:
        return None, f"several of the job's tables apply to {run.carries}; name the run's own with table = …"
    if inputs.job.tables:
        return None, f"none of the job's tables applies to {run.carries}"
    return None, "the job names no allowance table"


def _served(run: Run, rates: Sequence[RateFlow], inputs: Inputs) -> tuple[str, ...]:
    """The appliances whose gas passes through a run."""
    names = [appliance.name for appliance in inputs.job.appliances]
    if len(names) == 1:
        return tuple(names)
    alone = {name: rate for rate in rates for name, on in rate.firing.rates.items() if on and _only(rate, name)}
    return tuple(name for name in names if alone[name].runs[run.name].stream.mass_flow > 0.0)


def _only(rate: RateFlow, name: str) -> bool:
    return all(other == name or not on for other, on in rate.firing.rates.items())


def _run_check(group: _Group, run: Run, rates: Sequence[RateFlow], system: System) -> RunCheck:
    reference = _reference_section(run, group.answer)
    checked = tuple(_run_rate(group, run, rate, reference) for rate in rates)
    worst = max(checked, key=lambda rate: rate.counted_pressure)
    verdict, reason = _run_verdict(run, group, checked)
    return RunCheck(
        run=run,
        verdict=verdict,
        reason=reason,
        serves=group.serves,
        input=group.input,
        table_file=group.table_file,
        table=group.answer,
        margin=_margin(group.answer),
        reference_section=reference,
        rates=checked,
        worst=worst,
        difference=difference(group.answer, worst, system) if group.answer else "",
    )


def _reference_section(run: Run, answer: TableAnswer | None) -> Section:
    """The section whose straight pipe equivalent lengths are given in: the governing row's size."""
    sections = {piece.section.nominal: piece.section for piece in run.pieces}
    if answer is not None and answer.rows:
        for row in answer.rows:
            if row.size_label == answer.row_size:
                for nominal, section in sections.items():
                    if math.isclose(nominal, row.size, abs_tol=1e-5):
                        return section
    return run.first_section


def _run_rate(group: _Group, run: Run, rate: RateFlow, reference: Section) -> RunRate:
    flow = rate.runs[run.name]
    straight = flow.at(reference)
    allowance = _allowance_pressure(group.answer, straight.gradient)
    together = math.fsum(_counted_length(rate.runs[other.name], group.answer) for other in group.runs)
    at_appliance = next((joint for joint in (run.start, run.end) if joint in rate.firing.rates), None)
    return RunRate(
        name=rate.firing.name,
        flow=flow,
        reference=straight,
        equivalent_length=_length(flow.pressure_drop, straight.gradient),
        equivalent_length_low=_length(flow.pressure_drop_low, straight.gradient),
        equivalent_length_high=_length(flow.pressure_drop_high, straight.gradient),
        piece_lengths=tuple(_length(piece.pressure_drop, straight.gradient) for piece in flow.pieces),
        piece_shares=tuple(_share(piece.pressure_drop, flow) for piece in flow.pieces),
        junction_shares=tuple(_share(junction.pressure_drop, flow) for junction in flow.junctions),
        junction_lengths=tuple(_length(junction.pressure_drop, straight.gradient) for junction in flow.junctions),
        counted_pressure=_counted_pressure(flow),
        allowance_pressure=allowance,
        within_allowance=None if allowance is None else together <= _budget(group.answer) + SAME_LENGTH,
        static_pressure_at_appliance=None if at_appliance is None else flow.static_pressure(at_appliance),
    )


def _counted_pressure(flow: RunFlow) -> float:
    """What a run is held to: its loss, and draft where it hinders. Draft that helps is not counted."""
    return flow.pressure_drop + max(0.0, -flow.draft)


def _counted_length(flow: RunFlow, answer: TableAnswer | None) -> float:
    """The counted pressure as straight pipe of the size the allowance is for [m]."""
    reference = _reference_section(flow.run, answer)
    return _length(_counted_pressure(flow), flow.at(reference).gradient) or 0.0


def _budget(answer: TableAnswer | None) -> float:
    return (answer.budget_length if answer else None) or 0.0


def _length(pressure: float, gradient: float) -> float | None:
    return pressure / gradient if gradient > 0.0 else None


def _share(pressure: float, flow: RunFlow) -> float | None:
    return pressure / flow.pressure_drop if flow.pressure_drop > 0.0 else None


def _margin(answer: TableAnswer | None) -> float | None:
    if answer is None or answer.equivalent_length is None or answer.allowable_length is None:
        return None
    return answer.allowable_length - answer.equivalent_length


def _allowance_pressure(answer: TableAnswer | None, gradient: float) -> float | None:
    if answer is None or answer.budget_length is None or gradient == 0.0:
        return None
    return answer.budget_length * gradient


def _run_verdict(run: Run, group: _Group, rates: Sequence[RunRate]) -> tuple[Verdict, str]:
    if group.answer is None:
        return "incomplete", group.why_no_table
    if group.answer.verdict != "within":
        return group.answer.verdict, group.answer.reason
    if run.unturned:
        return "incomplete", run.unturned[0]
    if not all(math.isfinite(rate.flow.pressure_drop) for rate in rates):
        return "incomplete", "the pressure drop could not be computed"
    return "within", group.answer.reason


def _overall(inputs: Inputs, runs: Sequence[RunCheck]) -> tuple[Verdict, str]:
    verdicts = [(check.verdict, f"{check.run.name}: {check.reason}") for check in runs]
    for appliance in inputs.job.appliances:
        if not any(run.carries == "flue gas" for run in inputs.graph.runs_at(appliance.name)):
            verdicts.append(("incomplete", f"appliance '{appliance.name}' has no run that carries its flue gas"))
    return min(verdicts, key=lambda pair: SEVERITY.index(pair[0]))
