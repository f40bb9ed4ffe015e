"""The study of cold weather, as text and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ventsize.quantity import Dimension, System, rounded_up, show, show_feet, show_length, show_temperature
from ventsize.report.along import CHART_HEIGHT, temperature_chart
from ventsize.report.keys import Keys
from ventsize.report.text_parts import WIDTH, as_text, head, sentences, shortened, table
from ventsize.report.wording import say_all
from ventsize.studies.cold import ColdRate, ColdWeather, Cure, Sweating
from ventsize.studies.cold.doubt import DOUBT, THICKEST

EIGHTH, MILLIMETER = 0.0254 / 8, 0.001  # m; steps that insulation is named in


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


def first_day(study: ColdWeather) -> list[ColdRate]:
    """Every vent and rate on the first day."""
    return [rate for rate in study.rates if rate.outdoor == study.rates[0].outdoor]


def frost_in_short(rate: ColdRate, system: System) -> str:
    """Whether one vent freezes inside at one rate on one day, and from where on."""
    if rate.freezes_at is not None:
        return f"below freezing inside from {show_feet(rate.freezes_at, system)} on"
    return "it may freeze inside" if rate.may_freeze else "it does not freeze inside"


@as_text
def render(study: ColdWeather, system: System) -> Iterator[str]:
    """The answer in lines of 80 columns."""
    yield from head("Cold weather")
    yield from figures(study, system)
    for rate in first_day(study):
        yield ""
        yield shortened(f"  {rate.run}, {rate.rate}: outdoors at {show_temperature(rate.outdoor, system)}", WIDTH)
        yield from temperature_chart(rate.points, rate.marks, system, width=WIDTH, height=CHART_HEIGHT)
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


def as_object(study: ColdWeather, system: System) -> dict[str, Any]:
    """The answer in SI units; keys end in their unit."""
    return {
        "rates": _RATE.each(study.rates),
        "cures": _CURE.each(study.cures),
        "sweating": _SWEATING.each(study.sweating),
        "findings": list(say_all(study.findings, system)),
        "cautions": list(say_all(study.cautions, system)),
    }


_RATE = Keys(
    ColdRate,
    "run rate outdoor_K terminal_gas_K terminal_gas_least_K terminal_inside_wall_K:terminal_wall "
    "coldest_inside_wall_K:coldest_wall coldest_inside_wall_least_K:coldest_wall_least may_freeze freezes_at_m "
    "freezes_in",
)
_CURE = Keys(Cure, "run against insulation_m:thickness")
_SWEATING = Keys(Sweating, "run rate coldest_surface_K coldest_surface_least_K dew_point_K sweats may_sweat")
