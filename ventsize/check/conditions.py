"""The conditions of a pass beside the table: what a run and the job must be for the verdict to hold.

Each is a small function that says met, not met or not known, with its evidence. To add one, write it and put it into
`RUN_CONDITIONS` or `APPLIANCE_CONDITIONS`; nothing else has to know.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ventsize.allowance.answer import CONDITIONS as TABLE_CONDITIONS
from ventsize.allowance.model import RUNS_TOGETHER
from ventsize.check.collars import IdleCollar
from ventsize.check.inputs import Inputs
from ventsize.check.judging import LEAST_LENGTH, Judged
from ventsize.check.traps import TRAP_MARGIN, DrainPressure
from ventsize.finding import (
    Finding,
    Outcome,
    State,
    Value,
    Where,
    deciding,
    length,
    pressure,
    share,
    temperature,
)
from ventsize.flow.envelope import MOST_MACH, envelope
from ventsize.flow.rate_flow import RunFlow
from ventsize.jobfile.job import Appliance
from ventsize.run.graph import MOST_WAYS
from ventsize.run.model import Run, Section
from ventsize.run.slope import LowSpot

BORES = (0.5, 2.0)  # of the nominal size; beyond, one of the two is not what is there (contract)


@dataclass(frozen=True, slots=True)
class SolvedRun:
    """What the conditions of a run look at: the run, its flow at each rate, its layout on ways out."""

    run: Run
    flows: tuple[RunFlow, ...]
    low_spots: tuple[LowSpot, ...]

    @property
    def where(self) -> Where:
        return Where(run=self.run.name)


def _met(condition: str, code: str, where: Where, values: dict[str, Value] | None = None) -> Outcome:
    return Outcome(condition=condition, state="met", because=Finding(code, where, values or {}))


def lengths_measured(solved: SolvedRun) -> Outcome:
    """Every straight pipe has a length."""
    missing = solved.run.unmeasured
    if missing:
        return Outcome(condition="lengths-measured", state="not known", because=missing[0])
    return _met("lengths-measured", "lengths-measured", solved.where, {"length": length(solved.run.straight_length)})


def turns_made(solved: SolvedRun) -> Outcome:
    """Wherever the route turns, the fittings listed can make the turn."""
    missing = solved.run.unturned
    if missing:
        return Outcome(condition="turns-made", state="not known", because=missing[0])
    return _met("turns-made", "turns-made", solved.where)


def flow_found(solved: SolvedRun) -> Outcome:
    """The calculation found a flow, and every pressure of it is a number."""
    if not all(flow.settled for flow in solved.flows):
        return Outcome(condition="flow-found", state="not known", because=Finding("no-flow-found", solved.where))
    if not all(map(_is_finite, solved.flows)):
        return Outcome(condition="flow-found", state="not known", because=Finding("no-pressure-found", solved.where))
    return _met("flow-found", "flow-found", solved.where)


def _is_finite(flow: RunFlow) -> bool:
    return all(map(math.isfinite, (flow.pressure_drop, flow.draft, flow.start_pressure, flow.end_pressure)))


def one_way_for_gas(solved: SolvedRun) -> Outcome:
    """The gas does not divide: an allowance table is for one pipe."""
    if any(flow.divided for flow in solved.flows):
        because = Finding("gas-has-several-ways", solved.where)
        return Outcome(condition="one-way-for-gas", state="not met", because=because, if_not="not covered")
    return _met("one-way-for-gas", "gas-has-one-way", solved.where)


def gas_below_limit(solved: SolvedRun) -> Outcome:
    """The gas is no hotter than any pipe it runs through may become."""
    hottest = max((flow.stream.temperature for flow in solved.flows if flow.stream.mass_flow > 0.0), default=0.0)
    materials = {piece.section.material.name: piece.section.material for piece in solved.run.pieces}
    limits = {name: m.temperature_limit for name, m in materials.items() if m.temperature_limit is not None}
    if not limits:
        return _met("gas-below-limit", "gas-limit-not-given", solved.where, {"materials": tuple(materials)})
    name = min(limits, key=lambda name: limits[name])
    values: dict[str, Value] = {
        "gas": temperature(hottest), "limit": temperature(limits[name]), "material": name
    }  # fmt: skip
    if hottest > limits[name]:
        because = Finding("gas-too-hot", solved.where, values)
        return Outcome(condition="gas-below-limit", state="not met", because=because, if_not="unsafe")
    return _met("gas-below-limit", "gas-below-limit", solved.where, values)


def inside_envelope(solved: SolvedRun) -> Outcome:
    """The gas is slow enough, the loss small enough and the bores likely enough for the calculation to hold."""
    for section in {id(piece.section): piece.section for piece in solved.run.pieces}.values():
        ratio = section.bore / section.nominal
        if not BORES[0] <= ratio <= BORES[1]:
            return _outside(Finding("bore-not-of-size", solved.where, _sizes(section)))
    for flow in solved.flows:
        limits = envelope(flow)
        if limits.too_fast:
            return _outside(Finding("too-fast", solved.where, {"mach": share(limits.mach), "limit": share(MOST_MACH)}))
        if limits.loses_too_much:
            values: dict[str, Value] = {"loss": pressure(flow.pressure_drop), "ambient": pressure(flow.stream.pressure)}
            return _outside(Finding("loss-too-large", solved.where, values))
    return _met("inside-envelope", "inside-envelope", solved.where)


def _sizes(section: Section) -> dict[str, Value]:
    return {"bore": length(section.bore), "size": section.label}


def _outside(because: Finding) -> Outcome:
    return Outcome(condition="inside-envelope", state="not known", because=because)


def no_water_seal(solved: SolvedRun) -> Outcome:
    """No low spot without a drain can be closed by its own water."""
    if solved.run.carries != "flue gas":
        return _met("no-water-seal", "no-condensate", solved.where)
    closed = next((spot for spot in solved.low_spots if spot.blocks and not spot.drained), None)
    if closed is not None:
        because = Finding("water-closes-pipe", Where(run=closed.run, piece=closed.piece), {
            "depth": length(closed.depth), "bore": length(closed.bore),
        })  # fmt: skip
        return Outcome(condition="no-water-seal", state="not met", because=because, if_not="unsafe")
    return _met("no-water-seal", "fall-not-known" if solved.run.counted else "no-water-seal", solved.where)


RUN_CONDITIONS: tuple[Callable[[SolvedRun], Outcome], ...] = (
    gas_below_limit,
    no_water_seal,
    lengths_measured,
    turns_made,
    flow_found,
    one_way_for_gas,
    inside_envelope,
)


def required_of_run(judged: Judged, run: Run) -> set[str]:
    """The conditions a run must meet to pass, by name."""
    names = {function.__name__.replace("_", "-") for function in RUN_CONDITIONS}
    answer = judged.of[run.name].answer
    names |= {"table-named", "counted-together", *(TABLE_CONDITIONS if answer is None else answer.required)}
    if any(run.name in way.names for way in judged.ways):
        names = (names - {LEAST_LENGTH}) | {"way-allowed"}
    return names


@dataclass(frozen=True, slots=True)
class VentedAppliance:
    """What the conditions of an appliance look at.

    drain: the pressure at its trap, at the worst rate; None where it has no vent. collar: its collar while it is idle
    on a shared vent, None where its vent is its own.
    """

    appliance: Appliance
    inputs: Inputs
    judged: Judged
    drain: DrainPressure | None
    collar: IdleCollar | None

    @property
    def where(self) -> Where:
        return Where(appliance=self.appliance.name)

    @property
    def has_air_run(self) -> bool:
        """Whether a combustion-air run reaches it."""
        return any(run.carries == "combustion air" for run in self.inputs.graph.runs_at(self.appliance.name))


def flue_gas_led_out(vented: VentedAppliance) -> Outcome:
    """A run carries its flue gas away."""
    if any(run.carries == "flue gas" for run in vented.inputs.graph.runs_at(vented.appliance.name)):
        return _met("flue-gas-led-out", "flue-gas-led-out", vented.where)
    return Outcome(condition="flue-gas-led-out", state="not known", because=Finding("no-vent", vented.where))


def trap_holds(vented: VentedAppliance) -> Outcome:
    """The water in its trap, where its depth is stated, holds against the vent's pressure."""
    seal, drain = vented.appliance.trap_seal, vented.drain
    if seal is None or drain is None:
        return _met("trap-holds", "trap-not-stated", vented.where)
    where = Where(appliance=vented.appliance.name, rate=drain.rate)
    values: dict[str, Value] = {"pressure": pressure(max(drain.highest, 0.0)), "seal": length(seal)}
    if not drain.settled:
        return Outcome(condition="trap-holds", state="not known", because=Finding("trap-not-judged", where, values))
    if drain.blows_out(seal):
        because = Finding("trap-blows-out", where, values)
        return Outcome(condition="trap-holds", state="not met", because=because, if_not="unsafe")
    return _met("trap-holds", "trap-holds", where, {**values, "margin": length(TRAP_MARGIN)})


def backflow_stopped(vented: VentedAppliance) -> Outcome:
    """Nothing pushes flue gas into it through a shared vent while it is idle."""
    collar = vented.collar
    if collar is None or collar.without_draft <= 0.0:
        return _met("backflow-stopped", "no-backflow", vented.where)
    where = Where(appliance=collar.appliance, run=None, rate=collar.rate)
    values: dict[str, Value] = {"pressure": pressure(collar.without_draft)}
    said = vented.appliance.backflow_prevented
    code = "backflow-not-known" if said is None else "backflow-stopped" if said else "backflow"
    state: State = "not known" if said is None else "met" if said else "not met"
    return Outcome(
        condition="backflow-stopped", state=state, because=Finding(code, where, values), if_not="unsafe"
    )  # fmt: skip


def air_known(vented: VentedAppliance) -> Outcome:
    """Where its combustion air comes from is said, where that matters."""
    stated, piped = vented.appliance.air, vented.has_air_run
    if stated == "pipe" and not piped:
        return Outcome(condition="air-known", state="not known", because=Finding("air-run-missing", vented.where))
    if stated == "room" and piped:
        return Outcome(condition="air-known", state="not known", because=Finding("air-contradicts", vented.where))
    if piped:
        return _met("air-known", "air-by-pipe", vented.where)
    if stated is None and _counts_air(vented):
        return Outcome(condition="air-known", state="not known", because=Finding("air-not-said", vented.where))
    roomed = any(vented.appliance.name in room.appliances for room in vented.inputs.job.rooms)
    return _met("air-known", "air-from-room" if stated or roomed else "air-taken-from-room", vented.where)


def _counts_air(vented: VentedAppliance) -> bool:
    """Whether the table of its vent adds vent and air together."""
    runs = [run for run in vented.inputs.graph.runs.values() if run.carries == "flue gas"]
    served = [run for run in runs if vented.appliance.name in vented.judged.of[run.name].serves]
    files = [vented.judged.of[run.name].table_file for run in served]
    return any(file is not None and vented.inputs.tables[file].counts == RUNS_TOGETHER for file in files)


def ways_counted(vented: VentedAppliance) -> Outcome:
    """Every way its gas can take is held against a table: where pipes form many loops, too many are left out."""
    if vented.appliance.name in vented.judged.cut:
        because = Finding("too-many-ways", vented.where, {"most": MOST_WAYS})
        return Outcome(condition="ways-counted", state="not known", because=because)
    return _met("ways-counted", "ways-counted", vented.where)


APPLIANCE_CONDITIONS: tuple[Callable[[VentedAppliance], Outcome], ...] = (
    trap_holds,
    backflow_stopped,
    flue_gas_led_out,
    ways_counted,
    air_known,
)


def settling(outcomes: Sequence[Outcome], required: set[str]) -> Outcome:
    """The outcome that settles a verdict; a required condition that nobody looked at is not known."""
    missing = required - {outcome.condition for outcome in outcomes}
    worst = deciding(outcomes)
    if missing and (worst is None or worst.state == "met"):
        where = Where() if worst is None else Where(run=worst.run)
        because = Finding("condition-not-looked-at", where, {"conditions": tuple(sorted(missing))})
        return Outcome(condition=min(missing), state="not known", because=because)
    assert worst is not None
    if worst.state != "met":
        return worst
    spoken = {outcome.condition: outcome for outcome in reversed(outcomes)}
    return spoken.get("way-allowed") or spoken.get("length-allowed") or worst
