"""Allowance tables as text and as objects: the list of those at hand, and one looked over row by row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from ventsize.allowance.library import KnownTable
from ventsize.jobfile.letters import plain
from ventsize.quantity import System, show_pressure
from ventsize.report.keys import Keys
from ventsize.report.wording import say
from ventsize.studies.typed_table import TypedRow, TypedTable


def list_text(tables: Sequence[KnownTable], used: Mapping[Path, Sequence[Path]]) -> str:
    """Each table with what it is for and the jobs it judges."""
    if not tables:
        return "No table holds all these words."
    return "\n".join(line for table in tables for line in _lines(table, used.get(table.path.resolve(), ())))


def _lines(table: KnownTable, jobs: Sequence[Path]) -> list[str]:
    if table.fault:
        return [f"{plain(table.path.name)}: {plain(table.fault)}", f"  {plain(str(table.path))}"]
    kind = "lengths by number of elbows" if table.by_elbows else "one length a row"
    covered = f"inputs {', '.join(table.inputs)}; sizes {', '.join(table.sizes)}"
    lines = [
        f"{plain(table.path.name)}: {table.title}",
        f"  {table.rows} rows, {kind}; {table.counts}; {covered}",
        f"  Copied from: {table.source or 'not stated'}",
    ]
    return [*lines, *([f"  Judges: {', '.join(plain(job.name) for job in jobs)}"] if jobs else [])]


def list_object(tables: Sequence[KnownTable], used: Mapping[Path, Sequence[Path]]) -> list[dict[str, Any]]:
    """The same for JSON."""
    return [
        {
            "file": str(table.path),
            **_KNOWN(table),
            "jobs": [str(job) for job in used.get(table.path.resolve(), ())],
        }
        for table in tables
    ]


_KNOWN = Keys(KnownTable, "title source inputs sizes rows by_elbows counts shipped invented fault")


def look_text(found: TypedTable, system: System) -> str:
    """Every row with the pressure it comes to, its faults and what is worth a second look."""
    lines = ["Usable." if found.usable else "Not usable as it stands."]
    lines += [f"! {fault}" for fault in found.faults]
    for row in found.rows:
        lines += _row_lines(row, system)
    remarks = (*found.deductions, *found.remarks)
    lines += [f"? {say(remark, system)}" for remark in remarks]
    return "\n".join([*lines, *(f"! {say(gap, system)}" for gap in found.gaps)])


def _row_lines(row: TypedRow, system: System) -> list[str]:
    said = f"row {row.number}"
    if row.pressure is not None:
        said += f": {show_pressure(row.pressure, system)} of straight pipe"
    if row.usual is not None:
        low, high = (show_pressure(value, system) for value in row.usual)
        said += f", usually {low} to {high}"
    if row.empty:
        said += f"; still to be typed: {', '.join(row.empty)}"
    return [
        said,
        *(f"  ! {fault}" for fault in row.faults),
        *(f"  ? {say(remark, system, place=False)}" for remark in row.remarks),
    ]


def look_object(found: TypedTable, system: System) -> dict[str, Any]:
    """The same for JSON, pressures in Pa; the sentences in the chosen units."""
    return {
        "usable": found.usable,
        "faults": [str(fault) for fault in found.faults],
        "gaps": [say(gap, system) for gap in found.gaps],
        "rows": [
            {
                **_ROW(row),
                "faults": [str(fault) for fault in row.faults],
                "remarks": [say(remark, system, place=False) for remark in row.remarks],
            }
            for row in found.rows
        ],
        "remarks": [say(remark, system) for remark in (*found.deductions, *found.remarks)],
    }


_ROW = Keys(TypedRow, "row:number pressure_Pa usual_Pa stands_out empty")
