"""How pipe is sold, cut, joined and hung: the figures a takeoff goes by, from a file that the user may replace."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from ventsize.catalog.folders import shipped_table, user_tables_folder
from ventsize.catalog.properties import NominalSize, Source, Written
from ventsize.catalog.records import NOMINAL_TOLERANCE, same_size
from ventsize.jobfile.document import read_toml, record, validate
from ventsize.jobfile.fields import Expected, Length, PositiveLength
from ventsize.jobfile.problems import InputError, Problem

FILE_NAME = "takeoff.toml"

SHORTEST_STOCK = 0.1  # m; anything shorter is a typing mistake

_Number = Annotated[int, Field(strict=True, ge=1, le=1_000), Expected("a whole number")]
_Joints = Annotated[int, Field(strict=True, ge=1, le=10_000), Expected("a whole number of joints")]


@record
class Saw:
    """kerf: width of a cut [m]. usable: the shortest offcut worth keeping [m]."""

    kerf: Length
    usable: Length
    source: Source


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
    """length: from the center of a fitting to where the pipe in it ends [m]."""

    fitting: Written
    size: NominalSize
    length: Length
    source: Source
    material: Written | None = None


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

    def end_to_center(self, *, fitting: str, material: str, nominal: float) -> EndToCenter | None:
        """What this fitting takes off a pipe of this size, or None where it is not known; nominal: [m]."""
        found = [
            end
            for end in self.ends
            if end.fitting == fitting and end.material in (None, material) and same_size(end.size.length, nominal)
        ]
        return max(found, key=lambda end: end.material is not None, default=None)


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
    known: set[tuple[str, str | None, int]] = set()
    for end in practice.ends:
        key = (end.fitting, end.material, round(end.size.length / NOMINAL_TOLERANCE))
        if key in known:
            yield f"end_to_center, {end.fitting}, {end.size.label}", "it is listed twice", "each fitting and size once"
        known.add(key)


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
