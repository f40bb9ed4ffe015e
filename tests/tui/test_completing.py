"""What is not known has a key that leads to where it is said; footnotes are confirmed by keys."""

from __future__ import annotations

from pathlib import Path

from tests.tui.screens import as_text, running, scenario, until, verdict
from ventsize.catalog.folders import shipped_table
from ventsize.finding import CODES
from ventsize.view.answering import OPEN

NOTES = ("Terminals on one wall.", "No screen on the air pipe.")


def test_every_code_is_one() -> None:
    """A key for a code that is not there would never be shown."""
    assert set(OPEN) <= set(CODES)


async def test_footnotes_are_confirmed_by_keys(tmp_path: Path) -> None:
    """y lists those that are open, Esc leaves them so, Enter confirms one; undo takes it back."""
    table = shipped_table("demo-two-stage.toml").read_text(encoding="utf-8")
    (tmp_path / "own.toml").write_text(f"confirm = {list(NOTES)}\n{table}", encoding="utf-8")
    job = scenario("simple-pass").read_text(encoding="utf-8").replace("demo-two-stage.toml", "own.toml")
    (tmp_path / "job.toml").write_text(job, encoding="utf-8")
    async with running(tmp_path / "job.toml") as (app, pilot):
        session = app.screen.session
        assert "INCOMPLETE" in verdict(app)
        await pilot.press("y")
        await until(pilot, lambda: all(note in as_text(app) for note in NOTES))
        await pilot.press("escape", "y", "enter")
        await until(pilot, lambda: session.data.get("confirmed") == [NOTES[0]])
        await until(pilot, lambda: not session.stale)
        assert "INCOMPLETE" in verdict(app)
        await pilot.press("y", "enter")
        await until(pilot, lambda: "WITHIN" in verdict(app))
        await pilot.press("u")
        await until(pilot, lambda: "INCOMPLETE" in verdict(app))
