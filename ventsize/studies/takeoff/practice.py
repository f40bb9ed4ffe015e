"""How pipe is sold, cut, joined and hung: the figures a takeoff goes by, from a file that the user may replace."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from ventsize.catalog.folders import shipped_table, user_tables_folder
from ventsize.catalog.properties import NominalSize, Source, Written
from ventsize.catalog.records import NOMINAL_TOLERANCE, FittingRecord, same_size
from ventsize.jobfile.document import read_toml, record, validate
from ventsize.jobfile.field_types import Expected, Length, NotNegativeNumber, PositiveLength
from ventsize.jobfile.problems import InputError, Problem
from ventsize.run.model import Section

FILE_NAME = "takeoff.toml"

Which = Literal["middle", "low", "high"]
"""Which figure of a center-to-end length that is only estimated."""

SHORTEST_STOCK = 0.1  # m; anything shorter is a typing mistake

_Number = Annotated[int, Field(strict=True, ge=1, le=1_000), Expected("a whole number")]
_Joints = Annotated[int, Field(strict=True, ge=1, le=10_000), Expected("a whole number of joints")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """From the center of a fitting to the end of the pipe in it [m]. low, high: its range where it is estimated [m]."""

    length: float
    low: float
    high: float
    source: str

    @property
    def is_estimated(self) -> bool:
        """Whether the figure is only an estimate."""
        return self.low < self.high

    def at(self, which: Which) -> float:
        """The figure, or one end of its range [m]."""
        return {"middle": self.length, "low": self.low, "high": self.high}[which]


NOTHING = Reach(length=0.0, low=0.0, high=0.0, source="nothing is bought there")

_STRAIGHT = 0.15  # bores of straight between the end of a bend and the end of the pipe in it
_GEOMETRY = "Estimated from its shape; measure one before you cut"


def estimated(fitting: FittingRecord, bore: float) -> Reach:
    """The reach of a fitting of which only the shape is known. bore: of the pipe in it [m].

    An elbow of radius r that turns by an angle a has its tangent point r tan(a/2) from its center; the pipe ends up
    to 0.3 bores further out (the quarter and eighth bends in takeoff.toml: 0.13 to 0.16 bores). Of any other
    fitting nothing is known: its middle figure is half a bore, and none to one and a half is the range.
    """
    if fitting.kind == "coupling":
        low, middle, high = 0.0, 0.02, 0.05
    elif fitting.angle and fitting.kind in ("elbow", "terminal"):
        turn = math.tan(min(fitting.angle, math.pi / 2) / 2)
        usual = fitting.bend_diameters or 1.0
        tight = fitting.tight_bend_diameters or 0.85 * usual
        low, middle, high = tight * turn, (tight + usual) / 2 * turn + _STRAIGHT, 1.1 * usual * turn + 2 * _STRAIGHT
    else:
        low, middle, high = 0.0, 0.5, 1.5
    return Reach(length=middle * bore, low=low * bore, high=high * bore, source=_GEOMETRY)


@record
class Saw:
    """kerf: width of a cut [m]. usable: shortest offcut worth keeping [m]. thinnest: slice that can be sawn off [m]."""

    kerf: Length
    usable: Length
    source: Source
    thinnest: Length = 0.00635


@record
class Cement:
    """How many joints a can is reckoned to do."""

    joints_per_can: _Joints
    joints_per_primer_can: _Joints
    source: Source


@record
class InsulationStock:
    """length: in which pipe insulation is sold [m]."""

    length: PositiveLength
    source: Source


@record
class Stock:
    """A material: the lengths sold [m], the spacing of supports [m], and whether lengths may be joined.

    socketed: whether each length has a socket at one end: it joins the next without a coupling, and only one piece,
    with the socket, is cut from it.
    """

    material: Written
    lengths: Annotated[tuple[PositiveLength, ...], Field(min_length=1), Expected("lengths such as ['10 ft']")]
    source: Source
    horizontal: PositiveLength | None = None
    vertical: PositiveLength | None = None
    joinable: bool = True
    socketed: bool = False


@record
class EndToCenter:
    """From the center of a fitting to where the pipe in it ends: of one size [m], or of every size in bores.

    low, high, bores_low, bores_high: the range where the figure is an estimate.
    """

    fitting: Written
    source: Source
    size: NominalSize | None = None
    length: Length | None = None
    low: Length | None = None
    high: Length | None = None
    bores: NotNegativeNumber | None = None
    bores_low: NotNegativeNumber | None = None
    bores_high: NotNegativeNumber | None = None
    material: Written | None = None

    def reach(self, bore: float) -> Reach:
        """The figure for a pipe of this bore [m]."""
        if self.length is not None:
            low, high = (self.length if end is None else end for end in (self.low, self.high))
            return Reach(length=self.length, low=low, high=high, source=self.source)
        bores = self.bores or 0.0
        low, high = (bores if end is None else end for end in (self.bores_low, self.bores_high))
        return Reach(length=bores * bore, low=low * bore, high=high * bore, source=self.source)


@record
class Kit:
    """What is bought for an outdoor end besides its fitting: by name, how many of each.

    ends: fittings at the end that it goes with. through: what the pipe passes there; the last pipe's heading tells.
    """

    name: Written
    ends: Annotated[tuple[Written, ...], Field(min_length=1), Expected("fittings such as ['terminal-open']")]
    parts: Annotated[dict[str, _Number], Field(min_length=1), Expected("parts such as { 'wall plate' = 2 }")]
    source: Source
    through: Annotated[Literal["wall", "roof"] | None, Expected("'wall' or 'roof'")] = None


@record
class Practice:
    """All of it. nothing: ends of a run for which nothing is bought."""

    source: Source
    saw: Saw
    cement: Cement
    insulation: InsulationStock
    stocks: Annotated[tuple[Stock, ...], Field(alias="stock")] = ()
    ends: Annotated[tuple[EndToCenter, ...], Field(alias="end_to_center")] = ()
    kits: Annotated[tuple[Kit, ...], Field(alias="kit")] = ()
    nothing: tuple[Written, ...] = ()

    def stock(self, material: str) -> Stock | None:
        """How this material is sold, or None where the file does not say."""
        return next((stock for stock in self.stocks if stock.material == material), None)

    def reach(self, fitting: FittingRecord, section: Section) -> Reach:
        """What a fitting takes off a pipe that ends in it: the narrowest record, else estimated from its geometry."""
        if fitting.name in self.nothing:
            return NOTHING
        found = [
            end
            for end in self.ends
            if end.fitting == fitting.name
            and end.material in (None, section.material.name)
            and (end.size is None or same_size(end.size.length, section.nominal))
        ]
        end = max(found, key=lambda end: (end.size is not None, end.material is not None), default=None)
        return estimated(fitting, section.bore) if end is None else end.reach(section.bore)


def read_practice(path: Path | None = None) -> Practice:
    """The figures in a file; without one the user's own, or those shipped. Raises InputError with every fault."""
    if path is None:
        own = user_tables_folder() / FILE_NAME
        path = own if own.is_file() else shipped_table(FILE_NAME)
    practice = validate(read_toml(path), Practice, file=str(path))
    faults = tuple(Problem(str(path), *fault) for fault in _faults(practice))
    if faults:
        raise InputError(faults)
    return practice


def _faults(practice: Practice) -> Iterator[tuple[str, str, str]]:
    materials = [stock.material for stock in practice.stocks]
    for name in sorted({name for name in materials if materials.count(name) > 1}):
        yield f"stock '{name}'", "the material is listed twice", "each material once"
    for stock in practice.stocks:
        if min(stock.lengths) < SHORTEST_STOCK:
            yield f"stock '{stock.material}', lengths", "a length is too short to be sold", "a length such as '10 ft'"
    known: set[tuple[str, str | None, int | None]] = set()
    for end in practice.ends:
        place = f"end_to_center, {end.fitting}, {end.size.label if end.size else 'every size'}"
        size = None if end.size is None else round(end.size.length / NOMINAL_TOLERANCE)
        key = (end.fitting, end.material, size)
        if key in known:
            yield place, "it is listed twice", "each fitting and size once"
        known.add(key)
        yield from ((place, *fault) for fault in _end_faults(end))


def _end_faults(end: EndToCenter) -> Iterator[tuple[str, str]]:
    """What cannot be in a center-to-end record though each value by itself could."""
    if (end.length is None) == (end.bores is None):
        yield "it gives both or neither of 'length' and 'bores'", "one of them"
    elif end.length is not None and end.size is None:
        yield "it gives a length and no size", "the size it holds for, or 'bores'"
    for low, middle, high in ((end.low, end.length, end.high), (end.bores_low, end.bores, end.bores_high)):
        if middle is None and (low is not None or high is not None):
            yield "it gives a range and no figure inside it", "'length' with low and high, or 'bores' with its own"
        given = [value for value in (low, middle, high) if value is not None]
        if given != sorted(given):
            yield "its low, middle and high figures are not in order", "low, then the figure, then high"


def with_stock(
    practice: Practice, *, lengths: tuple[float, ...] = (), kerf: float | None = None, usable: float | None = None
) -> Practice:
    """The same with other lengths sold of every material listed, another saw, other offcuts kept; [m]."""
    saw = replace(
        practice.saw,
        kerf=practice.saw.kerf if kerf is None else kerf,
        usable=practice.saw.usable if usable is None else usable,
    )
    stocks = practice.stocks
    if lengths:
        stocks = tuple(replace(stock, lengths=lengths) for stock in stocks)
    return replace(practice, saw=saw, stocks=stocks)
