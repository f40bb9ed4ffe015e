"""The parts of a job's rooms as rows, and the fields of each."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ventsize.jobfile.editing import Data, value_at
from ventsize.jobfile.editing import Path as Place
from ventsize.jobfile.editing.rooms import OUTDOORS
from ventsize.quantity import Dimension
from ventsize.tui.job.specs import Spec
from ventsize.tui.widgets.field import Choice
from ventsize.tui.widgets.rows import Row

Key = tuple[int, str, int]
"""The room's place, the kind of part ("room", "appliance", "other", "beside", "opening", "exhaust"), and its place."""

VOLUMES, AREAS, FLOWS = ("ft³", "m³"), ("in²", "cm²"), ("ft³/min", "m³/h")
_NOT_SAID = "not stated"


def rows(data: Data) -> list[Row]:
    """Every room with what belongs to it."""
    return [row for at, room in enumerate(_tables(data, ("room",))) for row in _room(data, at, room)]


def _tables(data: Data, path: Place) -> list[dict[str, Any]]:
    return [item if isinstance(item, dict) else {} for item in (value_at(data, path, []) or [])]


def _room(data: Data, at: int, room: dict[str, Any]) -> Iterator[Row]:
    yield Row(key=(at, "room", 0), cells=(str(room.get("name", "")), _said(room, "volume")), tone="group")
    for number, appliance in enumerate(_tables(data, ("appliance",))):
        breathes = appliance.get("name") in (room.get("appliances") or [])
        cells = (f"  {appliance.get('name', '')}", "air from here" if breathes else "not from here")
        yield Row(key=(at, "appliance", number), cells=cells, tone="" if breathes else "faint")
    path: Place = ("room", at)
    for number, other in enumerate(_tables(data, (*path, "other"))):
        yield Row(key=(at, "other", number), cells=(f"  {other.get('name', '')}", _said(other, "input")))
    for number, beside in enumerate(_tables(data, (*path, "beside"))):
        yield Row(key=(at, "beside", number), cells=(f"  beside: {beside.get('name', '')}", _said(beside, "volume")))
    for number, opening in enumerate(_tables(data, (*path, "opening"))):
        yield Row(key=(at, "opening", number), cells=(f"  opening to {opening.get('to', '')}", _said(opening, "area")))
    for number, fan in enumerate(_tables(data, (*path, "exhaust"))):
        yield Row(key=(at, "exhaust", number), cells=(f"  out: {fan.get('name', '')}", _said(fan, "flow")))


def _said(part: dict[str, Any], key: str) -> str:
    return str(part.get(key, "! to be given"))


def specs(data: Data, key: Key) -> list[Spec]:
    """The fields of a part."""
    room, kind, at = key
    base: Place = ("room", room)
    if kind == "room":
        return _of_room(base)
    if kind == "appliance":
        return []
    base = (*base, kind, at)
    if kind == "opening":
        return _of_opening(data, room, base)
    return {"other": _of_other, "beside": _of_beside, "exhaust": _of_exhaust}[kind](base)


def _quantity(
    label: str, place: Place, topic: str, dimension: Dimension, unit: tuple[str, str], *, optional: bool = False,
    example: str = "",
) -> Spec:  # fmt: skip
    return Spec(label=label, place=place, topic=topic, kind="quantity", dimension=dimension, unit=unit,
                optional=optional, example=example)  # fmt: skip


def _choice(label: str, place: Place, topic: str, *choices: tuple[str, str]) -> Spec:
    return Spec(label=label, place=place, topic=topic, kind="choice", optional=not choices[0][0],
                choices=tuple(Choice(value, shown) for value, shown in choices))  # fmt: skip


def _of_room(base: Place) -> list[Spec]:
    return [
        Spec(label="Room", place=(*base, "name"), topic="room_name"),
        _quantity("Volume", (*base, "volume"), "volume", Dimension.VOLUME, VOLUMES, example="1,920 ft³"),
        _quantity("Infiltration", (*base, "infiltration"), "infiltration", Dimension.AIR_CHANGES, ("ACH", "ACH"),
                  optional=True),
        _quantity("Air blown in", (*base, "supply"), "supply", Dimension.VOLUME_FLOW, FLOWS, optional=True),
    ]  # fmt: skip


def _of_other(base: Place) -> list[Spec]:
    return [
        Spec(label="Appliance", place=(*base, "name"), topic="name"),
        _quantity("Input", (*base, "input"), "input", Dimension.POWER, ("Btu/h", "kW"), example="40,000 Btu/h"),
        _choice(
            "Draft",
            (*base, "draft"),
            "draft",
            ("natural", "natural"),
            ("fan", "fan-assisted"),
            ("direct", "direct vent"),
        ),
        _choice(
            "Category", (*base, "category"), "category", ("", "not given"), *((c, c) for c in ("I", "II", "III", "IV"))
        ),
        _quantity("Connector", (*base, "connector"), "connector", Dimension.LENGTH, ("in", "mm"), optional=True),
    ]


def _of_beside(base: Place) -> list[Spec]:
    return [
        Spec(label="Room beside", place=(*base, "name"), topic="room_name"),
        _quantity("Volume", (*base, "volume"), "volume", Dimension.VOLUME, VOLUMES, example="3,000 ft³"),
        _choice("Storey", (*base, "storey"), "storey", ("same", "the same"), ("other", "another")),
    ]


def _of_opening(data: Data, room: int, base: Place) -> list[Spec]:
    names = [str(beside.get("name", "")) for beside in _tables(data, ("room", room, "beside"))]
    found = [
        _choice("Opening to", (*base, "to"), "opening_to", *((name, name) for name in (OUTDOORS, *names))),
        _quantity("Area", (*base, "area"), "opening_area", Dimension.AREA, AREAS, example="100 in²"),
        _choice("In the room", (*base, "at"), "opening_at", ("", _NOT_SAID), ("top", "at the top"),
                ("bottom", "at the bottom")),
        _choice("Louver", (*base, "louver"), "louver", ("", "none"), ("metal", "metal"), ("wood", "wood")),
        Spec(label="Free share", place=(*base, "free_share"), topic="free_share", kind="share",
             dimension=Dimension.FRACTION, optional=True),
    ]  # fmt: skip
    if value_at(data, (*base, "to")) == OUTDOORS:
        ways = (("", "direct"), ("vertical duct", "vertical duct"), ("horizontal duct", "horizontal duct"))
        found.insert(2, _choice("Way", (*base, "way"), "way", *ways))
    return found


def _of_exhaust(base: Place) -> list[Spec]:
    return [
        Spec(label="Takes air out", place=(*base, "name"), topic="exhaust"),
        _quantity("Flow", (*base, "flow"), "exhaust", Dimension.VOLUME_FLOW, FLOWS, example="180 ft³/min"),
    ]
