"""What a sweep gives: named lines or bars with their units, and what to notice in them. All in SI."""

from __future__ import annotations

from dataclasses import dataclass

from ventsize.quantity import Dimension

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """What is measured along one side: its name, and in what it is shown; plain numbers without a dimension."""

    title: str
    dimension: Dimension | None = None
    style: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """One line: its points [SI, SI], whether it is the table's word or another rule set beside the calculation."""

    name: str
    points: tuple[Point, ...]
    beside: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One bar: its value with the band where there is one [SI], where it comes from, and a remark.

    beside: what is set beside it [SI]; None where there is nothing.
    """

    name: str
    value: float
    beside: float | None = None
    low: float | None = None
    high: float | None = None
    source: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Here:
    """Where the job itself stands along the line."""

    name: str
    at: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Sweep:
    """One thing changed, the rest held.

    across: what is changed; None where bars are set beside each other. up: what comes of it.
    beside: what is set beside each bar.
    unsure: a stretch where nobody can say for sure, and why.
    notice: what to see in it, in sentences worked out from the figures.
    """

    kind: str
    title: str
    across: Axis | None
    up: Axis
    series: tuple[Series, ...] = ()
    beside: str = ""
    bars: tuple[Bar, ...] = ()
    here: tuple[Here, ...] = ()
    unsure: tuple[float, float] | None = None
    why_unsure: str = ""
    notice: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
