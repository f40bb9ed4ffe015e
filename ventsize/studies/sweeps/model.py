"""What a sweep gives: named lines or bars with their units, and what to notice in them. All in SI."""

from __future__ import annotations

from dataclasses import dataclass

from ventsize.finding import Finding
from ventsize.flow.fittings import MethodLoss
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
    """One line: its points [SI, SI], whether it is the table's word or another rule set beside the calculation.

    apart: there is nothing between its points.
    """

    name: str
    points: tuple[Point, ...]
    beside: bool = False
    apart: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One bar: its value with the band where there is one [SI].

    beside: what is set beside it [SI]; None where there is nothing. method: the published method it is by.
    by_table: whether it is the table's word. over_open_end: whether a plain open end has been taken off it.
    """

    name: str
    value: float
    beside: float | None = None
    low: float | None = None
    high: float | None = None
    method: MethodLoss | None = None
    fixed: bool = False
    by_table: bool = False
    over_open_end: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Here:
    """Where the job itself stands along the line."""

    name: str
    at: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Sweep:
    """One thing changed, the rest held.

    run, rate, fitting, size: what it is about, by name. across: what is changed; None where bars are set beside each
    other. up: what comes of it. beside: what is set beside each bar. unsure: a stretch where nobody can say for sure.
    notice: what to see in it, each worked out from the points. cautions: what it leaves out.
    """

    kind: str
    run: str
    rate: str
    fitting: str
    size: str
    across: Axis | None
    up: Axis
    series: tuple[Series, ...] = ()
    beside: str = ""
    bars: tuple[Bar, ...] = ()
    here: tuple[Here, ...] = ()
    unsure: tuple[float, float] | None = None
    notice: tuple[Finding, ...] = ()
    cautions: tuple[Finding, ...] = ()
