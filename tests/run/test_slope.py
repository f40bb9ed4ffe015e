"""How vents fall, against slopes added up by hand: 1/4 in per foot is 1 in 48."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.check.jobs import Data, checked, job, pipe, run, two_furnaces
from ventsize.catalog.library import load_catalog
from ventsize.jobfile.job import job_from_data
from ventsize.run.graph import build_graph
from ventsize.run.model import Run
from ventsize.run.route import route_of
from ventsize.run.slope import RunSlope, low_spots, run_slope, walk_out

FOOT, INCH = 0.3048, 0.0254
END = {"fitting": "terminal-open"}


def built(*pieces: Data, **changed: str | list[str]) -> Run:
    """The resolved vent of a job."""
    return checked(job(runs=[{**run("v", "furnace", "outdoors", *pieces), **changed}])).runs[0].run


def sloped(*pieces: Data, **changed: str | list[str]) -> RunSlope:
    """How it lies."""
    found = built(*pieces, **changed)
    return run_slope(found, outward=found.start == "furnace")


def level(feet: float, inches: float) -> Data:
    """A pipe that goes east and rises so much."""
    return pipe(feet, "east", rise=f"{inches} in")


def test_rise_is_added_up_over_pipes_that_go_across() -> None:
    """24 ft need 6 in; 12 ft rise 4 in and 12 ft rise 1 in. The pipe straight up needs none, and lends none."""
    found = sloped(pipe(3, "up"), {"fitting": "elbow-90-long"}, level(12, 4), level(12, 1), END)
    assert found.rise_needed == pytest.approx(6 * INCH, rel=1e-3)
    assert found.rise_present == pytest.approx(5 * INCH)
    assert [piece.enough for piece in found.pieces] == [True, True, False]
    assert found.pieces[2].needed_steeper == pytest.approx(12 * FOOT * 0.0524078, rel=1e-4)  # of 3 degrees
    assert [piece.distance for piece in found.pieces] == pytest.approx([0.0, 3 * FOOT, 15 * FOOT])
    assert [piece.elevation for piece in found.pieces] == pytest.approx([0.0, 3 * FOOT, 3 * FOOT + 4 * INCH])
    assert [piece.lies for piece in found.pieces] == [False, True, True]


def test_pipe_that_rises_by_just_the_slope_rises_enough() -> None:
    """3 in over 12 ft. Beside it a pipe of which nobody says how it lies, so that of the whole it is not known."""
    found = sloped(level(12, 3), pipe(5), END)
    assert [(piece.known, piece.enough) for piece in found.pieces] == [(True, True), (False, None)]
    assert found.known is False and sloped(level(12, 3), END).known is True


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
    found = run_slope(checked(data).runs[0].run, outward=True)
    assert (found.known, found.rise_present, found.runs_out) == (False, 0.0, False)
    assert found.rise_needed == pytest.approx(6 * INCH)


@pytest.mark.parametrize("listed", [1, -1])
def test_every_run_is_walked_away_from_the_appliance(listed: int) -> None:
    """From the collar to a tee, between two joints, and from there outwards, whichever way each is listed: 3 in of rise
    over 12 ft is 1 in 48."""
    ends = (("furnace", "J"), ("other", "J"), ("J", "K"), ("K", "outdoors"))
    vents = [run(f"{start} out", *(start, end)[::listed], level(12, 3 * listed)) for start, end in ends]
    read = job_from_data({**two_furnaces(), "run": vents, "joint": []}, file="test.toml")
    graph = build_graph(read, catalog=load_catalog(user=False), file="test.toml")
    assert [graph.leads_out(one) for one in graph.runs.values()] == [listed == 1] * 4
    slopes = [run_slope(one, outward=graph.leads_out(one)) for one in graph.runs.values()]
    assert [slope.rise_present for slope in slopes] == pytest.approx([3 * INCH] * 4)
    assert [[piece.enough for piece in slope.pieces] for slope in slopes] == [[True]] * 4
    assert not any(slope.runs_out or slope.low_spots for slope in slopes)


def test_a_common_vent_that_falls_between_joints_runs_out_nowhere() -> None:
    """Its water goes on into the next run."""
    vents = [run("a", "furnace", "J", level(12, -3)), run("v", "J", "outdoors", level(12, 3), END)]
    inner, _ = (part.run for part in checked(job(runs=vents)).runs)
    assert run_slope(inner, outward=True).runs_out is False


def test_a_leg_climbs_by_its_rise() -> None:
    """Behind a pipe that has climbed already; one straight up climbs by all its length, one straight down falls."""
    legs = route_of(built(pipe(3, "up"), level(12, 4), pipe(2, "down"), END)) or ()
    assert [leg.rise for leg in legs] == pytest.approx([3 * FOOT, 4 * INCH, -2 * FOOT])


def test_each_joint_has_the_size_there() -> None:
    """3 in at the furnace, 2 in at the open air."""
    vent = built(pipe(3), {"fitting": "reducer", "size": "2 in"}, pipe(3), END)
    assert [vent.section_at(joint).label for joint in ("furnace", "outdoors")] == ["3 in", "2 in"]


def wetted(depth: float, bore: float) -> float:
    """Area of a round bore below a depth, by its angle [same unit, squared]."""
    depth = min(max(depth, 0.0), bore)
    angle = 2.0 * math.acos(1.0 - 2.0 * depth / bore)
    return bore**2 / 8.0 * (angle - math.sin(angle))


def held(level: float, *pipes: tuple[float, float, float], bore: float) -> float:
    """Water below a level in pipes, each by its length and the height of its bottom at both ends: 4,000 slices each."""
    slices = np.linspace(0.0, 1.0, 4001)
    return sum(
        length * float(np.mean([wetted(level - (start + (end - start) * at), bore) for at in slices]))
        for length, start, end in pipes
    )


def test_water_in_a_sag_of_three_pipes() -> None:
    """Down 1 in, down 1/2 in and up 1 in, in 8 ft each: 1 in of water in a 3 in bore, which the second pipe is never
    free of. It begins 16 ft from the furnace, and flows on back over the end of the third."""
    vent = built(level(8, -1), level(8, -0.5), level(8, 1), END)
    (spot,) = low_spots(walk_out([vent], ["furnace"]))
    bore = vent.first_section.bore
    pipes = [(8 * FOOT, 0.0, -1 * INCH), (8 * FOOT, -1 * INCH, -1.5 * INCH), (8 * FOOT, -1.5 * INCH, -0.5 * INCH)]
    assert (spot.piece, spot.drained, spot.blocks) == (2, False, False)
    assert (spot.distance, spot.depth, spot.bore) == pytest.approx((16 * FOOT, 1 * INCH, bore))
    assert spot.volume == pytest.approx(held(-0.5 * INCH, *pipes, bore=bore), rel=2e-3)


def test_sags_one_behind_the_other() -> None:
    """Three of them: back up to the crest in one pipe, in two, and not all the way. Each is one, at its own place."""
    vent = built(
        *(level(4, -1), level(4, 1)), *(level(4, -2), level(4, 1), level(4, 1)), *(level(4, -3), level(4, 2)), END
    )
    spots = low_spots(walk_out([vent], ["furnace"]))
    assert [spot.piece for spot in spots] == [1, 3, 6]
    assert [spot.depth / INCH for spot in spots] == pytest.approx([1.0, 2.0, 2.0])
    assert [spot.distance / FOOT for spot in spots] == pytest.approx([4.0, 12.0, 24.0])
    alone = low_spots(walk_out([built(level(4, -2), level(4, 1), level(4, 1), END)], ["furnace"]))
    assert spots[1].volume == pytest.approx(alone[0].volume)


def test_a_drain_is_of_its_own_sag() -> None:
    """The first of two is drained, the second is not."""
    drained = {**level(4, -1), "drain": True}
    vent = built(drained, level(4, 1), level(4, -1), level(4, 1), END)
    assert [spot.drained for spot in low_spots(walk_out([vent], ["furnace"]))] == [True, False]


@pytest.mark.parametrize(("at", "drained", "depth"), [(None, False, 4), (0, True, 4), (1, True, 4), (2, False, 3)])
def test_water_stands_up_to_a_drain_above_the_lowest_place(at: int | None, drained: bool, depth: float) -> None:
    """Down 4 in, up 3 and up 5 in; a drain is at the lower end of its pipe, that of the third 3 in above the sag."""
    pieces = [level(4, -4), level(4, 3), level(4, 5)]
    if at is not None:
        pieces[at]["drain"] = True
    (spot,) = low_spots(walk_out([built(*pieces, END)], ["furnace"]))
    assert (spot.drained, spot.depth / INCH) == (drained, pytest.approx(depth))


@pytest.mark.parametrize("at", [0, 1, 2])
def test_a_sag_with_a_level_pipe_in_it(at: int) -> None:
    """Down 4 in, 6 ft level and up 8 in: drained at either end of the level pipe. Without a drain it is closed in all
    its length as soon as its 3 in are full; the water goes up as far on both sides."""
    pieces = [level(4, -4), level(6, 0), level(8, 8)]
    vent = built(*pieces, END)
    (spot,) = low_spots(walk_out([vent], ["furnace"]))
    bore, low = vent.first_section.bore, -4 * INCH
    pipes = (4 * FOOT, 0.0, low), (6 * FOOT, low, low), (8 * FOOT, low, 4 * INCH)
    assert (spot.blocks, spot.depth, spot.piece) == (True, pytest.approx(4 * INCH), 1)
    assert spot.volume == pytest.approx(held(low + bore, *pipes, bore=bore), rel=2e-3)
    pieces[at]["drain"] = True
    assert low_spots(walk_out([built(*pieces, END)], ["furnace"]))[0].drained


@pytest.mark.parametrize("turned", [False, True])
def test_a_sag_of_two_runs(turned: bool) -> None:
    """Down in the furnace's own, up in the next, whichever way that is listed."""
    up = [level(8, 2), END]
    outer = run("v", "J", "outdoors", *up)
    if turned:
        outer = run("v", "outdoors", "J", END, {**level(8, -2), "heading": "west"})
    result = checked(job(runs=[run("a", "furnace", "J", level(6, -1)), outer]))
    (spot,) = low_spots(walk_out([part.run for part in result.runs], ["furnace"]))
    assert (spot.run, spot.piece) == ("a", 1)
    assert (spot.distance, spot.depth) == pytest.approx((6 * FOOT, 1 * INCH))
