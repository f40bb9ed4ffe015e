"""What a drawing is made of. Coordinates and sizes in points, x to the right, y downwards."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from ventsize.report.drawing.styles import Role

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]

_WIDTH = 0.6  # of a letter, in heights of the type: on the wide side, so that words do not run into each other


@dataclass(frozen=True, slots=True)
class Line:
    """A line through points; closed: back to the first, and filled as its role says."""

    points: tuple[Point, ...]
    role: Role
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle by its upper left corner and its size."""

    x: float
    y: float
    width: float
    height: float
    role: Role


@dataclass(frozen=True, slots=True)
class Dot:
    """A circle by its middle."""

    x: float
    y: float
    radius: float
    role: Role


@dataclass(frozen=True, slots=True)
class Words:
    """Text whose base line starts, is centered or ends at a point."""

    x: float
    y: float
    text: str
    size: float = 9.0
    anchor: Anchor = "start"
    strong: bool = False


Mark = Line | Box | Dot | Words


def moved(mark: Mark, right: float) -> Mark:
    """A mark so far to the right."""
    if isinstance(mark, Line):
        return replace(mark, points=tuple((x + right, y) for x, y in mark.points))
    return replace(mark, x=mark.x + right)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A picture. title, description: what it shows, in words, for those who cannot see it."""

    width: float
    height: float
    marks: tuple[Mark, ...]
    title: str
    description: str = ""

    @property
    def alt(self) -> str:
        """Its title and description as one text."""
        return f"{self.title}. {self.description}" if self.description else self.title


def width_of(text: str, size: float) -> float:
    """About how wide words of a size come out."""
    return _WIDTH * size * len(text)
