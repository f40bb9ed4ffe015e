"""Runs that meet: what leads nowhere is named with its runs, and what turns at a joint is turned there."""

from __future__ import annotations

import math

import pytest

from tests.check.jobs import Data, checked, job, pipe, run, table_of_two, two_furnaces
from ventsize.finding import Amount, Finding
from ventsize.jobfile.problems import InputError, Problem

END = {"fitting": "terminal-open"}


def refused(*runs: Data, **more: Data) -> list[Problem]:
    """What is wrong with a job of these runs."""
    data = {**job(runs=list(runs)), **more}
    with pytest.raises(InputError) as error:
        checked(data)
    return list(error.value.problems)


def places(problems: list[Problem], about: str) -> list[str]:
    """Of those whose problem says something."""
    return [one.place for one in problems if about in one.problem]


def test_runs_that_reach_no_open_air() -> None:
    """All of them are named."""
    loop = [run("a", "furnace", "J", pipe(5)), run("b", "J", "K", pipe(5)), run("c", "K", "J", pipe(5))]
    assert places(refused(*loop), "open air") == ["runs 'a', 'b', 'c'"]


def test_runs_that_no_appliance_is_joined_to() -> None:
    """Beside a vent that is as it should be."""
    vent = run("vent", "furnace", "outdoors", pipe(5), END)
    astray = [run("a", "J", "outdoors", pipe(5), END), run("b", "J", "outdoors", pipe(5), END)]
    (found,) = refused(vent, *astray)
    assert (found.place, found.expected) == ("runs 'a', 'b'", "one of: furnace")


def test_a_joint_where_nothing_meets() -> None:
    """The joints there are come into question, the open air does not."""
    data = two_furnaces()
    data["joint"] = [{"name": "Q", "fitting": "tee", "in_line": ["va", "v"]}]
    with pytest.raises(InputError) as error:
        checked(data, table_of_two(single={"allowable": "90 ft"}, common={"allowable": "90 ft"}))
    (found,) = error.value.problems
    assert found.place == "joint 'Q'" and "J" in found.expected and "outdoors" not in found.expected


def test_a_dead_end_is_near_a_joint_of_its_own_gas() -> None:
    """Joints of the air pipe are no ends of a vent."""
    air = [run("in", "furnace", "mixer", pipe(5), carries="combustion air"),
           run("out", "mixer", "outdoors", pipe(5), carries="combustion air")]  # fmt: skip
    (found,) = refused(run("vent", "furnace", "mixerr", pipe(5)), *air)
    assert found.place == "run 'vent'" and "mixer'" not in found.expected.replace("mixerr", "")


def unturned(first: str, second: str, *, tee: tuple[str, str] | None = None, runs: int = 2) -> list[Finding]:
    """Turns not made, of a vent that goes on as another at J in another direction."""
    vents = [run("a", "furnace", "J", pipe(5, first)), run("v", "J", "outdoors", pipe(5, second), END)]
    data = job(runs=vents)
    if runs == 3:
        data = two_furnaces()
        data.pop("joint", None)
        data["run"][0]["pieces"] = [pipe(5, first)]
        data["run"][2]["pieces"] = [pipe(5, second), END]
    if tee is not None:
        data["joint"] = [{"name": "J", "fitting": "tee", "in_line": list(tee)}]
    result = checked(data, table_of_two(single={"allowable": "90 ft"}, common={"allowable": "90 ft"}))
    return [one for part in result.runs for one in part.run.unturned if one.where.joint == "J"]


@pytest.mark.parametrize("runs", [2, 3])
def test_a_plain_joint_of_two_turns_nothing(runs: int) -> None:
    """A square turn with no elbow is none made; at a joint of three a tee is taken, whose branch turns squarely."""
    found = unturned("up", "east", runs=runs)
    assert len(found) == (1 if runs == 2 else 0)
    for one in found:
        turned, needed = one.values["turned"], one.values["needed"]
        assert isinstance(turned, Amount) and isinstance(needed, Amount)
        assert (turned.value, needed.value) == pytest.approx((0.0, math.pi / 2.0), abs=1e-9)


def test_in_line_through_a_tee_turns_nothing_and_its_branch_does() -> None:
    """By which two runs lie in line."""
    (found,) = unturned("up", "east", tee=("va", "v"), runs=3)
    turned = found.values["turned"]
    assert isinstance(turned, Amount) and turned.value == pytest.approx(0.0, abs=1e-9)
    assert not unturned("up", "east", tee=("vb", "v"), runs=3)


def test_flexible_pipe_makes_its_own_turns() -> None:
    """A length of it between two rigid pipes; a rigid length in its place does not turn."""
    liner = {"material": "flexible-liner-corrugated"}
    for between, count in ((liner, 0), ({}, 1)):
        pieces = [pipe(5, "up"), pipe(3, **between), pipe(5, "east"), END]
        assert len(checked(job(pieces)).runs[0].run.unturned) == count
