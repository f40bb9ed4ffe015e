"""What makes a table ambiguous or impossible: each fault with its place in the file."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from ventsize.allowance.ambiguity import ambiguous_pairs
from ventsize.allowance.model import (
    NOT_PERMITTED,
    ONE_PIPE,
    SAME_LENGTH,
    SAME_TEMPERATURE,
    AllowanceTable,
    Deduction,
    ExposedRow,
    Row,
    TableFitting,
    same_altitude,
)
from ventsize.catalog.records import same_size
from ventsize.gas.atmosphere import HIGHEST_ALTITUDE, LOWEST_ALTITUDE
from ventsize.jobfile.problems import Problem, in_words

Path = tuple[str | int, ...]

FLUE_GAS, COMBUSTION_AIR = "flue gas", "combustion air"
TURNING = ("elbow", "terminal", "entrance")


def faults_of(table: AllowanceTable) -> tuple[Problem, ...]:
    """Every fault between values that are each right by themselves."""
    return tuple(_faults(table))


def _faults(table: AllowanceTable) -> Iterator[Problem]:
    if not table.source.strip():
        yield _fault(("source",), "the table has no source", "what it was copied from: manual, page, date")
    if not table.applies_to:
        yield _fault(("applies_to",), "the table is for nothing", "'flue gas', 'combustion air' or both")
    if not table.rows:
        yield _fault(("row",), "the table has no row", "at least one [[row]]")
    yield from _head_faults(table)
    for name, deduction in table.deductions.items():
        yield from _deduction_faults(("deductions", name), deduction)
    for row in table.rows:
        yield from _row_faults(row)
        yield from _condition_faults(row, table)
    for one, other in ambiguous_pairs(table):
        yield _pair_fault(one, other)
    yield from _exposed_faults(table)
    yield from _fitting_faults(table.fittings)


def _fault(path: Path, problem: str, expected: str) -> Problem:
    return Problem("", in_words(path), problem, expected, path)


def _head_faults(table: AllowanceTable) -> Iterator[Problem]:
    factor = table.altitude_factor
    if factor is not None and not 0.0 < factor.less <= 1.0:
        problem = f"{factor.less:.0%} of the allowance cannot be taken off"
        yield _fault(("altitude_factor", "less"), problem, "a share above 0 and up to 100 %, such as '4 %'")
    if factor is not None and factor.above > HIGHEST_ALTITUDE:
        yield _fault(("altitude_factor", "above"), "no building stands so high", "the altitude that the page names")
    for number, text in enumerate(table.confirm, start=1):
        if text in table.confirm[: number - 1]:
            yield _fault(("confirm", number), "the footnote stands there twice", "each footnote once")


def _deduction_faults(path: Path, deduction: Deduction) -> Iterator[Problem]:
    if deduction.length is None and not deduction.by_size:
        yield _fault(path, "no size is listed", "a length such as '5 ft', or lengths by size")
    for one, other in pairwise(sorted(deduction.by_size, key=lambda entry: entry.size)):
        if same_size(one.size, other.size):
            yield _fault(path, f"'{one.label}' and '{other.label}' are one size", "each size once")


def _row_faults(row: Row) -> Iterator[Problem]:
    path: Path = ("row", row.number)
    low, high = row.altitude
    if row.has_band:
        yield from _altitude_faults(row, path)
    if low > high:
        expected = "the lower altitude first"
        yield _fault((*path, "altitude"), f"the band {row.band_label} is upside down", expected)
    plain = row.allowable is not None or row.not_permitted
    kinds = sum((plain, row.counts_elbows, row.by_pressure))
    if not kinds:
        yield _fault(path, "it allows nothing", "allowable, allowable_by_elbows or allowable_pressure")
    if kinds > 1:
        yield _fault(path, "it has two kinds of limit", "one of allowable, allowable_by_elbows and allowable_pressure")
    elif row.counts_elbows:
        yield from _entry_faults(row, (*path, "allowable_by_elbows"))
    if row.first_elbows and not row.counts_elbows:
        yield _fault(
            (*path, "first_elbows"), "the row has no list by number of elbows", "it beside allowable_by_elbows only"
        )
    if row.elbows_included and not plain:
        yield _fault((*path, "elbows_included"), "the row gives no equivalent length", "it beside allowable only")
    lengths = [e for e in (row.allowable, *(row.allowable_by_elbows or ())) if isinstance(e, float)]
    if lengths and row.minimum is not None and row.minimum > max(lengths) + SAME_LENGTH:
        yield _fault((*path, "minimum"), "the minimum is above what the row allows", "a length below the allowable")


def _altitude_faults(row: Row, path: Path) -> Iterator[Problem]:
    """An end of the band where no air pressure can be told: a digit too many, as a rule."""
    for end, label in zip(row.altitude, row.altitude_labels, strict=True):
        if not LOWEST_ALTITUDE <= end <= HIGHEST_ALTITUDE:
            yield _fault((*path, "altitude"), f"no building stands at {label}", "the altitude that the page names")


def _entry_faults(row: Row, path: Path) -> Iterator[Problem]:
    entries = row.allowable_by_elbows or ()
    if not entries:
        yield _fault(path, "the list is empty", "straight lengths with 0, 1, 2 … elbows, or 'not permitted'")
    for count, (entry, following) in enumerate(pairwise(entries), start=row.first_elbows):
        if entry == NOT_PERMITTED and following != NOT_PERMITTED:
            yield _fault(
                path,
                f"{count} elbows are not permitted, yet {count + 1} are",
                "'not permitted' from some number of elbows on",
            )
            return


def _condition_faults(row: Row, table: AllowanceTable) -> Iterator[Problem]:
    """A condition that no job can meet."""
    path, holds = ("row", row.number), row.holds_for
    if holds.pipes == ONE_PIPE and holds.air_size is not None:
        yield _fault((*path, "air_size"), "an appliance with one pipe has no air pipe", "pipes = 'two', or no air_size")
    if holds.pipes == ONE_PIPE and FLUE_GAS not in table.applies_to:
        yield _fault(
            (*path, "pipes"), "where there is one pipe it is the vent, and the table is for air pipes", "'two'"
        )
    if holds.ends and len(table.applies_to) == 1:
        wrong = {FLUE_GAS: "entrance", COMBUSTION_AIR: ""}[table.applies_to[0]]
        kinds = {fitting.name: fitting.kind for fitting in table.fittings}
        if wrong and all(kinds.get(end, end.split("-")[0]) == wrong for end in holds.ends):
            yield _fault((*path, "ends"), f"flue gas does not leave through {holds.ends[0]}", "a terminal")
    for key in ("ends", "materials"):
        names = getattr(holds, key)
        repeated = next((name for at, name in enumerate(names) if name in names[:at]), None)
        if repeated is not None:
            yield _fault((*path, key), f"'{repeated:.40}' stands there twice", "each name once")


def _pair_fault(one: Row, other: Row) -> Problem:
    """Two rows that answer one case."""
    path, case = ("row", other.number), f"{other.input_label}, {other.size_label}"
    if one.holds_for != other.holds_for:
        named = [", ".join(row.holds_for.labels) for row in (one, other)]
        return _fault(
            path,
            f"it ({named[1]}) and row {one.number} ({named[0]}) can both hold for one case ({case}), and name equally "
            "many conditions",
            "conditions that exclude each other, or a row that names both",
        )
    if (
        one.has_band
        and other.has_band
        and not (
            same_altitude(one.altitude[0], other.altitude[0]) and same_altitude(one.altitude[1], other.altitude[1])
        )
    ):
        return _fault(
            (*path, "altitude"),
            f"the band {other.band_label} overlaps {one.band_label} of row {one.number} ({case})",
            "bands that meet at most at one altitude",
        )
    if one.has_band != other.has_band:
        bare = one if other.has_band else other
        return _fault(
            (*path, "altitude"),
            f"row {bare.number} has no band and holds at every altitude, and so does row "
            f"{one.number if bare is other else other.number} at its own ({case})",
            "a band for both, or for neither",
        )
    return _fault(
        path,
        f"it is for the same case as row {one.number} ({other.label})",
        "each case once",
    )


def _exposed_faults(table: AllowanceTable) -> Iterator[Problem]:
    if table.exposed and FLUE_GAS not in table.applies_to:
        yield _fault(("exposed", 1), "exposed rows are for flue gas, and the table is for air pipes", "no [[exposed]]")
    ordered = sorted(table.exposed, key=lambda row: (row.size, row.outdoor, row.insulation))
    for one, other in pairwise(ordered):
        if _same_exposure(one, other):
            first, second = sorted((one, other), key=lambda row: row.number)
            case = f"{second.size_label}, {second.outdoor_label}, {second.insulation_label}"
            yield _fault(
                ("exposed", second.number), f"it is for the same case as exposed {first.number} ({case})", "each once"
            )


def _same_exposure(one: ExposedRow, other: ExposedRow) -> bool:
    return (
        same_size(one.size, other.size)
        and abs(one.outdoor - other.outdoor) <= SAME_TEMPERATURE
        and same_size(one.insulation, other.insulation)
    )


def _fitting_faults(fittings: Sequence[TableFitting]) -> Iterator[Problem]:
    for number, fitting in enumerate(fittings, start=1):
        place = f"fitting '{fitting.name:.40}'"
        if any(fitting.name == other.name for other in fittings[: number - 1]):
            yield Problem("", place, "two fittings have this name", "each name once", ("fitting", number))
        for problem, expected in _angle_faults(fitting):
            yield Problem("", f"{place}, angle", problem, expected, ("fitting", number, "angle"))


def _angle_faults(fitting: TableFitting) -> Iterator[tuple[str, str]]:
    if fitting.kind == "elbow" and not fitting.angle:
        yield "it is missing or zero, and the kind 'elbow' needs it", "an angle such as '90 deg'"
    if fitting.angle is not None and fitting.kind not in TURNING:
        yield f"a fitting of the kind '{fitting.kind}' does not turn the gas", "no angle"
    if fitting.angle is not None and fitting.angle > math.pi + 1e-9:
        yield "it turns more than 180 degrees", "an angle up to 180 deg"
