"""Walking a route: turns of another kind, 45s and another size on the way."""

from __future__ import annotations

from typing import Any

import pytest

from ventsize.jobfile.editing import EditError
from ventsize.tui.job.edits import laid_out_job
from ventsize.tui.job.walking import Walk


def walked(*lines: str) -> tuple[dict[str, Any], list[str]]:
    """The run walked by these lines, and its fittings."""
    walk, data = Walk(("elbow-90-long",)), laid_out_job()
    for line in lines:
        walk, data, _ = walk.step(data, 0, line)
    run = data["run"][0]
    return run, [piece["fitting"] for piece in run["pieces"] if "fitting" in piece]


def test_turns_of_another_kind_on_the_way() -> None:
    """From where it is said on; turning back takes the turn twice."""
    _, fittings = walked("up 3, north 12 6, short, east 2", "two 45s", "north 4, end")
    assert fittings == ["elbow-90-long", "elbow-90-short", "elbow-45", "elbow-45", "terminal-open"]
    assert walked("up 3, short, down 2")[1] == ["elbow-90-short"] * 2


def test_a_slant_of_45s() -> None:
    """Elbows of 45° are put in, and a pipe between them that has no heading; none is proposed beside it."""
    run, fittings = walked("up 3, elbow-45, on 4 6, elbow-45, north 2")
    assert fittings == ["elbow-45", "elbow-45"] and run["pieces"][2] == {"pipe": "4 ft 6 in"}


def test_another_size_on_the_way() -> None:
    """At the beginning it is the run's own; later an increaser or a reducer; the same size is refused."""
    run, fittings = walked("size 2", "up 3, size 3 in, north 4, size 2 1/2, end")
    sizes = [piece.get("size") for piece in run["pieces"] if piece.get("fitting") in ("increaser", "reducer")]
    assert run["size"] == "2 in" and sizes == ["3 in", "2 1/2 in"]
    assert fittings == ["increaser", "elbow-90-long", "reducer", "terminal-open"]
    with pytest.raises(EditError):
        walked("up 3, size 3 in")


@pytest.mark.parametrize("line", ["sideways 3", "up", "size none", "longer", "north 12, sideways", ""])
def test_what_is_no_step_does_nothing(line: str) -> None:
    """One sentence, and none of the line is done."""
    with pytest.raises(ValueError):
        walked(line)


def test_45s_are_taken_from_the_45s_of_a_count() -> None:
    """Not from its elbows of 90°; another kind of the same angle is."""
    data = laid_out_job()
    data["run"][0]["pieces"] = [{"pipe": "20 ft"}, *[{"fitting": name} for name in ("elbow-90-short", "elbow-45")]]
    walk, data, _ = Walk(("elbow-90-long",), left=3).step(data, 0, "up 3, elbow-45")
    assert walk.left == 2 and {"fitting": "elbow-90-short"} in data["run"][0]["pieces"][-2:]
    walk, data, _ = walk.step(data, 0, "on 2, north 5")
    assert walk.left == 2
    walk, data, _ = walk.step(data, 0, "east 1")
    assert walk.left == 1 and data["run"][0]["pieces"][-1] == {"pipe": "9 ft"}
