"""Losses where runs meet: a tee or a wye, streams joining or parting.

Coefficients stand on the velocity of the combined stream, and fall on total pressure between the leg named and
the combined leg. They follow the split of the flow, and can be negative: the faster stream pulls the slower.
Source: Crane TP-410, 2009, with its errata, as in `fluids`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fluids import fittings as published

STEPPED_BELOW = 75.0  # degrees; fluids takes a branch of less as a wye, of more as a tee
NARROW_BRANCH = 0.35  # ratio of areas, branch over run, at which Crane changes constants

SOURCE = "Crane Co., Flow of Fluids, TP-410, 2009, with its errata"
SUDDEN_SOURCE = "sudden change of size: Borda and Carnot where it widens, Crane TP-410 where it narrows"
HEAD_ON_SOURCE = "Idelchik, Handbook of Hydraulic Resistance, symmetric tee (from memory, check before use)"
HEAD_ON_PARTING = 1.5  # Idelchik's factor for a threaded tee; 0.3 for a smooth one [from memory]


@dataclass(frozen=True, slots=True)
class JunctionLoss:
    """Loss coefficients of the two legs that meet the combined one, on the combined velocity [-]."""

    k_run: float
    k_branch: float


def merging_loss(
    *, angle: float, run_bore: float, branch_bore: float, run_flow: float, branch_flow: float
) -> JunctionLoss:
    """Two streams joining: from the straight leg (run) and from the branch into the leg in line with the run.

    angle: between branch and run, 90 degrees for a tee [rad]
    run_bore: inside diameter of the run, before and after the junction alike [m]
    branch_bore: inside diameter of the branch, no more than the run's [m]
    run_flow, branch_flow: coming from each, zero or more, in one unit (volume or mass)

    Crane steps from 0.9 (1 - q) to 0.55 at q = branch share 0.4, up by 1.9 %. Here the larger of the two is
    taken, so that the loss is continuous: they meet at q = 0.389, and differ from Crane only between.

    Raises ValueError for bores that are not above zero and flows below zero.
    """
    degrees = _checked(angle, run_bore, branch_bore, run_flow, branch_flow)
    if run_flow + branch_flow == 0:
        return JunctionLoss(0.0, 0.0)
    arguments = _arguments(degrees, run_bore, branch_bore, run_flow, branch_flow)
    k_branch = float(published.K_branch_converging_Crane(**arguments))
    share = branch_flow / (run_flow + branch_flow)
    if (branch_bore / run_bore) ** 2 > NARROW_BRANCH and share <= 0.4:
        falling = 0.9 * (1.0 - share)
        k_branch *= max(falling, 0.55) / falling
    return JunctionLoss(
        k_run=float(published.K_run_converging_Crane(**arguments)),
        k_branch=k_branch,
    )


def parting_loss(
    *, angle: float, run_bore: float, branch_bore: float, run_flow: float, branch_flow: float
) -> JunctionLoss:
    """A stream parting into the straight leg (run) and the branch. Arguments as for `merging_loss`.

    Crane's factor for a wye's branch steps at a branch share of 0.4 (narrow branch) or 0.6: up from 0.82 to
    0.85, down from 0.64 to 0.6. Here the larger of the two is taken on both sides, so that the loss is
    continuous.
    """
    degrees = _checked(angle, run_bore, branch_bore, run_flow, branch_flow)
    if run_flow + branch_flow == 0:
        return JunctionLoss(0.0, 0.0)
    arguments = _arguments(degrees, run_bore, branch_bore, run_flow, branch_flow)
    k_branch = float(published.K_branch_diverging_Crane(**arguments))
    share = branch_flow / (run_flow + branch_flow)
    if degrees < STEPPED_BELOW:
        narrow = (branch_bore / run_bore) ** 2 <= NARROW_BRANCH
        falling, level, step = (1.1 - 0.7 * share, 0.85, 0.4) if narrow else (1.0 - 0.6 * share, 0.6, 0.6)
        used = falling if share <= step else level
        k_branch *= max(falling, level) / used
    return JunctionLoss(
        k_run=float(published.K_run_diverging_Crane(**arguments)),
        k_branch=k_branch,
    )


def head_on_loss(*, branch_bore: float, run_bore: float, share: float, merging: bool) -> float:
    """Two streams meeting head-on and leaving by the branch, or one from the branch parting to both sides.

    branch_bore, run_bore: inside diameters of the branch, which carries it all, and of the leg asked about [m]
    share: of the flow that this leg carries, 0 to 1 [-]
    merging: whether the streams meet; else they part

    The coefficient stands on the branch's velocity. Of the two factors for parting the larger is taken. For the
    branch of a wye, which turns one of the streams by less, it serves as well, on the high side.

    Raises ValueError for bores not above zero. Source: Idelchik, symmetric tees; from memory.
    """
    if not (branch_bore > 0 and run_bore > 0):
        raise ValueError(f"bores {branch_bore} and {run_bore} are not both above zero")
    area_ratio = (branch_bore / run_bore) ** 2
    if merging:
        return 1.0 + area_ratio**2 * (1.0 + 3.0 * (share**2 - share))
    return 1.0 + HEAD_ON_PARTING * (area_ratio * share) ** 2


def _checked(angle: float, run_bore: float, branch_bore: float, run_flow: float, branch_flow: float) -> float:
    if not (run_bore > 0 and branch_bore > 0):
        raise ValueError(f"bores {run_bore} and {branch_bore} are not both above zero")
    if not (run_flow >= 0 and branch_flow >= 0):
        raise ValueError(f"flows {run_flow} and {branch_flow} are not both zero or more")
    return math.degrees(angle)


def _arguments(
    degrees: float, run_bore: float, branch_bore: float, run_flow: float, branch_flow: float
) -> dict[str, float]:
    return {
        "D_run": run_bore,
        "D_branch": branch_bore,
        "Q_run": run_flow,
        "Q_branch": branch_flow,
        "angle": degrees,
    }
