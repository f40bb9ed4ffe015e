"""The cut list: right on published instances, the best there is on small ones, and honest about what is proven."""

from __future__ import annotations

import itertools
import random
from collections import Counter
from collections.abc import Iterator

import pytest

from ventsize.studies.takeoff import cutting
from ventsize.studies.takeoff.couplings import joined
from ventsize.studies.takeoff.cutting import CutPlan, cut_list

MM = 1e-3
FOOT, INCH = 0.3048, 0.0254

# Published instances: (stock, {length: number}, least number of stock lengths). Optima from memory; each is also
# held against the bound that needs no program, the sum of lengths over the stock, where that decides.
PUBLISHED = {
    # The instance of 13 paper widths that encyclopedias print under "cutting stock problem": 73 rolls, 0.401 % waste.
    "paper rolls": (
        5600,
        dict(
            zip(
                (1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200),
                (22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20),
                strict=True,
            )
        ),
        73,
    ),
    # V. Chvatal, Linear Programming (1983), chapter 13: the relaxation is 452.25, the optimum 453.
    "Chvatal": (100, {45: 97, 36: 610, 31: 395, 14: 211}, 453),
    # R. Fourer, D. Gay, B. Kernighan, AMPL, 2nd ed. (2003), section 15.3: the relaxation is 46.25, the optimum 47.
    "Fourer, Gay, Kernighan": (110, {20: 48, 45: 35, 50: 24, 55: 10, 75: 8}, 47),
}


def spread(wanted: dict[int, int], unit: float = MM) -> list[float]:
    """Every piece by itself [m]."""
    return [length * unit for length, number in wanted.items() for _ in range(number)]


@pytest.mark.parametrize("name", PUBLISHED)
def test_published_instances(name: str) -> None:
    """The least number of stock lengths is the published one, and is said to be proven."""
    stock, wanted, best = PUBLISHED[name]
    plan = cut_list(spread(wanted), stocks=[stock * MM], usable=1e3)
    assert (plan.number, plan.fewest) == (best, True)
    assert made(plan) == Counter({round(length, 6): n for length, n in ((k * MM, v) for k, v in wanted.items())})
    assert plan.least_number == best >= sum(k * v for k, v in wanted.items()) / stock


def test_published_waste() -> None:
    """The 73 rolls of the paper-width instance waste 0.401 %, as published."""
    stock, wanted, _ = PUBLISHED["paper rolls"]
    plan = cut_list(spread(wanted), stocks=[stock * MM], usable=1e3)
    assert plan.waste / plan.bought == pytest.approx(0.00401, abs=5e-6)


def made(plan: CutPlan) -> Counter[float]:
    """How many of each length the plan cuts."""
    return Counter(round(piece, 6) for bar in plan.bars for piece in bar.pieces for _ in range(bar.count))


def partitions(pieces: tuple[int, ...]) -> Iterator[list[list[int]]]:
    """Every way to put pieces into groups."""
    if not pieces:
        yield []
        return
    first, rest = pieces[0], pieces[1:]
    for groups in partitions(rest):
        yield [[first], *groups]
        for index in range(len(groups)):
            yield [*groups[:index], [first, *groups[index]], *groups[index + 1 :]]


def best_of_all(pieces: tuple[int, ...], stocks: tuple[int, ...], kerf: int, usable: int) -> tuple[int, int, int]:
    """By trying every grouping and every stock: the least (number, waste, bought), in millimeters."""
    best: tuple[int, int, int] | None = None
    for groups in partitions(pieces):
        options = []
        for group in groups:
            fits = [s for s in stocks if sum(group) + (len(group) - 1) * kerf <= s]
            options.append([(waste_of(s, group, kerf, usable), s) for s in fits])
        if not all(options):
            continue
        waste = sum(min(o)[0] for o in options)
        bought = sum(min(o)[1] for o in options)
        best = min(best or (len(groups), waste, bought), (len(groups), waste, bought))
    assert best is not None
    return best


def waste_of(stock: int, group: list[int], kerf: int, usable: int) -> int:
    """What is lost of a stock length: the cuts, and a rest too short to keep."""
    rest = stock - sum(group) - len(group) * kerf
    return stock - sum(group) - (rest if rest > 0 and rest >= usable else 0)


@pytest.mark.parametrize("seed", range(40))
@pytest.mark.parametrize("most_tried", [cutting.MOST_TRIED, 0], ids=["tried", "branch and bound"])
def test_small_ones_solved_by_trying_everything(seed: int, most_tried: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Seven pieces, one to three stock lengths, saw cuts and usable offcuts: number, waste and stock are the least."""
    monkeypatch.setattr(cutting, "MOST_TRIED", most_tried)
    rng = random.Random(seed)
    stocks = tuple(rng.sample((900, 1500, 2100, 3000, 3050), rng.randint(1, 3)))
    pieces = tuple(rng.randint(60, max(stocks) * rng.choice((4, 7, 10)) // 10) for _ in range(rng.randint(2, 7)))
    kerf, usable = rng.choice((0, 3, 5)), rng.choice((0, 150, 600, 10_000))
    plan = cut_list([p * MM for p in pieces], stocks=[s * MM for s in stocks], kerf=kerf * MM, usable=usable * MM)
    number, waste, bought = best_of_all(pieces, stocks, kerf, usable)
    assert plan.fewest and plan.least_waste
    assert plan.number == number
    assert (plan.waste, plan.bought) == (pytest.approx(waste * MM, abs=1e-6), pytest.approx(bought * MM, abs=1e-6))
    assert made(plan) == Counter(round(p * MM, 6) for p in pieces)


@pytest.mark.parametrize("seed", range(30))
def test_couplings_are_moved_only_for_fewer_lengths(seed: int) -> None:
    """Each straight keeps its length and its couplings; the fewest stock lengths by trying where each may go."""
    rng = random.Random(seed)
    stock, kerf = 120, 0.0625
    fixed = [rng.randint(20, 110) for _ in range(rng.randint(2, 4))]
    long = [rng.randint(125, 200) for _ in range(rng.choice((1, 1, 2)))]
    pieces = [*fixed, *(part for total in long for part in (stock, total - stock))]
    plan, moved = joined(
        [piece * INCH for piece in pieces],
        range(len(fixed), len(pieces), 2),
        plan_of=lambda lengths: cut_list(lengths, stocks=[stock * INCH], kerf=kerf * INCH, usable=12 * INCH),
        stock=stock * INCH,
        kerf=kerf * INCH,
        least=12 * INCH,
    )
    assert moved[: len(fixed)] == [piece * INCH for piece in fixed]
    for at, total in enumerate(long):
        first, second = moved[len(fixed) + 2 * at :][:2]
        assert first + second == pytest.approx(total * INCH) and min(first, second) >= 5 * INCH
    choices = [[(first, total - first) for first in range(max(12, total - stock), total // 2 + 1)] for total in long]
    least = min(fewest([*fixed, *itertools.chain(*pairs)], stock, kerf) for pairs in itertools.product(*choices))
    assert plan.number <= fewest(pieces, stock, kerf) and plan.number <= least


def fewest(pieces: list[int], stock: int, kerf: float) -> int:
    """Stock lengths that the pieces take, each put into every one with room."""
    best = len(pieces)

    def put(index: int, rooms: list[float]) -> None:
        nonlocal best
        if len(rooms) >= best:
            return
        if index == len(pieces):
            best = len(rooms)
            return
        each = ordered[index] + kerf
        for place in {room: n for n, room in enumerate(rooms) if room >= each}.values():
            put(index + 1, [*rooms[:place], rooms[place] - each, *rooms[place + 1 :]])
        put(index + 1, [*rooms, stock + kerf - each])

    ordered = sorted(pieces, reverse=True)
    put(0, [])
    return best


def test_a_saw_cut_more_needs_a_length_more() -> None:
    """Two halves come from one length only with a saw that takes nothing; three pieces need two cuts, not three."""
    halves = [5 * FOOT, 5 * FOOT]
    assert cut_list(halves, stocks=[10 * FOOT]).number == 1
    assert cut_list(halves, stocks=[10 * FOOT], kerf=INCH / 16).number == 2
    thirds = [(40 - 2 / 24) * INCH] * 3
    assert cut_list(thirds, stocks=[120 * INCH], kerf=INCH / 8).number == 1


def test_a_piece_longer_than_stock_is_left_out_and_said() -> None:
    """What cannot be cut is never quietly cut."""
    plan = cut_list([11 * FOOT, 3 * FOOT], stocks=[10 * FOOT])
    assert plan.too_long == (11 * FOOT,) and plan.number == 1


def test_too_many_ways_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plain packing is not called the least unless the sum of lengths shows that it is."""
    monkeypatch.setattr(cutting, "MOST_WAYS", 2)
    plan = cut_list([6.0, 6.0, 6.0, 4.5, 4.5, 3.0], stocks=[10.0], kerf=0.0)
    assert not plan.least_waste and plan.least_number <= plan.number
    assert made(plan) == Counter([6.0, 6.0, 6.0, 4.5, 4.5, 3.0])
    assert all(sum(bar.pieces) <= bar.stock + 1e-9 for bar in plan.bars)


def test_many_lengths_are_packed() -> None:
    """Thousands of different pieces have a plan at once, and nothing is said to be proven that is not."""
    pieces = [0.5 + number / 4000 for number in range(3000)]
    plan = cut_list(pieces, stocks=[3.048, 6.096], kerf=0.0015)
    assert made(plan) == Counter(round(piece, 6) for piece in pieces)
    assert plan.least_number <= plan.number and not plan.least_waste


def test_no_time_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stopped at once there is still a plan, and it does not claim more than the bound shows."""
    monkeypatch.setattr(cutting, "MOST_TRIED", 0)
    plan = cut_list([6.0, 6.0, 6.0], stocks=[10.0], seconds=0.0)
    assert (plan.number, plan.least_number, plan.fewest, plan.least_waste) == (3, 2, False, False)


@pytest.mark.parametrize(("pieces", "stocks"), list(itertools.product(([0.0], [float("nan")], [-1.0]), ([3.0],))))
def test_lengths_that_cannot_be(pieces: list[float], stocks: list[float]) -> None:
    """No length of nothing."""
    with pytest.raises(ValueError, match="expected more than zero"):
        cut_list(pieces, stocks=stocks)
