"""The study of cold weather, as text and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from ventsize.gas.constants import FREEZING
from ventsize.quantity import Dimension, System, rounded_up, show, show_feet, show_length, show_temperature
from ventsize.report.along import CHART_HEIGHT, LETTERS, distance_chart, temperature_point
from ventsize.report.chart import Line
from ventsize.report.text_parts import WIDTH, head, sentences, table
from ventsize.report.wording import say_all
from ventsize.studies.cold import ColdRate, ColdWeather, Cure
from ventsize.studies.cold.doubt import DOUBT, THICKEST

EIGHTH, MILLIMETER = 0.0254 / 8, 0.001  # m; steps that insulation is named in


def render(study: ColdWeather, system: System) -> str:
    """The answer in lines of 80 columns."""
    return "\n".join(_lines(study, system))


def wall_chart(rates: Sequence[ColdRate], system: System, *, width: int, height: int) -> list[str]:
    """The inside wall along a vent on one day, a line each rate, with freezing; the last line says which is which."""
    lines = []
    for letter, rate in zip(LETTERS, rates, strict=False):
        walls = [temperature_point(p.distance, p.inside_wall, system) for p in rate.points]
        lines.append(Line(name=rate.rate, mark=letter, points=walls))
    far = max((p.distance for rate in rates for p in rate.points), default=0.0)
    freezing = [temperature_point(at, FREEZING, system) for at in (0.0, far)]
    lines.append(Line(name="freezing", mark="F", points=freezing, dashed=True))
    legend = "   ".join(f"{letter} {rate.rate}" for letter, rate in zip(LETTERS, rates, strict=False))
    return [*distance_chart(lines, Dimension.TEMPERATURE, system, width, height), f"{legend}   F freezing"[:width]]


def figures(study: ColdWeather, system: System) -> Iterator[str]:
    """Day by day, the cures, the air pipe."""
    columns = (
        ("vent, rate", 19),
        ("outdoors", 9),
        ("gas at end", 12),
        ("wall there", 12),
        ("at worst*", 11),
        ("freezes at", 13),
    )
    yield from table(columns, (_row(rate, system) for rate in study.rates))
    yield f"  * the coldest inside wall, with the films {DOUBT:.0%} off the way that is worst"
    for rate in first_day(study):
        gas = show_temperature(rate.terminal_gas_least, system)
        yield f"  {rate.run}, {rate.rate}: gas at the end no colder than {gas} by that doubt"
    for cure in study.cures:
        yield f"  {_cure(cure, system)}"
    for sweat in study.sweating:
        word = "sweats" if sweat.sweats else "may sweat" if sweat.may_sweat else "stays dry"
        surface, dew = show_temperature(sweat.coldest_surface, system), show_temperature(sweat.dew_point, system)
        yield f"  {sweat.run}, {sweat.rate}: in the room {word}; surface {surface}, dew point {dew}"


def first_day(study: ColdWeather, run: str | None = None) -> list[ColdRate]:
    """The rates of the first day, of one vent or of all."""
    day = [rate for rate in study.rates if rate.outdoor == study.rates[0].outdoor]
    return [rate for rate in day if run in (None, rate.run)]


def _lines(study: ColdWeather, system: System) -> Iterator[str]:
    yield from head("Cold weather")
    yield from figures(study, system)
    for run in dict.fromkeys(rate.run for rate in study.rates):
        day = first_day(study, run)
        yield ""
        yield f"  {run}: inside wall, the way the gas moves, outdoors at {show_temperature(day[0].outdoor, system)}"
        yield from wall_chart(day, system, width=WIDTH, height=CHART_HEIGHT)
    yield from sentences("What to look at", say_all(study.findings, system))
    yield from sentences("Cautions", say_all(study.cautions, system))


def _row(rate: ColdRate, system: System) -> tuple[str, ...]:
    return (
        f"{rate.run}, {rate.rate}",
        show_temperature(rate.outdoor, system),
        show_temperature(rate.terminal_gas, system),
        show_temperature(rate.terminal_wall, system),
        show_temperature(rate.coldest_wall_least, system),
        "-" if rate.freezes_at is None else show_feet(rate.freezes_at, system),
    )


def _cure(cure: Cure, system: System) -> str:
    thickness = THICKEST if cure.thickness is None else cure.thickness
    bought = rounded_up(thickness, system, {System.US: EIGHTH, System.SI: MILLIMETER})
    thick = show_length(bought, system) if system is System.US else show(bought, Dimension.LENGTH, system, style="fine")
    if cure.thickness is None:
        return f"{cure.run}: no insulation up to {thick} cures {cure.against}"
    return f"{cure.run}: insulation of {thick} on all of it cures {cure.against}"


def as_object(study: ColdWeather) -> dict[str, Any]:
    """The answer in SI units; keys end in their unit."""
    return {
        "rates": [
            {
                "run": rate.run,
                "rate": rate.rate,
                "outdoor_K": rate.outdoor,
                "terminal_gas_K": rate.terminal_gas,
                "terminal_gas_least_K": rate.terminal_gas_least,
                "terminal_inside_wall_K": rate.terminal_wall,
                "coldest_inside_wall_K": rate.coldest_wall,
                "coldest_inside_wall_least_K": rate.coldest_wall_least,
                "may_freeze": rate.may_freeze,
                "freezes_at_m": rate.freezes_at,
                "freezes_in": rate.freezes_in,
            }
            for rate in study.rates
        ],
        "cures": [{"run": c.run, "against": c.against, "insulation_m": c.thickness} for c in study.cures],
        "sweating": [
            {
                "run": s.run,
                "rate": s.rate,
                "coldest_surface_K": s.coldest_surface,
                "coldest_surface_least_K": s.coldest_surface_least,
                "dew_point_K": s.dew_point,
                "sweats": s.sweats,
                "may_sweat": s.may_sweat,
            }
            for s in study.sweating
        ],
        "findings": list(say_all(study.findings, System.US)),
        "cautions": list(say_all(study.cautions, System.US)),
    }
