"""Room air: whether a room gives its appliances the air they take, how much is missing, and what cures it.

The rules, with their sources, are those of `rules`; what counts as an opening is in `openings`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import fsum

from ventsize.check.inputs import Inputs
from ventsize.finding import Finding
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
    """A way of figuring the volume [m³]; why_not: why it may not be used here."""

    name: str
    volume: float | None
    why_not: Finding | None
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
    cautions: tuple[Finding, ...]

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
    cautions: tuple[Finding, ...]

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
        reason = Finding("room-beside-has-appliances")
        return Lent(room=beside.name, volume=beside.volume, counts=None, reason=reason, busy=True)
    return lent(room, beside, rules, power)


def _methods(room: Room, rules: RoomRules, *, fan: float, natural: float) -> Iterator[VolumeMethod]:
    rate, least = room.infiltration, rules.volume.least_infiltration
    barred = rate is not None and rate < least * (1 - 1e-9)
    yield VolumeMethod(
        name="standard",
        volume=rules.standard_volume(fan + natural),
        why_not=Finding("infiltration-too-low", values={"least": least * 3600}) if barred else None,
        source=rules.volume.source,
        status=rules.volume.status,
    )
    yield VolumeMethod(
        name="known infiltration",
        volume=None if rate is None else rules.infiltration_volume(fan=fan, natural=natural, air_changes=rate),
        why_not=Finding("infiltration-missing") if rate is None else None,
        source=rules.infiltration.source,
        status=rules.infiltration.status,
    )


def _by_volume(beside: tuple[Lent, ...], counted: float, required: float, method: VolumeMethod) -> Provision:
    enough: bool | None = counted >= required * (1 - 1e-9)
    maybe = [one for one in beside if one.counts is None]
    reasons: tuple[Finding, ...] = () if enough else (Finding("volume-too-small"),)
    if not enough and maybe and counted + fsum(one.volume for one in maybe) >= required:
        enough = None
        reasons = tuple(
            Finding(one.reason.code, values={**one.reason.values, "room": one.room}) for one in maybe if one.reason
        )
    return Provision(
        name="air from indoors",
        measure="volume",
        needed=required,
        present=counted,
        enough=enough,
        reasons=reasons,
        source=method.source,
        status=method.status,
    )


def _verdict(provisions: tuple[Provision, ...]) -> str:
    if any(provision.enough for provision in provisions):
        return ENOUGH
    return UNKNOWN if any(provision.enough is None for provision in provisions) else SHORT


def _cautions(
    room: Room, job: Job, rules: RoomRules, provisions: tuple[Provision, ...], fans: Fans | None, *, natural: float
) -> Iterator[Finding]:
    named = {"room": room.name}
    enough = [provision for provision in provisions if provision.enough]
    if enough and all(provision.status == "from memory" for provision in enough):
        yield Finding("enough-from-memory", values=named)
    if fans is None:
        yield Finding("no-fan-listed", values=named)
    else:
        yield Finding("fans-take-air", values={**named, "fans": ", ".join(fans.names)})
        if natural and fans.hard:
            yield Finding("fans-may-turn-flue", values=named)
        yield Finding("blown-in-for-fans", values={**named, "fans": ", ".join(fans.names)})
    yield from _category_cautions(room, job)
    greatest = rules.infiltration.greatest
    if room.infiltration is None:
        yield Finding("infiltration-not-given", values=named)
    elif room.infiltration > greatest:
        yield Finding("infiltration-at-most", values={**named, "greatest": greatest * 3600})
    if room.supply is not None:
        yield Finding("fan-interlock", values=named)


def _category_cautions(room: Room, job: Job) -> Iterator[Finding]:
    """Whom the rule is for: draft hoods and Category I; direct vent takes nothing, for the rest the maker decides."""
    for appliance in job.appliances:
        if appliance.name in room.appliances:
            code = "air-piped" if _has_air_pipe(job, appliance.name) else "appliance-not-category-one"
            yield Finding(code, values={"room": room.name, "name": appliance.name})
    for other in room.others:
        values = {"room": room.name, "name": other.name}
        if other.draft == "direct":
            yield Finding("direct-vent-left-out", values=values)
        elif other.category is None:
            yield Finding("category-missing", values=values)
        elif other.category != "I":
            yield Finding("category-other", values={**values, "category": other.category})


def _job_cautions(job: Job) -> Iterator[Finding]:
    named = {name for room in job.rooms for name in room.appliances}
    for appliance in job.appliances:
        if appliance.name not in named and not _has_air_pipe(job, appliance.name):
            yield Finding("air-in-no-room", values={"name": appliance.name})
    yield from map(Finding, ("openings-permanent", "openings-for-all-input", "room-code-decides"))


def _has_air_pipe(job: Job, name: str) -> bool:
    return any(run.carries == "combustion air" and name in run.between for run in job.runs)
