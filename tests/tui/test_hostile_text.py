"""Nothing that stands in a file, in its name, or in what is pasted takes over the terminal, on any screen."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual import events

from tests.cli.hostile import EVIL, EVIL_NAME, hostile_job
from tests.tui.screens import as_text, running, until
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.palette import actions_of
from ventsize.tui.widgets.file_picker import FilePicker
from ventsize.tui.widgets.question import Question

LEAVING = ("app.quit",)


def harmful(app: Any) -> list[str]:
    """The characters of the whole screen that are no letters."""
    return sorted({repr(c) for c in as_text(app) if not (c.isprintable() or c in "\n\u00a0")})


@pytest.mark.parametrize("name", ["trips-on-the-vent", "long-run-adaptive"])
async def test_every_screen_of_a_job(name: str, root: Path, tmp_path: Path) -> None:
    """Every action there is, on a job whose every text is hostile and whose file is called so too."""
    job = hostile_job(root / "scenarios" / f"{name}.toml", tmp_path)
    async with running(job, size=(120, 40)) as (app, pilot):
        assert harmful(app) == []
        screen = app.screen
        tried = 0
        for _, _, identity, (node, action) in list(actions_of(screen)):
            if identity in LEAVING:
                continue
            await app.run_action(action, node)
            await pilot.pause(0.05)
            assert harmful(app) == [], identity
            tried += 1
            while app.screen is not screen and len(app.screen_stack) > 2:
                app.pop_screen()
                await pilot.pause()
            if not isinstance(app.screen, JobScreen):
                app.push_screen(screen)
                await pilot.pause()
        assert tried > 20


async def test_names_of_files_and_what_is_pasted(root: Path, tmp_path: Path) -> None:
    """A folder of hostile names, and a paste that holds a whole takeover."""
    job = hostile_job(root / "scenarios" / "simple-pass.toml", tmp_path)
    for number in range(3):
        (tmp_path / f"{number}{EVIL_NAME}").write_text("x", encoding="utf-8")
    async with running(job) as (app, pilot):
        app.push_screen(FilePicker(f"Open{EVIL}", tmp_path, name=EVIL))
        await pilot.pause(0.1)
        assert isinstance(app.screen, FilePicker)
        assert "]0;t[2J" in as_text(app) and harmful(app) == []
        app.pop_screen()
        for place in ("#outline", None):
            if place:
                app.screen.query_one(place).focus()
            await pilot.press("enter", "tab")
            app.post_message(events.Paste(EVIL))
            await pilot.pause(0.1)
            assert harmful(app) == []
        app.push_screen(Question(EVIL, EVIL, (("go", EVIL, "g"),)))
        await until(pilot, lambda: "]0;t[2J" in as_text(app))
        assert harmful(app) == []


async def test_the_test_sees_what_reaches_the_terminal(root: Path) -> None:
    """Without the filter a question does carry an escape sequence to the screen."""
    async with running(root / "scenarios" / "simple-pass.toml") as (app, pilot):
        app._filters = [one for one in app._filters if type(one).__name__ != "LettersOnly"]
        app.push_screen(Question("begun", "\x1b[2J\u202e", (("go", "Go on", "g"),)))
        await until(pilot, lambda: "begun" in as_text(app))
        assert harmful(app) != []
