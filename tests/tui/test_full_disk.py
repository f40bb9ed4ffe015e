"""A disk that fills up, and a folder that may only be read, while somebody works at a screen."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.tui.screens import as_text, running, scenario, until
from ventsize.jobfile import atomic_write, recovery
from ventsize.jobfile.editing import put


def full(*_: Any, **__: Any) -> None:
    """What every write says then."""
    raise OSError(28, "No space left on device")


async def test_saving_to_a_full_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The file stays as it was, the work stays unsaved and in the journal, and the next Ctrl+S saves it."""
    job = Path(shutil.copy(scenario("simple-pass"), tmp_path / "job.toml"))
    before = job.read_bytes()
    async with running(job) as (app, pilot):
        said: list[str] = []
        monkeypatch.setattr(type(app), "notify", lambda _, text, **__: said.append(text))
        monkeypatch.setattr(type(app.screen), "notify", lambda _, text, **__: said.append(text))
        session = app.screen.session
        session.do(put(session.data, ("title",), "Other title"), "title")
        with monkeypatch.context() as patch:
            for step in ("fsync", "replace"):
                patch.setattr(atomic_write.os, step, full)
                await pilot.press("ctrl+s")
                await until(pilot, lambda: said)
                assert "No space left" in said.pop()
                assert job.read_bytes() == before and session.history.unsaved
                assert list(tmp_path.glob(".*")) == []
                patch.undo()
        await pilot.press("ctrl+s")
        await until(pilot, lambda: not session.history.unsaved)
        assert b"Other title" in job.read_bytes()
        assert list(tmp_path.glob(".*")) == []


async def test_typing_on_a_full_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Editing goes on, and the screen says that it is not kept safe from a crash."""
    job = Path(shutil.copy(scenario("simple-pass"), tmp_path / "job.toml"))
    async with running(job, size=(120, 40)) as (app, pilot):
        session = app.screen.session
        with monkeypatch.context() as patch:
            patch.setattr(recovery.os, "replace", full)
            session.do(put(session.data, ("title",), "Other title"), "title")
            app.screen.refreshed()
            assert "No space left" in session.journal.fault
            await until(pilot, lambda: "not kept safe" in as_text(app) or "No space left" in as_text(app))
            assert session.data["title"] == "Other title"
        session.do(put(session.data, ("title",), "A third title"), "title")
        assert session.journal.fault == ""
