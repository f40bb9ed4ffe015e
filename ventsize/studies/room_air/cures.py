"""What would give a room its air, each by itself beside what is there already."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import fsum

from ventsize.jobfile.room import OUTDOORS, Room
from ventsize.studies.room_air.openings import Lent, free_area, single_needed, supply_needed
from ventsize.studies.room_air.rules import RoomRules


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """What would be enough by itself, beside what is there.

    count: of openings; free_area: of each [m²]; flow: [m³/s]; volume: of the room it leads to, at least [m³].
    metal, wood: size of each opening behind a louver whose free area is not known [m²].
    room: of those beside it that the job describes, where that is the one; more: free area that its openings lack,
    all together [m²].
    """

    name: str
    count: int = 0
    free_area: float | None = None
    metal: float | None = None
    wood: float | None = None
    flow: float | None = None
    volume: float | None = None
    status: str = "published"
    room: str | None = None
    more: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Lack:
    """What a room lacks: power: of all its appliances [W]; volume: missing [m³]; factor: share of openings outdoors
    that is still asked for [-]; connectors: areas of the vent connectors [m²], None where a size is not given."""

    power: float
    volume: float
    factor: float
    connectors: float | None


def cures_of(room: Room, rules: RoomRules, lack: Lack, beside: Sequence[Lent]) -> tuple[Cure, ...]:
    """Every cure: outdoors, to rooms the job describes, to any room large enough, by a fan."""
    return (
        *_there_already(room, rules, lack),
        *_outdoors(rules, lack),
        *_described(room, rules, lack, beside),
        *_any_room(rules, lack),
        Cure(name="air blown in", flow=supply_needed(room, rules, lack.power), status=rules.supply.status),
    )


def _there_already(room: Room, rules: RoomRules, lack: Lack) -> Iterator[Cure]:
    """Moving or enlarging the openings outdoors that are there, before another is made."""
    openings = sorted(
        (one for one in room.openings if one.to == OUTDOORS), key=lambda one: free_area(one, rules), reverse=True
    )
    if not openings or not lack.factor:
        return
    areas = [free_area(one, rules) for one in openings]
    horizontal = any(one.way == "horizontal duct" for one in openings)
    rule = rules.horizontal_duct if horizontal else rules.direct
    needed = rule.needed(lack.power, factor=lack.factor)
    if len(openings) > 1:
        at = {one.at for one in openings[:2]}
        if areas[1] >= needed * _ALMOST and len(at) == 1 and None not in at:
            other = "top" if at == {"bottom"} else "bottom"
            yield Cure(
                name=f"move one of the two openings outdoors to the {other} of the room", count=1, free_area=areas[1],
                more=0.0, status=rule.status,
            )  # fmt: skip
        more = fsum(max(needed - area, 0.0) for area in areas[:2])
        if more > 0.0:
            yield _opening(
                rules, name="enlarge the two openings outdoors that are there", count=2, area=needed, more=more,
                status=rule.status,
            )  # fmt: skip
    single = single_needed(rules, power=lack.power, factor=lack.factor, connectors=lack.connectors)
    if single is not None and openings[0].way == "direct" and single > areas[0]:
        yield _opening(
            rules, name="enlarge the opening outdoors that is there", count=1, area=single, more=single - areas[0],
            status=rules.single.status,
        )  # fmt: skip


_ALMOST = 1 - 1e-9


def smallest_of(cures: Sequence[Cure]) -> str | None:
    """The name of the cure with the least free area to be made, of those that are known to do."""
    known = [cure for cure in cures if cure.free_area is not None and (cure.volume is None or cure.room is not None)]
    return min(known, key=_to_be_made).name if known else None


def _to_be_made(cure: Cure) -> float:
    return cure.count * (cure.free_area or 0.0) if cure.more is None else cure.more


def _opening(rules: RoomRules, *, name: str, count: int, area: float, **more: object) -> Cure:
    area = max(area, rules.dimension.least**2)  # square: nothing narrower than the least dimension
    louvered = {"metal": area / rules.louver.metal, "wood": area / rules.louver.wood}
    return Cure(name=name, count=count, free_area=area, **louvered, **more)  # type: ignore[arg-type]


def _outdoors(rules: RoomRules, lack: Lack) -> Iterator[Cure]:
    reduced = rules.combination.status if 0 < lack.factor < 1 else None
    area = single_needed(rules, power=lack.power, factor=lack.factor, connectors=lack.connectors)
    if area is not None:
        yield _opening(rules, name="one opening outdoors", count=1, area=area, status=rules.single.status)
    for way, rule in (("direct or vertical duct", rules.direct), ("horizontal duct", rules.horizontal_duct)):
        area = rule.needed(lack.power, factor=lack.factor)
        name = f"two openings outdoors ({way})"
        yield _opening(rules, name=name, count=2, area=area, status=reduced or rule.status)


def _described(room: Room, rules: RoomRules, lack: Lack, beside: Sequence[Lent]) -> Iterator[Cure]:
    """Rooms beside it that would be enough if their openings were."""
    for one in beside:
        typed = next(found for found in room.beside if found.name == one.room)
        if one.counts or one.busy or one.volume < lack.volume * (1 - 1e-9):
            continue
        there = sorted((free_area(o, rules) for o in room.openings if o.to == one.room), reverse=True)
        if typed.storey == "other":
            rule, count, name = rules.other_storey, 1, f"openings together to {one.room}, on another storey"
            there = [fsum(there)]
        else:
            rule, count, name = rules.same_storey, 2, f"two openings to {one.room}, high and low"
        needed = rule.needed(lack.power)
        more = fsum(max(needed - (there[n] if n < len(there) else 0.0), 0.0) for n in range(count))
        # Where only their heights are not said, there is nothing to make.
        if more > 0.0:
            yield _opening(rules, name=name, count=count, area=needed, status=rule.status, volume=lack.volume,
                           room=one.room, more=more)  # fmt: skip


def _any_room(rules: RoomRules, lack: Lack) -> Iterator[Cure]:
    for name, count, rule in (
        ("two openings to a room on the same storey", 2, rules.same_storey),
        ("openings together to a room on another storey", 1, rules.other_storey),
    ):
        area = rule.needed(lack.power)
        yield _opening(rules, name=name, count=count, area=area, status=rule.status, volume=lack.volume)
