"""The air pressure a place has by its altitude."""

from __future__ import annotations

from functools import lru_cache

from fluids.atmosphere import ATMOSPHERE_1976

from ventsize.quantity import Dimension, System, show

LOWEST_ALTITUDE = -1000.0
HIGHEST_ALTITUDE = 11_000.0
"""Altitudes accepted [m]: the lowest layer of the standard atmosphere, a little below sea level included."""
HIGHEST_SITE = 4572.0
"""Above it (15,000 ft) hardly anybody lives [m]. Common practice, no source; nothing is refused by it."""


@lru_cache(maxsize=1024)
def ambient_pressure(*, altitude: float) -> float:
    """Pressure of the outdoor air [Pa].

    altitude: height above sea level [m]; ValueError outside −1000 m to 11 000 m.

    Source: U.S. Standard Atmosphere, 1976. Only its pressure is used: temperatures come from the job.
    """
    if not LOWEST_ALTITUDE <= altitude <= HIGHEST_ALTITUDE:
        raise ValueError(
            f"The altitude is {_shown(altitude)}; "
            f"between {_shown(LOWEST_ALTITUDE)} and {_shown(HIGHEST_ALTITUDE)} is expected."
        )
    return float(ATMOSPHERE_1976(altitude).P)


def _shown(altitude: float) -> str:
    return " or ".join(show(altitude, Dimension.LENGTH, system, style="altitude") for system in (System.SI, System.US))
