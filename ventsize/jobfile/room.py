"""Keys of a job for the air of rooms: [[room]], and under it other appliances, rooms beside it, openings and fans.

[[room]]
name = "basement"
volume = "1,920 ft³"          # with what stands open to it without a door
appliances = ["furnace"]      # those of this job that take their air from it
infiltration = "0.35 ACH"     # where it is known; leave it out otherwise

[[room.other]]                # other appliances in it
name = "water heater"
input = "40,000 Btu/h"
draft = "natural"             # or "fan", or "direct": direct vent, which is left out
category = "I"                # of its rating plate; a draft hood is Category I
connector = "4 in"

[[room.beside]]               # another room that lends its air through openings
name = "stairs and hall"
volume = "3,000 ft³"
storey = "other"

[[room.opening]]              # to that room, or to "outdoors"
to = "outdoors"
way = "horizontal duct"
area = "60 in²"
louver = "metal"

[[room.exhaust]]              # what takes air out of it
name = "dryer"
flow = "200 ft³/min"
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from ventsize.jobfile.document import nearest, rare_record, record
from ventsize.jobfile.field_types import (
    AirChanges,
    Expected,
    Fraction,
    PositiveArea,
    PositiveLength,
    PositivePower,
    PositiveVolume,
    Text,
    VolumeFlow,
)

OUTDOORS = "outdoors"
_MOST_AIR_CHANGES = 20 / 3600  # 1/s; a house has well under two an hour

Draft = Annotated[Literal["fan", "natural", "direct"], Expected("'fan', 'natural' or 'direct' (direct vent)")]
Category = Annotated[Literal["I", "II", "III", "IV"], Expected("'I', 'II', 'III' or 'IV'")]
Storey = Annotated[Literal["same", "other"], Expected("'same' or 'other'")]
Way = Annotated[
    Literal["direct", "vertical duct", "horizontal duct"],
    Expected("'direct', 'vertical duct' or 'horizontal duct'"),
]
At = Annotated[Literal["top", "bottom"], Expected("'top' or 'bottom'")]
Louver = Annotated[Literal["metal", "wood"], Expected("'metal' or 'wood'")]


@record
class OtherAppliance:
    """One that this job does not vent: input [W, gross], its draft, its connector's size [m], its category.

    draft: fan-assisted, natural, or direct vent, which takes no air from the room. category: by its rating plate.
    """

    name: Text
    input: PositivePower
    draft: Draft
    connector: PositiveLength | None = None
    category: Category | None = None


@record
class RoomBeside:
    """Another room: volume [m³], and whether it is on the same storey."""

    name: Text
    volume: PositiveVolume
    storey: Storey = "same"


@record
class Opening:
    """A permanent opening to a room beside or to "outdoors".

    area: that air can pass [m²]; of the whole frame where louver or free_share is given. way: how it leads
    outdoors. at: within a foot of the top or of the bottom of the room; not known where not given.
    """

    to: Text
    area: PositiveArea
    way: Way = "direct"
    at: At | None = None
    louver: Louver | None = None
    free_share: Fraction | None = None


@record
class Exhaust:
    """A fan or dryer that takes air out of the room: flow [m³/s]."""

    name: Text
    flow: VolumeFlow


@rare_record
class Room:
    """A room that appliances take their air from.

    volume: [m³]. infiltration: where it is known [1/s]. supply: of a fan that blows outdoor air in, interlocked
    with every appliance in the room [m³/s].
    """

    name: Text
    volume: PositiveVolume
    appliances: tuple[Text, ...] = ()
    infiltration: AirChanges | None = None
    supply: VolumeFlow | None = None
    others: Annotated[tuple[OtherAppliance, ...], Field(alias="other")] = ()
    beside: tuple[RoomBeside, ...] = ()
    openings: Annotated[tuple[Opening, ...], Field(alias="opening")] = ()
    exhausts: Annotated[tuple[Exhaust, ...], Field(alias="exhaust")] = ()


def room_faults(rooms: tuple[Room, ...], appliances: tuple[str, ...]) -> Iterator[tuple[str, str, str]]:
    """What is wrong between the keys of rooms: (place, problem, expected); appliances: names of the job's own."""
    yield from _twice("room", "room", [room.name for room in rooms])
    named = [name for room in rooms for name in room.appliances]
    for name in sorted({name for name in named if named.count(name) > 1}):
        yield "room", f"appliance '{name}' is named more than once", "each appliance in one room"
    for room in rooms:
        place = f"room '{room.name}'"
        for name in room.appliances:
            if name not in appliances:
                yield f"{place}, appliances", f"no appliance is named '{name}'", nearest(name, appliances)
        if not room.appliances and not room.others:
            yield place, "it has no appliance", "appliances = ['furnace'] or a [[room.other]]"
        if room.infiltration is not None and not 0 < room.infiltration <= _MOST_AIR_CHANGES:
            yield f"{place}, infiltration", "no house has this air change rate", "a rate such as '0.35 ACH'"
        yield from _twice(f"{place}, other", "appliance", [*room.appliances, *(other.name for other in room.others)])
        yield from _twice(f"{place}, beside", "room", [beside.name for beside in room.beside])
        for number, opening in enumerate(room.openings, start=1):
            yield from _opening_faults(room, opening, f"{place}, opening {number}")


def _twice(place: str, kind: str, names: list[str]) -> Iterator[tuple[str, str, str]]:
    for name in sorted({name for name in names if names.count(name) > 1}):
        yield place, f"two {kind}s are named '{name}'", "each name once"
    if any(not name.strip() for name in names):
        yield place, f"a {kind} has an empty name", "a name"


def _opening_faults(room: Room, opening: Opening, place: str) -> Iterator[tuple[str, str, str]]:
    known = [OUTDOORS, *(beside.name for beside in room.beside)]
    if opening.to not in known:
        yield f"{place}, to", f"there is no room '{opening.to}' beside it", nearest(opening.to, known)
    elif opening.to != OUTDOORS and opening.way != "direct":
        yield f"{place}, way", "a duct is given to a room beside", "way only for openings to 'outdoors'"
    if opening.louver is not None and opening.free_share is not None:
        yield place, "louver and free_share are both given", "one of them"
    if opening.free_share is not None and not 0 < opening.free_share <= 1:
        yield f"{place}, free_share", f"{opening.free_share:.0%} cannot be free", "a share such as 0.75 or '75 %'"
