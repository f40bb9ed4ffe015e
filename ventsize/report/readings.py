"""Readings beside what they should be, as text and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from ventsize.finding import Finding
from ventsize.jobfile.reading import ROOM, Kind
from ventsize.quantity import (
    Dimension,
    System,
    display_unit,
    display_value,
    show,
    show_feet,
    show_fraction,
    show_pressure,
    show_temperature,
)
from ventsize.report.keys import Keys
from ventsize.report.text_parts import as_text, indented, sentences, table, titled
from ventsize.report.wording import say
from ventsize.report.wording.field import KIND_NAMES
from ventsize.studies.diagnosis.result import NextReading
from ventsize.studies.readings.result import ReadingFound, ReadingsStudy, Surplus

UNITS: dict[Kind, str] = {
    "pressure": "Pa",
    "temperature": "K",
    "oxygen": "",
    "carbon_dioxide": "",
    "carbon_monoxide": "",
    "carbon_monoxide_air_free": "",
    "speed": "",
    "meter_seconds": "s",
}
_DIMENSIONS: dict[Kind, Dimension] = {
    "pressure": Dimension.PRESSURE,
    "temperature": Dimension.TEMPERATURE,
    "oxygen": Dimension.FRACTION,
    "carbon_dioxide": Dimension.FRACTION,
    "speed": Dimension.FRACTION,
}
_PARTS: tuple[Kind, ...] = ("carbon_monoxide", "carbon_monoxide_air_free")
SHUT_OFF = "SHUT IT OFF"
_COLUMNS = (("", 33), ("measured", 14), ("should be", 18), ("", 13))


@as_text
def render(study: ReadingsStudy, system: System) -> Iterator[str]:
    """The answer in lines of 80 columns."""
    yield from opened(study, "AS EXPECTED" if study.all_expected else "NOT ALL AS EXPECTED", system)
    yield from readings_lines(study, system)
    yield from sentences("Assumed", (say(finding, system) for finding in study.assumed))
    yield from sentences("Cautions", (say(finding, system) for finding in study.cautions))


def opened(study: ReadingsStudy, verdict: str, system: System) -> Iterator[str]:
    """The title with its verdict; where something says to shut it off, that is the verdict, and comes first."""
    if not study.stops:
        yield from titled(study.title, verdict)
        return
    yield SHUT_OFF
    for finding in study.stops:
        yield from indented(say(finding, system, place=False) + ".", "  ! ", "    ")
    yield ""
    yield from titled(study.title, SHUT_OFF)


def readings_lines(study: ReadingsStudy, system: System) -> Iterator[str]:
    """Each reading with what it should be, and what those that are off amount to."""
    yield from table(_COLUMNS, (reading_row(reading, system) for reading in study.readings))
    for reading in study.readings:
        yield from _said(reading, system)
    yield from sentences("Seen and heard", (say(finding, system) for finding in study.symptoms))


def reading_row(reading: ReadingFound, system: System) -> tuple[str, ...]:
    """A reading as a row: its number and place, what was read, what it should be, and how it stands."""
    what = "" if reading.kind == "pressure" else f"{KIND_NAMES[reading.kind]}, "
    verdict = verdict_word(reading)
    verdict = verdict.upper() if reading.off or verdict == "doubtful" else verdict
    band = "-" if reading.setting is None else f"{at_least(reading, system)} or more"
    if reading.kind in _PARTS and reading.high is not None:
        limit = value_text(reading.kind, reading.high, system)
        band = f"under {limit}" if reading.place == ROOM else f"{limit} air-free"
    elif reading.low is not None and reading.high is not None:
        band = band_text(reading.kind, reading.low, reading.high, system)
    return (
        f"{reading.number} {what}{place_words(reading)}" + (f", {reading.rate}" if reading.rate else ""),
        value_text(reading.kind, reading.reading.value if reading.kind in _PARTS else reading.measured, system),
        band,
        verdict if reading.verdict != "not compared" else "-",
    )


def _said(reading: ReadingFound, system: System) -> Iterator[str]:
    parts = []
    if reading.zero:
        parts.append(
            f"{show_pressure(reading.reading.value, system)} less the zero, {show_pressure(reading.zero, system)}"
        )
    if reading.kind == "carbon_monoxide" and reading.measured != reading.reading.value:
        parts.append(f"air-free {value_text(reading.kind, reading.measured, system)}")
    if reading.before is not None:
        was, now = (value_text(reading.kind, one, system) for one in (reading.before, reading.reading.value))
        parts.append(f"before the repair {was}, now {now}")
    if reading.because is not None and reading.verdict != "expected":
        says = say(reading.because, system, place=False)
        says += f" ({reading.reading.note})" if reading.reading.before_repair and reading.reading.note else ""
        parts.append(f"not compared: {says}" if reading.verdict == "not compared" else says)
    elif reading.because is not None and reading.kind in _PARTS:
        parts.append(say(reading.because, system, place=False))
    if reading.setting is not None and reading.low is not None and reading.verdict == "expected":
        setting, edge = (show_pressure(one, system) for one in (reading.setting, reading.low - reading.setting))
        parts.append(f"the setting, {setting}, and {edge} above it: nearer than that is marginal")
    if reading.verdict in ("high", "low") and reading.surplus is not None:
        parts.append(surplus_text(reading.surplus, system))
    for part in parts:
        yield from indented(f"{reading.number}: {part}", "    ", "       ")


def verdict_word(reading: ReadingFound) -> str:
    """How a reading stands, in a word or two: where suction is expected, high and low would be read backwards."""
    suction = reading.kind == "pressure" and reading.high is not None and reading.low is not None and reading.low < 0.0
    if suction and reading.high is not None and reading.high <= 0.0:
        return {"low": "more suction", "high": "less suction"}.get(reading.verdict, reading.verdict)
    return reading.verdict


def at_least(reading: ReadingFound, system: System) -> str:
    """What a pressure across a switch should reach, without its unit."""
    assert reading.low is not None
    return _figure(reading.kind, reading.low, system)


def surplus_text(surplus: Surplus, system: System) -> str:
    """A surplus in other words."""
    words = [
        f"{show_feet(surplus.length, system)} more of straight {surplus.size} pipe",
        f"one narrow place that leaves {opening(surplus.open_bore, system)} of {opening(surplus.bore, system)} open",
    ]
    if surplus.water is not None:
        words.append(f"{opening(surplus.water, system)} of water lying in it")
    listed = f"{', '.join(words[:-1])}, or {words[-1]}" if len(words) > 2 else " or ".join(words)
    side = "pressure" if surplus.water is not None else "suction"
    return f"{show_pressure(surplus.pressure, system)} more {side} than it should be: as much as {listed}"


def opening(value: float, system: System) -> str:
    """A small length: `1.62 in` or `41.1 mm`; value: [m]."""
    return show(value, Dimension.LENGTH, system, style="opening")


def value_text(kind: Kind, value: float, system: System) -> str:
    """A value of a kind of reading."""
    if kind == "pressure":
        return show_pressure(value, system)
    if kind in _PARTS:
        return show(value, Dimension.FRACTION, system, style="ppm")
    if kind == "meter_seconds":
        return f"{value:.1f} s"
    return show_temperature(value, system) if kind == "temperature" else show_fraction(value)


def place_words(at: ReadingFound | NextReading) -> str:
    """The place of a reading in words."""
    run = f"'{at.run}'" if at.run else "air pipe" if at.place == "air pipe" else "vent"
    named = {
        "switch": "across the pressure switch",
        "inducer": "inducer",
        "collar": f"collar of {run}",
        "air pipe": f"{run} at the appliance",
        "terminal": f"{run} at its {'inlet' if at.carries == 'combustion air' else 'terminal'}",
        "room": "the room against outdoors" if at.kind == "pressure" else "in the room",
        "meter": "gas meter",
    }
    if at.kind == "speed":
        return "inducer"
    if at.place == "collar" and at.run is None:
        return "collar"
    if at.run is None and at.place not in named:
        return at.place
    return named.get(at.place) or f"{run} {at.place}" + (f" ({at.piece})" if at.piece else "")


def band_text(kind: Kind, low: float, high: float, system: System) -> str:
    """Two values of a kind without their unit: `0.118 to 0.196`."""
    if kind == "meter_seconds":
        return f"{low:.1f} to {high:.1f} s"
    unit = "" if kind == "pressure" else f" {display_unit(_DIMENSIONS[kind], system)}"
    return f"{_figure(kind, low, system)} to {_figure(kind, high, system)}{unit}"


def _figure(kind: Kind, value: float, system: System) -> str:
    digits = {"pressure": 3 if system is System.US else 1}.get(kind, 1)
    return f"{display_value(value, _DIMENSIONS[kind], system):z.{digits}f}"


def as_object(study: ReadingsStudy, system: System) -> dict[str, Any]:
    """The answer in SI units; keys end in their unit."""
    return {
        "job": study.title,
        "all_expected": study.all_expected,
        "shut_off": [finding_object(finding, system) for finding in study.stops],
        "symptoms": [finding_object(finding, system) for finding in study.symptoms],
        "readings": [reading_object(reading, system) for reading in study.readings],
        "assumed": [say(finding, system) for finding in study.assumed],
        "cautions": [say(finding, system) for finding in study.cautions],
    }


def finding_object(finding: Finding, system: System) -> dict[str, Any]:
    """A finding: its code, and in words."""
    return {"code": finding.code, "severity": finding.severity, "text": say(finding, system)}


def reading_object(reading: ReadingFound, system: System) -> dict[str, Any]:
    """One reading; its values end in the unit of their kind, nothing for a share."""
    unit = UNITS[reading.kind]
    end = f"_{unit}" if unit else ""
    return {
        **_READING(reading),
        "where": place_words(reading),
        "place": reading.reading.place,
        "when": reading.reading.when,
        f"read{end}": reading.reading.value,
        f"zero{end}": reading.zero,
        f"before_repair{end}": reading.before,
        f"measured{end}": reading.measured,
        f"accuracy{end}": reading.accuracy,
        f"expected{end}": reading.expected,
        f"low{end}": reading.low,
        f"high{end}": reading.high,
        "code": None if reading.because is None else reading.because.code,
        "says": "" if reading.because is None else say(reading.because, system, place=False),
        "surplus": None if reading.surplus is None else _SURPLUS(reading.surplus),
    }


_READING = Keys(ReadingFound, "number run rate kind accuracy_assumed verdict switch_opens_Pa:setting")
_SURPLUS = Keys(Surplus, "pressure_Pa length_m open_bore_m bore_m size water_m")


def numbered(numbers: Iterable[int]) -> str:
    """`reading 2`, or `readings 2, 3`."""
    listed = [str(number) for number in numbers]
    return f"reading{'s' if len(listed) > 1 else ''} {', '.join(listed)}"
