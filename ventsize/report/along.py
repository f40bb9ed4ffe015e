"""Temperature and pressure along each run, as charts of characters, as text and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from ventsize.flow.cooling import Point as Place
from ventsize.gas.constants import FREEZING
from ventsize.quantity import Dimension, System, display_unit, display_value, show_pressure, show_temperature
from ventsize.report.chart import Line, Point, line_chart
from ventsize.report.keys import Keys, keyed
from ventsize.report.text_parts import WIDTH, as_text, head, indented, sentences, shortened
from ventsize.report.wording import say_all
from ventsize.studies.along import Along, AlongRate
from ventsize.studies.profile import Marks

CHART_HEIGHT = 14
NONE = 200.0  # K; a dew point below it is that of dry air
LETTERS = "123456789"
MARKS = {"elbow": ("e", "e elbow"), "joint": ("j", "j tee or wye"), "size change": ("s", "s size change")}
"""What stands on the axis for what a run passes, and what the letter means."""


def temperature_chart(
    points: Sequence[Place], marks: Marks, system: System, *, width: int, height: int
) -> Iterator[str]:
    """Gas, inside wall and dew point along a run, with freezing; the last line says which is which."""
    if not points:
        yield "there is no pipe in this run"
        return

    def line(mark: str, name: str, temperatures: Sequence[float]) -> Line:
        places = zip((p.distance for p in points), temperatures, strict=True)
        drawn = [_point(*place, Dimension.TEMPERATURE, system) for place in places]
        return Line(name=name, mark=mark, points=drawn, dashed=mark in "DF")

    lines = [
        line("G", "gas", [p.temperature for p in points]),
        line("W", "inside wall", [p.inside_wall for p in points]),
        line("F", "freezing", [FREEZING] * len(points)),
    ]
    if all(p.dew_point > NONE for p in points):
        lines.insert(2, line("D", "dew point", [p.dew_point for p in points]))
    yield from _distance_chart(lines, "temperature", Dimension.TEMPERATURE, marks, system, width=width, height=height)


def pressure_chart(rates: Sequence[AlongRate], system: System, *, width: int, height: int) -> Iterator[str]:
    """Static pressure along one run at each rate, dashed with the gas at one temperature; the last line is a key."""
    lines = []
    for letter, rate in zip(LETTERS, rates, strict=False):
        for places, dashed in ((rate.pressure, False), (rate.pressure_plain, True)):
            points = [_point(*place, Dimension.PRESSURE, system) for place in places]
            lines.append(Line(name="" if dashed else rate.rate, mark="" if dashed else letter, points=points,
                              dashed=dashed))  # fmt: skip
    yield from _distance_chart(lines, "static pressure against outdoors", Dimension.PRESSURE, rates[0].marks, system,
                               width=width, height=height, key="dashed: without cooling")  # fmt: skip


def _distance_chart(lines: Sequence[Line], name: str, dimension: Dimension, marks: Marks, system: System, *,
                    width: int, height: int, key: str = "") -> Iterator[str]:  # fmt: skip
    """Lines over the distance, in the units of `system`, with what is passed on the way; then the key.

    key: what to add to it.
    """
    up, across = f"{name}, {display_unit(dimension, system)}", display_unit(Dimension.LENGTH, system)
    yield from line_chart(lines, width=width, height=height - 1, across=across, up=up, places=axis_marks(marks, system))
    names = "   ".join(f"{line.mark} {line.name}" for line in lines if line.mark)
    others = "   ".join(filter(None, (key, marks_key(marks))))
    one = f"{names}   {others}".rstrip()
    yield from [one] if len(one) <= width else [shortened(names, width), others]


def axis_marks(marks: Marks, system: System) -> list[tuple[float, str]]:
    """What a run passes, as letters at distances as shown."""
    return [(display_value(at, Dimension.LENGTH, system), MARKS[what][0]) for at, what in marks]


def marks_key(marks: Marks) -> str:
    """What those letters mean."""
    there = {what for _, what in marks}
    return "   ".join(said for what, (_, said) in MARKS.items() if what in there)


def _point(distance: float, value: float, dimension: Dimension, system: System) -> Point:
    return display_value(distance, Dimension.LENGTH, system), display_value(value, dimension, system)


def ends_of(rate: AlongRate, system: System) -> tuple[str, list[str]]:
    """What the pressure and, where there is pipe, gas and wall come to from one end to the other."""
    said = f"pressure {show_pressure(rate.pressure[0][1], system)} to {show_pressure(rate.pressure[-1][1], system)}"
    if not rate.points:
        return said, []
    first, last = rate.points[0], rate.points[-1]
    gas = f"gas {show_temperature(first.temperature, system)} to {show_temperature(last.temperature, system)}"
    wall = f"wall {show_temperature(first.inside_wall, system)} to {show_temperature(last.inside_wall, system)}"
    return said, [gas, wall]


@as_text
def render(study: Along, system: System) -> Iterator[str]:
    """The answer in lines of 80 columns."""
    yield from head("Along each run, the way the gas moves")
    for run in dict.fromkeys(rate.run for rate in study.rates):
        rates = study.of(run)
        yield f"{run}: {rates[0].carries}, from {rates[0].start} to {rates[0].end}"[:WIDTH]
        for rate in rates:
            pressure, warmth = ends_of(rate, system)
            yield from indented(f"{rate.rate}: {', '.join((*warmth, pressure))}", "  ", "    ")
        yield ""
        for rate in rates:
            yield f"  at {rate.rate}"[:WIDTH]
            yield from temperature_chart(rate.points, rate.marks, system, width=WIDTH, height=CHART_HEIGHT)
            yield ""
        yield from pressure_chart(rates, system, width=WIDTH, height=CHART_HEIGHT)
        yield ""
    yield from sentences("Cautions", say_all(study.cautions, system))


def as_object(study: Along, system: System) -> dict[str, Any]:
    """The answer in SI units; keys end in their unit."""
    return {
        "job": study.title,
        "cooling": study.cooling,
        "rates": [
            {
                **_RATE(rate),
                "temperatures": _PLACE.each(rate.points),
                "static_pressure": keyed(rate.pressure, "distance_m", "pressure_Pa"),
                "static_pressure_at_one_temperature": keyed(rate.pressure_plain, "distance_m", "pressure_Pa"),
            }
            for rate in study.rates
        ],
        "cautions": list(say_all(study.cautions, system)),
    }


_RATE = Keys(AlongRate, "run rate from:start to:end")
_PLACE = Keys(Place, "distance_m temperature_K inside_wall_K dew_point_K surroundings_K condensate_kg_s")
