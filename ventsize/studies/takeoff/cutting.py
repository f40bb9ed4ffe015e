"""Cutting lengths from stock: the fewest stock lengths, then the least waste, with what is proven of it.

One-dimensional cutting stock over every way to cut a stock length. The ways are all listed, so that the answer is the
best there is, not the best of a guess: by trying them all where pieces are few, as in a vent, else by branch and bound
(HiGHS, through scipy.optimize.milp). Where they are too many or time runs out, a plain packing is given and the result
says that it is not proven.
"""

from __future__ import annotations

import math
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from operator import itemgetter, sub

GRID = 1e-7  # m; sixteenths of an inch and tenths of a millimeter are both whole numbers of it
# Ways of cutting that are listed. With more the solver heeds its time limit late; the packing is then plain.
MOST_WAYS = 6_000
MOST_LENGTHS = 100  # that differ; with more the ways are too many in any case
MOST_TRIED = 20_000  # ways times what may be left to cut; with more branch and bound is quicker
_TO_MILLIMETERS = 1e3 * GRID
_SLACK = 0.01  # mm, by which a later aim may give way on an earlier one


@dataclass(frozen=True, slots=True, kw_only=True)
class CutBar:
    """A stock length cut in one way, `count` times.

    stock: as bought [m]. pieces: cut from it, longest first [m]. offcut: what is left in one piece [m].
    usable: whether the offcut is long enough to keep.
    over: what the last piece stays too long, since a slice so thin cannot be sawn off [m].
    """

    stock: float
    pieces: tuple[float, ...]
    offcut: float
    usable: bool
    count: int
    over: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """How pieces are cut from stock.

    number: of stock lengths. least_number: no plan has fewer than that.
    bought: length of all stock [m]. kept: of it, offcuts long enough to keep [m].
    waste: of it, neither a piece nor kept; saw cuts included [m].
    fewest: whether it is proven that no plan has fewer stock lengths.
    least_waste: whether it is proven that none of as many has less waste.
    too_long: pieces longer than any stock [m]; they are not in the plan.
    """

    bars: tuple[CutBar, ...]
    number: int
    least_number: int
    bought: float
    kept: float
    waste: float
    fewest: bool
    least_waste: bool
    too_long: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to cut one stock length: how many of each length; all lengths in steps of the grid."""

    stock: int
    counts: tuple[int, ...]
    offcut: int
    waste: int
    over: int = 0


@dataclass(frozen=True, slots=True)
class _Task:
    lengths: tuple[int, ...]  # each once, longest first
    wanted: tuple[int, ...]
    stocks: tuple[int, ...]  # longest first
    kerf: int
    usable: int
    thinnest: int
    most: int  # pieces from one stock length

    def way(self, stock: int, counts: tuple[int, ...]) -> _Way:
        """The way with its offcut: the last cut is made only where something is left to cut off."""
        number = sum(counts)
        pieces = sum(n * length for n, length in zip(counts, self.lengths, strict=True))
        offcut = max(stock - pieces - number * self.kerf, 0)
        if offcut < self.thinnest:  # the last cut is not made
            return _Way(stock, counts, 0, stock - pieces, max(stock - pieces - (number - 1) * self.kerf, 0))
        kept = offcut if offcut >= self.usable else 0
        return _Way(stock, counts, offcut, stock - pieces - kept)


def cut_list(
    pieces: Sequence[float],
    *,
    stocks: Sequence[float],
    kerf: float = 0.0,
    usable: float = 0.0,
    thinnest: float = 0.0,
    most: int | None = None,
    seconds: float = 10.0,
) -> CutPlan:
    """The plan with the fewest stock lengths; of those the one with least waste; of those the shortest stock.

    pieces: lengths wanted [m]. stocks: lengths sold, any number of each [m]. kerf: width of a saw cut [m].
    usable: shortest offcut worth keeping [m].
    thinnest: slice that can be sawn off an end [m]. most: pieces from one stock length, if that is limited.
    seconds: after about which the best plan found is given as not proven.

    Raises ValueError where a length is not above zero or there is no stock.
    """
    _check(pieces, stocks, kerf, usable)
    longest = max(map(_steps, stocks))
    wanted = Counter(_steps(piece) for piece in pieces)
    too_long = tuple(piece for piece in pieces if _steps(piece) > longest)
    lengths = tuple(sorted((length for length in wanted if length <= longest), reverse=True))
    task = _Task(
        lengths,
        tuple(wanted[length] for length in lengths),
        tuple(sorted(set(map(_steps, stocks)), reverse=True)),
        _steps(kerf),
        _steps(usable),
        max(_steps(thinnest), 1),
        len(pieces) if most is None else most,
    )
    if not lengths:
        return _plan(task, {}, 0, fewest=True, least_waste=True, too_long=too_long)
    ways = _all_ways(task)
    packed = _packed(task)
    used, bound, least_waste = (ways and (_tried(task, ways) or _solve(task, ways, seconds))) or (packed, 0, False)
    if sum(packed.values()) < sum(used.values()):  # the solver was stopped early
        used, least_waste = packed, False
    least = max(_least_number(task), bound)
    fewest = sum(used.values()) == least
    return _plan(task, used, least, fewest=fewest, least_waste=fewest and least_waste, too_long=too_long)


def _check(pieces: Sequence[float], stocks: Sequence[float], kerf: float, usable: float) -> None:
    if not stocks:
        raise ValueError("there is no stock length to cut from")
    for what, values in (("piece", pieces), ("stock length", stocks)):
        for value in values:
            if not (math.isfinite(value) and _steps(value) > 0):
                raise ValueError(f"a {what} of {value} m cannot be cut; expected more than zero")
    for what, value in (("saw cut", kerf), ("usable offcut", usable)):
        if not (math.isfinite(value) and value >= 0):
            raise ValueError(f"a {what} of {value} m; expected zero or more")


def on_grid(length: float) -> float:
    """A length as a plan gives it [m]: to the grid, so that the same length is the same number."""
    return _meters(_steps(length))


def _steps(length: float) -> int:
    return round(length / GRID)


def _meters(steps: int) -> float:
    return round(steps * GRID, 7)


def _least_number(task: _Task) -> int:
    """No plan has fewer: the pieces and the cuts between them fill so many of the longest stock."""
    needed = sum(n * (length + task.kerf) for n, length in zip(task.wanted, task.lengths, strict=True))
    return max(-(-needed // (task.stocks[0] + task.kerf)), -(-sum(task.wanted) // task.most))


def _all_ways(task: _Task) -> list[_Way] | None:
    """Every way to cut every stock, or None where they are too many."""
    if len(task.lengths) > MOST_LENGTHS:
        return None
    ways: list[_Way] = []
    for stock in task.stocks:
        for counts in _counts(task, 0, stock + task.kerf):
            if 0 < sum(counts) <= task.most:
                ways.append(task.way(stock, counts))
            if len(ways) > MOST_WAYS:
                return None
    return ways


def _counts(task: _Task, index: int, room: int) -> Iterator[tuple[int, ...]]:
    """Every choice of so many of each length from `index` on that fits. room: one cut more than there is."""
    if index == len(task.lengths):
        yield ()
        return
    each = task.lengths[index] + task.kerf
    for number in range(min(task.wanted[index], room // each), -1, -1):
        for rest in _counts(task, index + 1, room - number * each):
            yield (number, *rest)


def _tried(task: _Task, ways: list[_Way]) -> tuple[dict[_Way, int], int, bool] | None:
    """As `_solve`, by trying every way at everything that may be left to cut; None where that is too much."""
    if len(ways) * math.prod(number + 1 for number in task.wanted) > MOST_TRIED:
        return None
    with_first: list[list[_Way]] = [[] for _ in task.lengths]
    for way in ways:
        with_first[_first(way.counts)].append(way)

    @cache
    def best(left: tuple[int, ...]) -> tuple[tuple[int, int, int], tuple[_Way, ...]]:
        """Stock lengths, waste and stock that what is left takes at least, and its ways."""
        if not any(left):
            return (0, 0, 0), ()
        made = []
        for way in with_first[_first(left)]:
            rest = tuple(map(sub, left, way.counts))
            if min(rest) >= 0:
                (number, waste, stock), others = best(rest)
                made.append(((number + 1, waste + way.waste, stock + way.stock), (way, *others)))
        return min(made, key=itemgetter(0))

    (number, _, _), used = best(task.wanted)
    return dict(Counter(used)), number, True


def _first(counts: tuple[int, ...]) -> int:
    return next(index for index, count in enumerate(counts) if count)


def _solve(task: _Task, ways: list[_Way], seconds: float) -> tuple[dict[_Way, int], int, bool] | None:
    """The ways used, a proven least number, and whether the waste is proven the least; None without a plan."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array, vstack

    end = time.monotonic() + seconds
    rows = csr_array(np.array([way.counts for way in ways], dtype=float).T)
    matrix, low, high = rows, list(map(float, task.wanted)), list(map(float, task.wanted))
    aims = (
        np.ones(len(ways)),
        np.array([way.waste * _TO_MILLIMETERS for way in ways]),
        np.array([way.stock * _TO_MILLIMETERS for way in ways]),
    )
    used: dict[_Way, int] | None = None
    bound, proven = 0, 0
    for aim in aims:
        left = end - time.monotonic()
        if left <= 0:
            break
        answer = milp(
            aim,
            integrality=np.ones(len(ways)),
            bounds=Bounds(0, np.inf),
            constraints=LinearConstraint(matrix, low, high),
            options={"time_limit": left, "mip_rel_gap": 0.0},
        )
        if used is None and answer.mip_dual_bound is not None and math.isfinite(answer.mip_dual_bound):
            bound = math.ceil(answer.mip_dual_bound - 1e-6)
        if answer.x is None:
            break
        found = {way: round(n) for way, n in zip(ways, answer.x, strict=True) if round(n)}
        if not _as_wanted(task, found):  # a rounding of the solver's must never become a wrong cut
            break
        used = found
        if answer.status != 0:
            break
        proven += 1
        reached = sum(float(value) * n for value, n in zip(aim, np.rint(answer.x), strict=True))
        matrix = vstack([matrix, csr_array(aim[np.newaxis, :])])
        low, high = [*low, -np.inf], [*high, reached + _SLACK]
    return None if used is None else (used, bound, proven > 1)


def _as_wanted(task: _Task, used: dict[_Way, int]) -> bool:
    made = [0] * len(task.lengths)
    for way, count in used.items():
        for index, number in enumerate(way.counts):
            made[index] += number * count
    return tuple(made) == task.wanted


def _packed(task: _Task) -> dict[_Way, int]:
    """A plain packing: each piece, longest first, into the first length with room; then the shortest stock."""
    rooms: list[int] = []
    held: list[list[int]] = []
    for index, (length, number) in enumerate(zip(task.lengths, task.wanted, strict=True)):
        each = length + task.kerf
        for _ in range(number):
            fits = (p for p, room in enumerate(rooms) if room >= each and sum(held[p]) < task.most)
            place = next(fits, None)
            if place is None:
                place = len(rooms)
                rooms.append(task.stocks[0] + task.kerf)
                held.append([0] * len(task.lengths))
            rooms[place] -= each
            held[place][index] += 1
    used: Counter[_Way] = Counter()
    for room, counts in zip(rooms, held, strict=True):
        taken = task.stocks[0] - room  # without the cut after the last piece
        stock = min(stock for stock in task.stocks if stock >= taken)
        used[task.way(stock, tuple(counts))] += 1
    return dict(used)


def _plan(
    task: _Task, used: dict[_Way, int], least: int, *, fewest: bool, least_waste: bool, too_long: tuple[float, ...]
) -> CutPlan:
    order = sorted(used, key=lambda way: (-way.stock, way.offcut, tuple(-n for n in way.counts)))
    return CutPlan(
        bars=tuple(
            CutBar(
                stock=_meters(way.stock),
                pieces=tuple(
                    _meters(length) for length, n in zip(task.lengths, way.counts, strict=True) for _ in range(n)
                ),
                offcut=_meters(way.offcut),
                usable=bool(way.offcut) and way.offcut >= task.usable,
                count=used[way],
                over=_meters(way.over),
            )
            for way in order
        ),
        number=sum(used.values()),
        least_number=least,
        bought=_meters(sum(way.stock * n for way, n in used.items())),
        kept=_meters(sum(way.offcut * n for way, n in used.items() if way.offcut >= task.usable)),
        waste=_meters(sum(way.waste * n for way, n in used.items())),
        fewest=fewest,
        least_waste=least_waste,
        too_long=too_long,
    )
