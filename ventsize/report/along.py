"""Temperature and pressure along each run, as charts of characters, as text and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from ventsize.gas.constants import FREEZING
from ventsize.quantity import Dimension, System, display_unit, display_value, show_pressure, show_temperature
from ventsize.report.chart import Line, Point, line_chart
from ventsize.report.text_parts import WIDTH, head, indented, sentences
from ventsize.report.wording import say_all
from ventsize.studies.along import Along, AlongRate

CHART_HEIGHT = 14
NONE = 200.0  # K; a dew point below it is that of dry air
LETTERS = "123456789"


def temperature_chart(rate: AlongRate, system: System, *, width: int, height: int) -> list[str]:
    """Gas, inside wall and dew point along a run, with freezing; the last line says which is which."""
    if not rate.points:
        return ["there is no pipe in this run"]
    lines = [
        Line(name="gas", mark="G", points=_temperatures(rate, "temperature", system)),
        Line(name="inside wall", mark="W", points=_temperatures(rate, "inside_wall", system)),
    ]
    legend = "G gas   W inside wall"
    if all(p.dew_point > NONE for p in rate.points):
        dew = _temperatures(rate, "dew_point", system)
        lines.append(Line(name="dew point", mark="D", points=dew, dashed=True))
        legend += "   D dew point of the gas"
    length = rate.points[-1].distance
    freezing = [temperature_point(at, FREEZING, system) for at in (0.0, length)]
    lines.append(Line(name="freezing", mark="F", points=freezing, dashed=True))
    return [*distance_chart(lines, Dimension.TEMPERATURE, system, width, height), legend + "   F freezing"]


def pressure_chart(rates: Sequence[AlongRate], system: System, *, width: int, height: int) -> list[str]:
    """Static pressure along one run at each rate, dashed with the gas at one temperature; the last lines are a key."""
    lines = []
    for letter, rate in zip(LETTERS, rates, strict=False):
        lines.append(Line(name=rate.rate, mark=letter, points=[_of(place, system) for place in rate.pressure]))
        plain = [_of(place, system) for place in rate.pressure_plain]
        lines.append(Line(name=f"{rate.rate}, plain", points=plain, dashed=True))
    legend = "   ".join(f"{letter} {rate.rate}" for letter, rate in zip(LETTERS, rates, strict=False))
    chart = distance_chart(lines, Dimension.PRESSURE, system, width, height)
    return [*chart, f"{legend}   dashed: without cooling"[:width]]


def distance_chart(lines: Sequence[Line], dimension: Dimension, system: System, width: int, height: int) -> list[str]:
    """Lines over the distance, in the units of `system`, in one line less than the height."""
    up, across = display_unit(dimension, system), display_unit(Dimension.LENGTH, system)
    return line_chart(lines, width=width, height=height - 1, across=across, up=up)


def _temperatures(rate: AlongRate, name: str, system: System) -> list[Point]:
    return [temperature_point(point.distance, getattr(point, name), system) for point in rate.points]


def temperature_point(distance: float, temperature: float, system: System) -> Point:
    """A temperature [K] at a distance [m], as a chart has it."""
    return (
        display_value(distance, Dimension.LENGTH, system),
        display_value(temperature, Dimension.TEMPERATURE, system),
    )


def _of(place: tuple[float, float], system: System) -> Point:
    return display_value(place[0], Dimension.LENGTH, system), display_value(place[1], Dimension.PRESSURE, system)


def ends_of(rate: AlongRate, system: System) -> str:
    """What the gas and the pressure come to from one end to the other, in a sentence."""
    said = f"pressure {show_pressure(rate.pressure[0][1], system)} to {show_pressure(rate.pressure[-1][1], system)}"
    if not rate.points:
        return said
    first, last = rate.points[0], rate.points[-1]
    gas = f"gas {show_temperature(first.temperature, system)} to {show_temperature(last.temperature, system)}"
    walls = f"wall {show_temperature(first.inside_wall, system)} to {show_temperature(last.inside_wall, system)}"
    return f"{gas}, {walls}, {said}"


def render(study: Along, system: System) -> str:
    """The answer in lines of 80 columns."""
    return "\n".join(_lines(study, system))


def _lines(study: Along, system: System) -> Iterator[str]:
    yield from head("Along each run, the way the gas moves")
    for run in dict.fromkeys(rate.run for rate in study.rates):
        rates = study.of(run)
        yield f"{run}: {rates[0].carries}, from {rates[0].start} to {rates[0].end}"[:WIDTH]
        for rate in rates:
            said = f"{rate.rate}: {ends_of(rate, system)}"
            yield from indented(said, "  ", "    ")
        yield ""
        for rate in rates:
            yield f"  temperature at {rate.rate}"[:WIDTH]
            yield from temperature_chart(rate, system, width=WIDTH, height=CHART_HEIGHT)
            yield ""
        yield "  static pressure"
        yield from pressure_chart(rates, system, width=WIDTH, height=CHART_HEIGHT)
        yield ""
    yield from sentences("Cautions", say_all(study.cautions, system))


def as_object(study: Along) -> dict[str, Any]:
    """The answer in SI units; keys end in their unit."""
    return {
        "job": study.title,
        "cooling": study.cooling,
        "rates": [
            {
                "run": rate.run,
                "rate": rate.rate,
                "from": rate.start,
                "to": rate.end,
                "temperatures": [
                    {
                        "distance_m": p.distance,
                        "temperature_K": p.temperature,
                        "inside_wall_K": p.inside_wall,
                        "dew_point_K": p.dew_point,
                        "surroundings_K": p.surroundings,
                        "condensate_kg_s": p.condensate,
                    }
                    for p in rate.points
                ],
                "static_pressure": _places(rate.pressure),
                "static_pressure_at_one_temperature": _places(rate.pressure_plain),
            }
            for rate in study.rates
        ],
        "cautions": list(say_all(study.cautions, System.US)),
    }


def _places(places: Sequence[tuple[float, float]]) -> list[dict[str, float]]:
    return [{"distance_m": distance, "pressure_Pa": pressure} for distance, pressure in places]
