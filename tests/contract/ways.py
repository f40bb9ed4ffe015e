"""What the naive reading's parts share: a way of runs, what keeps a job from being within, figures: no ventsize."""

from __future__ import annotations

from dataclasses import dataclass

from tests.contract.charging import Group
from tests.contract.reading import Piece, Run

ORDER = ("unsafe", "over", "short", "not covered", "incomplete", "within")


@dataclass(frozen=True)
class Fault:
    """What keeps a job from being within: the verdict it gives, the class of the reason, the runs it holds for."""

    verdict: str
    reason: str
    runs: tuple[str, ...] = ()


@dataclass
class Figures:
    """Of one run that is a whole way, by one row: for comparing numbers [m]. None where there is no such figure."""

    equivalent: float | None = None
    allowable: float | None = None
    minimum: float | None = None
    row: int | None = None


@dataclass(frozen=True)
class Leg:
    """One way, or one run of it: groups of pieces in order outward, and the runs."""

    groups: tuple[Group, ...]
    runs: tuple[Run, ...]

    @property
    def pieces(self) -> list[Piece]:
        """All pieces."""
        return [piece for group in self.groups for piece in group.pieces]

    @property
    def owners(self) -> list[Run]:
        """The run that each group belongs to: a joint to the run behind it."""
        places = [place for place, group in enumerate(self.groups) if not group.joint]
        return [
            self.runs[min(sum(at < place for at in places), len(self.runs) - 1)] for place in range(len(self.groups))
        ]

    @property
    def names(self) -> tuple[str, ...]:
        """Of the runs."""
        return tuple(run.name for run in self.runs)

    @property
    def end(self) -> str | None:
        """The listed end, if there is one."""
        return next((piece.name for piece in self.pieces if piece.is_end and not piece.implied), None)


def worst(verdicts: list[str]) -> str:
    """The verdict that settles."""
    return min(verdicts, key=ORDER.index, default="within")
