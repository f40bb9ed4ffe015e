"""What altitude does to a row that names no band: the page's factor, or the question whether the page holds there."""

from __future__ import annotations

import math

from ventsize.allowance.model import (
    ALTITUDE_OF_A_PAGE,
    SAME_ALTITUDE,
    AllowanceTable,
    AltitudeFactor,
    Row,
)

HOLDS_AT_THIS_ALTITUDE = "The table holds at this altitude."
"""The words by which a job confirms that a page without altitudes holds at its site (contract)."""


def share_left(factor: AltitudeFactor, altitude: float) -> float:
    """Share of an allowance left at an altitude [m]: each step begun above the page's limit takes its part off."""
    above = altitude - factor.above
    if above <= SAME_ALTITUDE:
        return 1.0
    return max(0.0, 1.0 - factor.less * math.ceil((above - SAME_ALTITUDE) / factor.per))


def share_of(table: AllowanceTable, row: Row, altitude: float) -> float:
    """Share of a row's allowance that counts at an altitude [m]: all of it where the row is for a band."""
    if row.has_band or table.altitude_factor is None:
        return 1.0
    return share_left(table.altitude_factor, altitude)


def must_be_confirmed(table: AllowanceTable, row: Row, altitude: float) -> bool:
    """Whether somebody has to say that a row holds at an altitude [m], since the page names none."""
    return not row.has_band and table.altitude_factor is None and altitude > ALTITUDE_OF_A_PAGE + SAME_ALTITUDE
