"""A variant judged beside others is judged as the job that has it: verdict, margin, every pressure."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import pytest

from tests.check.jobs import Data, checked, job, pipe, run, table_of_two, two_furnaces
from ventsize.allowance.reading import table_from_data
from ventsize.check.inputs import prepare
from ventsize.check.variants import VariantCheck, Variants
from ventsize.jobfile.job import Job, job_from_data

FOOT = 0.3048
END: Data = {"fitting": "terminal-open"}
ALONE = job([pipe(20, "up"), END])
APART = job(runs=[
    run("vent", "furnace", "outdoors", pipe(20, "up"), END),
    run("air", "outdoors", "furnace", END, pipe(30), carries="combustion air"),
])  # fmt: skip
IN_LINE = job(runs=[run("v1", "furnace", "J", pipe(20, "up")), run("v", "J", "outdoors", pipe(30), END)])
MET = two_furnaces()
TWO_VENTS = job(runs=[run(name, "furnace", "outdoors", pipe(20), END) for name in ("one", "two")])
JOBS = {"two vents": TWO_VENTS, "alone": ALONE, "apart": APART, "in line": IN_LINE, "met": MET}
PAGE = table_of_two(single={"allowable": "90 ft"}, common={"allowable": "90 ft"})


def read(data: Data) -> Job:
    return job_from_data(data, file="test.toml")


def variants(data: Data) -> Variants:
    tables = {"table.toml": table_from_data(PAGE, file="table.toml")}
    return Variants(prepare(read(data), file="test.toml", tables=tables))


@pytest.mark.parametrize("cooling", [True, False])
@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("windy", [True, False])
def test_a_variant_is_judged_as_the_job_that_has_it(name: str, cooling: bool, windy: bool) -> None:
    """Each run in turn with pipe in place of its own, and then all of them; the second time as the first.

    Verdict, margin, loss, budget, and the pressures at both ends, with wind and room where they are stated.
    """
    data = {**deepcopy(JOBS[name]), "cooling": cooling}
    if windy:
        data["site"] |= {"wind": "6 m/s", "wind_from": "north", "room_pressure": "-3 Pa"}
        for one in data["run"]:
            one |= {"wall": "north"} if "outdoors" in one["between"] else {}
    beside = variants(data)
    changed = deepcopy(data)
    for number, one in enumerate(changed["run"]):
        one["pieces"] = [pipe(7 + 10 * number), {"fitting": "coupling"}, *[p for p in one["pieces"] if "fitting" in p]]
        if one["between"][0] == "outdoors":
            one["pieces"].reverse()
    sets = [{one} for one in range(len(data["run"]))] + [set(range(len(data["run"])))]
    typed = read(changed).runs
    for which in [*sets, *sets]:
        found = beside.judge({typed[at].name: typed[at] for at in which})
        expected = checked({**data, "run": [(changed if at in which else data)["run"][at] for at in range(
            len(data["run"]))]}, PAGE)  # fmt: skip
        assert (found.verdict, found.decides.because.code) == (expected.verdict, expected.decides.because.code)
        for one, other in zip(found.runs, expected.runs, strict=True):
            assert found.run(one.run.name) is one and one.margin == pytest.approx(other.margin)
            for rate, wanted in zip(one.rates, other.rates, strict=True):
                assert rate.flow.room == wanted.flow.room
                for level, right in zip(rate.flow.levels, wanted.flow.levels, strict=True):
                    assert level == pytest.approx(right, rel=1e-6, abs=1e-9)
                assert rate.flow.pressure_drop == pytest.approx(wanted.flow.pressure_drop, rel=1e-6)
                assert (rate.budget_pressure or -1.0) == pytest.approx(wanted.budget_pressure or -1.0, rel=1e-6)


def test_the_margin_is_the_least_of_all_runs() -> None:
    """20 and 30 ft of 90 each leave 60; where one has no allowance nobody knows what is left."""
    found = variants(APART).judge({})
    assert found.margin == pytest.approx(60 * FOOT)
    assert found.run("nobody") is None
    without = deepcopy(APART)
    del without["run"][1]["table"]
    assert variants(without).judge({}).margin is None


def test_a_variant_that_cannot_be_built_is_no_pass() -> None:
    """A size that the material does not come in, whichever else is asked."""
    typed: Any = read({**deepcopy(APART), "run": [{**APART["run"][0], "size": "2.9 in"}, APART["run"][1]]}).runs[0]
    found = variants(APART).judge({"vent": typed})
    assert isinstance(found, VariantCheck) and (found.verdict, found.runs, found.margin) == ("incomplete", (), None)


@pytest.mark.parametrize("cooling", [True, False])
def test_a_variant_that_blows_out_the_trap_is_unsafe(cooling: bool) -> None:
    """40 ft in place of 2: a seal of a hundredth of an inch, which is 2.5 Pa, holds the short vent only."""
    data = {**deepcopy(APART), "cooling": cooling}
    data["appliance"][0]["trap_seal"] = "0.01 in"
    data["run"][0]["pieces"] = [pipe(2), END]
    long = {**deepcopy(data), "run": [{**data["run"][0], "pieces": [pipe(40), END]}, data["run"][1]]}
    assert (checked(data, PAGE).verdict, checked(long, PAGE).verdict) == ("within", "unsafe")
    assert variants(data).judge({}).verdict == "within"
    assert variants(data).judge({"vent": read(long).runs[0]}).verdict == "unsafe"
