"""Deductions that look mistyped are pointed at, never corrected. Too small a one errs the dangerous way.

Three things are looked at: whether a harder turn is deducted less than an easier one, whether neighbouring sizes are
far apart, and whether a length is far from what the calculation gives for that fitting. The factors are wide enough
to leave alone what differs from page to page (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from ventsize.allowance.model import SAME_LENGTH, AllowanceTable, SizedDeduction, by_size
from ventsize.quantity import Dimension, System, show, show_length

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

SIZES_APART = 2.5  # how far the length per size of neighbouring sizes may differ
TOO_SMALL = 1.5  # below the lowest method at any of the rows' inputs by this much
TOO_LARGE = 3.0  # above the highest method by this much; it errs the safe way, and pages round up


class DeductionRemark(NamedTuple):
    """What is said of a fitting's deduction."""

    fitting: str
    text: str


EquivalentLength = Callable[[str, float], "tuple[float, float] | None"]
"""Least and most [m] that the calculation gives for a fitting, by name, in a nominal size [m]; None where none."""


def deduction_remarks(
    table: AllowanceTable, equivalent_length: EquivalentLength, system: System = System.US
) -> tuple[DeductionRemark, ...]:
    """Every deduction worth a second look, with the fitting it is of.

    system: of units, for the sentences
    """
    return (*_harder(table, system), *_neighbours(table, system), *_calculated(table, equivalent_length, system))


def _sizes(table: AllowanceTable) -> list[tuple[float, str]]:
    """The sizes of the rows, smallest first, as the table writes them [m]."""
    return [(rows[0].size, rows[0].size_label) for rows in by_size(table.rows)]


def _harder(table: AllowanceTable, system: System) -> Iterator[DeductionRemark]:
    """The first size in which a fitting is deducted less than one that costs less in every vent."""
    for name, easier in EASIER.items():
        for size, label in _sizes(table):
            own = _at(table, name, size)
            above = {other: _at(table, other, size) for other in easier}
            more = {
                o: length for o, length in above.items() if own is not None and length and length - SAME_LENGTH > own
            }
            if own is not None and more:
                listed = " and ".join(f"{other} ({show_length(length, system)})" for other, length in more.items())
                yield DeductionRemark(
                    name,
                    f"{name} deducts {show_length(own, system)} in {label}, less than {listed}, which is easier on the "
                    "gas: look at them again.",
                )
                break


def _at(table: AllowanceTable, name: str, size: float) -> float | None:
    deduction = table.deductions.get(name)
    return None if deduction is None else deduction.at(size)


def _neighbours(table: AllowanceTable, system: System) -> Iterator[DeductionRemark]:
    """Lengths by size that leap: equivalent length grows about as the size does."""
    for name, deduction in table.deductions.items():
        listed = sorted(deduction.by_size, key=lambda entry: entry.size)
        apart = [pair for pair in pairwise(listed) if _leap(*pair)]
        while apart:
            worst = max(listed, key=lambda entry: sum(entry in pair for pair in apart))
            others = [other for pair in apart if worst in pair for other in pair if other is not worst]
            apart = [pair for pair in apart if worst not in pair]
            said = " and ".join(f"{show_length(other.length, system)} in {other.label}" for other in others)
            yield DeductionRemark(
                name,
                f"{name} deducts {show_length(worst.length, system)} in {worst.label} but {said}: look at them again.",
            )


def _leap(one: SizedDeduction, other: SizedDeduction) -> bool:
    if min(one.length, other.length) <= SAME_LENGTH:  # none in one size: so in the other, or a figure is missing
        return max(one.length, other.length) > SAME_LENGTH
    grown = (other.length / one.length) / (other.size / one.size)
    return not 1 / SIZES_APART <= grown <= SIZES_APART


def _calculated(
    table: AllowanceTable, equivalent_length: EquivalentLength, system: System
) -> Iterator[DeductionRemark]:
    """Lengths far from what the calculation gives; one for every size is held against each of them, and said once."""
    for name in table.deductions:
        far: list[tuple[str, float, tuple[float, float]]] = []
        for size, label in _sizes(table):
            typed, calculated = _at(table, name, size), equivalent_length(name, size)
            if typed is not None and calculated is not None and _far(typed, *calculated):
                far.append((label, typed, calculated))
        if far:
            yield DeductionRemark(name, _said(name, far, system))


def _far(typed: float, low: float, high: float) -> bool:
    return typed < low / TOO_SMALL or typed > high * TOO_LARGE


def _said(name: str, far: Sequence[tuple[str, float, tuple[float, float]]], system: System) -> str:
    label, typed, calculated = far[0]
    low, high = (show(value, Dimension.LENGTH, system, style="decimal") for value in calculated)
    also = f" (and in {', '.join(label for label, _, _ in far[1:])})" if len(far) > 1 else ""
    consequence = "; too small a deduction passes a vent that is too long" if typed < calculated[0] else ""
    return (
        f"{name} deducts {show_length(typed, system)} in {label}{also}, where the calculation gives "
        f"{low} to {high}: look at it again{consequence}."
    )
