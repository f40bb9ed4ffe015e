"""How vents fall, against slopes added up by hand: 1/4 in per foot is 1 in 48."""

from __future__ import annotations

import pytest

from tests.check.jobs import Data, checked, job, pipe, run, table_of_two, two_furnaces
from ventsize.run.model import Run
from ventsize.run.route import route_of
from ventsize.run.slope import RunSlope, outward, run_slope

FOOT, INCH = 0.3048, 0.0254
END = {"fitting": "terminal-open"}


def built(*pieces: Data, **changed: str | list[str]) -> Run:
    """The resolved vent of a job."""
    return checked(job(runs=[{**run("v", "furnace", "outdoors", *pieces), **changed}])).runs[0].run


def sloped(*pieces: Data, **changed: str | list[str]) -> RunSlope:
    """How it lies."""
    return run_slope(built(*pieces, **changed), ("furnace",))


def level(feet: float, inches: float) -> Data:
    """A pipe that goes east and rises so much."""
    return pipe(feet, "east", rise=f"{inches} in")


def test_rise_is_added_up_over_pipes_that_go_across() -> None:
    """24 ft need 6 in; 12 ft rise 4 in and 12 ft rise 1 in. The pipe straight up needs none, and lends none."""
    found = sloped(pipe(3, "up"), {"fitting": "elbow-90-long"}, level(12, 4), level(12, 1), END)
    assert found.rise_needed == pytest.approx(6 * INCH, rel=1e-3)
    assert found.rise_present == pytest.approx(5 * INCH)
    assert [piece.enough for piece in found.pieces] == [True, True, False]
    assert [piece.distance for piece in found.pieces] == pytest.approx([0.0, 3 * FOOT, 15 * FOOT])
    assert [piece.elevation for piece in found.pieces] == pytest.approx([0.0, 3 * FOOT, 3 * FOOT + 4 * INCH])
    assert [piece.lies for piece in found.pieces] == [False, True, True]


@pytest.mark.parametrize(("inches", "out"), [(-3.0, True), (0.0, False), (1.0, False)])
def test_water_runs_out_where_the_last_slope_falls_outwards(inches: float, out: bool) -> None:
    """Behind a pipe that rises; not where it is level, or rises ever so little."""
    assert sloped(level(12, 4), level(12, inches), END).runs_out is out
    inwards = [END, level(12, -inches), level(12, -4)]
    assert sloped(*inwards, between=["outdoors", "furnace"]).runs_out is out


def test_nobody_knows_how_a_counted_run_lies() -> None:
    """24 ft need 6 in; what is there is not known."""
    data = job(runs=[{**run("v", "furnace", "outdoors"), "straight": "24 ft"}])
    del data["run"][0]["pieces"]
    found = run_slope(checked(data).runs[0].run, ("furnace",))
    assert (found.known, found.rise_present, found.runs_out) == (False, 0.0, False)
    assert found.rise_needed == pytest.approx(6 * INCH)


def test_every_run_is_walked_away_from_the_appliance() -> None:
    """From the collar to the tee, and from the tee outwards, whichever way each is listed."""
    data = two_furnaces()
    one = [pipe(1, "up"), {"fitting": "coupling"}, pipe(2, "up")]
    data["run"][0]["pieces"], data["run"][1]["pieces"] = one, one[::-1]
    data["run"][1]["between"] = ["J", "other"]
    result = checked(data, table_of_two(single={"allowable": "90 ft"}, common={"allowable": "90 ft"}))
    first, second, common = (part.run for part in result.runs)
    appliances = ("furnace", "other")
    for run_ in (first, second):
        lengths = [piece.length for piece in outward(run_, appliances) if piece.is_pipe]
        assert lengths == pytest.approx([1 * FOOT, 2 * FOOT])
    assert outward(common, appliances) == common.pieces
    assert run_slope(common, appliances).runs_out is False


def test_a_common_vent_that_falls_between_joints_runs_out_nowhere() -> None:
    """Its water goes on into the next run."""
    vents = [run("a", "furnace", "J", level(12, -3)), run("v", "J", "outdoors", level(12, 3), END)]
    inner, _ = (part.run for part in checked(job(runs=vents)).runs)
    assert run_slope(inner, ("furnace",)).runs_out is False


def test_a_leg_climbs_by_its_rise() -> None:
    """Behind a pipe that has climbed already; one straight up climbs by all its length, one straight down falls."""
    legs = route_of(built(pipe(3, "up"), level(12, 4), pipe(2, "down"), END)) or ()
    assert [leg.rise for leg in legs] == pytest.approx([3 * FOOT, 4 * INCH, -2 * FOOT])


def test_each_joint_has_the_size_there() -> None:
    """3 in at the furnace, 2 in at the open air."""
    vent = built(pipe(3), {"fitting": "reducer", "size": "2 in"}, pipe(3), END)
    assert [vent.section_at(joint).label for joint in ("furnace", "outdoors")] == ["3 in", "2 in"]
