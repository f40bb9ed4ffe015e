"""Judging beside the screen: no key waits for an answer, and the answer shown is that to what was typed last."""

from __future__ import annotations

import shutil
from pathlib import Path
from threading import Event
from typing import Any

import pytest
from textual.events import Key

import ventsize.check.verdict as verdicts
from tests.tui.screens import running, scenario, until, verdict
from ventsize.tui.job.session import Session
from ventsize.tui.questions.papers import PapersScreen

LONGEST = 20.0  # s; that a check waits here, should the screen be waiting for it


async def test_no_key_waits_for_a_check(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Four keys while a check goes on: each is in the data at once; only the first and the last are judged."""
    job = Path(shutil.copy(scenario("simple-pass"), tmp_path / "job.toml"))
    check, asked, goes_on = verdicts.check, [], Event()

    def waiting(inputs: Any) -> Any:
        asked.append(inputs.job.runs[0].pieces[0].pipe)
        assert goes_on.wait(LONGEST), "the screen waits for the check"
        return check(inputs)

    async with running(job) as (app, pilot):
        session = app.screen.session
        monkeypatch.setattr(verdicts, "check", waiting)
        for typed in ("7", "71", "715", "7156"):
            app.post_message(Key(typed[-1], typed[-1]))
            await until(pilot, lambda typed=typed: session.data["run"][0]["pieces"][0]["pipe"] == f"{typed} ft")
            assert "WORKING" in verdict(app) and len(asked) == 1
        goes_on.set()
        await until(pilot, lambda: session.fresh)
        assert asked == pytest.approx([7 * 0.3048, 7156 * 0.3048])
        assert session.check.runs[0].run.pieces[0].length == asked[-1]
        await until(pilot, lambda: "WORKING" not in verdict(app))


async def test_a_report_waits_for_the_answer_to_what_is_typed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Typed over its allowance, and the papers asked for at once: no screen ever opens with the earlier pass.

    Keys typed ahead of the list of reports go to that list.
    """
    job = Path(shutil.copy(scenario("simple-pass"), tmp_path / "job.toml"))
    check, goes_on, seen = verdicts.check, Event(), []

    def waiting(inputs: Any) -> Any:
        assert goes_on.wait(LONGEST), "the screen waits for the check"
        return check(inputs)

    monkeypatch.setattr(PapersScreen, "on_mount", lambda screen: seen.append(screen.session.check.verdict))
    async with running(job) as (app, pilot):
        monkeypatch.setattr(verdicts, "check", waiting)
        for key in ("9", "9", "9", "enter", "f9", *"papers", "enter"):
            app.post_message(Key(key, key if len(key) == 1 else None))
        await pilot.pause()
        assert not isinstance(app.screen, PapersScreen)
        goes_on.set()
        await until(pilot, lambda: seen)
        assert isinstance(app.screen, PapersScreen) and seen == ["over"]
        assert app.screen.session.fresh


def test_an_answer_by_a_table_of_before_is_not_the_answer() -> None:
    """A table changed while a check was on its way: what is typed has no answer yet."""
    session = Session.open(scenario("simple-pass"))
    before = session.worked_out()
    session.outdated()
    session.take(before)
    assert not session.fresh
    session.judge()
    session.take(before)
    assert session.fresh and session.check is not before.check
