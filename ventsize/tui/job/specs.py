"""Which fields a part of a job has: one list a part, each field with its place in the data."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from ventsize.jobfile.editing import Data, value_at
from ventsize.jobfile.editing import Path as Place
from ventsize.quantity import Dimension, QuantityError, System, parse, show
from ventsize.tui.widgets.field import Choice, Reader, Reading, any_text

Kind = Literal["text", "quantity", "share", "number", "count", "choice"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec:
    """A field: its label, its place in the data, how it is read and what the help says about it."""

    label: str
    place: Place
    topic: str
    kind: Kind = "text"
    dimension: Dimension | None = None
    unit: tuple[str, str] = ("", "")
    signed: bool = False
    optional: bool = False
    example: str = ""
    hint: str = ""
    choices: tuple[Choice, ...] = ()

    def shown(self, data: Data) -> str:
        """The value as typed."""
        value = value_at(data, self.place)
        return "" if value is None else str(value)

    def value(self, text: str) -> Any:
        """What goes into the data for a text; None clears the key."""
        if not text.strip() and self.optional:
            return None
        if self.kind == "count":
            return int(text) if text.strip().isdigit() else text
        if self.kind == "number":
            try:
                return float(text)
            except ValueError:
                return text
        return text

    def reader(self, system: System) -> Reader:
        """How the text is understood."""
        if self.kind == "count":
            return _whole
        if self.kind == "number":
            return _number
        if self.kind in ("quantity", "share"):
            return _quantity(self.dimension or Dimension.FRACTION, self.unit, self.signed, system)
        return any_text if self.optional else _something


def _something(text: str) -> Reading:
    if not text.strip():
        raise ValueError("it is empty; expected a name")
    return Reading(text)


def _whole(text: str) -> Reading:
    if not text.strip().isdigit() or len(text) > 4:
        raise ValueError("expected a whole number, for example 3")
    return Reading(text.strip())


def _number(text: str) -> Reading:
    try:
        return Reading(str(float(text)) if float(text) >= 0 else _negative())
    except ValueError:
        raise ValueError("expected a number of zero or more, for example 0.9") from None


def _negative() -> str:
    raise ValueError


def _quantity(dimension: Dimension, unit: tuple[str, str], signed: bool, system: System) -> Reader:
    own = unit[0] if system is System.US else unit[1]

    def read(text: str) -> Reading:
        full = text.strip()
        if own and _bare(full):
            if dimension is Dimension.POWER and system is System.US and float(full.replace(",", "")) < 1000:
                raise ValueError(f"{full} of what? Expected, for example, {full} MBH or {full},000 Btu/h")
            full = f"{full} {own}"
        value = parse(full, dimension, signed=signed)
        understood = full if dimension is Dimension.FRACTION else show(value, dimension, system)
        return Reading(full, f"= {understood}" if understood != text.strip() else "")

    def careful(text: str) -> Reading:
        try:
            return read(text)
        except QuantityError as error:
            raise ValueError(str(error)) from None

    return careful


def _bare(text: str) -> bool:
    try:
        float(text.replace(",", ""))
    except ValueError:
        return False
    return text.lower() not in ("nan", "inf", "infinity")


def _choices(values: Sequence[str]) -> tuple[Choice, ...]:
    return tuple(Choice(value, value) for value in values)


FEET = ("ft", "m")
DEGREES = ("degF", "degC")
Names = Callable[[], Sequence[tuple[str, str]]]


def length(label: str, place: Place, topic: str, *, optional: bool = False, signed: bool = False) -> Spec:
    """A length: feet where no unit is typed."""
    return Spec(
        label=label, place=place, topic=topic, kind="quantity", dimension=Dimension.LENGTH, unit=FEET,
        optional=optional, signed=signed, example="" if optional else "12 ft 6 in",
    )  # fmt: skip


def site(data: Data) -> list[Spec]:
    """The place, and the job's own words."""
    return [
        Spec(label="Title", place=("title",), topic="title"),
        length("Altitude", ("site", "altitude"), "altitude", optional=True, signed=True),
        Spec(label="Outdoor", place=("site", "outdoor"), topic="outdoor", kind="quantity",
             dimension=Dimension.TEMPERATURE, unit=DEGREES, optional=True, example="-5 degF"),
        Spec(label="Indoor", place=("site", "indoor"), topic="indoor", kind="quantity",
             dimension=Dimension.TEMPERATURE, unit=DEGREES, optional=True, example="68 degF"),
        Spec(label="Note", place=("note",), topic="note", optional=True),
    ]  # fmt: skip


def appliance(data: Data, at: int, fuels: Sequence[str]) -> list[Spec]:
    """An appliance and its firing rates."""
    base: Place = ("appliance", at)
    found = [
        Spec(label="Name", place=(*base, "name"), topic="name"),
        Spec(label="Fuel", place=(*base, "fuel"), topic="fuel", kind="choice", choices=_choices(fuels)),
        Spec(label="Outlet size", place=(*base, "collar"), topic="collar", kind="quantity", dimension=Dimension.LENGTH,
             unit=("in", "mm"), optional=True, example="3 in"),
    ]  # fmt: skip
    for number in range(len(value_at(data, (*base, "rate"), []) or [])):
        found += rate(data, (*base, "rate", number))
    return found


def rate(data: Data, base: Place) -> list[Spec]:
    """A firing rate: its input, the air it burns with in the way the job gives it, its gas temperature."""
    given = next((k for k in ("oxygen", "carbon_dioxide") if value_at(data, (*base, k)) is not None), "excess_air")
    label = {"oxygen": "O2, dry", "carbon_dioxide": "CO2, dry", "excess_air": "Excess air"}[given]
    return [
        Spec(label="Firing rate", place=(*base, "name"), topic="rate"),
        Spec(label="  Input", place=(*base, "input"), topic="input", kind="quantity", dimension=Dimension.POWER,
             unit=("Btu/h", "kW"), example="80,000 Btu/h"),
        Spec(label=f"  {label}", place=(*base, given), topic=given, kind="share", dimension=Dimension.FRACTION,
             example="35 %"),
        Spec(label="  Flue gas", place=(*base, "flue_temperature"), topic="flue_temperature", kind="quantity",
             dimension=Dimension.TEMPERATURE, unit=DEGREES, example="110 degF"),
    ]  # fmt: skip


def run(data: Data, at: int, materials: Sequence[str], sizes: Sequence[str], tables: Sequence[str]) -> list[Spec]:
    """A run as a whole; a counted one has its feet here."""
    base: Place = ("run", at)
    found = [
        Spec(label="Run", place=(*base, "name"), topic="run"),
        Spec(label="Carries", place=(*base, "carries"), topic="carries", kind="choice",
             choices=_choices(("flue gas", "combustion air"))),
        Spec(label="Size", place=(*base, "size"), topic="size", kind="choice", choices=_choices(sizes)),
        Spec(label="Material", place=(*base, "material"), topic="material", kind="choice", choices=_choices(materials)),
        Spec(label="Table", place=(*base, "table"), topic="table", kind="choice", choices=_choices(tables)),
    ]  # fmt: skip
    if "pieces" not in (value_at(data, base) or {}):
        found.insert(1, length("Straight", (*base, "straight"), "straight"))
        found.append(length("Rise", (*base, "rise"), "rise", optional=True, signed=True))
    return found


HEADINGS = ("", "up", "down", "north", "south", "east", "west")


def pipe(base: Place, sizes: Sequence[str]) -> list[Spec]:
    """A straight pipe."""
    return [
        length("Length", (*base, "pipe"), "length"),
        Spec(label="Heading", place=(*base, "heading"), topic="heading", kind="choice", optional=True,
             choices=tuple(Choice(h, h or "not given") for h in HEADINGS)),
        length("Rise", (*base, "rise"), "rise", optional=True, signed=True),
        Spec(label="Size from here", place=(*base, "size"), topic="size", kind="choice", optional=True,
             choices=(Choice("", "as before"), *_choices(sizes))),
        Spec(label="Surroundings", place=(*base, "surroundings"), topic="surroundings", optional=True,
             example="attic"),
    ]  # fmt: skip


def fitting(base: Place, sizes: Sequence[str], fittings: Sequence[tuple[str, str]]) -> list[Spec]:
    """A fitting, with the job's own figures for it."""
    return [
        Spec(label="Fitting", place=(*base, "fitting"), topic="fitting", kind="choice",
             choices=tuple(Choice(name, name) for name, _ in fittings)),
        Spec(label="Size from here", place=(*base, "size"), topic="size", kind="choice", optional=True,
             choices=(Choice("", "as before"), *_choices(sizes))),
        Spec(label="Own K", place=(*base, "k"), topic="k", kind="number", optional=True),
        length("Own length", (*base, "table_length"), "table_length", optional=True),
    ]  # fmt: skip


def count(base: Place, name: str) -> list[Spec]:
    """How many of a fitting a counted run has."""
    return [Spec(label=name, place=(*base, "fittings", name), topic="count", kind="count", example="0")]
