"""What drawing a job and drawing a table share: the random source, names, and the ways a length is written."""

from __future__ import annotations

import random
from dataclasses import dataclass, field

from tests.contract.reading import Data

FT = 0.3048
ENDS = ("terminal-open", "terminal-elbow-down", "terminal-screened")
AIR_ENDS = (*ENDS, "entrance-open", "entrance-bell")
OWN = ("own-bend", "wall-kit", "page-bend")
EVERY = (
    "elbow-90-short", "elbow-90-long", "elbow-90-mitered", "elbow-45", "elbow-45-long", "elbow-22", "elbow-30",
    "tee-through", "tee-branch", "wye", "wye-through", "increaser", "reducer", "coupling",
    *ENDS, "entrance-open", "entrance-bell",
)  # fmt: skip
SIZES = ("2 in", "3 in", "4 in")
MATERIALS = ("pvc-40", "cpvc-40", "abs-40")


@dataclass
class Draw:
    """What the parts of one job share."""

    rng: random.Random
    job: Data = field(default_factory=dict)
    tables: dict[str, Data] = field(default_factory=dict)
    own: set[str] = field(default_factory=set)

    def chance(self, share: float) -> bool:
        """Whether something of this likelihood happens."""
        return self.rng.random() < share

    def feet(self, value: float) -> str:
        """A length in one of the ways people write it."""
        way = self.rng.randrange(10)
        if way == 0:
            return f"{value * FT:.12g} m"
        if way == 1:
            return f"{value * 12:.12g} in"
        if way == 2 and value >= 1:
            whole = int(value)
            inches = round((value - whole) * 12, 8)
            return f"{whole} ft {inches:.10g} in" if inches < 12 else f"{whole + 1} ft"
        return f"{value:.12g} ft"

    def size(self, inches: str) -> str:
        """A size, now and then in millimetres."""
        return f"{float(inches.split()[0]) * 25.4:.10g} mm" if self.chance(0.04) else inches
