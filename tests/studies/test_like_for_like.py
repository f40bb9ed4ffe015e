"""Like for like: which alternative costs the least does not hang on whose center-to-end lengths happen to be listed."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import pytest

from tests.studies.support import again, scenario
from ventsize.catalog.folders import shipped_table
from ventsize.catalog.properties import Nominal
from ventsize.check.inputs import Inputs, prepare
from ventsize.jobfile.job import PipePiece, job_from_text
from ventsize.studies.options import Search
from ventsize.studies.options.choices import Choices, RunChoices
from ventsize.studies.options.ranking import look, with_ranges
from ventsize.studies.pricing import Pricer
from ventsize.studies.pricing.files import read_prices
from ventsize.studies.takeoff.practice import EndToCenter, Practice, read_practice

INCH = 0.0254
JOBS = 200
KINDS = ("elbow-90-short", "elbow-90-long", "elbow-45")
BORES = {2: 2.049, 3: 3.042, 4: 3.998}

JOB = """
title = "Job"
[[appliance]]
name = "furnace"
fuel = "natural gas"
rate = [{{ name = "high", input = "80 kBtu/h", excess_air = 0.35, flue_temperature = "110 degF" }}]
[[run]]
name = "vent"
carries = "flue gas"
between = ["furnace", "outdoors"]
size = "{size} in"
material = "pvc-40"
pieces = [ {pieces}, {{ fitting = "terminal-open" }} ]
"""


@pytest.fixture
def practice(monkeypatch: pytest.MonkeyPatch, tmp_path: object) -> Practice:
    """The shipped figures, whatever the user's own are."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    return read_practice()


def alternatives(chance: random.Random) -> Iterator[tuple[Inputs, float]]:
    """One route with elbows of each kind, two 45s for a 90 among them; and the bore of its pipe [m]."""
    size = chance.choice((2, 3, 4))
    lengths = [f"{chance.randrange(2, 24)} ft {chance.randrange(0, 12)} in" for _ in range(chance.randrange(2, 6))]
    for kind in KINDS:
        elbow = ", ".join([f"{{ fitting = '{kind}' }}"] * (2 if kind == "elbow-45" else 1))
        ways = ("up", "east", "north", "east", "up")
        pipes = [f"{{ pipe = '{length}', heading = '{way}' }}" for length, way in zip(lengths, ways, strict=False)]
        pieces = f", {elbow}, ".join(pipes)
        yield prepare(job_from_text(JOB.format(size=size, pieces=pieces), file="job"), file="job"), BORES[size] * INCH


def all_set(practice: Practice, size: float, chance: random.Random | None) -> Practice:
    """Every kind's length set for every material: to the middle figure, or to any within its range."""
    ends = []
    for kind in KINDS:
        for end in practice.ends:
            if end.fitting == kind and end.size is None:
                reach = end.reach(BORES[size] * INCH)
                length = reach.length if chance is None else chance.uniform(reach.low, reach.high)
                nominal = Nominal(size * INCH, f"{size} in")
                ends.append(EndToCenter(fitting=kind, size=nominal, length=length, source="measured by the test"))
    return replace(practice, ends=tuple(ends))


def test_ranks_of_200_jobs(practice: Practice) -> None:
    """Where the cost ranges of two alternatives do not meet, no lengths within them turn their rank round.

    Short elbows are listed by size in takeoff.toml and the others only estimated; here all are set, once to the middle
    of the range and once to any figure in it.
    """
    practice = replace(practice, ends=tuple(end for end in practice.ends if end.size is None))
    prices = read_prices(shipped_table("invented-prices.toml"))
    chance = random.Random(18)
    pricer = Pricer(prices, practice)
    decided = turned = 0
    for _ in range(JOBS):
        jobs = list(alternatives(chance))
        size = round(jobs[0][0].graph.runs["vent"].first_section.nominal / INCH)
        ranged = [pricer.cost(job, ranged=True) for job, _ in jobs]
        assert all(cost.known is not None for cost in ranged)
        middle = Pricer(prices, all_set(practice, size, None))
        assert [middle.cost(job).total for job, _ in jobs] == [cost.total for cost in ranged]
        anywhere = Pricer(prices, all_set(practice, size, chance))
        set_to = [anywhere.cost(job).total for job, _ in jobs]
        for a, b in combinations(range(len(jobs)), 2):
            if not ranged[a].may_equal(ranged[b]):
                decided += 1
                turned += (ranged[a].total < ranged[b].total) != (set_to[a] < set_to[b])
    assert turned == 0 and decided > JOBS  # of three pairs each: the ranges are no excuse for saying nothing


def test_a_rank_within_the_range_says_so(practice: Practice) -> None:
    """Options by cost name how many of the first may each be the cheapest; with measured lengths none is open."""
    inputs = scenario("old-two-inch-run")
    vent = inputs.job.runs[0]
    pieces = tuple(replace(p, pipe=10.75 * 12 * INCH) if isinstance(p, PipePiece) else p for p in vent.pieces or ())
    inputs = again(inputs, replace(inputs.job, runs=(replace(vent, pieces=(*pieces[:5], pieces[-1])),)))
    prices = read_prices(shipped_table("invented-prices.toml"))
    run = inputs.job.runs[0].name
    choices = Choices(runs=(RunChoices(run=run, sizes=(3 * INCH,), elbows=("short", "long"), each_elbow=True),))
    wide = replace(practice, ends=tuple(end for end in practice.ends if end.size is None))
    open_search = Search(inputs, choices, pricer=Pricer(prices, wide))
    found = with_ranges(look(open_search, order="cost"), open_search)
    assert found.undecided > 1
    first = [option.cost for option in found.acceptable[: found.undecided]]
    assert all(cost and first[0] and cost.may_equal(first[0]) for cost in first)
    measured = tuple(replace(end, bores_low=None, bores_high=None) for end in practice.ends if end.size is None)
    known = Search(inputs, choices, pricer=Pricer(prices, replace(practice, ends=measured)))
    assert with_ranges(look(known, order="cost"), known).undecided == 0
