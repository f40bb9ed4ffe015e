"""What a run of several sizes uses of the allowance for each, where a page adds shares."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ventsize.allowance.model import Row


@dataclass(frozen=True, slots=True)
class SizeShare:
    """What a run of several sizes uses of the allowance for one of them.

    length: in that size; allowable: by its row [m]; None where it permits none
    """

    row: Row
    length: float
    allowable: float | None

    @property
    def used(self) -> float:
        """Share of its allowance [-]; infinity where none is permitted."""
        return math.inf if self.allowable is None else self.length / self.allowable
