"""What a job itself tells of a rule of the check-over: met, not met, or not told, with the figures."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from ventsize.check.appliances import surroundings
from ventsize.check.climate import job_climate
from ventsize.check.inputs import Inputs
from ventsize.check.result import JobCheck, RunCheck
from ventsize.check.traps import worst_collar_pressure
from ventsize.finding import Outcome
from ventsize.flow.cooling import UNSAID
from ventsize.quantity import Dimension, System, show, show_length, show_temperature
from ventsize.run.model import Piece
from ventsize.run.slope import LEVEL, PieceSlope, run_slope
from ventsize.studies.checkover.places import Place
from ventsize.studies.checkover.rules import Rule
from ventsize.studies.room_air import ENOUGH, SHORT, room_air

TEN_FEET = 3.048


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """met: None where the job does not tell. value and limit: in SI, where there are figures.

    outcome: the condition of the check that answers, where one does; its words come after `said`.
    """

    met: bool | None
    said: str
    outcome: Outcome | None = None
    value: float | None = None
    limit: float | None = None
    dimension: Dimension | None = None


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked: a rule at a place of a checked job."""

    rule: Rule
    place: Place
    inputs: Inputs
    checked: JobCheck
    system: System

    @property
    def limit(self) -> float | None:
        """The rule's limit at this place."""
        return self.rule.bound(material=[m.name for m in self.place.materials], power=self.place.power)


def told(asked: Asked) -> Said:
    """What the job tells of a rule."""
    reader = None if asked.rule.told is None else _READERS[asked.rule.told]
    return Said(met=None, said="") if reader is None else reader(asked)


def _allowance(asked: Asked) -> Said:
    check = asked.place.run
    if check is None:
        return _elsewhere("a run")
    met = {"within": True, "over": False, "short": False, "unsafe": False}.get(check.verdict)
    return Said(met=met, said=check.verdict, outcome=check.decides)


def _table_fittings(asked: Asked) -> Said:
    check = asked.place.run
    if check is None:
        return _elsewhere("a run")
    if check.table is None or not check.table.rows:
        return Said(met=None, said="", outcome=check.decides)
    fittings = check.outcome("fittings-in-table")
    if fittings is None or fittings.state != "met":
        return Said(met=False if fittings is not None else None, said="", outcome=fittings or check.decides)
    return Said(met=True, said=f"the table {check.table_file} has an answer for each of its fittings")


def _temperature(asked: Asked) -> Said:
    check = asked.place.run
    if check is None:
        return _elsewhere("a run")
    hottest = max(rate.flow.stream.temperature for rate in check.rates)
    shown = show_temperature(hottest, asked.system)
    unknown = [m.name for m in asked.place.materials if m.temperature_limit is None]
    known = [(m.temperature_limit, m.name) for m in asked.place.materials if m.temperature_limit is not None]
    if unknown:
        return Said(met=None, said=f"gas at {shown}; the record of {', '.join(unknown)} names no limit")
    limit, name = min(known)
    return Said(
        met=hottest <= limit,
        said=f"gas at {shown}, {name} up to {show_temperature(limit, asked.system)}",
        value=hottest,
        limit=limit,
        dimension=Dimension.TEMPERATURE,
    )


def _expansion(asked: Asked) -> Said:
    check = asked.place.run
    if check is None:
        return _elsewhere("a run")
    if any(material.expansion is None for material in asked.place.materials):
        return Said(met=None, said="the record of a material does not say how it grows")
    coldest, hottest = _temperatures(check, asked)
    between = f"from {show_temperature(coldest, asked.system)} to {show_temperature(hottest, asked.system)}"
    if check.run.counted:
        growth = max(m.expansion or 0.0 for m in asked.place.materials) * TEN_FEET * (hottest - coldest)
        each = f"{show_length(growth, asked.system)} in {show_length(TEN_FEET, asked.system)}"
        return Said(met=None, said=f"counted, so its longest straight is not known; it grows {each}, {between}")
    length, growth = max(_straights(check, hottest - coldest), key=lambda one: one[1])
    said = f"its straight of {show_length(length, asked.system)} grows {_fine(growth, asked.system)}, {between}"
    limit = asked.limit
    small = limit is not None and growth <= limit  # more asks for a look, and is no fault by itself
    return Said(met=True if small else None, said=said, value=growth, limit=limit, dimension=Dimension.LENGTH)


def _fine(length: float, system: System) -> str:
    return show(length, Dimension.LENGTH, system, style="bore")


def _temperatures(check: RunCheck, asked: Asked) -> tuple[float, float]:
    """The coldest that any of its pipe gets when idle, and the hottest when it fires [K]."""
    around = surroundings(asked.inputs)
    climate = job_climate(asked.inputs, around).climate
    pipes = [piece for piece in check.run.pieces if piece.is_pipe]
    coldest = min((climate.around[piece.surroundings or UNSAID].temperature for piece in pipes), default=around.indoor)
    hottest = max(rate.flow.stream.temperature for rate in check.rates)
    return coldest, max(hottest, coldest)


def _straights(check: RunCheck, difference: float) -> Iterator[tuple[float, float]]:
    """Length and growth of each straight between turns [m]; difference: of temperature [K]."""
    length = growth = 0.0
    for piece in check.run.pieces:
        if piece.is_pipe:
            length += piece.length
            growth += piece.length * (piece.section.material.expansion or 0.0) * difference
        elif _turns(piece):
            yield length, growth
            length = growth = 0.0
    yield length, growth


def _turns(piece: Piece) -> bool:
    return piece.fitting is not None and piece.fitting.kind in ("elbow", "tee")


def _slope(asked: Asked) -> Said:
    check, limit = asked.place.run, asked.limit
    if check is None or limit is None:
        return _elsewhere("a run, and a limit")
    pieces = run_slope(check.run, asked.inputs.graph.appliances).pieces
    slopes = [piece.rise / piece.flat for piece in pieces if piece.known and piece.lies]
    least = min(slopes, default=None)
    dimension = Dimension.SLOPE
    wrong = [piece for piece in pieces if piece.falls(limit) is False]
    if wrong:
        shown = "; ".join(f"{_number(piece, check)} {_fall(piece, asked.system)}" for piece in wrong)
        return Said(met=False, said=shown, value=least, limit=limit, dimension=dimension)
    if check.run.counted:
        return Said(met=None, said="counted, not laid out", limit=limit, dimension=dimension)
    untold = ", ".join(_number(piece, check) for piece in pieces if not piece.known)
    if untold:
        return Said(met=None, said=f"no rise is given for {untold}", value=least, limit=limit, dimension=dimension)
    if least is None:
        return Said(met=True, said="no pipe of it lies level", limit=limit, dimension=dimension)
    said = f"at least {show(least, dimension, asked.system)} toward the appliance"
    return Said(met=True, said=said, value=least, limit=limit, dimension=dimension)


def _number(piece: PieceSlope, check: RunCheck) -> str:
    return piece.place.removeprefix(f"run '{check.run.name}', ")


def _fall(piece: PieceSlope, system: System) -> str:
    if not piece.lies:
        return "drops away from the appliance"
    if abs(piece.rise) <= LEVEL:
        return "is level"
    way = "toward" if piece.rise > 0 else "away from"
    return f"falls {show(abs(piece.rise) / piece.flat, Dimension.SLOPE, system)} {way} the appliance"


def _low_spots(asked: Asked) -> Said:
    check = asked.place.run
    if check is None:
        return _elsewhere("a run")
    found = run_slope(check.run, asked.inputs.graph.appliances)
    dry = [spot for spot in found.low_spots if not spot.drained]
    if dry:
        spots = [f"{spot.place}: {_fine(spot.depth, asked.system)} of water without a drain" for spot in dry]
        return Said(met=False, said="; ".join(spots))
    if not found.known:
        return Said(met=None, said="how it lies is not told in full")
    return Said(met=True, said="as laid out, it has none without a drain")


def _trap_seal(asked: Asked) -> Said:
    appliance, limit = asked.place.appliance, asked.limit
    if appliance is None or limit is None:
        return _elsewhere("an appliance, and a limit")
    worst = worst_collar_pressure(asked.checked.runs, appliance.name)
    if worst is None:
        return Said(met=None, said="no run carries its flue gas")
    if not worst.settled:
        return Said(met=None, said="the flow was not found, and so no pressure at the trap")
    shown = f"the vent's pressure is up to {_fine(worst.water, asked.system)} of water"
    needed, seal = worst.water + limit, appliance.trap_seal
    if seal is None:
        said = f"{shown}; the depth of the seal (trap_seal) is not given"
        return Said(met=None, said=said, limit=needed, dimension=Dimension.LENGTH)
    said = f"{shown}, the seal {_fine(seal, asked.system)} deep: {_fine(seal - worst.water, asked.system)} to spare"
    return Said(met=worst.holds(seal, margin=limit), said=said, value=seal, limit=needed, dimension=Dimension.LENGTH)


def _room_air(asked: Asked) -> Said:
    if not asked.inputs.job.rooms:
        return Said(met=None, said="the job describes no room")
    rooms = room_air(asked.inputs).rooms
    named = [room.name for room in asked.inputs.job.rooms if asked.place.name in room.appliances]
    room = next((room for room in rooms if room.name in named), None)
    if room is None:
        return Said(met=None, said="no room names it")
    met = {ENOUGH: True, SHORT: False}.get(room.verdict)
    return Said(met=met, said=f"{room.name}: {room.verdict}")


def _elsewhere(what: str) -> Said:
    """A rule whose file has it asked where what it is told by does not exist."""
    return Said(met=None, said=f"what the job tells here needs {what}")


_READERS: Mapping[str, Callable[[Asked], Said]] = {
    "allowance": _allowance,
    "table fittings": _table_fittings,
    "temperature": _temperature,
    "expansion": _expansion,
    "slope": _slope,
    "low spots": _low_spots,
    "trap seal": _trap_seal,
    "room air": _room_air,
}
