"""Lengths rounded to what a person measures or buys."""

from __future__ import annotations

import math
from collections.abc import Mapping

from ventsize.quantity.dimensions import System

_HAIR = 1e-9  # of a step; what is over by less is rounding of the number, not of the length


def rounded_up(length: float, system: System, step: Mapping[System, float]) -> float:
    """A length [m], up to the next whole step. step: in each system of units [m]."""
    size = step[system]
    return math.ceil(length / size - _HAIR) * size
