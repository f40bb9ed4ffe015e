"""Allowance table files: TOML into an `AllowanceTable`, and where a table named in a job is found."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field, replace
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Discriminator, Field, Tag

from ventsize.allowance.faults import faults_of
from ventsize.allowance.model import (
    EVERY_ALTITUDE,
    NOT_PERMITTED,
    STRICTEST,
    AllowanceTable,
    AltitudeFactor,
    Conditions,
    Counts,
    Deduction,
    Entry,
    ExposedRow,
    Limits,
    MixedSizes,
    Pipes,
    Row,
    SizedDeduction,
    TableFitting,
)
from ventsize.catalog.folders import shipped_folder, user_tables_folder
from ventsize.catalog.properties import Written
from ventsize.jobfile.document import parse_toml, rare_record, read_text, record, validate
from ventsize.jobfile.field_types import (
    Angle,
    Expected,
    Fraction,
    Length,
    NotNegativeNumber,
    Positive,
    PositiveLength,
    PositiveNumber,
    PositivePower,
    Pressure,
    SignedLength,
    Temperature,
    Text,
)
from ventsize.jobfile.job import Carries
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import Dimension, Unusable, parse


def _check_size(text: str) -> str:
    if parse(text, Dimension.LENGTH) <= 0:
        raise Unusable("a size must be more than zero")
    return text


def _check_names(names: tuple[str, ...]) -> tuple[str, ...]:
    if not names:
        raise Unusable("no name is listed, so that the row never holds", "one name or more")
    return names


_SizeText = Annotated[str, AfterValidator(_check_size)]


def _kind_of_deduction(value: Any) -> str:
    if not isinstance(value, Mapping):
        return "<length>"
    return "<per two>" if PER_TWO in value else "<by size>"


def _is_not_permitted(value: Any) -> str:
    return "<not permitted>" if value == NOT_PERMITTED else "<length>"


PER_TWO = "per_two"
_MOST_KEPT = 200_000  # characters of a table that is kept in mind

_BySize = dict[_SizeText, Length]


@rare_record
class _PerTwo:
    per_two: Annotated[Length, Expected("a length such as '3 ft'")]


_Deduction = Annotated[
    Annotated[Length, Tag("<length>")] | Annotated[_BySize, Tag("<by size>")] | Annotated[_PerTwo, Tag("<per two>")],
    Discriminator(_kind_of_deduction),
]
_Entry = Annotated[
    Annotated[Literal["not permitted"], Tag("<not permitted>")] | Annotated[PositiveLength, Tag("<length>")],
    Discriminator(_is_not_permitted),
]
_Band = Annotated[tuple[SignedLength, SignedLength], Expected("its two altitudes, such as ['0 ft', '4500 ft']")]
_Names = Annotated[tuple[Written, ...], AfterValidator(_check_names), Expected("names in square brackets")]
_Count = Annotated[int, Field(strict=True, ge=0, le=100), Expected("a whole number of elbows, such as 2")]


@record
class _RowFile:
    input: PositivePower
    size: PositiveLength
    altitude: _Band | None = None
    allowable: _Entry | None = None
    allowable_by_elbows: tuple[_Entry, ...] | None = None
    allowable_pressure: Annotated[Pressure, Positive] | None = None
    minimum: Length | None = None
    first_elbows: _Count | None = None
    elbows_included: _Count | None = None
    pipes: Annotated[Pipes, Expected("'one' (air from the room) or 'two'")] | None = None
    ends: _Names | None = None
    materials: _Names | None = None
    air_size: PositiveLength | None = None


@rare_record
class _FactorFile:
    above: Annotated[Length, Expected("an altitude such as '2000 ft'")]
    per: Annotated[PositiveLength, Expected("a step of altitude such as '1000 ft'")]
    less: Annotated[Fraction, Expected("a share of the allowance such as '4 %'")]


@rare_record
class _LimitsFile:
    most_elbows: Annotated[int, Field(strict=True, ge=0), Expected("a whole number of elbows, such as 8")] | None = None
    longest_level: Length | None = None
    longest_rise: Length | None = None
    longest_difference: Length | None = None
    same_size: Annotated[bool, Field(strict=True), Expected("true or false")] = False


@rare_record
class _ExposedFile:
    size: PositiveLength
    outdoor: Annotated[Temperature, Expected("the outdoor temperature it is for, such as '-10 degF'")]
    insulation: Annotated[Length, Expected("a thickness such as '1/2 in', '0 in' for bare pipe")]
    allowable: Annotated[_Entry, Expected("a length such as '30 ft', or 'not permitted'")]


@rare_record
class _FittingFile:
    name: Annotated[Written, Expected("a name as on the page, such as 'wall-kit'")]
    kind: Annotated[
        Literal["terminal", "entrance", "elbow", "coupling", "other"],
        Expected("terminal, entrance, elbow, coupling or other"),
    ]
    title: Written | None = None
    angle: Angle | None = None
    k: NotNegativeNumber | None = None


@record
class TableFile:
    """An allowance table as typed."""

    title: Text
    source: Annotated[str, Expected("what the table was copied from: manual, page, date")]
    note: Text = ""
    applies_to: Annotated[tuple[Carries, ...], Expected("what it is for, such as ['flue gas', 'combustion air']")]
    counts: Annotated[Counts, Expected("'each run' or 'runs together'")]
    mixed_sizes: Annotated[MixedSizes, Expected("'strictest' or 'shares'")] = STRICTEST
    altitude_factor: _FactorFile | None = None
    confirm: Annotated[tuple[Written, ...], Expected("footnotes in square brackets")] = ()
    deductions: dict[str, _Deduction] = field(default_factory=dict)
    elbows_each: dict[str, NotNegativeNumber] = field(default_factory=dict)
    counts_as: dict[str, PositiveNumber] = field(default_factory=dict)
    most_elbows: Annotated[int, Field(strict=True, ge=0), Expected("a whole number of elbows, such as 8")] | None = None
    limits: _LimitsFile | None = None
    rows: Annotated[tuple[_RowFile, ...], Field(alias="row"), Expected("at least one [[row]]")]
    exposed: tuple[_ExposedFile, ...] = ()
    fittings: Annotated[tuple[_FittingFile, ...], Field(alias="fitting")] = ()


def read_table(path: Path) -> AllowanceTable:
    """The table in a file. Raises InputError with every fault found.

    A file that says what it said when it was last read is the same table: many jobs go by one.
    """
    text = read_text(path)
    read = _table_of if len(text) <= _MOST_KEPT else table_from_text
    return read(text, file=str(path))


def table_from_text(text: str, *, file: str) -> AllowanceTable:
    """The table in a TOML text."""
    return table_from_data(parse_toml(text, file=file), file=file)


@lru_cache(maxsize=8)
def _table_of(text: str, *, file: str) -> AllowanceTable:
    return table_from_text(text, file=file)


def table_from_data(data: Mapping[str, Any], *, file: str) -> AllowanceTable:
    """The table in the tables and values of a TOML document."""
    typed = validate(data, TableFile, file=file, beyond=lambda typed: _limit_faults(typed, file))
    table = _table(typed, data, file)
    if faults := faults_of(table):
        raise InputError(replace(fault, file=file) for fault in faults)
    return table


def _limit_faults(typed: TableFile, file: str) -> Iterator[Problem]:
    """A limit of elbows at the top, where earlier files have it, and another among the limits."""
    below = typed.limits.most_elbows if typed.limits else None
    if typed.most_elbows is not None and below is not None and typed.most_elbows != below:
        problem = f"the most elbows are {typed.most_elbows} at the top of the table and {below} among the limits"
        yield Problem(file, "limits, most_elbows", problem, "one of the two", ("limits", "most_elbows"))


def _table(typed: TableFile, data: Mapping[str, Any], file: str) -> AllowanceTable:
    factor = typed.altitude_factor
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
        mixed_sizes=typed.mixed_sizes,
        altitude_factor=AltitudeFactor(above=factor.above, per=factor.per, less=factor.less) if factor else None,
        confirm=typed.confirm,
        deductions=MappingProxyType({name: _deduction(value) for name, value in typed.deductions.items()}),
        elbows_each=MappingProxyType(dict(typed.elbows_each)),
        counts_as=MappingProxyType(dict(typed.counts_as)),
        limits=_limits(typed),
        exposed=tuple(
            _exposed(number, row, raw)
            for number, (row, raw) in enumerate(zip(typed.exposed, data.get("exposed", ()), strict=True), start=1)
        ),
        fittings=tuple(
            TableFitting(name=f.name, title=f.title or f.name, kind=f.kind, angle=f.angle, k=f.k)
            for f in typed.fittings
        ),
    )


def _limits(typed: TableFile) -> Limits:
    limits = typed.limits
    if limits is None:
        return Limits(most_elbows=typed.most_elbows)
    return Limits(
        most_elbows=typed.most_elbows if limits.most_elbows is None else limits.most_elbows,
        longest_level=limits.longest_level,
        longest_rise=limits.longest_rise,
        longest_difference=limits.longest_difference,
        same_size=limits.same_size,
    )


def _exposed(number: int, typed: _ExposedFile, raw: Mapping[str, Any]) -> ExposedRow:
    return ExposedRow(
        number=number,
        size=typed.size,
        outdoor=typed.outdoor,
        insulation=typed.insulation,
        allowable=0.0 if typed.allowable == NOT_PERMITTED else typed.allowable,
        size_label=_label(raw["size"]),
        outdoor_label=_label(raw["outdoor"]),
        insulation_label=_label(raw["insulation"]),
        allowable_label=_label(raw["allowable"]),
    )


def _label(raw: Any) -> str:
    return str(raw).strip()


def rows_from_data(data: Mapping[str, Any]) -> tuple[tuple[Row, ...], tuple[Problem, ...]]:
    """The rows that can be read, each by itself, and what is wrong with the others. Numbers are places in the file."""
    rows: list[Row] = []
    problems: list[Problem] = []
    for number, raw in enumerate(data.get("row", ()), start=1):
        try:
            rows.append(_row(number, validate(raw, _RowFile, file="", place=f"row {number}"), raw))
        except InputError as error:
            problems += [replace(one, path=("row", number, *one.path)) for one in error.problems]
    return tuple(rows), tuple(problems)


def head_from_data(data: Mapping[str, Any], rows: tuple[Row, ...]) -> tuple[AllowanceTable, tuple[Problem, ...]]:
    """A table of these rows under a head that may have faults: what can be read of it, and what is wrong."""
    sound = dict(_SOUND_HEAD)
    problems: list[Problem] = []
    for key in [key for key in data if key != "row"]:
        try:
            validate({**sound, key: data[key]}, TableFile, file="")
        except InputError as error:
            problems += error.problems
        else:
            sound[key] = data[key]
    missing = [key for key in _SOUND_HEAD if key not in data and key != "row"]
    problems += [Problem("", key, "it is missing", "a value", (key,)) for key in missing]
    typed = validate(sound, TableFile, file="")
    problems += _limit_faults(typed, "")
    return replace(_table(typed, sound, ""), rows=rows), tuple(problems)


_SOUND_HEAD: dict[str, Any] = {
    "title": "", "source": "", "applies_to": ["flue gas", "combustion air"], "counts": "each run", "row": [],
}  # fmt: skip


def _row(number: int, typed: _RowFile, raw: Mapping[str, Any]) -> Row:
    """A row with the words it was typed in."""
    typed_lengths = raw.get("allowable_by_elbows") or [raw.get("allowable") or raw.get("allowable_pressure", "")]
    low, high = (_label(end) for end in raw.get("altitude") or ("", ""))
    allowable: Entry | None = typed.allowable
    return Row(
        number=number,
        input=typed.input,
        size=typed.size,
        altitude=EVERY_ALTITUDE if typed.altitude is None else typed.altitude,
        allowable=None if allowable == NOT_PERMITTED else allowable,
        allowable_by_elbows=typed.allowable_by_elbows,
        minimum=typed.minimum,
        input_label=_label(raw["input"]),
        size_label=_label(raw["size"]),
        altitude_labels=(low, high),
        length_labels=tuple(_label(text) for text in typed_lengths),
        first_elbows=typed.first_elbows or 0,
        allowable_pressure=typed.allowable_pressure,
        not_permitted=allowable == NOT_PERMITTED,
        elbows_included=typed.elbows_included or 0,
        holds_for=_conditions(typed, raw),
    )


_ANY = Conditions()


def _conditions(typed: _RowFile, raw: Mapping[str, Any]) -> Conditions:
    if typed.pipes is None and typed.ends is None and typed.materials is None and typed.air_size is None:
        return _ANY
    return Conditions(
        pipes=typed.pipes,
        ends=typed.ends or (),
        materials=typed.materials or (),
        air_size=typed.air_size,
        air_size_label=_label(raw.get("air_size", "")),
    )


def _deduction(value: float | dict[str, float] | _PerTwo) -> Deduction:
    if isinstance(value, _PerTwo):
        return Deduction(length=value.per_two, per_two=True)
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
