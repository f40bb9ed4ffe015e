"""Options: each says what a check of the same job says, and the choice made is one edit of the job."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from tests.studies.support import again, assert_same, scenario
from ventsize.catalog.folders import shipped_table
from ventsize.check.inputs import Inputs
from ventsize.jobfile.document import parse_toml
from ventsize.jobfile.job import FittingPiece, Insulation, Job, PipePiece, job_from_data
from ventsize.quantity import Dimension, parse
from ventsize.studies.options import Option, Search, TooManyOptions, job_with
from ventsize.studies.options.choices import Choices, Route, RunChoices, default_choices
from ventsize.studies.options.combining import bases_of
from ventsize.studies.options.ranking import Ranking, look
from ventsize.studies.pricing import Pricer
from ventsize.studies.pricing.files import read_prices
from ventsize.studies.pricing.prices import cost
from ventsize.studies.takeoff import takeoff
from ventsize.studies.takeoff.practice import read_practice

SAMPLED = 1000
INCHES = {text: parse(text, Dimension.LENGTH) for text in ("2 in", "2 1/2 in", "3 in", "4 in")}


def wide(inputs: Inputs) -> Choices:
    """Every kind of choice for the vent, and a few for the others."""
    first, *others = inputs.job.runs
    route = Route(
        name="shorter", run=replace(first, pieces=None, straight=6.0, fittings={"elbow-90-long": 2}, rise=None)
    )
    vent = RunChoices(
        run=first.name,
        sizes=tuple(INCHES.values()),
        materials=("pvc-40", "abs-40"),
        elbows=("short", "long", "two 45s"),
        each_elbow=len(first.pieces or ()) < 9,
        ends=("terminal-open", "terminal-elbow-down") if "outdoors" in first.between else (),
        change_to=(INCHES["3 in"],),
        routes=(route,),
    )
    rest = tuple(RunChoices(run=run.name, sizes=(INCHES["2 1/2 in"], INCHES["3 in"])) for run in others[:1])
    return Choices(runs=(vent, *rest), piping=("as it is", "one pipe"))


def job_of(inputs: Inputs, choices: Choices, option: Option) -> Job:
    """The job with an option, made from what was chosen."""
    base = next(base for base in bases_of(inputs, choices, None) if base.piping == option.piping)
    return job_with(base.inputs.job, option.runs)


@pytest.mark.parametrize("name", ["simple-pass", "two-sizes", "common-vent", "counted-run", "two-pipe-at-altitude"])
def test_options_agree_with_check(name: str) -> None:
    """A thousand seeded combinations over the jobs, runs that meet included; each that fails says why.

    Every third is put into the data too: the edit leads to the job that was judged, and leaves alone what it should.
    """
    inputs = scenario(name)
    with open(inputs.file, encoding="utf-8") as file:
        data = parse_toml(file.read(), file=inputs.file)
    choices = wide(inputs)
    search = Search(inputs, choices)
    picked = set(random.Random(7).sample(range(1, search.total + 1), min(SAMPLED // 5, search.total)))
    seen = compared = 0
    for option in search:
        seen += 1
        assert option.acceptable or option.check.decides.state != "met"
        if option.number in picked and option.check.runs:
            compared += 1
            assert_same(option.check, again(inputs, job_of(inputs, choices, option)))
            if compared % 3 == 0:
                edited = search.apply(data, option)
                assert edited["appliance"] is data["appliance"]
                assert_same(option.check, again(inputs, job_from_data(edited, file=inputs.file)))
    assert (seen, compared) == (search.total, SAMPLED // 5)


def test_costs_agree_with_the_takeoff() -> None:
    """What an option costs is what the takeoff of the job with it costs, line by line."""
    inputs = scenario("old-two-inch-run")
    prices, practice = read_prices(shipped_table("invented-prices.toml")), read_practice()
    choices = default_choices(inputs)
    search = Search(inputs, choices, pricer=Pricer(prices, practice))
    priced = [option for option in search if option.cost is not None]
    for option in random.Random(5).sample(priced, 40):
        whole = cost(takeoff(again(inputs, job_of(inputs, choices, option)), practice=practice), prices)
        assert option.cost is not None and option.cost.lines == whole.lines and option.cost.total == whole.total


def test_a_route_is_written_whole() -> None:
    """A route from elsewhere keeps its insulation, surroundings, drains and overrides when it is put into the job."""
    inputs = scenario("simple-pass")
    first = inputs.job.runs[0]
    around = Insulation(thickness=0.0254, conductivity=0.035)
    pieces = (
        PipePiece(pipe=2.0, heading="up", insulation=around, surroundings="attic"),
        FittingPiece(fitting="elbow-90-long", k=0.3, drain=True),
        PipePiece(pipe=1.0, heading="east", drain=True),
        FittingPiece(fitting="terminal-open", table_length=1.0),
    )
    run = replace(first, pieces=pieces, insulation=around, surroundings="crawlspace")
    with open(inputs.file, encoding="utf-8") as file:
        data = parse_toml(file.read(), file=inputs.file)
    search = Search(inputs, Choices(runs=(RunChoices(run=first.name, routes=(Route(name="attic", run=run),)),)))
    _, other = list(search)
    made = job_from_data(search.apply(data, other), file=inputs.file).runs[0]
    assert made.insulation == around and made.surroundings == "crawlspace"
    assert made.pieces is not None and [replace(one) for one in made.pieces] == list(pieces)


def test_options_agree_where_the_gas_cools() -> None:
    """With cooling along the pipe asked for, options follow it as a check does."""
    inputs = scenario("two-sizes")
    cooling = again(inputs, replace(inputs.job, cooling=True))
    choices = Choices(runs=(RunChoices(run="vent", sizes=(INCHES["2 in"], INCHES["3 in"]), elbows=("short",)),))
    search = Search(cooling, choices)
    for option in search:
        assert_same(option.check, again(cooling, job_of(cooling, choices, option)))


def test_two_pipes_added() -> None:
    """An air pipe where there was none: written out in full, and judged with the gas side it makes."""
    inputs = scenario("two-pipe-at-altitude")
    alone = again(inputs, replace(inputs.job, runs=inputs.job.runs[:1]))
    choices = Choices(runs=(), piping=("as it is", "two pipes"))
    _, two = list(Search(alone, choices))
    assert len(two.check.runs) == 2
    assert_same(two.check, again(inputs, job_of(alone, choices, two)))


def found_for(name: str) -> list[Option]:
    """The acceptable options of a scenario by joints."""
    inputs = scenario(name)
    run = inputs.job.runs[0].name
    choices = Choices(runs=(RunChoices(run=run, sizes=tuple(INCHES.values()), elbows=("short", "long")),))
    return list(look(Search(inputs, choices), order="joints").acceptable)


def test_ranking_and_smallest() -> None:
    """By margin the most room first; the smallest is the least size that is within; a stop keeps what was seen."""
    inputs = scenario("simple-pass")
    ranking = Ranking(order="margin")
    search = Search(inputs, wide(inputs))
    for option in search:
        ranking.take(option)
        if option.number == 500:
            break
    found = ranking.found(search.total)
    margins = [option.check.margin for option in found.acceptable]
    assert found.looked_at == 500 < found.total
    assert margins == sorted(margins, reverse=True)  # type: ignore[type-var]
    assert found.smallest is not None and found.smallest.largest == min(o.largest for o in found.acceptable)
    assert len(found.acceptable) + sum(found.failures.values()) == 500


def test_joints_first() -> None:
    """By joints the fewest first."""
    joints = [option.joints for option in found_for("simple-pass")]
    assert joints and joints == sorted(joints)


def test_too_many_are_refused() -> None:
    """Choices beyond what can be looked through are refused in a sentence."""
    inputs = scenario("simple-pass")
    run = RunChoices(run="vent", sizes=tuple(float(n) for n in range(1, 800_000)))
    with pytest.raises(TooManyOptions, match="combinations"):
        Search(inputs, Choices(runs=(run,)))
