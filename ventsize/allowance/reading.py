"""Allowance table files: TOML into an `AllowanceTable`, and where a table named in a job is found."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field, replace
from pathlib import Path
from types import MappingProxyType
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Discriminator, Field, Tag

from ventsize.allowance.faults import faults_of
from ventsize.allowance.model import (
    NOT_PERMITTED,
    AllowanceTable,
    Counts,
    Deduction,
    Row,
    SizedDeduction,
)
from ventsize.catalog.folders import shipped_folder, user_tables_folder
from ventsize.jobfile.document import parse_toml, read_text, record, validate
from ventsize.jobfile.fields import (
    Expected,
    Length,
    NotNegativeNumber,
    PositiveLength,
    PositivePower,
    SignedLength,
)
from ventsize.jobfile.job import Carries, Text
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import Dimension, parse


def _check_size(text: str) -> str:
    if parse(text, Dimension.LENGTH) <= 0:
        raise ValueError("a size must be more than zero")
    return text


_SizeText = Annotated[str, AfterValidator(_check_size)]


def _is_by_size(value: Any) -> str:
    return "<by size>" if isinstance(value, Mapping) else "<length>"


def _is_not_permitted(value: Any) -> str:
    return "<not permitted>" if value == NOT_PERMITTED else "<length>"


_Deduction = Annotated[
    Annotated[Length, Tag("<length>")] | Annotated[dict[_SizeText, Length], Tag("<by size>")],
    Discriminator(_is_by_size),
]
_Entry = Annotated[
    Annotated[Literal["not permitted"], Tag("<not permitted>")] | Annotated[PositiveLength, Tag("<length>")],
    Discriminator(_is_not_permitted),
]
_Band = Annotated[tuple[SignedLength, SignedLength], Expected("its two altitudes, such as ['0 ft', '4500 ft']")]


@record
class _RowFile:
    input: PositivePower
    size: PositiveLength
    altitude: _Band
    allowable: PositiveLength | None = None
    allowable_by_elbows: tuple[_Entry, ...] | None = None
    minimum: Length | None = None


@record
class _TableFile:
    title: Text
    source: Annotated[str, Expected("what the table was copied from: manual, page, date")]
    note: Text = ""
    applies_to: Annotated[tuple[Carries, ...], Expected("what it is for, such as ['flue gas', 'combustion air']")]
    counts: Annotated[Counts, Expected("'each run' or 'runs together'")]
    deductions: dict[str, _Deduction] = field(default_factory=dict)
    elbows_each: dict[str, NotNegativeNumber] = field(default_factory=dict)
    most_elbows: Annotated[int, Field(strict=True, ge=0), Expected("a whole number of elbows, such as 8")] | None = None
    rows: Annotated[tuple[_RowFile, ...], Field(alias="row"), Expected("at least one [[row]]")]


def read_table(path: Path) -> AllowanceTable:
    """The table in a file. Raises InputError with every fault found."""
    return table_from_text(read_text(path), file=str(path))


def table_from_text(text: str, *, file: str) -> AllowanceTable:
    """The table in a TOML text."""
    return table_from_data(parse_toml(text, file=file), file=file)


def table_from_data(data: Mapping[str, Any], *, file: str) -> AllowanceTable:
    """The table in the tables and values of a TOML document."""
    typed = validate(data, _TableFile, file=file)
    table = _table(typed, data, file)
    if faults := faults_of(table):
        raise InputError(Problem(file, *fault) for fault in faults)
    return table


def _table(typed: _TableFile, data: Mapping[str, Any], file: str) -> AllowanceTable:
    return AllowanceTable(
        file=file,
        title=typed.title,
        source=typed.source,
        note=typed.note,
        rows=tuple(
            _row(number, row, raw)
            for number, (row, raw) in enumerate(zip(typed.rows, data["row"], strict=True), start=1)
        ),
        applies_to=typed.applies_to,
        counts=typed.counts,
        deductions=MappingProxyType({name: _deduction(value) for name, value in typed.deductions.items()}),
        elbows_each=MappingProxyType(dict(typed.elbows_each)),
        most_elbows=typed.most_elbows,
    )


def rows_from_data(data: Mapping[str, Any]) -> tuple[tuple[Row, ...], tuple[Problem, ...]]:
    """The rows that can be read, each by itself, and what is wrong with the others. Numbers are places in the file."""
    rows: list[Row] = []
    problems: list[Problem] = []
    for number, raw in enumerate(data.get("row", ()), start=1):
        try:
            rows.append(_row(number, validate(raw, _RowFile, file="", place=f"row {number}"), raw))
        except InputError as error:
            problems += error.problems
    return tuple(rows), tuple(problems)


def head_from_data(data: Mapping[str, Any], rows: tuple[Row, ...]) -> tuple[AllowanceTable, tuple[Problem, ...]]:
    """A table of these rows under a head that may have faults: what can be read of it, and what is wrong."""
    sound = dict(_SOUND_HEAD)
    problems: list[Problem] = []
    for key in [key for key in data if key != "row"]:
        try:
            validate({**sound, key: data[key]}, _TableFile, file="")
        except InputError as error:
            problems += error.problems
        else:
            sound[key] = data[key]
    missing = [key for key in _SOUND_HEAD if key not in data and key != "row"]
    problems += [Problem("", key, "it is missing", "a value") for key in missing]
    table = _table(validate(sound, _TableFile, file=""), sound, "")
    return replace(table, rows=rows), tuple(problems)


_SOUND_HEAD: dict[str, Any] = {
    "title": "", "source": "", "applies_to": ["flue gas", "combustion air"], "counts": "each run", "row": [],
}  # fmt: skip


def _row(number: int, typed: _RowFile, raw: Mapping[str, Any]) -> Row:
    """A row with the words it was typed in."""
    lengths = raw.get("allowable_by_elbows") or [raw.get("allowable", "")]
    low, high = (str(end).strip() for end in raw["altitude"])
    return Row(
        number=number,
        input=typed.input,
        size=typed.size,
        altitude=typed.altitude,
        allowable=typed.allowable,
        allowable_by_elbows=typed.allowable_by_elbows,
        minimum=typed.minimum,
        input_label=str(raw["input"]).strip(),
        size_label=str(raw["size"]).strip(),
        altitude_labels=(low, high),
        length_labels=tuple(str(text).strip() for text in lengths),
    )


def _deduction(value: float | dict[str, float]) -> Deduction:
    if not isinstance(value, dict):
        return Deduction(length=value)
    return Deduction(
        by_size=tuple(
            SizedDeduction(size=parse(text, Dimension.LENGTH), label=text.strip(), length=length)
            for text, length in value.items()
        )
    )


def find_table(name: str, *, beside: Path, asked_by: str = "", place: str = "tables") -> Path:
    """The file of a table: beside the job, else in the user's tables, else in the shipped ones.

    beside: the folder of the job. asked_by, place: the file and the place in it that name the table, for
    the InputError raised when it is nowhere.
    """
    folders = (beside, user_tables_folder(), shipped_folder("tables"))
    for folder in folders:
        if name and _exists(folder / name):
            return folder / name
    looked = ", ".join(str(folder) for folder in folders)
    raise InputError(Problem(asked_by, place, f"there is no table {name!r:.80}", f"a table file in one of: {looked}"))


def _exists(path: Path) -> bool:
    try:
        return path.exists()
    except (OSError, ValueError):  # a name no file can have
        return False
