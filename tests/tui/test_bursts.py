"""Keys typed faster than the screen can follow: none is lost, none goes to the wrong place."""

from __future__ import annotations

import os
import random
import shutil
from pathlib import Path

import pytest
from textual import events
from textual.screen import Screen

from tests.tui.screens import LARGE, SMALL, running, scenario, until, verdict
from ventsize.tui.count import CountScreen
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.table.screen import TableScreen

BURSTS = int(os.environ.get("VENTSIZE_BURSTS", "20"))  # two hundred take a minute


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A copy of a demonstration job that may be changed."""
    return Path(shutil.copy(scenario("simple-pass"), tmp_path / "job.toml"))


def hurry(app: object, keys: list[str]) -> None:
    """All keys at once, as a terminal hands them on when somebody types ahead."""
    for key in keys:
        app.post_message(events.Key(key, key if len(key) == 1 else None))  # type: ignore[attr-defined]


async def settled(app: object, pilot: object) -> None:
    """Until the last key of a burst is through."""
    await until(pilot, lambda: not (app._busy or app._waiting))  # type: ignore[arg-type,attr-defined]


async def test_bursts_lose_nothing(job: Path) -> None:
    """Down to another piece and its length at once, Enter or Esc after it; many times, on forms that change."""
    chance = random.Random(7)
    async with running(job, size=SMALL) as (app, pilot):
        data = app.screen.session.data["run"][0]["pieces"]
        pipes = [n for n, piece in enumerate(data) if "pipe" in piece]
        expected = {n: data[n]["pipe"] for n in pipes}
        for _ in range(BURSTS):
            at, feet, kept = chance.choice(pipes), str(chance.randint(1, 999)), chance.random() < 0.7
            way = ["home", *["down"] * (at + 1)]
            hurry(app, [*way, *feet, "enter" if kept else "escape"])
            if not kept:
                hurry(app, ["escape"])  # a second one leaves the field
            else:
                expected[at] = f"{feet} ft"
            if chance.random() < 0.3:
                await settled(app, pilot)
                now = app.screen.session.data["run"][0]["pieces"]
                assert {n: now[n]["pipe"] for n in pipes} == expected
        await settled(app, pilot)
        now = app.screen.session.data["run"][0]["pieces"]
        assert {n: now[n]["pipe"] for n in pipes} == expected
        assert app.screen.session.fresh
        assert "WORKING" not in verdict(app)


async def test_keys_typed_ahead_reach_what_they_open(job: Path) -> None:
    """A list opened by one key takes the letters after it; the field after it the digits; Esc what they were for."""
    async with running(job, size=LARGE) as (app, pilot):
        hurry(app, ["a", *"coupling", "enter", "insert", *"33", "enter", "f4", "up", *"Mill", "enter", "f2"])
        await settled(app, pilot)
        session = app.screen.session
        assert session.data["title"] == "Mill"
        assert session.data["run"][0]["pieces"][1:3] == [{"fitting": "coupling"}, {"pipe": "33 ft", "heading": "up"}]
        hurry(app, ["f9", "escape", "o", "escape", "down", *"44", "escape", "escape"])
        await settled(app, pilot)
        assert isinstance(app.screen, JobScreen) and session.data["run"][0]["pieces"][2]["pipe"] == "33 ft"


async def test_keys_typed_while_a_job_opens_wait_for_it(job: Path) -> None:
    """Nothing is shown yet: what is typed is for the list that will be there."""
    async with running() as (app, pilot):
        app.open_job(job)
        hurry(app, [*"77", "enter"])
        await until(pilot, lambda: isinstance(app.screen, JobScreen) and not app.screen.opening)
        await settled(app, pilot)
        assert app.screen.session.data["run"][0]["pieces"][0]["pipe"] == "77 ft"


async def test_no_verdict_is_shown_for_another_state_than_the_typed_one(job: Path) -> None:
    """While keys wait, the verdict says that it is being worked out."""
    async with running(job) as (app, pilot):
        seen = []
        show = type(app.screen).show_verdict

        def watched(screen: JobScreen) -> None:
            show(screen)
            length = screen.session.data["run"][0]["pieces"][0]["pipe"]
            seen.append((length, verdict(app).split()[0], screen.session.fresh))

        type(app.screen).show_verdict = watched  # type: ignore[method-assign]
        try:
            hurry(app, [*"150", "enter"])
            await settled(app, pilot)
        finally:
            type(app.screen).show_verdict = show  # type: ignore[method-assign]
        assert all(word == "WORKING" for _, word, fresh in seen if not fresh)
        assert seen[-1] == ("150 ft", "✗", True)


@pytest.mark.parametrize("opened", [JobScreen, CountScreen, TableScreen])
async def test_keys_are_taken_once_something_has_the_focus(
    opened: type[Screen[None]], job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The focus is set a little after it is asked for; a key in between would reach nobody."""
    focused: list[bool] = []

    def end(screen: Screen[None], opening: bool) -> None:
        vars(screen)["opening"] = opening
        if not opening:
            focused.append(screen.app.focused is not None)

    monkeypatch.setattr(
        opened, "opening", property(lambda screen: vars(screen).get("opening", True), end), raising=False
    )
    async with running(job if opened is JobScreen else None, size=SMALL) as (app, pilot):
        if opened is not JobScreen:
            await app.push_screen(CountScreen() if opened is CountScreen else TableScreen(None))
            await until(pilot, lambda: bool(focused))
    assert focused == [True]
