"""Words at the appliance: what each reading is called, its unit, and what is typed understood."""

from __future__ import annotations

from dataclasses import replace

from ventsize.jobfile.reading import CARBON_MONOXIDE, METER, ROOM, ZERO, Kind
from ventsize.quantity import Dimension, QuantityError, System, display_unit, show, with_unit
from ventsize.report.readings import value_text
from ventsize.report.wording.field import KIND_NAMES
from ventsize.studies.field import DIMENSIONS, SECONDS, SETTING, MeterSpot, SettingSpot, Spot
from ventsize.studies.readings.result import ReadingFound

_TITLES: dict[tuple[str, Kind], str] = {
    ("collar", "pressure"): "Static pressure at the collar",
    ("switch", "pressure"): "Pressure across the switch",
    (SETTING, "pressure"): "Setting on the switch's label",
    ("air pipe", "pressure"): "Static pressure in the air pipe",
    ("collar", "oxygen"): "O2 in the flue gas, dry",
    ("collar", "carbon_dioxide"): "CO2 in the flue gas, dry",
    ("collar", "carbon_monoxide"): "CO in the flue gas, as read",
    (ROOM, "carbon_monoxide"): "CO in the air of the room",
    (ROOM, "pressure"): "The room against outdoors, a hose out of a window",
    ("collar", "temperature"): "Flue gas temperature",
    ("air pipe", "oxygen"): "O2 in the air pipe",
    ("inducer", "speed"): "Inducer speed, of its top speed",
    ("terminal", "pressure"): "Static pressure before the terminal",
    (METER, "meter_seconds"): "Gas meter, seconds for one turn",
    (ZERO, "pressure"): "Manometer with both hoses open",
}


def title_of(spot: Spot) -> str:
    """What is read, and of which appliance where there are several."""
    dial = f" of the {spot.dial} dial" if isinstance(spot, MeterSpot) else ""
    named = f", {spot.appliance}" if spot.appliance and spot.place != "terminal" else ""
    what = "Static pressure" if spot.kind == "pressure" else KIND_NAMES[spot.kind].capitalize()
    elsewhere = f"{what} in '{spot.run or 'vent'}' {spot.place}"
    piece = f" ({spot.piece})" if spot.piece else ""
    whole = (_TITLES.get((spot.place, spot.kind)) if spot.run is None else None) or f"{elsewhere}{piece}"
    return f"{whole}{dial}{named}"


def unit_of(spot: Spot, system: System) -> str:
    """The unit meant where none is typed."""
    if spot.kind in CARBON_MONOXIDE:
        return "ppm"
    return SECONDS if spot.kind == "meter_seconds" else display_unit(DIMENSIONS[spot.kind], system)


def band_of(found: ReadingFound, system: System) -> str:
    """The expected band as text; empty where it is not known."""
    if found.low is None:
        return ""
    low = value_text(found.kind, found.low, system)
    if found.high is None:
        return f"{low} or more"
    high = value_text(found.kind, found.high, system)
    number, _, unit = low.partition(" ")
    return f"{number if unit == high.partition(' ')[2] else low} to {high}"


def accuracy_of(found: ReadingFound, system: System) -> str:
    """How far the instrument may be off."""
    if found.kind == "temperature":
        return show(found.accuracy, Dimension.TEMPERATURE_DIFFERENCE, system)
    return value_text(found.kind, found.accuracy, system)


GIVE_OR_TAKE = "+-"


def accuracy_typed(spot: Spot, text: str, system: System) -> str:
    """How exact the instrument is, typed behind `+-`, with its unit; empty where it is not. Raises QuantityError."""
    behind = text.partition(GIVE_OR_TAKE)[2].strip()
    if not behind or isinstance(spot, SettingSpot):
        return ""
    whole = with_unit(behind, unit_of(spot, system).removesuffix(SECONDS).strip() or "")
    error = replace(spot.reading(spot.typical or 1.0), accuracy=whole).error
    if not error or error <= 0.0:
        raise QuantityError(f"an instrument exact to {whole} is none", "an accuracy above zero")
    return whole


def readable(spot: Spot, text: str, system: System) -> tuple[str, float] | str:
    """What is typed with its unit and in SI, or a sentence that says why it cannot be read."""
    whole = with_unit(text.partition(GIVE_OR_TAKE)[0].strip(), unit_of(spot, system))
    try:
        accuracy_typed(spot, text, system)
        return whole, spot.read(whole)
    except QuantityError as error:
        return str(error)
