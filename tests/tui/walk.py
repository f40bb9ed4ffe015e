"""A walk through every screen, for tests that look at each of them: one app, one stop after the other."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Sequence
from typing import Any

from textual.pilot import Pilot

from tests.tui.screens import typed
from ventsize.tui.count import CountScreen
from ventsize.tui.field.listing import SpotsScreen
from ventsize.tui.field.rule import RulePage
from ventsize.tui.jobs import JobsScreen
from ventsize.tui.questions import QUESTIONS
from ventsize.tui.settings_screen import SettingsScreen
from ventsize.tui.table.screen import TableScreen
from ventsize.tui.table.tables import TablesScreen
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.file_picker import FilePicker
from ventsize.tui.widgets.question import Question

Keys = Sequence[str]

OF_A_JOB: Sequence[tuple[str, Keys]] = (
    ("runs", ("f2",)),
    ("appliance", ("f3",)),
    ("site", ("f4",)),
    ("pressure", ("f5",)),
    ("cautions", ("f6",)),
    ("route", ("f7",)),
    ("marked", ("f2", "home", "space", "space")),
    ("field", ("f2", "home", "down", "enter")),
    ("wrong", ("f2", "home", "down", "text:7 bananas")),
    ("add", ("f2", "a")),
    ("bulk", ("f2", "ctrl+e")),
    ("walk-route", ("f2", "w")),
    ("working", ("f2", "down", "o")),
    ("verdict-working", ("ctrl+o",)),
    ("reports", ("f9",)),
    ("all-keys", ("f12",)),
    ("help", ("f1",)),
)
"""Parts and lists of an open job, by the keys that lead there."""

THEN: dict[str, Keys] = {
    "options": ("e",),
    "compare": ("b",),
    "takeoff": ("f3", "f4"),
    "papers": ("b",),
    "roomair": ("f2", "a"),
    "lesson": ("f2",),
    "sweep": ("v",),
    "along": ("v", "v"),
    "inducer": ("right", "e"),
}
"""What else a question shows, by a key each."""


async def settled(app: Any, pilot: Pilot[int]) -> None:
    """Nothing is being worked out or laid out any more."""
    await pilot.pause()
    for _ in range(1000):
        if not getattr(app.screen, "opening", False) and all(worker.is_finished for worker in app.workers):
            break
        await asyncio.sleep(0.01)
    await pilot.pause()
    app.clear_notifications()
    await pilot.pause()


async def pressed(app: Any, pilot: Pilot[int], keys: Keys) -> None:
    """Keys, "text:" before what is typed."""
    for key in keys:
        await (typed(pilot, key[5:]) if key.startswith("text:") else pilot.press(key))
    await settled(app, pilot)


async def back_to(app: Any, pilot: Pilot[int], screen: Any) -> None:
    """Close what stands over a screen."""
    while app.screen is not screen:
        app.pop_screen()
        await pilot.pause()


async def before_a_job(app: Any, pilot: Pilot[int]) -> AsyncIterator[str]:
    """What can be opened without a job."""
    below = app.screen
    yield "first"
    for key, name in (("3", "at-the-appliance"), ("5", "teach"), ("9", "demonstrations")):
        await pressed(app, pilot, (key,))
        yield name
        await back_to(app, pilot, below)
    opened = (CountScreen(), TablesScreen(), SettingsScreen(), JobsScreen(_folder()))
    for name, screen in zip(("count", "tables", "settings", "jobs"), opened, strict=True):
        app.push_screen(screen)
        await settled(app, pilot)
        yield name
        await back_to(app, pilot, below)
    for table in ("demo-two-stage", "demo-elbow-count"):
        app.push_screen(TableScreen(f"{table}.toml"))
        await settled(app, pilot)
        for key, part in (("f2", "rows"), ("f3", "deductions"), ("f4", "source")):
            await pressed(app, pilot, (key,))
            yield f"{table}-{part}"
        await back_to(app, pilot, below)
    over: tuple[tuple[str, Any], ...] = (
        ("file", FilePicker("Open a job file", _folder())),
        ("line", AskLine("A note on this visit", None)),
        (
            "question",
            Question("Close the job?", "What is typed is not saved.", (("s", "Save it", "s"), ("k", "Keep", "k"))),
        ),
    )
    for name, screen in over:
        app.push_screen(screen)
        await settled(app, pilot)
        yield name
        await back_to(app, pilot, below)


async def of_a_job(app: Any, pilot: Pilot[int]) -> AsyncIterator[str]:
    """Everything of a job that is open, its questions and the pages at the appliance too."""
    below = app.screen
    for name, keys in OF_A_JOB:
        await pressed(app, pilot, keys)
        yield name
        await back_to(app, pilot, below)
    await pressed(app, pilot, ("f2", "u"))
    assert below.session.check is not None and not below.session.stale, "the questions are asked of a job that is right"
    await pressed(app, pilot, ("b", "f8"))
    yield "variants"
    await back_to(app, pilot, app.screen_stack[-2])
    below = app.screen
    for question in QUESTIONS:
        app.push_screen(question.open(below.session))
        await settled(app, pilot)
        yield question.name
        for key in THEN.get(question.name, ()):
            await pressed(app, pilot, (key,))
            yield f"{question.name}-{key}"
        await back_to(app, pilot, below)
        if question.name == "roomair":
            await pressed(app, pilot, ("f2", "u"))  # the room that was added
    for name, screen in (
        ("readings-list", SpotsScreen(below.session, "high")),
        ("rule", RulePage(below.session)),
    ):
        app.push_screen(screen)
        await settled(app, pilot)
        yield name
        if name == "readings-list":
            await pressed(app, pilot, ("1",))
            yield "reading"
            await pressed(app, pilot, ("escape", "end", "up", "enter"))
            yield "seen"
        await back_to(app, pilot, below)


def _folder() -> Any:
    from ventsize.catalog.folders import shipped_folder

    return shipped_folder("scenarios")
