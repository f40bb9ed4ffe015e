"""How each role looks. Colors: Okabe and Ito's palette, made for color-blind eyes; every line has a dash of its own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, NamedTuple

Role = Literal[
    "axis",
    "grid",
    "series-1",
    "series-2",
    "series-3",
    "series-4",
    "series-5",
    "beside",
    "shade",
    "limit",
    "bar",
    "bar-other",
    "pipe",
    "pipe-assumed",
    "fitting",
    "appliance",
    "opening",
    "upright",
]

INK = "#1a1a1a"
BLUE, VERMILION, GREEN, ORANGE = "#0072b2", "#d55e00", "#009e73", "#e69f00"
PURPLE, BROWN = "#8a3a6e", "#6b5b00"  # darker than that palette's, for the paper; told apart by their dashes too


class Style(NamedTuple):
    """stroke, fill: a color, or None for none; width: of the stroke [pt]; dash: a stroke and a gap [pt]."""

    stroke: str | None
    width: float = 1.0
    dash: tuple[float, float] | None = None
    fill: str | None = None


STYLES: Mapping[Role, Style] = {
    "axis": Style(INK, 0.8),
    "grid": Style("#cccccc", 0.5),
    "series-1": Style(BLUE, 2.0),
    "series-2": Style(VERMILION, 2.0, (6.0, 3.0)),
    "series-3": Style(GREEN, 2.0, (2.0, 2.0)),
    "series-4": Style(PURPLE, 2.0, (9.0, 2.0)),
    "series-5": Style(BROWN, 2.0, (4.0, 5.0)),
    "beside": Style(INK, 2.0, (12.0, 4.0)),
    "shade": Style(None, 0.0, None, "#ececec"),
    "limit": Style(INK, 1.4, (1.0, 2.5)),
    "bar": Style(INK, 0.5, None, BLUE),
    "bar-other": Style(INK, 0.5, None, ORANGE),
    "pipe": Style(BLUE, 3.0),
    "pipe-assumed": Style(BLUE, 2.0, (4.0, 3.0)),
    "fitting": Style(INK, 1.0, None, "#ffffff"),
    "appliance": Style(INK, 1.0, None, "#dddddd"),
    "opening": Style(VERMILION, 1.4, None, "#ffffff"),
    "upright": Style(None, 0.0, None, INK),
}

SERIES: tuple[Role, ...] = ("series-1", "series-2", "series-3", "series-4", "series-5")
