"""What lets air into a room: which openings count, as what, and whether they are enough by the rules."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import fsum, pi

from ventsize.finding import Finding
from ventsize.jobfile.room import OUTDOORS, Opening, Room, RoomBeside
from ventsize.studies.room_air.rules import AreaRule, RoomRules

_ALMOST = 1 - 1e-9  # a figure typed as the rule's own is enough


@dataclass(frozen=True, slots=True, kw_only=True)
class Provision:
    """One way in which a room can have its air, and whether it has it.

    measure: "volume" [m³], "area" of each opening [m²] or "flow" [m³/s]; needed, present: None where not known.
    enough: None where it cannot be told; reasons: why not, or what is missing.
    """

    name: str
    measure: str
    needed: float | None
    present: float | None
    enough: bool | None
    reasons: tuple[Finding, ...]
    source: str
    status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Lent:
    """A room beside: its volume [m³], and whether its openings let it count (None: cannot be told).

    reason: why not. busy: whether it has appliances of its own.
    """

    room: str
    volume: float
    counts: bool | None
    reason: Finding | None
    busy: bool = False


def free_area(opening: Opening, rules: RoomRules) -> float:
    """What air can pass of an opening [m²]."""
    if opening.free_share is not None:
        return opening.area * opening.free_share
    return opening.area * {"metal": rules.louver.metal, "wood": rules.louver.wood, None: 1.0}[opening.louver]


def lent(room: Room, beside: RoomBeside, rules: RoomRules, power: float) -> Lent:
    """Whether a room beside lends its volume; power: of all appliances in the room [W]."""
    openings = [opening for opening in room.openings if opening.to == beside.name]
    if beside.storey == "other":
        counts: bool | None = fsum(free_area(o, rules) for o in openings) >= rules.other_storey.needed(power) * _ALMOST
        reason = None if counts else Finding("openings-too-small" if openings else "no-opening")
    else:
        counts, reason = _pair(openings, rules, lambda _: rules.same_storey.needed(power))
    return Lent(room=beside.name, volume=beside.volume, counts=counts, reason=reason)


def _pair(
    openings: Sequence[Opening], rules: RoomRules, needed: Callable[[Opening], float]
) -> tuple[bool | None, Finding | None]:
    """Whether two of the openings are large enough, one at the top and one at the bottom of the room."""
    if len(openings) < 2:
        return False, Finding("two-openings-needed" if openings else "no-opening")
    at = [opening.at for opening in openings if free_area(opening, rules) >= needed(opening) * _ALMOST]
    if len(at) < 2:
        return False, Finding("openings-too-few-large")
    missing = tuple(place for place in ("top", "bottom") if place not in at)
    if not missing:
        return True, None
    if len(missing) <= at.count(None):
        return None, Finding("opening-place-missing", values={"places": missing})
    return False, Finding("no-opening-large-at", values={"place": missing[0]})


def outdoors(
    room: Room, rules: RoomRules, *, power: float, factor: float, connectors: float | None
) -> Iterator[Provision]:
    """Openings to outdoors, as two and as one.

    power: of all appliances [W]; factor: share of the openings still asked for beside the volume there is [-];
    connectors: areas of the vent connectors together [m²], None where a size is not given.
    """
    openings = [opening for opening in room.openings if opening.to == OUTDOORS]

    def needed(opening: Opening) -> float:
        return _rule(opening, rules).needed(power, factor=factor)

    widest = sorted((free_area(opening, rules) for opening in openings), reverse=True)
    enough, reason = _pair(openings, rules, needed)
    horizontal = any(opening.way == "horizontal duct" for opening in openings)
    rule = rules.horizontal_duct if horizontal else rules.direct
    way = "horizontal duct" if horizontal else "direct or vertical duct"
    yield Provision(
        name=f"two openings outdoors ({way})",
        measure="area",
        needed=rule.needed(power, factor=factor),
        present=widest[1] if len(widest) > 1 else 0.0,
        enough=enough,
        reasons=() if reason is None else (reason,),
        source=rule.source if factor == 1.0 else f"{rule.source}; {rules.combination.source}",
        status=rule.status if factor == 1.0 else rules.combination.status,
    )
    yield _one(openings, rules, single_needed(rules, power=power, factor=factor, connectors=connectors))


def single_needed(rules: RoomRules, *, power: float, factor: float, connectors: float | None) -> float | None:
    """Free area of one opening outdoors alone [m²], None where a vent connector's size is not given."""
    return None if connectors is None else max(rules.single.needed(power, factor=factor), connectors)


def _rule(opening: Opening, rules: RoomRules) -> AreaRule:
    return rules.horizontal_duct if opening.way == "horizontal duct" else rules.direct


def _one(openings: Iterable[Opening], rules: RoomRules, needed: float | None) -> Provision:
    areas = [(free_area(opening, rules), opening.at) for opening in openings]
    present = max((area for area, _ in areas), default=0.0)
    large = [at for area, at in areas if needed is None or area >= needed * _ALMOST]
    enough: bool | None = False
    code = "no-opening-large" if areas else "no-opening"
    if large and needed is None:
        enough, code = None, "connector-size-missing"
    elif "top" in large:
        enough = True
    elif None in large:
        enough, code = None, "opening-top-missing"
    elif large:
        code = "opening-at-bottom"
    return Provision(
        name="one opening outdoors",
        measure="area",
        needed=needed,
        present=present,
        enough=enough,
        reasons=() if enough else (Finding(code),),
        source=rules.single.source,
        status=rules.single.status,
    )


def blown_in(room: Room, rules: RoomRules, power: float) -> Provision:
    """Air blown in by a fan, which must also make up for what others take out; power: of all appliances [W]."""
    needed = supply_needed(room, rules, power)
    enough = room.supply is not None and room.supply >= needed * _ALMOST
    return Provision(
        name="air blown in",
        measure="flow",
        needed=needed,
        present=room.supply or 0.0,
        enough=enough,
        reasons=() if enough else (Finding("blown-in-too-little" if room.supply else "no-air-blown-in"),),
        source=rules.supply.source,
        status=rules.supply.status,
    )


def supply_needed(room: Room, rules: RoomRules, power: float) -> float:
    """What a fan must blow in for the appliances and for what others take out [m³/s]; power: [W]."""
    return rules.supply.flow * power / rules.supply.per + fsum(exhaust.flow for exhaust in room.exhausts)


def area_of(diameters: Sequence[float | None]) -> float | None:
    """Areas of round pipes together [m²], None where a size is not given; diameters: [m]."""
    known = [size for size in diameters if size is not None]
    return fsum(pi / 4 * size**2 for size in known) if len(known) == len(diameters) else None
