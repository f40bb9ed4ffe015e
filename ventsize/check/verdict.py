"""The verdict on a job: by the table, which decides, and beside it by calculation."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Protocol

from ventsize.allowance.answer import TableAnswer, Verdict
from ventsize.allowance.implied import remarks_on_deductions
from ventsize.allowance.model import SAME_LENGTH
from ventsize.allowance.plausibility import order_remarks_by_row
from ventsize.catalog.records import same_size
from ventsize.check import cautions
from ventsize.check.appliances import appliance_gases, firings, surroundings
from ventsize.check.climate import job_climate
from ventsize.check.difference import difference
from ventsize.check.inputs import Inputs
from ventsize.check.judging import Judged, Judgement, Said, judge, worst
from ventsize.check.limits import too_hot_for
from ventsize.check.paths import through
from ventsize.check.result import JobCheck, RunCheck, RunRate
from ventsize.flow.solve import RateFlow, RunFlow, solve
from ventsize.quantity import System
from ventsize.run.model import Run, Section


class AnsweredRate(Protocol):
    """A run at one firing rate, as far as its verdict needs it."""

    @property
    def flow(self) -> RunFlow: ...


class Answered(Protocol):
    """A run that has its verdict, as far as the job's needs it."""

    @property
    def run(self) -> Run: ...
    @property
    def verdict(self) -> Verdict: ...
    @property
    def reason(self) -> str: ...
    @property
    def table(self) -> TableAnswer | None: ...


def check(inputs: Inputs, *, system: System = System.US, cooling: bool | None = None) -> JobCheck:
    """The whole answer for a job.

    system: of units, for the sentences; no number and no verdict depends on it.
    cooling: whether the gas cools along the pipes; None for what the job says.

    Raises InputError where the job contradicts itself or physics.
    """
    around = surroundings(inputs)
    appliances = appliance_gases(inputs, around)
    cools = inputs.job.cooling if cooling is None else cooling
    weather = job_climate(inputs, around, system) if cools else None
    fired = firings(appliances, around, weather.climate if weather else None)
    rates = tuple(solve(inputs.graph, firing) for firing in fired)
    highest = {appliance.name: appliance.highest.gas.input for appliance in appliances}
    served = {run.name: served_by(run, rates, inputs) for run in inputs.graph.runs.values()}
    judged = judge(inputs, served=served, highest=highest, system=system)
    sections = reference_sections(judged)
    runs = tuple(_run_check(judged, run, rates, sections) for run in inputs.graph.runs.values())
    verdict, reason = overall(inputs, runs)
    return JobCheck(
        title=inputs.job.title,
        verdict=verdict,
        reason=reason,
        cautions=cautions.for_job(
            inputs,
            appliances=appliances,
            rates=rates,
            runs=runs,
            assumed=weather.assumed if weather else None,
            system=system,
        ),
        appliances=appliances,
        runs=runs,
        cooling=cools,
    )


def served_by(run: Run, rates: Sequence[RateFlow], inputs: Inputs) -> tuple[str, ...]:
    """The appliances whose gas passes through a run."""
    names = [appliance.name for appliance in inputs.job.appliances]
    if len(names) == 1:
        return tuple(names)
    alone = {name: rate for rate in rates for name, on in rate.firing.rates.items() if on and _only(rate, name)}
    return tuple(name for name in names if alone[name].runs[run.name].stream.mass_flow > 0.0)


def _only(rate: RateFlow, name: str) -> bool:
    return all(other == name or not on for other, on in rate.firing.rates.items())


def _run_check(judged: Judged, run: Run, rates: Sequence[RateFlow], sections: Mapping[str, Section]) -> RunCheck:
    group = judged.of[run.name]
    checked = tuple(_run_rate(judged, run, rate, sections) for rate in rates)
    worst = max(checked, key=lambda rate: rate.counted_pressure)
    verdict, reason = run_verdict(judged, run, checked)
    if verdict == "within":
        reason += _in_question(judged, group)
    return RunCheck(
        run=run,
        verdict=verdict,
        reason=reason,
        serves=group.serves,
        input=group.input,
        table_file=group.table_file,
        table=group.answer,
        margin=margin_of(group.answer),
        reference_section=sections[run.name],
        rates=checked,
        worst=worst,
        difference=difference(group.answer, worst, judged.system) if group.answer else "",
    )


def _in_question(judged: Judged, group: Judgement) -> str:
    """What a pass has to say where its row, or what it deducts, stands out of the table as mistyped; else nothing."""
    answer = group.answer
    if answer is None or group.table_file is None:
        return ""
    governing = {
        row.number for row in answer.rows if (row.input, row.size_label) == (answer.row_input, answer.row_size)
    }
    table = judged.inputs.tables[group.table_file]
    said = [remark.text for remark in order_remarks_by_row(table) if remark.row in governing]
    row = f" But that row is in question: {' '.join(said)}" if said else ""
    counted = {line.fitting for line in answer.deductions if line.origin == "table"}
    doubts = remarks_on_deductions(table, judged.inputs.catalog, judged.system) if counted else ()
    said = [remark.text for remark in doubts if remark.fitting in counted]
    return f"{row} But a deduction is in question: {' '.join(said)}" if said else row


def reference_sections(judged: Judged) -> dict[str, Section]:
    """By run, the section whose straight pipe equivalent lengths are given in."""
    return {name: _reference_section(run, judged.of[name]) for name, run in judged.inputs.graph.runs.items()}


def _reference_section(run: Run, judgement: Judgement) -> Section:
    """The section of the governing row's size: of the run itself, else of one that it is counted with."""
    answer = judgement.answer
    if answer is not None:
        for row in answer.rows:
            if row.size_label == answer.row_size:
                for piece in (piece for one in (run, *judgement.runs) for piece in reversed(one.pieces)):
                    if same_size(piece.section.nominal, row.size):
                        return piece.section
    return run.first_section


def _run_rate(judged: Judged, run: Run, rate: RateFlow, sections: Mapping[str, Section]) -> RunRate:
    flow = rate.runs[run.name]
    straight = flow.at(sections[run.name])
    answer = judged.of[run.name].answer
    budget = budget_pressure(answer, straight.gradient)
    at_appliance = next((joint for joint in (run.start, run.end) if joint in rate.firing.rates), None)
    return RunRate(
        name=rate.firing.name,
        fired=rate.firing.rates,
        flow=flow,
        reference=straight,
        equivalent_length=length_at(flow.pressure_drop, straight.gradient),
        equivalent_length_low=length_at(flow.layout_range[0], straight.gradient),
        equivalent_length_high=length_at(flow.layout_range[1], straight.gradient),
        piece_lengths=tuple(length_at(piece.pressure_drop, straight.gradient) for piece in flow.pieces),
        piece_shares=tuple(_share(piece.pressure_drop, flow) for piece in flow.pieces),
        junction_shares=tuple(_share(junction.pressure_drop, flow) for junction in flow.junctions),
        junction_lengths=tuple(length_at(junction.pressure_drop, straight.gradient) for junction in flow.junctions),
        counted_pressure=counted_pressure(flow),
        allowance_pressure=_pressure(answer.allowable_length if answer else None, straight.gradient),
        budget_pressure=budget,
        within_allowance=None if budget is None else inside(judged, run, rate, sections),
        static_pressure_at_appliance=None if at_appliance is None else flow.static_pressure(at_appliance),
    )


def counted_pressure(flow: RunFlow) -> float:
    """What a run is held to: its loss, and draft where it hinders. Draft that helps is not counted."""
    return flow.pressure_drop + max(0.0, -flow.draft)


def inside(judged: Judged, run: Run, rate: RateFlow, sections: Mapping[str, Section]) -> bool | None:
    """Whether a run, with all that shares its allowance, loses no more than straight pipe of that length.

    sections: each run's, from `reference_sections`.
    """
    sharing = [judged.judgements(way) for way in through(run, judged.ways)] or [[judged.of[run.name]]]
    answers = [_judgements_inside(parts, rate, sections) for parts in sharing]
    return None if None in answers else all(answers)


def _judgements_inside(parts: Sequence[Judgement], rate: RateFlow, sections: Mapping[str, Section]) -> bool | None:
    budgets = [part.answer.budget_length for part in parts if part.answer and part.answer.budget_length is not None]
    if len(budgets) < len(parts):
        return None
    lengths = (_counted_length(rate.runs[run.name], sections[run.name]) for part in parts for run in part.runs)
    return math.fsum(lengths) <= min(budgets) + SAME_LENGTH


def _counted_length(flow: RunFlow, reference: Section) -> float:
    """The counted pressure as straight pipe of the size the allowance is for [m]."""
    return length_at(counted_pressure(flow), flow.at(reference).gradient) or 0.0


def length_at(pressure: float, gradient: float) -> float | None:
    """Straight pipe that loses a pressure [Pa] at a gradient [Pa/m], in [m]; None without flow."""
    return pressure / gradient if gradient > 0.0 else None


def _share(pressure: float, flow: RunFlow) -> float | None:
    return pressure / flow.pressure_drop if flow.pressure_drop > 0.0 else None


def margin_of(answer: TableAnswer | None) -> float | None:
    """Length left of the table's allowance [m]; None where there is none."""
    if answer is None or answer.equivalent_length is None or answer.allowable_length is None:
        return None
    return answer.allowable_length - answer.equivalent_length


def budget_pressure(answer: TableAnswer | None, gradient: float) -> float | None:
    """What the allowance as straight pipe alone would lose [Pa], at a pressure gradient [Pa/m]."""
    return _pressure(answer.budget_length if answer else None, gradient)


def _pressure(length: float | None, gradient: float) -> float | None:
    """What straight pipe of a length [m] loses [Pa]; None where there is no such length, or no flow."""
    return None if length is None or gradient == 0.0 else length * gradient


def run_verdict(judged: Judged, run: Run, rates: Sequence[AnsweredRate]) -> Said:
    """The verdict on a run: by its table, unless it cannot be relied on for another reason."""
    flows = [rate.flow for rate in rates]
    said = [judged.said(run), *(("incomplete", why) for why in (*run.unmeasured, *run.unturned))]
    if not all(_finite(rate.flow) for rate in rates):
        said.append(("incomplete", "the pressure drop could not be computed"))
    if not all(rate.flow.settled for rate in rates):
        said.append(("incomplete", "no flow was found at which the pressures around its loops agree"))
    said += [("not covered", f"run '{run.name}': {why}") for why in too_hot_for(run, flows, judged.system)]
    if any(rate.flow.divided for rate in rates):
        said.append(("not covered", "the gas divides over several pipes here, and an allowance table is for one"))
    return worst(said)


def _finite(flow: RunFlow) -> bool:
    """Whether every pressure of a run is a number that can be relied on."""
    return all(map(math.isfinite, (flow.pressure_drop, flow.draft, flow.start_pressure, flow.end_pressure)))


def overall(inputs: Inputs, runs: Sequence[Answered]) -> Said:
    """The verdict on the whole job: that of the run that settles it."""
    nearest_first = sorted(runs, key=_used, reverse=True)
    said: list[Said] = [(check.verdict, f"{check.run.name}: {check.reason}") for check in nearest_first]
    for appliance in inputs.job.appliances:
        if not any(run.carries == "flue gas" for run in inputs.graph.runs_at(appliance.name)):
            said.append(("incomplete", f"appliance '{appliance.name}' has no run that carries its flue gas"))
    return worst(said)


def _used(check: Answered) -> float:
    """How much of its allowance a run uses; the run nearest its limit is the one to speak of."""
    return (check.table.used if check.table else None) or 0.0
