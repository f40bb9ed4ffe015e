"""What an instrument at a tap shows of a solved flow."""

from __future__ import annotations

import math

from ventsize.check.appliances import surroundings
from ventsize.finding import Finding
from ventsize.flow.rate_flow import RateFlow, RunFlow
from ventsize.gas.combustion import gross_heat
from ventsize.gas.components import GAS_CONSTANT
from ventsize.jobfile.job import OUTDOORS
from ventsize.jobfile.reading import ROOM
from ventsize.run.model import Run
from ventsize.studies.readings.conditions import Conditions
from ventsize.studies.readings.places import FLUE, Tap, ordered

GAS_PRESSURE = 1744.0  # Pa, 7 in w.c. before the appliance (common practice)
METERED = 288.71  # K, 60 °F, at which gas is sold


def shown(tap: Tap, flow: RateFlow, conditions: Conditions, *, as_it_should_be: RateFlow) -> float | Finding:
    """The value at a tap; a finding where it is not known.

    as_it_should_be: the flow at the same rate with nothing changed, which settings go with.
    """
    if tap.kind == "speed":
        return _speed(tap, flow, conditions)
    if tap.kind == "meter_seconds":
        return _meter(tap, flow, conditions)
    if tap.place == ROOM:
        return conditions.inputs.job.site.room_pressure or 0.0
    if tap.run is None:
        return _switch(tap, flow, conditions, as_it_should_be)
    run = flow.runs[tap.run]
    if tap.kind == "pressure":
        return static_at(run, tap.position)
    if tap.kind == "temperature":
        return _temperature(run, tap.position)
    mixture = run.stream.mixture
    name = "oxygen" if tap.kind == "oxygen" else "carbon dioxide"
    return mixture.fraction(name) / (1.0 - mixture.fraction("water"))


def static_at(flow: RunFlow, position: int) -> float:
    """What a manometer shows behind so many of a run's pieces, against the room where its pressure is stated [Pa]."""
    run = flow.run
    if position == 0 and run.start != OUTDOORS:
        return flow.static_pressure_to_room(run.start)
    if position == len(run.pieces) and run.end != OUTDOORS:
        return flow.static_pressure_to_room(run.end)
    return total_at(flow, position) - dynamic_at(flow, position) - (flow.room or 0.0)


def total_at(flow: RunFlow, position: int) -> float:
    """Total pressure against ambient behind so many of a run's pieces [Pa]."""
    by_piece = dict(zip(map(id, flow.run.pieces), flow.pieces, strict=True))
    passed = [by_piece[id(piece)] for piece in ordered(flow.run)[:position]]
    fallen = math.fsum(piece.pressure_drop - piece.draft for piece in passed)
    fallen += math.fsum(loss.pressure_drop for loss in flow.junctions if loss.joint == flow.run.start)
    return flow.start_pressure - fallen if flow.forward else flow.start_pressure + fallen


def dynamic_at(flow: RunFlow, position: int) -> float:
    """½ρv² behind so many of a run's pieces [Pa]."""
    pieces = ordered(flow.run)
    piece = pieces[max(position - 1, 0)]
    section = piece.after if position else piece.before
    own = next(found for found in flow.pieces if found.piece is piece)
    return own.at.dynamic_pressure if piece.section is section else flow.at(section).dynamic_pressure


def head_at(appliance: str, flow: RateFlow) -> float:
    """What it takes to push the gas out and to draw the air in, draft included [Pa]."""
    head = 0.0
    for run in flow.runs.values():
        if appliance in (run.run.start, run.run.end):
            pressure = run.start_pressure if run.run.start == appliance else run.end_pressure
            head += pressure if run.run.carries == FLUE else -pressure
    return head


def gas_enters_at(run: Run, forward: bool) -> int:
    """The position at which the gas enters a run."""
    return 0 if forward else len(run.pieces)


def _temperature(flow: RunFlow, position: int) -> float | Finding:
    if position == gas_enters_at(flow.run, flow.forward):
        return flow.stream.temperature
    if flow.cooling is None:
        return Finding("not-cooled")
    at_outlet = position == len(flow.run.pieces) - 1 if flow.forward else position == 1
    leaves = position == gas_enters_at(flow.run, not flow.forward)
    if leaves or at_outlet:
        return flow.cooling.outlet.temperature
    streams = flow.cooling.streams
    before = position - 1 if flow.forward else position
    return streams[min(max(before, 0), len(streams) - 1)].temperature


def _switch(tap: Tap, flow: RateFlow, conditions: Conditions, nominal: RateFlow) -> float | Finding:
    rate = flow.firing.rates[tap.appliance]
    drop = conditions.exchanger_drop.get((tap.appliance, rate or ""))
    if drop is not None:  # it goes with the flow
        here, there = flow.firing.flue[tap.appliance], nominal.firing.flue[tap.appliance]
        return drop * (here.mass_flow / there.mass_flow) ** 2 * there.density / here.density
    usual = conditions.across_switch(tap.appliance, rate, tap.setting)
    if usual is not None:
        return usual
    return Finding("example-inducer" if conditions.exemplary(tap.appliance) else "no-switch-setting")


def _speed(tap: Tap, flow: RateFlow, conditions: Conditions) -> float | Finding:
    inducer = conditions.inducer(tap.appliance)
    rate = flow.firing.rates[tap.appliance]
    if conditions.exemplary(tap.appliance):
        return Finding("example-inducer")
    if inducer is None or not inducer.adaptive or conditions.curve is None or rate is None:
        return Finding("no-fan-curve")
    needed = inducer.switch[rate] + head_at(tap.appliance, flow)
    speed = conditions.curve.speed_for(flow=flow.firing.flue[tap.appliance].volume_flow, head=needed)
    return Finding("beyond-fan-curve") if speed is None else speed


def _meter(tap: Tap, flow: RateFlow, conditions: Conditions) -> float | Finding:
    """Seconds that a revolution of the gas meter takes at the appliance's input [s]."""
    if tap.dial is None:
        return Finding("no-meter-dial")
    inputs = conditions.inputs
    fuel = next(one.fuel for one in inputs.job.appliances if one.name == tap.appliance)
    held = (surroundings(inputs).pressure + GAS_PRESSURE) / (GAS_CONSTANT * METERED)
    burning = conditions.burning[tap.appliance, flow.firing.rates[tap.appliance] or ""]
    return tap.dial * held * gross_heat(inputs.catalog.fuels[fuel].mole_fractions) / burning.input
