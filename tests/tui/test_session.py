"""An open job without its screens."""

from __future__ import annotations

from pathlib import Path

import pytest

from ventsize.jobfile.editing import put
from ventsize.tui.job import bulk, edits
from ventsize.tui.job.session import Session
from ventsize.tui.saving import name_after


def _walked() -> Session:
    """A new job with what it asks for typed, one pipe walked, and no table chosen yet."""
    data = edits.laid_out_job()
    data = put(data, ("site", "altitude"), "600 ft")
    data = put(data, ("appliance", 0, "rate", 0, "input"), "80 MBH")
    return Session(put(data, ("run", 0, "pieces"), [{"pipe": "4 ft"}, {"fitting": "terminal-open"}]), path=None)


def test_a_table_yet_to_be_chosen_is_no_table() -> None:
    """A new job names none; what needs no table is figured all the same."""
    session = _walked()
    session.judge()
    assert session.problems == ()
    assert session.check.verdict == "incomplete" and session.check.decides.because.code == "no-table-named"
    assert session.check.runs[0].rates[0].flow.pressure_drop > 0.0


def test_a_fault_of_the_program_loses_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever goes wrong in working it out is said as a problem; data and last answer stay."""
    session = _walked()
    session.judge()
    before, last = session.data, session.check

    def broken(*_: object, **__: object) -> None:
        raise KeyError("a slip")

    monkeypatch.setattr("ventsize.check.verdict.check", broken)
    session.do(put(before, ("site", "altitude"), "700 ft"), "altitude")
    session.judge()
    assert session.check is last and session.stale
    assert "fault of this program" in str(session.problems[0])


def test_a_job_without_a_title_is_called_after_its_file(tmp_path: Path) -> None:
    """One that has been given a title keeps it."""
    session = _walked()
    name_after(session, tmp_path / "smith-12-elm-street.toml")
    assert session.data["title"] == "Smith 12 elm street"
    name_after(session, tmp_path / "other.toml")
    assert session.data["title"] == "Smith 12 elm street"


def test_a_material_changed_at_one_piece_leaves_those_after_it_alone() -> None:
    """Only a size holds from its piece on, so only a size is put back behind the marked pieces."""
    data = put(_walked().data, ("run", 0, "pieces"), [{"pipe": "4 ft"}, {"pipe": "5 ft"}])
    changed = bulk.change(data, 0, [0], "material", "cpvc-40", None)["run"][0]["pieces"]
    assert changed == [{"pipe": "4 ft", "material": "cpvc-40"}, {"pipe": "5 ft"}]
    sized = bulk.change(data, 0, [0], "size", "4 in", None)["run"][0]["pieces"]
    assert [piece["size"] for piece in sized] == ["4 in", data["run"][0]["size"]]
