"""The verdict on a job: a fold over the conditions of a pass, and beside it the answer by calculation."""

from __future__ import annotations

from collections.abc import Sequence

from ventsize.catalog.records import same_size
from ventsize.check.appliances import ApplianceGas, appliance_gases, firings, surroundings
from ventsize.check.budget import Budgets
from ventsize.check.climate import job_climate
from ventsize.check.collars import idle_collars
from ventsize.check.conditions import (
    APPLIANCE_CONDITIONS,
    RUN_CONDITIONS,
    SolvedRun,
    VentedAppliance,
    required_of_run,
    settling,
)
from ventsize.check.findings import Context, findings_of
from ventsize.check.inputs import Inputs
from ventsize.check.judging import Judged, Judgement, judge
from ventsize.check.paths import vent_paths
from ventsize.check.pressure_rows import pressure_allowed
from ventsize.check.rate import RunRate, counted_pressure
from ventsize.check.result import JobCheck, RunCheck
from ventsize.check.shut_off import shut_off
from ventsize.check.traps import worst_collar_pressure
from ventsize.finding import Outcome, deciding
from ventsize.flow.rate_flow import RateFlow
from ventsize.flow.solve import Followed, solve
from ventsize.run.graph import VentGraph
from ventsize.run.model import Run, Section
from ventsize.run.slope import LowSpot, low_spots, walk_out


def check(inputs: Inputs, *, cooling: bool | None = None) -> JobCheck:
    """The whole answer for a job.

    cooling: whether the gas cools along the pipes; None for what the job says.

    Raises InputError where the job contradicts itself or physics.
    """
    around = surroundings(inputs)
    appliances = appliance_gases(inputs, around)
    cools = inputs.job.cooling if cooling is None else cooling
    weather = job_climate(inputs, around) if cools else None
    fired = firings(appliances, around, weather.climate if weather else None)
    followed: Followed = {}
    rates = tuple(solve(inputs.graph, firing, followed=followed) for firing in fired)
    served = {run.name: served_by(run, rates, inputs) for run in inputs.graph.runs.values()}
    judged = judge(inputs, served=served, highest=highest_inputs(appliances))
    spots = low_spots_of(inputs.graph)
    runs = run_checks(judged, rates, spots)
    conditions = [*(o for run in runs for o in run.outcomes), *appliance_outcomes(judged, runs)]
    conditions += filter(None, [shut_off(inputs, appliances, rates)])
    context = Context(
        inputs=inputs,
        appliances=appliances,
        rates=rates,
        runs=runs,
        low_spots=spots,
        conditions=conditions,
        assumed=weather.assumed if weather else None,
    )
    return JobCheck(
        title=inputs.job.title,
        decides=settles_job(runs, conditions),
        conditions=tuple(conditions),
        findings=findings_of(context),
        appliances=appliances,
        runs=runs,
        cooling=cools,
        table_titles={name: table.title for name, table in inputs.tables.items()},
    )


def highest_inputs(appliances: Sequence[ApplianceGas]) -> dict[str, float]:
    """Each appliance's highest input [W]: the one that is looked up."""
    return {appliance.name: appliance.highest.plate for appliance in appliances}


def served_by(run: Run, rates: Sequence[RateFlow], inputs: Inputs) -> tuple[str, ...]:
    """The appliances whose gas passes through a run."""
    names = [appliance.name for appliance in inputs.job.appliances]
    if len(names) == 1:
        return tuple(names)
    alone = {name: rate for rate in rates for name, on in rate.firing.rates.items() if on and _only(rate, name)}
    return tuple(name for name in names if alone[name].runs[run.name].stream.mass_flow > 0.0)


def _only(rate: RateFlow, name: str) -> bool:
    return all(other == name or not on for other, on in rate.firing.rates.items())


def low_spots_of(graph: VentGraph) -> tuple[LowSpot, ...]:
    """Every low spot of the vents, along each way out; one that several ways share once."""
    found = [spot for path in vent_paths(graph) for spot in low_spots(walk_out(path, graph.appliances))]
    return tuple({(spot.run, spot.piece): spot for spot in found}.values())


def run_checks(judged: Judged, rates: Sequence[RateFlow], spots: Sequence[LowSpot]) -> tuple[RunCheck, ...]:
    """Every run of a judged job: its conditions, its verdict, its answer by calculation at every rate."""
    sections = {name: _reference_section(run, judged.of[name]) for name, run in judged.inputs.graph.runs.items()}
    budgets = [Budgets(judged, rate, sections) for rate in rates]
    return tuple(
        _run_check(judged, run, rates, budgets, sections[run.name], spots) for run in judged.inputs.graph.runs.values()
    )


def _run_check(
    judged: Judged,
    run: Run,
    rates: Sequence[RateFlow],
    budgets: Sequence[Budgets],
    section: Section,
    spots: Sequence[LowSpot],
) -> RunCheck:
    group = judged.of[run.name]
    flows = tuple(rate.runs[run.name] for rate in rates)
    solved = SolvedRun(run, flows, tuple(spot for spot in spots if spot.run == run.name))
    outcomes = (
        *judged.outcomes(run),
        *pressure_allowed(judged, run, rates),
        *(condition(solved) for condition in RUN_CONDITIONS),
    )
    return RunCheck(
        run=run,
        outcomes=outcomes,
        decides=settling(outcomes, required_of_run(judged, run)),
        serves=group.serves,
        input=group.input,
        table_file=group.table_file,
        table=group.answer,
        reference_section=section,
        rates=tuple(_run_rate(run, rate, budget) for rate, budget in zip(rates, budgets, strict=True)),
    )


def _reference_section(run: Run, judgement: Judgement) -> Section:
    """The section of the governing row's size: of the run itself, else of one that it is counted with."""
    size = None if judgement.answer is None else judgement.answer.pipe_size
    if size is not None:
        for piece in (piece for one in (run, *judgement.runs) for piece in reversed(one.pieces)):
            if same_size(piece.section.nominal, size):
                return piece.section
    return run.first_section


def _run_rate(run: Run, rate: RateFlow, budgets: Budgets) -> RunRate:
    flow = rate.runs[run.name]
    at_appliance = next((joint for joint in (run.start, run.end) if joint in rate.firing.rates), None)
    budget = budgets.budget(run)
    return RunRate(
        name=rate.firing.name,
        fired=rate.firing.rates,
        flow=flow,
        reference=budgets.straight[run.name],
        gradient=budgets.gradient[run.name],
        counted_pressure=counted_pressure(flow),
        allowance_pressure=budgets.allowance(run),
        budget_pressure=budget,
        within_allowance=None if budget is None else budgets.inside(run),
        static_pressure_at_appliance=None if at_appliance is None else flow.static_pressure(at_appliance, calm=True),
        static_pressure_to_room=(
            None if at_appliance is None or flow.room is None else flow.static_pressure_to_room(at_appliance)
        ),
    )


def appliance_outcomes(judged: Judged, runs: Sequence[RunCheck]) -> list[Outcome]:
    """The conditions of the job's appliances."""
    collars = {collar.appliance: collar for collar in idle_collars(runs)}
    found = []
    for appliance in judged.inputs.job.appliances:
        drain = worst_collar_pressure(runs, appliance.name)
        vented = VentedAppliance(appliance, judged.inputs, judged, drain, collars.get(appliance.name))
        found += [condition(vented) for condition in APPLIANCE_CONDITIONS]
    return found


def settles_job(runs: Sequence[RunCheck], conditions: Sequence[Outcome]) -> Outcome:
    """The outcome that settles the job: of equals that of the run which uses most of its allowance."""
    nearest_first = sorted(runs, key=_used, reverse=True)
    of_the_job = [outcome for outcome in conditions if outcome.run is None]
    worst = deciding([*(run.decides for run in nearest_first), *of_the_job])
    assert worst is not None  # a job has runs
    return worst


def _used(check: RunCheck) -> float:
    return (check.table.used if check.table else None) or 0.0
