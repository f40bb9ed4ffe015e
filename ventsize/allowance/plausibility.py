"""Does a table look as it was printed? What stands out is named for the user to look at, never corrected.

A maker's table is a pressure budget in disguise: across the rows of one appliance, straight pipe of the
allowable length should lose much the same pressure. A row far from the others is probably mistyped.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple, Protocol

import numpy as np

from ventsize.allowance.model import (
    NOT_PERMITTED,
    SAME_LENGTH,
    AllowanceTable,
    Row,
    by_input,
    by_size,
)
from ventsize.gas.atmosphere import HIGHEST_ALTITUDE, HIGHEST_SITE
from ventsize.jobfile.document import nearest

FEWEST_ROWS = 4  # below this no row can be said to stand apart from the others
LEAST_FACTOR = 1.3  # rounding of lengths to whole feet and to a few sizes explains this much
WIDTHS_APART = 4.0  # robust standard deviations: one row in some ten thousand by chance
NORMAL_FROM_MEDIAN = 1.4826  # standard deviation of a normal spread from its median absolute deviation


class PressureOf(Protocol):
    """Pressure that straight pipe would lose [Pa]."""

    def __call__(self, *, input: float, size: float, altitude: float, length: float) -> float:
        """input: gross [W]; size: nominal [m]; altitude [m]; length: of straight pipe [m]."""
        ...


@dataclass(frozen=True, slots=True)
class RowPressure:
    """What a row's allowance amounts to.

    length: straight pipe it allows with no elbow [m]
    pressure: what that loses at the row's input and the top of its band; None where it cannot be worked out [Pa]
    ratio: to the median of the table's rows; None where it cannot be worked out
    usual: least and most that a row of this table may come to without standing out; None with too few rows [Pa]
    remark: why the row stands out and which slip of the keys would explain it, or why nothing can be worked out;
        empty if there is nothing to say
    """

    row: Row
    length: float
    pressure: float | None = None
    ratio: float | None = None
    usual: tuple[float, float] | None = None
    remark: str = ""


def implied_pressures(table: AllowanceTable, pressure_of: PressureOf) -> tuple[RowPressure, ...]:
    """The pressure each row allows, and a remark on the rows far from the others.

    The band's upper end is taken, where the gas is thinnest and a table must still hold. Rows that permit no
    length are left out, and rows at a limit that several share (the longest length) may well be low. A row whose
    pressure cannot be worked out is among those found, with the reason as its remark, and is not held against others.
    """
    usable: list[tuple[Row, float, float]] = []
    failed: list[RowPressure] = []
    for row in table.rows:
        if row.budget is None:
            continue
        try:
            pressure = pressure_of(input=row.input, size=row.size, altitude=row.altitude[1], length=row.budget)
        except (ValueError, ArithmeticError) as error:
            failed.append(RowPressure(row=row, length=row.budget, remark=_not_worked_out(row, error)))
            continue
        if 0 < pressure < math.inf:
            usable.append((row, row.budget, pressure))
    return (*_held_together(usable), *failed)


def _not_worked_out(row: Row, error: Exception) -> str:
    why = str(error).strip().rstrip(".") or type(error).__name__
    return f"What row {row.number} ({row.label}) comes to as pressure cannot be worked out: {why}."


def _held_together(usable: Sequence[tuple[Row, float, float]]) -> tuple[RowPressure, ...]:
    """Rows with the lengths and pressures they allow, each held against the others."""
    if not usable:
        return ()
    limit = _common_limit([length for _, length, _ in usable])
    judged = [pressure for _, length, pressure in usable if not _at(limit, length)]
    enough = len(judged) >= FEWEST_ROWS
    median = float(np.median(judged if enough else [pressure for _, _, pressure in usable]))
    spread = _spread([math.log(pressure / median) for pressure in judged]) if enough else math.inf
    widest = math.exp(_widest(spread)) if enough else math.inf
    usual = (median / widest, median * widest) if enough else None
    return tuple(
        RowPressure(
            row=row,
            length=length,
            pressure=pressure,
            ratio=pressure / median,
            usual=usual,
            remark="" if pressure < median and _at(limit, length) else _remark(row, pressure / median, spread),
        )
        for row, length, pressure in usable
    )


def _common_limit(lengths: Sequence[float]) -> float | None:
    """A length that several rows share and hardly any exceeds: a limit set for other reasons than pressure.

    A mistyped row may stand above the limit, so one row in ten may.
    """
    ordered = sorted(lengths, reverse=True)
    for longer, (one, other) in enumerate(pairwise(ordered)):
        if _at(one, other):
            return one
        if longer >= max(1, len(ordered) // 10):
            break
    return None


def _at(limit: float | None, length: float) -> bool:
    return limit is not None and abs(length - limit) <= SAME_LENGTH


def _spread(logs: Sequence[float]) -> float:
    """How far apart rows of this table are, as a robust standard deviation of the logarithm."""
    return NORMAL_FROM_MEDIAN * float(np.median(np.abs(logs)))


def _widest(spread: float) -> float:
    """How far a row may be from the median without standing out, as a logarithm."""
    return max(math.log(LEAST_FACTOR), WIDTHS_APART * spread)


def _remark(row: Row, ratio: float, spread: float) -> str:
    if abs(math.log(ratio)) <= _widest(spread):
        return ""
    direction = f"{ratio:.1f} times" if ratio > 1 else f"{ratio:.0%} of"
    typed = row.length_labels[0] if row.length_labels else ""
    slip = likely_slip(typed, 1 / ratio, spread)
    explained = f"; {slip}" if slip else ""
    return (
        f"Row {row.number} ({row.label}) allows {direction} the pressure that rows of this table usually do: "
        f"look at {typed or 'it'} again{explained}."
    )


def likely_slip(typed: str, factor: float, spread: float) -> str:
    """Which slip of the keys would explain a length that ought to be `factor` times as long.

    typed: the length as typed. Two digits swapped is tried first, then a digit too few or too many or the
    point misplaced, then one wrong digit: the likelier slip wins where both would explain it.
    """
    match = re.search(r"\d+(?:\.\d+)?", typed)
    if not match:
        return ""
    number = match.group()
    wanted = float(number) * factor
    tolerance = max(math.log(1.1), spread)
    slips: tuple[tuple[str, Callable[[str], Iterator[str]]], ...] = (
        ("two digits swapped", _swapped),
        ("a digit too few or too many, or a misplaced point", _shifted),
        ("one wrong digit", _one_wrong),
    )
    for name, variants in slips:
        values = {text: float(text) for text in variants(number) if _writable(text) and text != number}
        near = {
            text: abs(math.log(value / wanted))
            for text, value in values.items()
            if value > 0 and abs(math.log(value / wanted)) <= tolerance
        }
        if near:
            best = min(near, key=lambda text: near[text])
            meant = typed[: match.start()] + best + typed[match.end() :]
            return f"{meant} would fit ({name})"
    return ""


def _writable(number: str) -> bool:
    """Whether anybody would write a number so: 40 and 0.4, not 040 or .4."""
    return number[:1].isdigit() and not re.match(r"0\d", number)


def _swapped(number: str) -> Iterator[str]:
    for at, (one, other) in enumerate(pairwise(number)):
        if one.isdigit() and other.isdigit():
            yield number[:at] + other + one + number[at + 2 :]


def _shifted(number: str) -> Iterator[str]:
    whole = number.replace(".", "")
    yield from (number[:at] + number[at + 1 :] for at in range(len(number)) if len(whole) > 1)
    yield from (number + digit for digit in "0123456789")
    yield from (digit + number for digit in "123456789")
    yield from (f"{whole[:at]}.{whole[at:]}" for at in range(1, len(whole)))
    yield whole


def _one_wrong(number: str) -> Iterator[str]:
    for at, digit in enumerate(number):
        if digit.isdigit():
            yield from (number[:at] + new + number[at + 1 :] for new in "0123456789")


def order_remarks(table: AllowanceTable) -> tuple[str, ...]:
    """What runs against the order every table has, whatever its pressures.

    More elbows, more input, a smaller size or a higher site never allow more pipe.
    """
    return tuple(remark.text for remark in order_remarks_by_row(table))


class OrderRemark(NamedTuple):
    """What is said of a row's place among the others; `row` is its number."""

    row: int
    text: str


def order_remarks_by_row(table: AllowanceTable) -> tuple[OrderRemark, ...]:
    """`order_remarks` with the row each is about."""
    return (*_elbow_order(table), *_row_order(table), *_heights(table))


def _heights(table: AllowanceTable) -> Iterator[OrderRemark]:
    for row in table.rows:
        if HIGHEST_SITE < row.altitude[1] <= HIGHEST_ALTITUDE:  # higher still is a fault of the table
            yield OrderRemark(
                row.number,
                f"Row {row.number} ({row.label}) reaches up to {row.altitude_labels[1]}, where hardly any house "
                "stands: look at it again.",
            )


def _elbow_order(table: AllowanceTable) -> Iterator[OrderRemark]:
    for row in table.rows:
        for count, (entry, following) in enumerate(pairwise(row.allowable_by_elbows or ())):
            if entry == NOT_PERMITTED or following == NOT_PERMITTED:
                continue
            if following > entry + SAME_LENGTH:
                first, second = row.length_labels[count : count + 2]
                yield OrderRemark(
                    row.number,
                    f"Row {row.number} ({row.label}) allows more with {count + 1} elbows ({second}) "
                    f"than with {count} ({first}).",
                )


def _row_order(table: AllowanceTable) -> Iterator[OrderRemark]:
    for of_one_size in by_size(table.rows):
        for rows in _by_band(of_one_size):
            yield from _never_longer(sorted(rows, key=lambda row: row.input), "at the larger input")
    for of_one_input in by_input(table.rows):
        for rows in _by_band(of_one_input):
            yield from _never_longer(sorted(rows, key=lambda row: -row.size), "in the smaller size")
        for rows in by_size(of_one_input):
            yield from _never_longer(sorted(rows, key=lambda row: row.altitude), "at the higher altitude")


def _by_band(rows: Sequence[Row]) -> list[list[Row]]:
    bands: dict[tuple[float, ...], list[Row]] = {}
    for row in rows:
        bands.setdefault(tuple(round(end, 3) for end in row.altitude), []).append(row)
    return list(bands.values())


def _never_longer(rows: Sequence[Row], where: str) -> Iterator[OrderRemark]:
    for one, other in pairwise(rows):
        if one.counts_elbows != other.counts_elbows or one.budget is None or other.budget is None:
            continue
        if other.budget > one.budget + SAME_LENGTH:
            yield OrderRemark(
                other.number,
                f"Row {other.number} ({other.label}) allows more {where} ({other.length_labels[0]}) than "
                f"row {one.number} ({one.label}) does ({one.length_labels[0]}).",
            )


def unknown_fittings(table: AllowanceTable, known: Collection[str]) -> tuple[str, ...]:
    """Names in the table that are no known fitting, with the nearest known name. They deduct nothing."""
    names = dict.fromkeys((*table.deductions, *table.elbows_each))
    return tuple(
        f"The table names a fitting '{name}' that is not known here ({nearest(name, known)})."
        for name in names
        if name not in known
    )
