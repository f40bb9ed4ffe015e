"""What is to be said beside a verdict, as findings: about this job, the most severe first, each once."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from ventsize.allowance.doubts import doubts_of
from ventsize.catalog.records import same_size
from ventsize.check.appliances import ASSUMED_OUTDOOR, ApplianceGas, surroundings
from ventsize.check.collars import common_vents
from ventsize.check.input_doubts import input_doubts
from ventsize.check.inputs import Inputs
from ventsize.check.judging import placed
from ventsize.check.rate import RunRate
from ventsize.check.result import RunCheck
from ventsize.check.traps import TRAP_MARGIN, worst_collar_pressure
from ventsize.check.wind_and_stack import nearly
from ventsize.finding import (
    Amount,
    Finding,
    Outcome,
    Value,
    Where,
    length,
    power,
    pressure,
    temperature,
    velocity,
)
from ventsize.flow.rate_flow import RateFlow
from ventsize.gas.derating import derated_inputs
from ventsize.run.close_elbows import close_elbows
from ventsize.run.slope import LowSpot

FASTEST = 15.0  # m/s; beyond it a vent is louder and more uncertain than any that is built (contract)
BORES = (0.8, 1.25)  # of the nominal size; beyond, one of the two may be mistyped (contract)
LEAST_DRAFT = 0.05  # Pa; less against the gas is nothing that anybody would measure
ORDER = ("stop", "doubt", "note")

# Notes about the calculation come last: they change nothing that anybody does.
LAST = ("transition-flow", "few-tests", "laminar-fitting", "cooling-followed", "one-temperature")


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """What findings are made of. assumed: about the air around the pipes; None where the gas does not cool."""

    inputs: Inputs
    appliances: Sequence[ApplianceGas]
    rates: Sequence[RateFlow]
    runs: Sequence[RunCheck]
    low_spots: Sequence[LowSpot]
    conditions: Sequence[Outcome]
    assumed: Sequence[Finding] | None


def findings_of(context: Context) -> tuple[Finding, ...]:
    """Every finding of a job: stops, doubts, notes; one that holds at several rates once, at the worst."""
    found = _once(one for one in (*_failed(context.conditions), *_all(context)) if one.severity != "evidence")
    return tuple(sorted(found, key=lambda one: (ORDER.index(one.severity), one.code in LAST)))


def _failed(conditions: Iterable[Outcome]) -> Iterator[Finding]:
    """The evidence of conditions; some of it is to be said by itself, too."""
    yield from (outcome.because for outcome in conditions)


def _all(context: Context) -> Iterator[Finding]:
    inputs, runs = context.inputs, context.runs
    for check in runs:
        yield from _disagreement(check)
    yield from _readings_kept(inputs)
    for check in runs:
        yield from _in_question(inputs, check)
    yield from _table_doubts(inputs, [doubt for check in runs for doubt in _in_question(inputs, check)])
    yield from input_doubts(inputs.job)
    yield from _low_spots(context.low_spots)
    yield from _traps(inputs, runs)
    yield from _collars(inputs, runs)
    yield from _common_vents(runs)
    for check in runs:
        yield from _of_run(check)
    for rate in context.rates:
        yield from rate.findings
    yield from _site(inputs)
    yield from _ends(inputs, runs)
    yield from _appliances(inputs, context.appliances)
    yield from _combinations(context.appliances, context.rates, runs)
    yield from [Finding("one-temperature")] if context.assumed is None else [
        *context.assumed, Finding("cooling-followed")
    ]  # fmt: skip


def _once(findings: Iterable[Finding]) -> list[Finding]:
    """Each finding once: of those that differ only in rate and amounts the first, which is at the worst rate."""
    found: dict[tuple[object, ...], Finding] = {}
    for finding in findings:
        where = finding.where
        names = tuple(value for value in finding.values.values() if not isinstance(value, Amount))
        place = (where.appliance, where.run, where.way, where.joint, where.piece, where.table, where.row)
        found.setdefault((finding.code, place, names), finding)
    return list(found.values())


def _readings_kept(inputs: Inputs) -> Iterator[Finding]:
    """What was measured is not asked by a verdict on feet and fittings, and may well say otherwise."""
    if inputs.job.readings:
        yield Finding("readings-not-asked", Where(), {"readings": len(inputs.job.readings)})


def _disagreement(check: RunCheck) -> Iterator[Finding]:
    over = [rate for rate in _worst_first(check) if rate.within_allowance is False]
    if over and check.verdict == "within":
        yield Finding("over-by-calculation", Where(run=check.run.name, rate=over[0].name), _pressures(over[0]))
    if not over and check.verdict == "over" and check.worst.within_allowance:
        where = Where(run=check.run.name, rate=check.worst.name)
        yield Finding("within-by-calculation", where, _pressures(check.worst))


def _pressures(rate: RunRate) -> dict[str, Value]:
    return {"counted": pressure(rate.counted_pressure), "budget": pressure(rate.budget_pressure or 0.0)}


def _worst_first(check: RunCheck) -> list[RunRate]:
    return sorted(check.rates, key=lambda rate: rate.counted_pressure, reverse=True)


def _in_question(inputs: Inputs, check: RunCheck) -> Iterator[Finding]:
    """What is in question of the row that governs and of what it deducts: as of the table, and placed at the run."""
    answer = check.table
    if answer is None:
        return
    assert check.table_file is not None  # an answer is a table's
    table, where = inputs.tables[check.table_file], Where(run=check.run.name, table=check.table_file)
    doubts = doubts_of(table, inputs.catalog)
    rows = {row.number for row in answer.rows} if answer.shares else {answer.row.number} if answer.row else set()
    counted = {line.fitting for line in answer.deductions if line.origin == "table"}
    for doubt in doubts.rows:
        if doubt.where.row in rows:
            yield placed(doubt, where)
    for doubt in doubts.deductions:
        if doubt.values.get("fitting") in counted:
            yield placed(doubt, where)


def _table_doubts(inputs: Inputs, of_runs: Sequence[Finding]) -> Iterator[Finding]:
    """What in a table is likely mistyped, but for what is said of a run: it is read as it stands, never corrected."""
    said = {
        (finding.code, finding.where.table, finding.where.row, finding.values.get("fitting")) for finding in of_runs
    }
    for name, table in inputs.tables.items():
        for doubt in doubts_of(table, inputs.catalog).all:
            if (doubt.code, name, doubt.where.row, doubt.values.get("fitting")) not in said:
                yield placed(doubt, Where(table=name))


def _low_spots(spots: Sequence[LowSpot]) -> Iterator[Finding]:
    for spot in spots:
        if not spot.drained and not spot.blocks:
            values: dict[str, Value] = {"depth": length(spot.depth), "bore": length(spot.bore)}
            yield Finding("water-narrows-pipe", Where(run=spot.run, piece=spot.piece), values)


def _traps(inputs: Inputs, runs: Sequence[RunCheck]) -> Iterator[Finding]:
    """A trap that holds with little to spare, and one whose depth nobody has stated."""
    for appliance in inputs.job.appliances:
        drain = worst_collar_pressure(runs, appliance.name)
        if drain is None:
            continue
        if appliance.trap_seal is None:
            yield Finding("trap-seal-not-stated", Where(appliance=appliance.name), {"needed": length(
                drain.water + TRAP_MARGIN)})  # fmt: skip
        elif drain.settled and not drain.blows_out(appliance.trap_seal) and not drain.holds(appliance.trap_seal):
            yield Finding("trap-margin-small", Where(appliance=appliance.name, rate=drain.rate), {
                "pressure": pressure(max(drain.highest, 0.0)), "seal": length(appliance.trap_seal),
                "spare": length(appliance.trap_seal - drain.water), "margin": length(TRAP_MARGIN),
            })  # fmt: skip


def _collars(inputs: Inputs, runs: Sequence[RunCheck]) -> Iterator[Finding]:
    """Pipe of another size than the collar it starts at."""
    collars = {a.name: a.collar for a in inputs.job.appliances if a.collar is not None}
    for check in runs:
        joint = next((j for j in (check.run.start, check.run.end) if j in collars), None)
        if joint is None:
            continue
        nominal, collar = check.run.section_at(joint).nominal, collars[joint]
        if not same_size(nominal, collar):
            values: dict[str, Value] = {"size": check.run.section_at(joint).label, "collar": length(collar)}
            smaller = nominal < collar
            if smaller or check.run.carries == "flue gas":
                code = "pipe-smaller-than-collar" if smaller else "pipe-larger-than-collar"
                yield Finding(code, Where(run=check.run.name, appliance=joint), values)


def _common_vents(runs: Sequence[RunCheck]) -> Iterator[Finding]:
    for vent in common_vents(runs):
        code = "shared-vent-under-pressure" if vent.positive else "shared-vent"
        yield Finding(code, Where(run=vent.run), {"serves": vent.serves, "pressure": pressure(max(vent.pressure, 0.0))})


def _of_run(check: RunCheck) -> Iterator[Finding]:
    run, where = check.run, Where(run=check.run.name)
    yield from run.findings
    if not run.counted:
        yield from close_elbows(run.name, run.pieces)
    if run.carries == "flue gas":
        materials = {piece.section.material.name: piece.section.material for piece in run.pieces}
        for name, material in materials.items():
            if material.temperature_limit is None:
                yield Finding("limit-not-known", where, {"material": name})
    if check.table is not None:
        yield from (placed(finding, Where(run=run.name, table=check.table_file)) for finding in check.table.findings)
    yield from _of_sections(check, where)
    own = tuple(sorted({piece.name for piece in run.pieces if piece.k is not None}))
    if own:
        yield Finding("loss-from-job", where, {"fittings": own})
    for rate in _worst_first(check):
        yield from _of_rate(rate, Where(run=run.name, rate=rate.name))
    if not run.rise_known:
        yield Finding("rise-not-known", where)


def _of_sections(check: RunCheck, where: Where) -> Iterator[Finding]:
    for section in {id(piece.section): piece.section for piece in check.run.pieces}.values():
        if not BORES[0] <= section.bore / section.nominal <= BORES[1]:
            yield Finding("unusual-bore", where, {"bore": length(section.bore), "size": section.label})


def _of_rate(rate: RunRate, where: Where) -> Iterator[Finding]:
    fastest = max(piece.at.velocity for piece in rate.flow.pieces)
    if fastest > FASTEST:
        yield Finding("fast-gas", where, {"velocity": velocity(fastest), "limit": velocity(FASTEST)})
    if rate.flow.draft < -LEAST_DRAFT:
        yield Finding("draft-hinders", where, {"draft": pressure(-rate.flow.draft)})
    unsettled: dict[str, list[float]] = {}
    codes: dict[str, list[str]] = {}
    for piece in rate.flow.pieces:
        if piece.at.regime == "transition":
            unsettled.setdefault(piece.piece.section.label, []).append(piece.at.reynolds)
        for code in piece.codes:
            codes.setdefault(code, []).append(piece.piece.name)
    for label, numbers in unsettled.items():
        values: dict[str, Value] = {"size": label, "lowest": round(min(numbers)), "highest": round(max(numbers))}
        yield Finding("transition-flow", where, values)
    for code, names in codes.items():
        yield Finding(code, where, {"pieces": tuple(dict.fromkeys(names))})


def _site(inputs: Inputs) -> Iterator[Finding]:
    site = inputs.job.site
    if site.altitude is None:
        yield Finding("altitude-not-given")
    if site.outdoor is None:
        yield Finding("outdoor-assumed", Where(), {"assumed": temperature(ASSUMED_OUTDOOR)})
    takes_room_air = any(
        all(run.carries != "combustion air" for run in inputs.graph.runs_at(appliance.name))
        for appliance in inputs.job.appliances
    )
    if site.indoor is None and takes_room_air and site.humidity > 0.0:
        yield Finding("room-air-as-outdoors")


def _ends(inputs: Inputs, runs: Sequence[RunCheck]) -> Iterator[Finding]:
    """What of wind and room is not counted, once; and where little of it would change an answer."""
    around = surroundings(inputs)
    known = around.boundary
    calm, unknown_room = known.wind_speed is None or bool(known.unplaced), known.ends.room is None
    if calm or unknown_room:
        yield Finding(
            "ends-not-counted" if calm and unknown_room else "wind-not-counted" if calm else "room-pressure-not-counted"
        )
    for one in nearly(inputs.job, runs, known, density=around.outdoors.density):
        code = "little-wind-at-trap" if one.what == "trap" else "little-wind-at-collar"
        where = Where(appliance=one.appliance, rate=one.rate)
        yield Finding(code, where, {"spare": pressure(one.pressure), "wind": velocity(one.wind)})


def _appliances(inputs: Inputs, appliances: Sequence[ApplianceGas]) -> Iterator[Finding]:
    altitude = inputs.job.site.altitude or 0.0
    for gas, appliance in zip(appliances, inputs.job.appliances, strict=True):
        where = Where(appliance=gas.name)
        if not any(run.carries == "combustion air" for run in inputs.graph.runs_at(gas.name)):
            yield Finding("room-air-not-judged" if appliance.air == "room" else "air-taken-as-from-room", where)
        top = gas.highest.plate
        derated = derated_inputs(input=top, altitude=altitude)
        if derated is not None:
            yield Finding("derating-not-applied", where, {
                "altitude": length(altitude), "input": power(top), "whole_altitude": power(derated.whole_altitude),
                "part_above": power(derated.part_above),
            })  # fmt: skip


def _combinations(
    appliances: Sequence[ApplianceGas], rates: Sequence[RateFlow], runs: Sequence[RunCheck]
) -> Iterator[Finding]:
    """Which combination of rates is the worst, and whether every one has been figured."""
    if len(appliances) == 1:
        return
    every = math.prod(len(appliance.rates) + 1 for appliance in appliances) - 1
    if len(rates) < every:
        yield Finding("combinations-left-out", Where(), {"every": every, "figured": len(rates)})
    for name in sorted({check.worst.name for check in runs if len(check.serves) > 1}):
        shared = tuple(check.run.name for check in runs if len(check.serves) > 1 and check.worst.name == name)
        yield Finding("worst-combination", Where(rate=name), {"runs": shared})
