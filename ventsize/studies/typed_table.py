"""A table while it is typed: what each row amounts to, what is wrong with it, and what is still empty.

Rows are read one by one, so that those that stand already are judged while others are half typed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ventsize.allowance.doubts import doubts_of
from ventsize.allowance.faults import faults_of
from ventsize.allowance.gaps import gaps_of
from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.names import unknown_names
from ventsize.allowance.reading import head_from_data, rows_from_data
from ventsize.catalog.library import Catalog
from ventsize.finding import Finding, Where
from ventsize.jobfile.editing.values import Data, value_at
from ventsize.jobfile.problems import Problem, in_words

OF_PRESSURE = ("row-pressure-unlikely", "row-pressure-not-known")


@dataclass(frozen=True, slots=True)
class TypedRow:
    """A row as typed.

    empty: what has still to be typed, in words
    faults: what makes the row unusable, with places inside it
    remarks: what is worth a second look
    pressure: what its allowance comes to, if it can be read [Pa]
    usual: least and most that rows of the table usually come to; None with too few rows [Pa]
    """

    number: int
    empty: tuple[str, ...] = ()
    faults: tuple[Problem, ...] = ()
    remarks: tuple[Finding, ...] = ()
    pressure: float | None = None
    usual: tuple[float, float] | None = None
    stands_out: bool = False


@dataclass(frozen=True, slots=True)
class TypedTable:
    """A table as typed: its rows, and what is said of the whole.

    faults: of title, source and deductions. remarks: on names nobody knows. gaps: runs it cannot judge.
    deductions: what is worth a second look of them; the value "fitting" says of which.
    """

    rows: tuple[TypedRow, ...]
    faults: tuple[Problem, ...]
    remarks: tuple[Finding, ...]
    gaps: tuple[Finding, ...]
    deductions: tuple[Finding, ...] = ()

    @property
    def usable(self) -> bool:
        """Whether a job can be judged by it as it stands."""
        return bool(self.rows) and not self.faults and not any(row.faults or row.empty for row in self.rows)


def look_over(data: Data, catalog: Catalog) -> TypedTable:
    """What there is to say of a table as typed, whatever state it is in.

    Somebody is typing: a table nobody foresaw is unusable, and no reason to lose what is typed.
    """
    try:
        return _looked_over(data, catalog)
    except Exception as error:
        listed = value_at(data, ("row",), [])
        rows = [row for row in listed if isinstance(row, Mapping)] if isinstance(listed, (list, tuple)) else []
        said = f"the table cannot be looked over ({type(error).__name__}: {error})"
        typed = tuple(TypedRow(number) for number, _ in enumerate(rows, start=1))
        return TypedTable(typed, (Problem("", "", said),), (), ())


def _looked_over(data: Data, catalog: Catalog) -> TypedTable:
    listed = value_at(data, ("row",), [])
    typed = [row for row in listed if isinstance(row, Mapping)] if isinstance(listed, (list, tuple)) else []
    empty = [_empty(row) for row in typed]
    finished = {**data, "row": [{} if left else row for row, left in zip(typed, empty, strict=True)]}
    rows, row_problems = rows_from_data(finished)
    table, head_problems = head_from_data(data, rows)
    by_row: dict[int, list[Problem]] = {}
    of_table: list[Problem] = []
    for problem in (*head_problems, *row_problems, *faults_of(table)):
        match problem.path:
            case ("row", int(number), *rest):
                if not empty[number - 1]:
                    inside = replace(problem, place=in_words(rest), path=tuple(rest))
                    by_row.setdefault(number, []).append(inside)
            case ("row",):  # no row can be read: half typed rows are rows, and without any, `rows` says so
                pass
            case _:
                of_table.append(problem)
    return TypedTable(
        rows=_judged(table, empty, by_row, catalog),
        faults=tuple(of_table),
        remarks=tuple(_unknown(table, catalog)),
        gaps=gaps_of(table) if rows else (),
        deductions=doubts_of(table, catalog).deductions,
    )


def _unknown(table: AllowanceTable, catalog: Catalog) -> Iterator[Finding]:
    """Names that nothing explains: a remark while a table is alone, an error where a job is judged by it."""
    for unknown in unknown_names(table, fittings=catalog.fittings, materials=catalog.pipes):
        values = {"kind": unknown.kind, "name": unknown.name, "expected": unknown.expected, "place": unknown.place}
        yield Finding("name-not-known", Where(), values)


def _judged(
    table: AllowanceTable, empty: Sequence[tuple[str, ...]], faults: Mapping[int, list[Problem]], catalog: Catalog
) -> tuple[TypedRow, ...]:
    doubts = doubts_of(table, catalog)
    pressures = {found.row.number: found for found in doubts.pressures}
    of_row: dict[int | None, list[Finding]] = {}
    for doubt in doubts.rows:
        of_row.setdefault(doubt.where.row, []).append(doubt)
    found = []
    for number, left in enumerate(empty, start=1):
        implied = pressures.get(number)
        # A fault says better what is wrong with a row that nothing can be worked out for.
        told = implied is not None and implied.pressure is None and number in faults
        remarks = [doubt for doubt in of_row.get(number, []) if not (told and doubt.code == "row-pressure-not-known")]
        found.append(
            TypedRow(
                number=number,
                empty=left,
                faults=tuple(faults.get(number, ())),
                remarks=tuple(remarks),
                pressure=implied.pressure if implied else None,
                usual=implied.usual if implied else None,
                stands_out=any(doubt.code in OF_PRESSURE for doubt in remarks),
            )
        )
    return tuple(found)


def _empty(row: Mapping[str, Any]) -> tuple[str, ...]:
    """What of a row has still to be typed. A row without the key of the altitude is one of a page without bands."""
    left = [key for key in ("input", "size") if not _filled(row.get(key))]
    band = row.get("altitude", ("0 ft", "0 ft"))
    ends = [*band, "", ""][:2] if isinstance(band, (list, tuple)) else [band, ""]
    if not any(map(_filled, ends)):
        left.append("altitudes (- where the page gives none)")
    elif not all(map(_filled, ends)):
        left.append("the other altitude")
    entries = row.get("allowable_by_elbows")
    if isinstance(entries, (list, tuple)):
        first = row.get("first_elbows")
        first = first if isinstance(first, int) else 0
        if not any(map(_filled, entries)):
            left.append("lengths")
        else:
            left += [
                f"length with {n} elbow{'s' * (n != 1)}" for n, e in enumerate(entries, start=first) if not _filled(e)
            ]
    elif not _filled(row.get("allowable")) and not _filled(row.get("allowable_pressure")):
        left.append("length")
    return tuple(left)


def _filled(value: Any) -> bool:
    return bool(value.strip()) if isinstance(value, str) else value is not None
