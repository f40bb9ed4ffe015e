"""Derating of the input for altitude, by the two readings of the code clause. Offered, never applied."""

from __future__ import annotations

from dataclasses import dataclass

THRESHOLD = 609.6
"""Altitude up to which the input stands as it is: 2000 ft [m]."""

SHARE_PER_METRE = 0.04 / 304.8
"""Share of the input taken off for each metre: 4 % for each 1000 ft [1/m]."""

SOURCE = (
    "National Fuel Gas Code (NFPA 54), 8.1.2 or 11.1.2 by edition: above 2000 ft, 4 % for each 1000 ft "
    "above sea level, unless the maker or the authority says otherwise "
    "(wording from memory, check before use)"
)


@dataclass(frozen=True, slots=True)
class DeratedInputs:
    """What the input becomes at altitude.

    whole_altitude: 4 % for each 1000 ft of the whole altitude, once that is above 2000 ft [W]
    part_above: 4 % for each 1000 ft of the part above 2000 ft only [W]
    source: of the clause
    """

    whole_altitude: float
    part_above: float
    source: str = SOURCE


def derated_inputs(*, input: float, altitude: float) -> DeratedInputs | None:
    """The input after derating by either reading; None up to 2000 ft, where the clause asks for nothing.

    input: as on the rating plate, at sea level [W]
    altitude: [m]

    The maker's instructions come first: many appliances derate differently, or do it by themselves.
    """
    if altitude <= THRESHOLD:
        return None
    return DeratedInputs(
        whole_altitude=input * max(0.0, 1.0 - SHARE_PER_METRE * altitude),
        part_above=input * max(0.0, 1.0 - SHARE_PER_METRE * (altitude - THRESHOLD)),
    )
