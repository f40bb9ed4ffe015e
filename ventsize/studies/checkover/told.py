"""What a job itself tells of a rule of the check-over: met, not met, or not told, with the figures."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from ventsize.check.appliances import surroundings
from ventsize.check.climate import job_climate
from ventsize.check.inputs import Inputs
from ventsize.check.result import JobCheck, RunCheck
from ventsize.check.traps import worst_collar_pressure
from ventsize.finding import Amount, Finding, Outcome, Value, length, temperature
from ventsize.flow.cooling import UNSAID
from ventsize.quantity import Dimension
from ventsize.run.model import Piece
from ventsize.run.slope import LEVEL, PieceSlope, run_slope
from ventsize.studies.checkover.places import Place
from ventsize.studies.checkover.rules import Rule
from ventsize.studies.room_air import ENOUGH, SHORT, room_air

TEN_FEET = 3.048


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """met: None where the job does not tell. value and limit: in SI, where there are figures.

    said: what the job tells. outcome: the condition of the check that answers, where one does.
    """

    met: bool | None
    said: tuple[Finding, ...] = ()
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

    @property
    def limit(self) -> float | None:
        """The rule's limit at this place."""
        return self.rule.bound(material=[m.name for m in self.place.materials], power=self.place.power)


def told(asked: Asked) -> Said:
    """What the job tells of a rule."""
    reader = None if asked.rule.told is None else _READERS[asked.rule.told]
    return Said(met=None) if reader is None else reader(asked)


def _allowance(asked: Asked) -> Said:
    check = asked.place.run
    if check is None:
        return _elsewhere("a run")
    met = {"within": True, "over": False, "short": False, "unsafe": False}.get(check.verdict)
    return Said(met=met, said=_one("run-verdict", verdict=check.verdict), outcome=check.decides)


def _table_fittings(asked: Asked) -> Said:
    check = asked.place.run
    if check is None:
        return _elsewhere("a run")
    if check.table is None or not check.table.rows:
        return Said(met=None, outcome=check.decides)
    fittings = check.outcome("fittings-in-table")
    if fittings is None or fittings.state != "met":
        return Said(met=False if fittings is not None else None, outcome=fittings or check.decides)
    return Said(met=True, said=_one("table-has-each-fitting", table=check.table_file or ""))


def _temperature(asked: Asked) -> Said:
    check = asked.place.run
    if check is None:
        return _elsewhere("a run")
    hottest = max(rate.flow.stream.temperature for rate in check.rates)
    unknown = tuple(m.name for m in asked.place.materials if m.temperature_limit is None)
    known = [(m.temperature_limit, m.name) for m in asked.place.materials if m.temperature_limit is not None]
    if unknown:
        return Said(met=None, said=_one("material-without-limit", gas=temperature(hottest), materials=unknown))
    limit, name = min(known)
    return Said(
        met=hottest <= limit,
        said=_one("gas-beside-limit", gas=temperature(hottest), material=name, limit=temperature(limit)),
        value=hottest,
        limit=limit,
        dimension=Dimension.TEMPERATURE,
    )


def _expansion(asked: Asked) -> Said:
    check = asked.place.run
    if check is None:
        return _elsewhere("a run")
    if any(material.expansion is None for material in asked.place.materials):
        return Said(met=None, said=_one("growth-not-known"))
    coldest, hottest = _temperatures(check, asked)
    between = {"coldest": temperature(coldest), "hottest": temperature(hottest)}
    if check.run.counted:
        growth = max(m.expansion or 0.0 for m in asked.place.materials) * TEN_FEET * (hottest - coldest)
        said = _one("grows-by-length", growth=length(growth), each=length(TEN_FEET), **between)
        return Said(met=None, said=said)
    straight, growth = max(_straights(check, hottest - coldest), key=lambda one: one[1])
    said = _one("straight-grows", straight=length(straight), growth=length(growth), **between)
    limit = asked.limit
    small = limit is not None and growth <= limit  # more asks for a look, and is no fault by itself
    return Said(met=True if small else None, said=said, value=growth, limit=limit, dimension=Dimension.LENGTH)


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
    pieces = run_slope(check.run, outward=asked.inputs.graph.leads_out(check.run)).pieces
    slopes = [piece.rise / piece.flat for piece in pieces if piece.known and piece.lies]
    least = min(slopes, default=None)
    dimension = Dimension.SLOPE
    wrong = [piece for piece in pieces if piece.falls(limit) is False]
    if wrong:
        said = tuple(_fall(piece) for piece in wrong)
        return Said(met=False, said=said, value=least, limit=limit, dimension=dimension)
    if check.run.counted:
        return Said(met=None, said=_one("not-laid-out"), limit=limit, dimension=dimension)
    untold = tuple(f"piece {piece.piece}" for piece in pieces if not piece.known)
    if untold:
        said = _one("piece-without-rise", pieces=untold)
        return Said(met=None, said=said, value=least, limit=limit, dimension=dimension)
    if least is None:
        return Said(met=True, said=_one("nothing-lies-level"), limit=limit, dimension=dimension)
    said = _one("least-slope", slope=Amount(least, dimension))
    return Said(met=True, said=said, value=least, limit=limit, dimension=dimension)


def _fall(piece: PieceSlope) -> Finding:
    named = {"piece": f"piece {piece.piece}"}
    if not piece.lies:
        return Finding("piece-drops-away", values=named)
    if abs(piece.rise) <= LEVEL:
        return Finding("piece-is-level", values=named)
    slope = Amount(abs(piece.rise) / piece.flat, Dimension.SLOPE)
    return Finding("piece-falls-toward" if piece.rise > 0 else "piece-falls-away", values={**named, "slope": slope})


def _low_spots(asked: Asked) -> Said:
    check = asked.place.run
    if check is None:
        return _elsewhere("a run")
    found = run_slope(check.run, outward=asked.inputs.graph.leads_out(check.run))
    dry = [spot for spot in found.low_spots if not spot.drained]
    if dry:
        said = tuple(
            Finding("spot-without-drain", values={"at": f"piece {s.piece}", "depth": length(s.depth)}) for s in dry
        )
        return Said(met=False, said=said)
    return Said(met=True if found.known else None, said=_one("spots-drained" if found.known else "lie-not-given"))


def _trap_seal(asked: Asked) -> Said:
    appliance, limit = asked.place.appliance, asked.limit
    if appliance is None or limit is None:
        return _elsewhere("an appliance, and a limit")
    worst = worst_collar_pressure(asked.checked.runs, appliance.name)
    if worst is None:
        return Said(met=None, said=_one("no-flue-run"))
    if not worst.settled:
        return Said(met=None, said=_one("no-pressure-at-trap"))
    needed, seal = worst.water + limit, appliance.trap_seal
    if seal is None:
        said = _one("seal-not-given", water=length(worst.water))
        return Said(met=None, said=said, limit=needed, dimension=Dimension.LENGTH)
    said = _one("seal-to-spare", water=length(worst.water), seal=length(seal), spare=length(seal - worst.water))
    return Said(met=worst.holds(seal, margin=limit), said=said, value=seal, limit=needed, dimension=Dimension.LENGTH)


def _room_air(asked: Asked) -> Said:
    if not asked.inputs.job.rooms:
        return Said(met=None, said=_one("no-room-in-job"))
    rooms = room_air(asked.inputs).rooms
    named = [room.name for room in asked.inputs.job.rooms if asked.place.name in room.appliances]
    room = next((room for room in rooms if room.name in named), None)
    if room is None:
        return Said(met=None, said=_one("in-no-room"))
    met = {ENOUGH: True, SHORT: False}.get(room.verdict)
    return Said(met=met, said=_one("room-has-air", room=room.name, verdict=room.verdict))


def _elsewhere(what: str) -> Said:
    """A rule whose file has it asked where what it is told by does not exist."""
    return Said(met=None, said=_one("asked-elsewhere", what=what))


def _one(code: str, **values: Value) -> tuple[Finding, ...]:
    return (Finding(code, values=values),)


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
