"""The columns of the page on the screen: their heads, widths, help, and what is expected in them."""

from __future__ import annotations

from typing import Any

from ventsize.allowance.model import NOT_PERMITTED
from ventsize.jobfile.editing import Data, put
from ventsize.view.page.layout import by_elbows, rows_of
from ventsize.view.page.texts import (
    AIR_SIZE,
    ALTITUDE,
    ELBOWS,
    ENDS,
    INCLUDED,
    INPUT,
    LEAST,
    LENGTH,
    MATERIALS,
    PIPES,
    SIZE,
)

PLAIN, OF_ELBOWS = "one length in each cell", "lengths by number of elbows"
TITLES = {
    INPUT: "Input", SIZE: "Size", ALTITUDE: "Altitude", LENGTH: "Allowed", ELBOWS: "Elbows", LEAST: "Least",
    PIPES: "Pipes", ENDS: "Outdoor end", MATERIALS: "Material", AIR_SIZE: "Air size", INCLUDED: "Elbows in",
}  # fmt: skip
WIDTHS = {INPUT: 12, SIZE: 8, ALTITUDE: 14, ELBOWS: 6, LEAST: 6, PIPES: 5, ENDS: 14, MATERIALS: 10}
TOPICS = {
    INPUT: "row_input", SIZE: "row_size", ALTITUDE: "row_altitude", LENGTH: "row_allowed", ELBOWS: "row_elbows",
    LEAST: "row_least", PIPES: "row_pipes", ENDS: "row_ends", MATERIALS: "row_materials", AIR_SIZE: "row_air_size",
    INCLUDED: "row_elbows_included",
}  # fmt: skip
EXPECTED = {
    INPUT: "the appliance's input as printed, such as 80,000 Btu/h or 80 for kBtu/h",
    SIZE: "nominal pipe size, such as 3 in",
    ALTITUDE: "both altitudes, such as 0-4500 for feet; - where the page gives none",
    LENGTH: "longest equivalent length, such as 90 ft; - where it is not permitted",
    ELBOWS: "number of 90° elbows; the lines count up by themselves",
    LEAST: "shortest length, if the page gives one, such as 5 ft",
    PIPES: "1 where the air comes from the room, 2 with an air pipe; empty where it does not matter",
    ENDS: "outdoor ends the row holds for; Space chooses them; empty for every end",
    MATERIALS: "pipe materials the row holds for; Space chooses them; empty for every one",
    AIR_SIZE: "size of the other pipe, where the page pairs them",
    INCLUDED: "how many 90° elbows the length includes at no cost",
}
MORE = {
    LEAST: "the page gives a shortest length", PIPES: "one-pipe and two-pipe lengths differ",
    ENDS: "lengths depend on the outdoor end", MATERIALS: "lengths depend on the pipe material",
    AIR_SIZE: "vent and air pipe sizes are paired", INCLUDED: "the length includes some elbows",
}  # fmt: skip
CHOSEN = (PIPES, ENDS, MATERIALS)


def empty_table(kind: str = PLAIN) -> Data:
    """A table to be typed."""
    data: Data = {
        "title": "", "source": "", "applies_to": ["flue gas", "combustion air"], "counts": "each run",
        "deductions": {}, "row": [],
    }  # fmt: skip
    if kind == OF_ELBOWS:
        data["row"] = [{"input": "", "size": "", "altitude": ["", ""], "allowable_by_elbows": []}]
    return data


def shown(text: str) -> str:
    """The text of a length as the grid shows it."""
    return "no" if text == NOT_PERMITTED else text


def other_kind(data: Data) -> Data:
    """The rows without their lengths, ready for lengths of the other kind."""
    kind: dict[str, Any] = {"allowable": ""} if by_elbows(data) else {"allowable_by_elbows": []}
    lengths = ("allowable", "allowable_by_elbows", "allowable_pressure", "first_elbows")
    rows = rows_of(data) or [{"input": "", "size": "", "altitude": ["", ""]}]
    return put(data, ("row",), [{**{k: v for k, v in row.items() if k not in lengths}, **kind} for row in rows])
