"""A field of a form: its label, its place in the data, and how what is typed is understood."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

from ventsize.jobfile.editing import Data, put, value_at
from ventsize.jobfile.editing import Path as Place
from ventsize.quantity import Dimension, QuantityError, System, is_bare, parse, show, with_commas, with_feet, with_unit
from ventsize.tui.widgets.field import Choice, Reader, Reading, any_text

Kind = Literal["text", "quantity", "share", "number", "count", "choice"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec:
    """A field: its label, its place in the data, how it is read and what the help says about it.

    usual: between what values it lies in practice, in SI; others are marked as a possible slip.
    got, put: where the value is not simply what stands at the place: how it is had from the data, and the data with
    another. when_left: it takes effect when the field is left, since other values go by it.
    """

    label: str
    place: Place
    topic: str
    kind: Kind = "text"
    dimension: Dimension | None = None
    unit: tuple[str, str] = ("", "")
    signed: bool = False
    usual: tuple[float, float] | None = None
    optional: bool = False
    example: str = ""
    hint: str = ""
    choices: tuple[Choice, ...] = ()
    got: Callable[[Data], Any] | None = None
    put: Callable[[Data, Any], Data] | None = None
    when_left: bool = False

    def shown(self, data: Data) -> str:
        """The value as typed."""
        value = self.got(data) if self.got else value_at(data, self.place)
        return "" if value is None else str(value)

    def changed(self, data: Data, text: str) -> Data:
        """The data with what a text says. Raises EditError where that cannot be."""
        value = self.value(text)
        return self.put(data, value) if self.put else put(data, self.place, value)

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

    def example_in(self, system: System) -> str:
        """The example in the units that are shown."""
        if not self.example or self.dimension is None or system is System.US or not self.unit[1]:
            return self.example
        value = parse(self.example, self.dimension, signed=True)
        if self.dimension is Dimension.TEMPERATURE:
            return show(value, self.dimension, system)
        return f"{value / parse(f'1 {self.unit[1]}', self.dimension):.3g} {self.unit[1]}"

    def reader(self, system: System) -> Reader:
        """How the text is understood."""
        if self.kind == "count":
            return _whole
        if self.kind == "number":
            return _number
        if self.kind in ("quantity", "share"):
            return _remarking(
                _quantity(self.dimension or Dimension.FRACTION, self.unit, self.signed, system), self, system
            )
        return any_text if self.optional else _something


def _remarking(read: Reader, spec: Spec, system: System) -> Reader:
    """A reader that marks what lies outside what is met in practice."""
    if spec.usual is None:
        return read
    least, most = spec.usual
    dimension = spec.dimension or Dimension.FRACTION

    def marked(text: str) -> Reading:
        reading = read(text)
        value = parse(reading.text, dimension, signed=True)
        size = abs(value) if spec.signed and least >= 0.0 else value
        if size == 0.0 or least <= size <= most:
            return reading
        low, high = (_shown(limit, dimension, system) for limit in (least, most))
        doubts = (reading.doubt, f"is that so? From {low} to {high} is usual")
        return Reading(reading.text, reading.note, "; ".join(doubt for doubt in doubts if doubt))

    return marked


def _shown(value: float, dimension: Dimension, system: System) -> str:
    return f"{value:.0%}" if dimension is Dimension.FRACTION else show(value, dimension, system)


def _something(text: str) -> Reading:
    if not text.strip():
        raise ValueError("it is empty; expected a name")
    return Reading(text)


def _whole(text: str) -> Reading:
    if not text.strip().isdigit() or len(text) > 4:
        raise ValueError("expected a whole number, for example 3, or 0 where there is none")
    return Reading(text.strip(), "", "is that so? Up to 30 is usual" if int(text) > _MOST_OF_A_KIND else "")


_MOST_OF_A_KIND = 30  # fittings in a run


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
        full, doubt = with_commas(text.strip()), ""
        if own and is_bare(full):
            thousands = dimension is Dimension.POWER and system is System.US and 0 < float(full.replace(",", "")) < 1000
            if thousands:  # an "80 furnace", as it is spoken of: none is of 80 Btu/h
                full = f"{full} MBH"
                doubt = f"read as {full}, {show(parse(full, dimension), dimension, system)}"
            else:
                full = with_unit(full, own)
        elif own == "ft":
            full = with_feet(full)
        value = parse(full, dimension, signed=signed)
        understood = full if dimension is Dimension.FRACTION else show(value, dimension, system)
        number, _, typed = text.strip().partition(" ")
        alike = understood.replace(",", "") == text.strip().replace(",", "")
        plain_to_see = alike or (own != "ft" and typed == own and is_bare(number))
        return Reading(full, "" if plain_to_see else f"= {understood}", doubt)

    def careful(text: str) -> Reading:
        try:
            return read(text)
        except QuantityError as error:
            raise ValueError(str(error)) from None

    return careful
