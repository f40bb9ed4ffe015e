"""Room air: whether a room gives its appliances the air they take, how much is missing, and what cures it.

The rules, with their sources, are those of `room_rules`; what counts as an opening is in `room_openings`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import fsum

from ventsize.check.inputs import Inputs
from ventsize.jobfile.job import Job
from ventsize.jobfile.problems import InputError, Problem
from ventsize.jobfile.room import Room, RoomBeside
from ventsize.studies.room_air.cures import Cure, Lack, cures_of, smallest_of
from ventsize.studies.room_air.fans import Fans, fans_of
from ventsize.studies.room_air.openings import Lent, Provision, area_of, blown_in, lent, outdoors
from ventsize.studies.room_air.rules import RoomRules, read_rules

ENOUGH, SHORT, UNKNOWN = "enough", "not enough", "cannot be told"


@dataclass(frozen=True, slots=True, kw_only=True)
class VolumeMethod:
    """A way of figuring the volume [m³]; why_not: why it may not be used here, or ""."""

    name: str
    volume: float | None
    why_not: str
    source: str
    status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomAir:
    """One room. fan, natural: input of fan-assisted and of other appliances [W].

    volume: of the room; counted: with rooms beside that count; required: by the governing method [m³].
    factor: share of openings outdoors still asked for beside the volume counted [-].
    smallest: the cure with the least free area of openings to be made, by name. fans: what competes for its air.
    """

    name: str
    fan: float
    natural: float
    volume: float
    counted: float
    beside: tuple[Lent, ...]
    methods: tuple[VolumeMethod, ...]
    governing: str
    required: float
    factor: float
    provisions: tuple[Provision, ...]
    verdict: str
    cures: tuple[Cure, ...]
    smallest: str | None
    fans: Fans | None
    cautions: tuple[str, ...]

    @property
    def power(self) -> float:
        """Input of all appliances [W]."""
        return self.fan + self.natural

    @property
    def missing(self) -> float:
        """Volume that is missing [m³]; zero where there is enough."""
        return max(self.required - self.counted, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomAirStudy:
    """Every room of a job. source: of the rules as a whole; rules: source and status of each.

    cautions: beyond single rooms.
    """

    rooms: tuple[RoomAir, ...]
    source: str
    rules: tuple[tuple[str, str], ...]
    cautions: tuple[str, ...]

    @property
    def enough(self) -> bool:
        """Whether every room has enough air."""
        return all(room.verdict == ENOUGH for room in self.rooms)


def room_air(inputs: Inputs, *, rules: RoomRules | None = None) -> RoomAirStudy:
    """The rooms of a job. Raises InputError where it describes none."""
    job = inputs.job
    if not job.rooms:
        raise InputError(Problem(inputs.file, "", "it has no [[room]]", "a [[room]] with name, volume and appliances"))
    rules = rules or read_rules()
    rooms = tuple(_room(room, job, rules) for room in job.rooms)
    return RoomAirStudy(rooms=rooms, source=rules.source, rules=rules.sources(), cautions=tuple(_job_cautions(job)))


def _room(room: Room, job: Job, rules: RoomRules) -> RoomAir:
    own = [a for a in job.appliances if a.name in room.appliances and not _has_air_pipe(job, a.name)]
    # The appliances of a job have inducers, and draw most at their highest rate.
    fan = fsum(max(rate.input for rate in appliance.rates) for appliance in own)
    fan += fsum(other.input for other in room.others if other.draft == "fan")
    natural = fsum(other.input for other in room.others if other.draft == "natural")
    power = fan + natural  # direct vent takes its air through a pipe, and is left out
    methods = tuple(_methods(room, rules, fan=fan, natural=natural))
    governing, required = min(
        ((m.name, m.volume) for m in methods if m.volume is not None and not m.why_not), key=lambda one: one[1]
    )
    beside = tuple(_lent(room, one, job, rules, power) for one in room.beside)
    counted = room.volume + fsum(one.volume for one in beside if one.counts)
    factor = max(1.0 - counted / required, 0.0) if required else 0.0
    connectors = area_of([*(a.collar for a in own), *(other.connector for other in room.others)])
    provisions = (
        _by_volume(beside, counted, required, next(m for m in methods if m.name == governing)),
        *(outdoors(room, rules, power=power, factor=factor, connectors=connectors) if factor else ()),
        blown_in(room, rules, power),
    )
    verdict = _verdict(provisions)
    lack = Lack(power=power, volume=required - counted, factor=factor, connectors=connectors)
    cures = () if verdict == ENOUGH else cures_of(room, rules, lack, beside)
    fans = fans_of(room, rules, power=power, counted=counted)
    return RoomAir(
        name=room.name,
        fan=fan,
        natural=natural,
        volume=room.volume,
        counted=counted,
        beside=beside,
        methods=methods,
        governing=governing,
        required=required,
        factor=factor,
        provisions=provisions,
        verdict=verdict,
        cures=cures,
        smallest=smallest_of(cures),
        fans=fans,
        cautions=tuple(_cautions(room, job, rules, provisions, fans, natural=natural)),
    )


def _lent(room: Room, beside: RoomBeside, job: Job, rules: RoomRules, power: float) -> Lent:
    """What a room beside lends. Appliances of its own take from the same air: it is then not for this room alone."""
    if any(other.name == beside.name for other in job.rooms):
        reason = "it has appliances of its own; describe both as one room"
        return Lent(room=beside.name, volume=beside.volume, counts=None, reason=reason, busy=True)
    return lent(room, beside, rules, power)


def _methods(room: Room, rules: RoomRules, *, fan: float, natural: float) -> Iterator[VolumeMethod]:
    rate, least = room.infiltration, rules.volume.least_infiltration
    barred = rate is not None and rate < least * (1 - 1e-9)
    yield VolumeMethod(
        name="standard",
        volume=rules.standard_volume(fan + natural),
        why_not=f"infiltration is known to be below {least * 3600:.2f} air changes per hour" if barred else "",
        source=rules.volume.source,
        status=rules.volume.status,
    )
    yield VolumeMethod(
        name="known infiltration",
        volume=None if rate is None else rules.infiltration_volume(fan=fan, natural=natural, air_changes=rate),
        why_not="the infiltration is not given" if rate is None else "",
        source=rules.infiltration.source,
        status=rules.infiltration.status,
    )


def _by_volume(beside: tuple[Lent, ...], counted: float, required: float, method: VolumeMethod) -> Provision:
    enough: bool | None = counted >= required * (1 - 1e-9)
    maybe = [one for one in beside if one.counts is None]
    reason = "" if enough else "the volume is too small"
    if not enough and maybe and counted + fsum(one.volume for one in maybe) >= required:
        enough, reason = None, "; ".join(f"{one.room}: {one.reason}" for one in maybe)
    return Provision(
        name="air from indoors",
        measure="volume",
        needed=required,
        present=counted,
        enough=enough,
        reason=reason,
        source=method.source,
        status=method.status,
    )


def _verdict(provisions: tuple[Provision, ...]) -> str:
    if any(provision.enough for provision in provisions):
        return ENOUGH
    return UNKNOWN if any(provision.enough is None for provision in provisions) else SHORT


def _cautions(
    room: Room, job: Job, rules: RoomRules, provisions: tuple[Provision, ...], fans: Fans | None, *, natural: float
) -> Iterator[str]:
    where = f"room '{room.name}'"
    enough = [provision for provision in provisions if provision.enough]
    if enough and all(provision.status == "from memory" for provision in enough):
        yield f"{where}: that it is enough rests on a figure from memory: check it before use"
    if fans is None:
        yield f"{where}: no fan or dryer is listed that takes air out; if there is one, it competes for this air"
    else:
        names = ", ".join(fans.names)
        yield f"{where}: {names} takes air out as well; with all of it running, measure whether flues still draw"
        if natural and fans.hard:
            yield f"{where}: it may pull hard enough to turn a flue of natural draft round"
        yield f"{where}: air blown in is figured to make up for {names} as well"
    yield from _category_cautions(room, job)
    yield from _infiltration_cautions(room, rules)
    if room.supply is not None:
        yield f"{where}: the fan that blows air in must be interlocked with every appliance"


CLAUSE = "(NFPA 54 9.3.1, from memory)"


def _category_cautions(room: Room, job: Job) -> Iterator[str]:
    """Whom the rule is for: draft hoods and Category I; direct vent takes nothing, for the rest the maker decides."""
    where = f"room '{room.name}'"
    for appliance in job.appliances:
        if appliance.name in room.appliances and _has_air_pipe(job, appliance.name):
            yield f"{where}: {appliance.name} has a combustion-air pipe: direct vent, left out of this room {CLAUSE}"
        elif appliance.name in room.appliances:
            yield f"{where}: {appliance.name} is no Category I: its maker says what air it needs from a room {CLAUSE}"
    for other in room.others:
        if other.draft == "direct":
            yield f"{where}: {other.name} is direct vent, left out of this room {CLAUSE}"
        elif other.category is None:
            yield f"{where}: the category of {other.name} is not given; the rule is for Category I only {CLAUSE}"
        elif other.category != "I":
            yield f"{where}: {other.name} is Category {other.category}: its maker says what air it needs {CLAUSE}"


def _infiltration_cautions(room: Room, rules: RoomRules) -> Iterator[str]:
    where, greatest = f"room '{room.name}'", rules.infiltration.greatest
    if room.infiltration is None:
        yield f"{where}: the infiltration is not given; in a house built tight the standard method may not be used"
    elif room.infiltration > greatest:
        yield f"{where}: no more than {greatest * 3600:.2f} air changes per hour may be used, and are"


def _job_cautions(job: Job) -> Iterator[str]:
    named = {name for room in job.rooms for name in room.appliances}
    for appliance in job.appliances:
        if appliance.name not in named and not _has_air_pipe(job, appliance.name):
            yield f"{appliance.name} has no combustion-air pipe, and no room names it"
    yield "openings are permanent, without dampers, and no less than 3 in either way; input is not reduced for altitude"
    yield "openings indoors are for the input of all appliances in the room, not only for what its volume lacks"
    yield "which code and edition is in force is for you to say; the local code and the maker decide"


def _has_air_pipe(job: Job, name: str) -> bool:
    return any(run.carries == "combustion air" and name in run.between for run in job.runs)
