"""Losses as measured: molded plastic fittings, and the duct tables that say how a sharp turn follows the flow.

Every figure is as its publication has it, by the sizes and angles tested; between them it is interpolated, beyond them
held. K times the Reynolds number squared rises with flow in each.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Mapping
from typing import NamedTuple

INCH = 0.0254
WATER_SPEED = 2.43  # m/s, of the tests on molded fittings
WATER_VISCOSITY = 1.0e-6  # m²/s, at 20 °C; the temperature of the tests is not stated
SCHEDULE_80 = {2: 1.939, 4: 3.826, 6: 5.761, 8: 7.625}  # in, bores of the pipe tested
SCHEDULE_40 = {2: 2.049, 4: 3.998, 6: 6.031, 8: 7.942}  # in, bores at which a figure for a nominal size is taken

# ASHRAE Handbook-Fundamentals 2021, ch. 22, tables 8 and 9 (research project RP-1193): schedule 80 PVC, water at
# 2.43 m/s. By nominal size in inches: the lowest and the highest of the makers.
ELBOW_90 = {2: (0.91, 1.00), 4: (0.86, 0.91), 6: (0.76, 0.91), 8: (0.68, 0.87)}
TEE_RUN = {2: (0.13, 0.26), 4: (0.07, 0.22), 6: (0.01, 0.14)}
TEE_BRANCH = {2: (0.89, 1.54), 4: (0.88, 1.12), 6: (0.90, 1.15)}  # the branch's flow, in or out, whichever is wider
FABRICATED_MITER = 0.73  # 8 in, the lower of two
# 6 to 4 and 8 to 6 in, and back, by the ratio of bores; taken on the smaller pipe's velocity, which the copy read does
# not say.
_RATIOS = (SCHEDULE_40[4] / SCHEDULE_40[6], SCHEDULE_40[6] / SCHEDULE_40[8])
REDUCER = dict(zip(_RATIOS, ((0.12, 0.59), (0.13, 0.63)), strict=True))
BUSHING = {_RATIOS[0]: (0.49, 0.59)}
EXPANSION = dict(zip(_RATIOS, ((0.069, 1.19), (0.94, 0.99)), strict=True))

# Public K table of the Hydraulic Institute's family: screwed 90° elbow of long radius, by nominal size in inches.
SCREWED_LONG_90 = {1.5: 0.54, 2: 0.42, 3: 0.31, 4: 0.24}
SCREWED_BORES = {1.5: 1.593, 2: 2.049, 3: 3.042, 4: 3.998}  # in

# ASHRAE Fundamentals 2005, ch. 35, fitting CR3-6: mitered elbow by angle in degrees; the factor of the Reynolds number
# that goes on it; and for smooth bends the share of the 90° elbow by angle (CR3-1).
MITER = {0.0: 0.0, 20.0: 0.07, 30.0: 0.16, 45.0: 0.34, 60.0: 0.55, 75.0: 0.81, 90.0: 1.2}
REYNOLDS_FACTOR = {1e4: 1.40, 2e4: 1.26, 3e4: 1.19, 4e4: 1.14, 6e4: 1.09, 8e4: 1.06, 1e5: 1.04, 1.4e5: 1.00}
SMOOTH_SHARE = {0.0: 0.0, 20.0: 0.31, 30.0: 0.45, 45.0: 0.60, 60.0: 0.78, 75.0: 0.90, 90.0: 1.00,
                110.0: 1.13, 130.0: 1.20, 150.0: 1.28, 180.0: 1.40}  # fmt: skip

# How the loss of a threaded pipe fitting rises as the flow falls, over the Reynolds number (Hooper 1981, K1).
ELBOW_RISE, BRANCH_RISE, RUN_RISE = 800.0, 500.0, 200.0


class _Line(NamedTuple):
    """Points to interpolate between."""

    x: tuple[float, ...]
    y: tuple[float, ...]

    def at(self, x: float) -> float:
        """The value at x; beyond the ends that of the end."""
        if x <= self.x[0]:
            return self.y[0]
        if x >= self.x[-1]:
            return self.y[-1]
        after = bisect_right(self.x, x)
        (x_0, x_1), (y_0, y_1) = self.x[after - 1 : after + 1], self.y[after - 1 : after + 1]
        return y_0 + (y_1 - y_0) * (x - x_0) / (x_1 - x_0)


class _Sizes(NamedTuple):
    """A range by size of pipe, and the Reynolds numbers it was measured at."""

    low: _Line
    high: _Line
    reynolds: _Line


def _by_size(table: dict[int, tuple[float, float]]) -> _Sizes:
    bores = tuple(SCHEDULE_40[size] * INCH for size in table)
    tested = tuple(SCHEDULE_80[size] * INCH * WATER_SPEED / WATER_VISCOSITY for size in table)
    lows, highs = zip(*table.values(), strict=True)
    return _Sizes(_Line(bores, lows), _Line(bores, highs), _Line(bores, tested))


def _line(table: dict[float, float]) -> _Line:
    return _Line(tuple(table), tuple(table.values()))


_ELBOW, _RUN, _BRANCH = _by_size(ELBOW_90), _by_size(TEE_RUN), _by_size(TEE_BRANCH)
_MIDDLES = {"elbow": (_ELBOW, ELBOW_RISE), "tee run": (_RUN, RUN_RISE), "tee branch": (_BRANCH, BRANCH_RISE)}
_MITER, _SMOOTH = _line(MITER), _line(SMOOTH_SHARE)
_SCREWED = _Line(tuple(bore * INCH for bore in SCREWED_BORES.values()), tuple(SCREWED_LONG_90.values()))
_FACTOR = _Line(tuple(map(math.log, REYNOLDS_FACTOR)), tuple(map(math.log, REYNOLDS_FACTOR.values())))
_STEEPEST = (_FACTOR.y[1] - _FACTOR.y[0]) / (_FACTOR.x[1] - _FACTOR.x[0])


def reynolds_factor(reynolds: float) -> float:
    """How much more a sharp turn loses than in fast flow, by the duct tables [-].

    reynolds: on the bore [-]. Below 10,000, where the tables end, it goes on rising as between 10,000 and 20,000.
    """
    log = math.log(reynolds)
    if log < _FACTOR.x[0]:
        return math.exp(_FACTOR.y[0] + _STEEPEST * (log - _FACTOR.x[0]))
    return math.exp(_FACTOR.at(log))


def miter(*, angle: float, reynolds: float) -> float:
    """A mitered elbow of one joint, as in the duct tables [-]. angle: of the turn [degrees]."""
    return _MITER.at(angle) * reynolds_factor(reynolds)


def fabricated_miter(*, angle: float) -> float:
    """The least that was measured of a mitered plastic elbow, 8 in [-]; other angles as in the duct tables."""
    return FABRICATED_MITER * _MITER.at(angle) / MITER[90.0]


def screwed_long_90(*, bore: float) -> float:
    """A screwed 90° elbow of long radius [-]. bore: inside diameter [m]."""
    return _SCREWED.at(bore)


def elbow(*, bore: float, reynolds: float, angle: float) -> float:
    """A molded elbow: the middle of what was measured, rising in slower flow as threaded pipe elbows do [-].

    bore: inside diameter [m]. angle: of the turn [degrees]; of turns below 90° none was measured, and the share of
    industrial ventilation practice is taken, two thirds, a half and a third for 60°, 45° and 30°.
    """
    return elbow_share(angle) * _middle("elbow", bore, reynolds)


def elbow_share(angle: float) -> float:
    """What a molded elbow of an angle [degrees] loses, as a share of one of 90° [-]."""
    return angle / 90.0 if angle < 90.0 else _SMOOTH.at(angle)


def elbow_lowest(*, bore: float, angle: float) -> float:
    """The least loss of a molded elbow: the lowest maker's at any flow, by angle as a miter [-]."""
    return _ELBOW.low.at(bore) * _MITER.at(angle) / MITER[90.0]


def elbow_highest(*, bore: float, reynolds: float, angle: float) -> float:
    """The most a molded elbow loses: the highest maker's, rising in slower flow as a miter, by angle as a bend [-]."""
    return _most(_ELBOW, bore, reynolds) * _SMOOTH.at(angle)


def tee_run(*, bore: float, reynolds: float) -> float:
    """A molded tee, straight through: the middle of what was measured [-]."""
    return _middle("tee run", bore, reynolds)


def tee_run_lowest(*, bore: float) -> float:
    """The lowest maker's molded tee, straight through [-]."""
    return _RUN.low.at(bore)


def tee_branch(*, bore: float, reynolds: float) -> float:
    """A molded tee, turning through the branch: the middle of what was measured, either way [-]."""
    return _middle("tee branch", bore, reynolds)


def tee_branch_lowest(*, bore: float) -> float:
    """The lowest of molded tees, through the branch [-]."""
    return _BRANCH.low.at(bore)


def tee_branch_highest(*, bore: float, reynolds: float) -> float:
    """The highest of molded tees, through the branch, rising in slower flow as a miter [-]."""
    return _most(_BRANCH, bore, reynolds)


def reducer(ratio: float, *, part: float, table: Mapping[float, tuple[float, float]] = REDUCER) -> float:
    """A molded reducer, the gas going into the smaller pipe, on the velocity there [-].

    ratio: smaller over larger bore [-]. part: where in the range measured, from 0 to 1 [-]. table: of reducers in
    general, or of bushings. By other ratios it goes as a sudden contraction does, with 1 - ratio².
    """
    scaled = _line({at: (low + part * (high - low)) / (1.0 - at * at) for at, (low, high) in table.items()})
    return scaled.at(ratio) * (1.0 - ratio * ratio)


def expansion_lowest(ratio: float) -> float:
    """The easiest molded increaser, the gas going into the larger pipe, on the velocity in the smaller one [-].

    ratio: smaller over larger bore [-]. By other ratios it goes as a sudden expansion does, with (1 - ratio²)².
    """
    at, (low, _) = next(iter(EXPANSION.items()))
    return low * ((1.0 - ratio * ratio) / (1.0 - at * at)) ** 2


def expansion_highest(ratio: float) -> float:
    """The worst molded increaser, as in `expansion_lowest`; never beyond the most that was measured [-]."""
    scaled = _line({at: high / (1.0 - at * at) ** 2 for at, (_, high) in EXPANSION.items()})
    return min(scaled.at(ratio) * (1.0 - ratio * ratio) ** 2, max(high for _, high in EXPANSION.values()))


def middle(shape: str, bore: float) -> tuple[float, float, float]:
    """The middle of what was measured, the Reynolds number it was measured at, and the rise in slower flow [-].

    shape: "elbow", "tee run" or "tee branch". bore: inside diameter [m].
    """
    sizes, rise = _MIDDLES[shape]
    return (sizes.low.at(bore) + sizes.high.at(bore)) / 2.0, sizes.reynolds.at(bore), rise


def _middle(shape: str, bore: float, reynolds: float) -> float:
    measured, tested, rise = middle(shape, bore)
    return measured + rise * (1.0 / reynolds - 1.0 / tested)


def _most(sizes: _Sizes, bore: float, reynolds: float) -> float:
    return sizes.high.at(bore) * reynolds_factor(reynolds) / reynolds_factor(sizes.reynolds.at(bore))
