"""Where couplings go: a straight longer than stock is joined where that saves a stock length."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from ventsize.studies.takeoff.cutting import CutPlan

SIXTEENTH = 0.0254 / 16  # m; one piece of a pair is whole ones long, so that a tape can measure it
_SPARE = 6 * SIXTEENTH  # left in a stock length beside one of a pair, so that nothing hangs on a hair's breadth
_MOST, _NODES = 200, 200  # pieces times stock lengths, and nodes of the solver; what takes more is not proven


def joined(
    lengths: list[float],
    pairs: Sequence[int],
    *,
    plan_of: Callable[[list[float]], CutPlan],
    stock: float,
    kerf: float,
    least: float,
) -> tuple[CutPlan, list[float]]:
    """The cut list with the fewest stock lengths, and the pieces in their order as it has them [m].

    pairs: where in `lengths` the first of two pieces stands that a coupling joins; only their sum is given.
    plan_of: cuts pieces of given lengths. stock: the longest that is sold [m]. kerf: width of a saw cut [m].
    least: shortest piece beside a coupling [m].
    """
    plan, room = plan_of(lengths), stock + kerf
    bound = math.ceil((math.fsum(lengths) + kerf * len(lengths)) / room - 1e-9) if pairs else plan.number
    while plan.number > bound:
        move = partial(_moved, lengths, number=plan.number - 1, stock=stock, kerf=kerf, least=least)
        status, moved = move(pairs)
        if moved is None:
            if status != _IMPOSSIBLE:
                plan = replace(plan, fewest=False, least_waste=False, least_number=bound)
            break
        alone = (move([pair])[1] for pair in pairs if len(pairs) > 1)
        lengths = next((one for one in alone if one is not None), moved)  # no more couplings are moved than it takes
        plan = plan_of(lengths)
    return plan, lengths


_IMPOSSIBLE = 2  # as the solver says it


def _moved(
    lengths: list[float], pairs: Sequence[int], *, number: int, stock: float, kerf: float, least: float
) -> tuple[int, list[float] | None]:
    """The pieces, these pairs cut so that all comes from so many stock lengths; None where none are found, and why.

    Branch and bound (HiGHS). Columns, one for each stock length: a piece lies in it; one of a pair does; its length.
    """
    if (len(lengths) - len(pairs)) * number > _MOST:
        return 0, None
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    beside = {index for pair in pairs for index in (pair, pair + 1)}
    fixed = sorted((length for index, length in enumerate(lengths) if index not in beside), reverse=True)
    sums = [lengths[pair] + lengths[pair + 1] for pair in pairs]
    many, two = len(fixed), len(pairs)
    shape = (many + 2 * two, number)
    rows: list[tuple[np.ndarray, float, float]] = []
    for index, total in enumerate((*[1.0] * many, *[2.0] * two, *sums)):
        row = np.zeros(shape)
        row[index] = 1.0
        rows.append((row, total, total))
    for place in range(number):
        row = np.zeros(shape)
        row[:many, place] = np.array(fixed) + kerf
        row[many : many + two, place] = kerf + _SPARE
        row[many + two :, place] = 1.0
        rows.append((row, -np.inf, stock + kerf))
        for index, total in enumerate(sums):
            for sign, end in ((1.0, min(least, total / 2)), (-1.0, stock)):  # a length only where one of the pair lies
                row = np.zeros(shape)
                row[many + two + index, place], row[many + index, place] = sign, -sign * end
                rows.append((row, 0.0, np.inf))
    upper = np.ones(shape)
    upper[:many] = np.tri(many, number)  # stock lengths are alike: the first piece lies in the first, and so on
    upper[many + two :] = stock
    whole = np.ones(shape)
    whole[many + two :] = 0.0
    answer = milp(
        np.zeros(whole.size),
        integrality=whole.ravel(),
        bounds=Bounds(0.0, upper.ravel()),
        constraints=LinearConstraint(
            np.array([row.ravel() for row, _, _ in rows]), *zip(*(r[1:] for r in rows), strict=True)
        ),
        options={"node_limit": _NODES},
    )
    if answer.x is None:
        return answer.status, None
    made = list(lengths)
    for pair, total, row in zip(pairs, sums, answer.x.reshape(shape)[many + two :], strict=True):
        made[pair] = math.ceil(row.max() / SIXTEENTH - 1e-6) * SIXTEENTH
        made[pair + 1] = total - made[pair]
    return answer.status, made
