"""Reasons in words. Rows are quoted as the table writes them; the job's figures are in the chosen units."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from ventsize.allowance.comparing import Comparison
from ventsize.allowance.model import EACH_RUN, NOT_PERMITTED, SAME_ALTITUDE, AllowanceTable, Row, by_size
from ventsize.quantity import Dimension, System, show, show_power

TOO_SMALL_FOR_SIXTEENTHS = 0.0016  # m; below it a margin would read as none

NoAnswer = Literal["not covered", "incomplete"]


def length(value: float, system: System) -> str:
    """A length [m] in words; a tiny one is not rounded away."""
    style = "fine" if 0.0 < value < TOO_SMALL_FOR_SIXTEENTHS else None
    return show(value, Dimension.LENGTH, system, style=style)


def within(comparison: Comparison, system: System) -> str:
    """The run fits."""
    left = comparison.margin
    if left <= 0:
        return f"{_compared(comparison, system)} is just what {_row(comparison)} allows"
    return (
        f"{_compared(comparison, system)} is within the {_allowed(comparison, system)} by "
        f"{_row(comparison)}, {length(left, system)} to spare"
    )


def over(comparison: Comparison, system: System) -> str:
    """The run is too long, or has too many elbows."""
    if comparison.allowable is not None:
        return (
            f"{_compared(comparison, system)} is {length(-comparison.margin, system)} over the "
            f"{_allowed(comparison, system)} by {_row(comparison)}"
        )
    entries = comparison.row.allowable_by_elbows or ()
    count = comparison.elbows or 0
    permitted = [number for number, entry in enumerate(entries) if entry != NOT_PERMITTED]
    if not permitted:
        return f"No pipe at all is permitted by {_row(comparison)}"
    most = f"{_elbows(permitted[-1])} at most"
    if count < len(entries):
        return f"Not permitted: the run counts {_elbows(count)}, and {_row(comparison)} permits {most}"
    return f"Too many elbows: the run counts {_elbows(count)}, and {_row(comparison)} lists {most}"


def too_many_elbows(turns: int, table: AllowanceTable) -> str:
    """The table limits the number of elbows, whatever the length."""
    where = "in one run" if table.counts == EACH_RUN else "in vent and air pipe together"
    most = table.most_elbows or 0
    permitted = "no elbow" if most == 0 else f"no more than {_elbows(most)}"
    return f"Too many elbows: {turns} of more than 30°, and the table permits {permitted} {where}"


def short(comparison: Comparison, system: System) -> str:
    """The run is shorter than the table's minimum."""
    least = length(comparison.row.minimum or 0.0, system)
    return (
        f"{_compared(comparison, system)} is {length(comparison.shortfall, system)} short of the "
        f"{least} minimum by {_row(comparison)}"
    )


def around(input: float, pair: Sequence[Row], used: Row, system: System) -> str:
    """What to say when the input lies between two rows; nothing when it stands in the table."""
    if len(pair) < 2:
        return ""
    return (
        f"the input {show_power(input, system)} lies between the rows for {pair[0].input_label} and "
        f"{pair[1].input_label}, and the stricter of the two for this run counts ({used.input_label})"
    )


def missing(phrases: Sequence[str]) -> str:
    """What the table does not say and would have to."""
    return f"The table {_listed(phrases)}."


def no_size(table: AllowanceTable, labels: Sequence[str]) -> str:
    """A size of the run is not in the table."""
    listed = ", ".join(rows[0].size_label for rows in by_size(table.rows))
    return f"The table has no row for {' or '.join(labels)} pipe; it covers {listed}."


def no_altitude(rows: Sequence[Row], size_label: str, altitude: float, system: System) -> str:
    """No band of altitude holds the site."""
    bands = dict.fromkeys(row.band_label for row in sorted(rows, key=lambda row: row.altitude))
    here = show(altitude, Dimension.LENGTH, system, style="altitude")
    edge = any(abs(row.altitude[1] - altitude) <= SAME_ALTITUDE for row in rows)
    open_end = "; a band does not hold its upper end where another row of that size starts" if edge else ""
    listed = ", ".join(bands)
    return f"No row for {size_label} pipe covers an altitude of {here}; the table's bands are {listed}{open_end}."


def no_input(rows: Sequence[Row], size_label: str, input: float, system: System) -> str:
    """The input is outside the rows of its size and altitude."""
    labels = list(dict.fromkeys(row.input_label for row in rows))
    covered = f"only {labels[0]}" if len(labels) == 1 else f"{labels[0]} to {labels[-1]}"
    return (
        f"An input of {show_power(input, system)} is outside the rows for {size_label} pipe "
        f"at this altitude, which cover {covered}."
    )


def _row(comparison: Comparison) -> str:
    return f"row {comparison.row.number} ({comparison.row.label})"


def _allowed(comparison: Comparison, system: System) -> str:
    return f"{length(comparison.allowable or 0.0, system)} allowed"


def _compared(comparison: Comparison, system: System) -> str:
    if comparison.elbows is None:
        return f"Equivalent length {length(comparison.compared, system)}"
    added = sum(line.total for line in comparison.lines)
    besides = f" ({length(added, system)} of it for other fittings)" if added > 0 else ""
    return f"Straight length {length(comparison.compared, system)}{besides} with {_elbows(comparison.elbows)}"


def _elbows(count: int) -> str:
    return "no elbow" if count == 0 else f"{count} elbow{'s' if count > 1 else ''}"


def _listed(phrases: Sequence[str]) -> str:
    if len(phrases) == 1:
        return phrases[0]
    return f"{', '.join(phrases[:-1])} and {phrases[-1]}"
