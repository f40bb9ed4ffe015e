"""An open job without its screens."""

from __future__ import annotations

import tomllib
from pathlib import Path

from ventsize.tui.job.session import Session


def test_a_table_yet_to_be_chosen_is_no_table(root: Path) -> None:
    """A new job holds an empty name until one is chosen; what needs no table is figured all the same."""
    data = tomllib.loads((root / "scenarios" / "simple-pass.toml").read_text(encoding="utf-8"))
    del data["tables"]
    for run in data["run"]:
        run["table"] = ""
    session = Session(data, path=None)
    session.judge()
    assert session.problems == ()
    assert session.check.verdict == "incomplete"
    assert session.check.runs[0].rates[0].flow.pressure_drop > 0.0
    assert session.data["run"][0]["table"] == ""
