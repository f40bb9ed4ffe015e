"""The fan's affinity laws, worked by hand: flow with speed, head with its square (any fan handbook)."""

from __future__ import annotations

import pytest

from ventsize.studies.fan_curve import curve_through

STRAIGHT = [(flow / 100.0, 500.0 - 5.0 * flow) for flow in (0.0, 10.0, 25.0, 50.0, 100.0)]
"""H = 500 - 500 q with q in m³/s: PCHIP through points of a straight line is the line."""


def test_share_of_speed_on_a_straight_curve() -> None:
    """head = s²(500 - 500 q/s) = 500 s² - 500 q s. For q = 0.2 and head 40: 500 s² - 100 s - 40 = 0.

    s = (100 + sqrt(10 000 + 80 000)) / 1000 = 0.4, by hand.
    """
    assert curve_through(STRAIGHT).speed_for(flow=0.2, head=40.0) == pytest.approx(0.4, rel=1e-9)


@pytest.mark.parametrize("share", [0.3, 0.6, 1.0, 1.4])
def test_any_point_of_the_curve_moves_by_the_laws(share: float) -> None:
    """A point (q, h) at top speed stands at (s q, s² h) at a share s of it."""
    curve = curve_through([(0.0, 550.0), (0.005, 510.0), (0.01, 400.0), (0.015, 210.0), (0.018, 0.0)])
    for flow in (0.004, 0.0085, 0.013):
        head = curve.head(flow)
        assert curve.speed_for(flow=share * flow, head=share**2 * head) == pytest.approx(share, rel=1e-9)


@pytest.mark.parametrize("share", [0.4, 1.0, 1.5])
def test_a_slower_curve_is_the_laws_of_the_straight_one(share: float) -> None:
    """H_s(q) = s²(500 - 500 q/s) = 500 s² - 500 q s, from no flow to s m³/s, by hand; its own points lie on it."""
    slower = curve_through(STRAIGHT).at_speed(share)
    assert (slower.least, slower.most) == pytest.approx((0.0, share))
    for flow, head in (*slower.drawn(), *slower.points):
        assert head == pytest.approx(500.0 * share**2 - 500.0 * flow * share, abs=1e-9)


def test_the_curve_passes_its_points_and_never_rises_between() -> None:
    """Monotone cubics (Fritsch and Carlson): no wiggle that would make a second operating point."""
    points = [(0.0, 550.0), (0.005, 549.0), (0.006, 300.0), (0.015, 210.0), (0.018, 0.0)]
    curve = curve_through(points)
    assert [curve.head(flow) for flow, _ in points] == pytest.approx([head for _, head in points])
    heads = [curve.head(0.018 * i / 200) for i in range(201)]
    assert all(later <= earlier + 1e-9 for earlier, later in zip(heads, heads[1:], strict=False))


def test_no_share_of_speed_meets_what_lies_beyond_the_curve() -> None:
    """A curve typed in from 0.2 to 0.5 m³/s says nothing of a head lower than its right end gives."""
    curve = curve_through([(0.2, 400.0), (0.3, 350.0), (0.5, 250.0)])
    assert curve.speed_for(flow=0.5, head=10.0) is None
    assert curve.speed_for(flow=0.2, head=50_000.0) is None


@pytest.mark.parametrize(
    ("points", "said"),
    [
        ([(0.0, 100.0), (1.0, 50.0)], "three or more"),
        ([(0.0, 100.0), (1.0, 120.0), (2.0, 50.0)], "the head rises"),
        ([(0.0, 100.0), (1.0, 90.0), (1.0, 50.0)], "the same flow"),
    ],
)
def test_what_is_no_curve_is_refused(points: list[tuple[float, float]], said: str) -> None:
    """One sentence says what is wrong."""
    with pytest.raises(ValueError, match=said):
        curve_through(points)
