"""Judging beside the screen: no key waits for an answer, and the answer shown is that to what was typed last."""

from __future__ import annotations

import asyncio
import shutil
import time
from pathlib import Path
from typing import Any

import pytest
from textual.events import Key

import ventsize.check.verdict as verdicts
from tests.tui.screens import running, scenario, until, verdict

SLOW = 0.5  # s; what a check takes here
HELD_UP = 0.25  # s; longer than any key takes by itself, on a busy machine too


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[Any]:
    """Makes every check slow; the inputs it has been asked about."""
    check, asked = verdicts.check, []

    def slow(inputs: Any) -> Any:
        asked.append(inputs)
        time.sleep(SLOW)
        return check(inputs)

    monkeypatch.setattr(verdicts, "check", slow)
    return asked


async def longest_pause(seconds: float) -> float:
    """The longest time in which the screen's own thread did not come round [s]."""
    longest, last = 0.0, time.perf_counter()
    end = last + seconds
    while last < end:
        await asyncio.sleep(0.001)
        now = time.perf_counter()
        longest, last = max(longest, now - last), now
    return longest


async def test_no_key_waits_for_a_check(tmp_path: Path, asked: list[Any]) -> None:
    """Four keys while a check takes half a second: each is in the data at once; the first and the last are judged."""
    job = Path(shutil.copy(scenario("simple-pass"), tmp_path / "job.toml"))
    async with running(job) as (app, pilot):
        session = app.screen.session
        asked.clear()
        for typed in ("7", "71", "715", "7156"):
            app.post_message(Key(typed[-1], typed[-1]))
            assert await longest_pause(SLOW / 5) < HELD_UP
            assert session.data["run"][0]["pieces"][0]["pipe"] == f"{typed} ft"
            assert "WORKING" in verdict(app)
        await until(pilot, lambda: session.fresh)
        judged = [one.job.runs[0].pieces[0].pipe for one in asked]
        assert judged == pytest.approx([7 * 0.3048, 7156 * 0.3048])
        assert session.check.runs[0].run.pieces[0].length == judged[-1]
        await until(pilot, lambda: "WORKING" not in verdict(app))
