"""A single narrow place in a pipe: what it costs, and how wide it must be to cost so much."""

from __future__ import annotations

import math

from scipy.optimize import brentq

from ventsize.flow.correlations import CORRELATIONS, Situation

WIDEST, NARROWEST = 0.995, 0.05  # of the bore


def narrow_k(*, open_bore: float, bore: float, at_end: bool = False) -> float:
    """What a short, sharp-edged narrow place adds, on the velocity in the pipe's full bore [-].

    The gas contracts suddenly into it (Crane TP-410) and widens suddenly behind it (Borda and Carnot); at the outdoor
    end it leaves from there, so that its velocity is lost instead of the pipe's.

    open_bore: diameter left open [m]; bore: of the pipe [m].
    """
    share = (open_bore / bore) ** 2
    contracts = CORRELATIONS["Crane sudden contraction"](_between(open_bore, bore))
    if at_end:
        return (contracts + 1.0) / share**2 - 1.0
    return (contracts + CORRELATIONS["sudden expansion"](_between(open_bore, bore))) / share**2


def puddle_k(deep: float) -> float:
    """What water of a depth adds, on the velocity in the full bore [-]: the gas speeds up over it and widens behind it.

    Its surface is smooth, so that only the widening loses (Borda and Carnot). deep: as a share of the bore [-].
    """
    angle = 2.0 * math.acos(1.0 - 2.0 * min(max(deep, 0.0), 0.99))
    left = 1.0 - (angle - math.sin(angle)) / (2.0 * math.pi)
    return (1.0 / left - 1.0) ** 2


def puddle_for(k: float) -> float:
    """How deep water must stand to cost so much, as a share of the bore: the inverse of `puddle_k` [-]."""
    if k >= puddle_k(0.99):
        return 0.99
    return float(brentq(lambda deep: puddle_k(deep) - k, 0.0, 0.99, xtol=1e-6))


def open_bore_for(*, k: float, bore: float, at_end: bool = False) -> float:
    """The diameter left open by a single narrow place of this coefficient: the inverse of `narrow_k` [m]."""

    def surplus(share: float) -> float:
        return math.log(narrow_k(open_bore=share * bore, bore=bore, at_end=at_end) / k)

    if surplus(WIDEST) > 0.0:
        return WIDEST * bore
    if surplus(NARROWEST) < 0.0:
        return NARROWEST * bore
    return float(brentq(surplus, NARROWEST, WIDEST, xtol=1e-9)) * bore


def _between(smaller: float, larger: float) -> Situation:
    return Situation(
        bore=smaller,
        other_bore=larger,
        angle=math.nan,
        bend=math.nan,
        tight_bend=math.nan,
        reynolds=1e5,
        friction_factor=0.02,
        roughness=0.0,
    )
