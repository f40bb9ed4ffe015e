"""Where pipes lie, against coordinates added up by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.check.jobs import Data, checked, job
from ventsize.run.model import Run
from ventsize.run.route import route_of

FOOT = 0.3048


def built(pieces: list[Data]) -> Run:
    """The resolved run of a job."""
    return checked(job(pieces)).runs[0].run


def feet(pieces: list[Data]) -> list[tuple[float, float, float]]:
    """Where each pipe ends: east, north, up [ft]."""
    legs = route_of(built(pieces)) or ()
    return [tuple(round(x / FOOT, 6) for x in leg.end) for leg in legs]  # type: ignore[misc]


def test_headings_add_up_axis_by_axis() -> None:
    """Up 4.5, east 18, north 6.5, west 3, down 1: each changes its own coordinate alone."""
    elbow = {"fitting": "elbow-90-long"}
    ends = feet(
        [
            {"pipe": "4 ft 6 in", "heading": "up"},
            elbow,
            {"pipe": "18 ft", "heading": "east"},
            elbow,
            {"pipe": "6 ft 6 in", "heading": "north"},
            elbow,
            {"pipe": "3 ft", "heading": "west"},
            elbow,
            {"pipe": "1 ft", "heading": "down"},
        ]
    )
    assert ends == [(0, 0, 4.5), (18, 0, 4.5), (18, 6.5, 4.5), (15, 6.5, 4.5), (15, 6.5, 3.5)]


def test_a_sloped_pipe_is_the_long_side_of_a_triangle() -> None:
    """5 ft of pipe that falls 3 ft reaches 4 ft: the triangle of sides 3, 4 and 5."""
    assert feet([{"pipe": "5 ft", "heading": "south", "rise": "-3 ft"}]) == [(0, -4, -3)]


def test_each_pipe_begins_where_the_one_before_ends() -> None:
    """Fittings are points; an end is shared, and the reach seen from above is kept with the leg."""
    legs = route_of(built([{"pipe": "2 ft", "heading": "up"}, {"fitting": "elbow-90-long"}, {"pipe": "3 ft"}]))
    assert legs is not None and legs[0].start == (0, 0, 0)
    assert legs[1].start == legs[0].end
    assert [leg.across for leg in legs] == pytest.approx([0.0, 3 * FOOT])


def test_a_pipe_without_a_heading_goes_on_and_is_marked() -> None:
    """North 2, up 1, then 3 with no heading: 5 north in all. The guess is marked, what was given is not."""
    elbow = {"fitting": "elbow-90-long"}
    pieces = [{"pipe": "2 ft", "heading": "north"}, elbow, {"pipe": "1 ft", "heading": "up"}, elbow, {"pipe": "3 ft"}]
    assert feet(pieces)[-1] == (0, 5, 1)
    legs = route_of(built(pieces)) or ()
    assert [leg.assumed for leg in legs] == [False, False, True]
    assert legs[-1].heading == "north"


def test_a_rise_as_long_as_the_pipe_needs_no_heading() -> None:
    """It can only stand upright, so nothing is guessed."""
    legs = route_of(built([{"pipe": "2 ft", "rise": "-2 ft"}])) or ()
    assert [(leg.heading, leg.assumed) for leg in legs] == [("down", False)]
    assert math.isclose(legs[0].rise, -2 * FOOT)


def test_a_counted_run_lies_nowhere() -> None:
    """So many feet and so many elbows have no order, and so no route."""
    run = built([{"pipe": "2 ft"}])
    assert route_of(replace(run, counted=True)) is None
