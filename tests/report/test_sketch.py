"""A route drawn in characters: however little room there is, and however many pieces lie in one line."""

from __future__ import annotations

from tests.check.jobs import TABLE, job, pipe
from ventsize.allowance.reading import table_from_data
from ventsize.check.inputs import prepare
from ventsize.jobfile.job import job_from_data
from ventsize.quantity import System
from ventsize.report.sketch import Sketch, sketch
from ventsize.run.route import route_of


def drawn(pieces: list[dict[str, object]], *, width: int, height: int) -> Sketch | None:
    """The sketch of a run of these pieces."""
    inputs = prepare(
        job_from_data(job(pieces), file="job"),
        file="job",
        tables={"table.toml": table_from_data(TABLE, file="table.toml")},
    )
    legs = route_of(next(iter(inputs.graph.runs.values())))
    assert legs is not None
    return sketch(legs, System.US, start_open=False, end_open=True, width=width, height=height)


def test_no_room_is_no_drawing() -> None:
    """A screen that is not laid out yet has none at all."""
    assert drawn([pipe(10, "up")], width=0, height=0) is None


def test_pipes_in_one_line_are_one_leg() -> None:
    """Thirty of a foot with couplings are drawn and labelled as 30 ft, as a person would."""
    pieces = [piece for _ in range(30) for piece in (pipe(1, "east"), {"fitting": "coupling"})]
    found = drawn([pipe(4, "up"), {"fitting": "elbow-90-long"}, *pieces], width=60, height=16)
    assert found is not None
    text = "\n".join(found.lines)
    assert "30 ft east" in text and "1 ft" not in text.replace("1 ft of", "")
