"""A fan's curve of head against flow at top speed, and what the affinity laws make of it at another.

At a share s of top speed a fan gives s²·H(q/s), H being its curve at top speed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fluids.numerics import brenth

FASTEST = 3.0  # shares of top speed looked for: what is needed, not what is there


@dataclass(frozen=True, slots=True)
class Curve:
    """Head [Pa] against volume flow [m³/s] at top speed: monotone cubics (PCHIP) through the points, no further."""

    points: tuple[tuple[float, float], ...]
    head: Callable[[float], float]

    @property
    def least(self) -> float:
        """The lowest flow of the curve [m³/s]."""
        return self.points[0][0]

    @property
    def most(self) -> float:
        """The highest flow of the curve [m³/s]."""
        return self.points[-1][0]

    def head_near(self, flow: float) -> float:
        """Head at a flow [m³/s], or at the end of the curve that is nearest to it [Pa]."""
        return self.head(min(max(flow, self.least), self.most))

    def at_speed(self, speed: float) -> Curve:
        """The curve at a share of top speed [-], by the affinity laws."""
        return Curve(
            tuple((speed * flow, speed**2 * head) for flow, head in self.points),
            lambda flow: speed**2 * self.head(flow / speed),
        )

    def with_head(self, part: float) -> Curve:
        """The curve with a part of its head [-], as with gas of another density: the head goes with it."""
        return Curve(tuple((flow, part * head) for flow, head in self.points), lambda flow: part * self.head(flow))

    def drawn(self, pieces: int = 40) -> list[tuple[float, float]]:
        """(flow, head) at even steps along it."""
        flows = [self.least + (self.most - self.least) * i / pieces for i in range(pieces + 1)]
        return [(flow, self.head(flow)) for flow in flows]

    def speed_for(self, *, flow: float, head: float) -> float | None:
        """The share of top speed s with head = s²·H(flow/s) [-]; None where the curve does not reach."""
        slowest = flow / self.most
        fastest = FASTEST if self.least == 0.0 else min(FASTEST, flow / self.least)

        def surplus(speed: float) -> float:
            return speed**2 * self.head_near(flow / speed) - head

        if slowest >= fastest or surplus(slowest) > 0.0 or surplus(fastest) < 0.0:
            return None
        return float(brenth(surplus, slowest, fastest, xtol=1e-12))


def curve_through(points: Sequence[tuple[float, float]]) -> Curve:
    """The curve through points of (flow [m³/s], head [Pa]).

    Raises ValueError for fewer than three points, two of one flow, and heads that rise with the flow.
    """
    ordered = tuple(sorted(points))
    if len(ordered) < 3:
        raise ValueError(f"a curve of {len(ordered)} points is not enough; three or more are expected")
    for (flow, head), (further, there) in zip(ordered, ordered[1:], strict=False):
        if further == flow:
            raise ValueError("two points of the curve have the same flow; each flow once is expected")
        if there > head:
            raise ValueError("the head rises as the flow rises; heads that fall as the flow rises are expected")
    from scipy.interpolate import PchipInterpolator

    smooth = PchipInterpolator([flow for flow, _ in ordered], [head for _, head in ordered])
    return Curve(ordered, lambda flow: float(smooth(flow)))
