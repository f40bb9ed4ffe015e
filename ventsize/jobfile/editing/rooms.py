"""Rooms in a job's data, and what belongs to them: other appliances, rooms beside, openings, fans."""

from __future__ import annotations

from typing import Any

from ventsize.jobfile.editing.names import free_name
from ventsize.jobfile.editing.values import Data, EditError, clear, insert_item, items, put, value_at

PARTS = ("other", "beside", "opening", "exhaust")
OUTDOORS = "outdoors"


def add_room(data: Data) -> Data:
    """A room more, with the job's appliances that no room has yet; its volume is for typing next."""
    taken = {name for room in items(data, ("room",)) for name in room.get("appliances", [])}
    names = [item.get("name") for item in items(data, ("appliance",)) if isinstance(item, dict)]
    name = free_name([str(room.get("name", "")) for room in items(data, ("room",))], "room")
    left = [name for name in names if isinstance(name, str) and name not in taken]
    return insert_item(data, ("room",), {"name": name, "appliances": left})


def add_part(data: Data, room: int, kind: str) -> Data:
    """Something more in a room; what must be measured is left for typing next.

    kind: one of PARTS. Raises EditError where there is no such room.
    """
    if value_at(data, ("room", room)) is None:
        raise EditError("there is no room to add it to")
    names = [str(item.get("name", "")) for item in items(data, ("room", room, kind)) if isinstance(item, dict)]
    made: dict[str, dict[str, Any]] = {
        "other": {"name": free_name(names, "water heater"), "draft": "natural"},
        "beside": {"name": free_name(names, "room beside"), "storey": "same"},
        "opening": {"to": OUTDOORS},
        "exhaust": {"name": free_name(names, "fan")},
    }
    return insert_item(data, ("room", room, kind), made[kind])


def remove_part(data: Data, room: int, kind: str, at: int) -> Data:
    """A room without one of its parts, or the job without the room; empty lists go with their last item."""
    path = ("room",) if kind == "room" else ("room", room, kind)
    left = clear(data, (*path, room if kind == "room" else at))
    return left if items(left, path) else clear(left, path)


def breathe(data: Data, room: int, appliance: str) -> Data:
    """The data with an appliance taking its air from a room, or no longer; from one room at most."""
    here = appliance in (value_at(data, ("room", room, "appliances"), []) or [])
    for at in range(len(items(data, ("room",)))):
        path = ("room", at, "appliances")
        names = value_at(data, path, []) or []
        wanted = [name for name in names if name != appliance] + ([appliance] if at == room and not here else [])
        if wanted != names:
            data = put(data, path, wanted) if wanted else clear(data, path)
    return data
