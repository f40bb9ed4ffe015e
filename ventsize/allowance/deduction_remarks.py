"""Deductions that look mistyped are pointed at, never corrected. Too small a one errs the dangerous way.

Three things are looked at: whether a harder turn is deducted less than an easier one, whether neighboring sizes are
far apart, and whether a length is far from what the calculation gives for that fitting. The factors are wide enough
to leave alone what differs from page to page (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise

from ventsize.allowance.model import SAME_LENGTH, AllowanceTable, SizedDeduction, by_size
from ventsize.finding import Finding, Value, Where, length

EASIER: dict[str, tuple[str, ...]] = {
    "elbow-90-short": ("elbow-90-long", "elbow-45"),
    "elbow-90-long": ("elbow-45-long",),
    "elbow-90-mitered": ("elbow-90-short", "elbow-90-long", "elbow-45-mitered"),
    "elbow-45": ("elbow-45-long", "elbow-30", "elbow-22", "elbow-15"),
    "elbow-45-mitered": ("elbow-45", "elbow-45-long"),
    "elbow-30": ("elbow-22", "elbow-15"),
    "elbow-22": ("elbow-15",),
    "tee-branch": ("tee-through", "elbow-90-long"),
    "terminal-screened": ("terminal-open",),
    "terminal-elbow-down": ("terminal-open",),
}
"""Fittings, and those that every page gives less: a sharper or a longer turn of one kind costs more."""

SIZES_APART = 2.5  # how far the length per size of neighboring sizes may differ
TOO_SMALL = 1.5  # below the lowest method at any of the rows' inputs by this much
TOO_LARGE = 3.0  # above the highest method by this much; it errs the safe way, and pages round up

EquivalentLength = Callable[[str, float], "tuple[float, float] | None"]
"""Least and most [m] that the calculation gives for a fitting, by name, in a nominal size [m]; None where none."""


def deduction_doubts(table: AllowanceTable, equivalent_length: EquivalentLength) -> Iterator[Finding]:
    """Every deduction worth a second look; the value "fitting" says which."""
    yield from _harder(table)
    yield from _neighbors(table)
    yield from _calculated(table, equivalent_length)
    for material, factor in table.counts_as.items():
        if factor < 1.0:
            yield Finding("material-counts-less", Where(), {"material": material, "factor": f"{factor:g}"})


def _sizes(table: AllowanceTable) -> list[tuple[float, str]]:
    """The sizes of the rows, smallest first, as the table writes them [m]."""
    return [(rows[0].size, rows[0].size_label) for rows in by_size(table.rows)]


def _harder(table: AllowanceTable) -> Iterator[Finding]:
    """The first size in which a fitting is deducted less than one that costs less in every vent."""
    sizes = _sizes(table)
    for name, easier in EASIER.items():
        for size, label in sizes:
            own = _at(table, name, size)
            above = {other: _at(table, other, size) for other in easier}
            more = {o: more for o, more in above.items() if own is not None and more and more - SAME_LENGTH > own}
            if own is not None and more:
                values: dict[str, Value] = {
                    "fitting": name, "deducted": length(own), "size": label, "easier": tuple(more),
                    "easier_deducted": length(min(more.values())),
                }  # fmt: skip
                yield Finding("deduction-below-easier", Where(), values)
                break


def _at(table: AllowanceTable, name: str, size: float) -> float | None:
    """What one of a fitting is deducted at a size [m]; of a figure for two of them, half."""
    deduction = table.deductions.get(name)
    each = None if deduction is None else deduction.at(size)
    return each / 2 if each is not None and deduction is not None and deduction.per_two else each


def _neighbors(table: AllowanceTable) -> Iterator[Finding]:
    """Lengths by size that leap: equivalent length grows about as the size does."""
    for name, deduction in table.deductions.items():
        listed = sorted(deduction.by_size, key=lambda entry: entry.size)
        apart = [pair for pair in pairwise(listed) if _leap(*pair)]
        while apart:
            worst = max(listed, key=lambda entry: sum(entry in pair for pair in apart))
            others = [other for pair in apart if worst in pair for other in pair if other is not worst]
            apart = [pair for pair in apart if worst not in pair]
            values: dict[str, Value] = {
                "fitting": name, "deducted": length(worst.length), "size": worst.label,
                "other_deducted": length(others[0].length), "other_size": others[0].label,
                "others": tuple(other.label for other in others),
            }  # fmt: skip
            yield Finding("deduction-leaps", Where(), values)


def _leap(one: SizedDeduction, other: SizedDeduction) -> bool:
    if min(one.length, other.length) <= SAME_LENGTH:  # none in one size: so in the other, or a figure is missing
        return max(one.length, other.length) > SAME_LENGTH
    grown = (other.length / one.length) / (other.size / one.size)
    return not 1 / SIZES_APART <= grown <= SIZES_APART


def _calculated(table: AllowanceTable, equivalent_length: EquivalentLength) -> Iterator[Finding]:
    """Lengths far from what the calculation gives; one for every size is held against each of them, and said once."""
    sizes = _sizes(table)
    for name in table.deductions:
        far: list[tuple[str, float, tuple[float, float]]] = []
        for size, label in sizes:
            typed = _at(table, name, size)
            calculated = None if typed is None else equivalent_length(name, size)
            if typed is not None and calculated is not None and _far(typed, *calculated):
                far.append((label, typed, calculated))
        if far:
            label, typed, (low, high) = far[0]
            values: dict[str, Value] = {
                "fitting": name, "deducted": length(typed), "sizes": tuple(label for label, _, _ in far),
                "least": length(low), "most": length(high),
            }  # fmt: skip
            yield Finding("deduction-too-small" if typed < low else "deduction-too-large", Where(), values)


def _far(typed: float, low: float, high: float) -> bool:
    return typed < low / TOO_SMALL or typed > high * TOO_LARGE
