"""One grammar of keys: a key does the same on every screen, and nothing hangs on a key that terminals take."""

from __future__ import annotations

from tests.tui.screens import running, scenario, typed, until
from ventsize.catalog.folders import shipped_folder
from ventsize.tui.demonstrations import demonstrations
from ventsize.tui.help import HelpScreen
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.key_list import every_key
from ventsize.tui.settings_screen import SettingsScreen
from ventsize.tui.start import NUMBERS, StartScreen
from ventsize.tui.widgets.picker import Picker

MEANING = {
    "a": "Add", "b": "Beside", "c": "Copy", "d": "Duplicate", "e": "Change", "f": "Fill", "g": "First", "h": "Left",
    "i": "Import", "j": "Down", "k": "Up", "l": "Right", "m": "More", "n": "Next", "o": "Open", "p": "Previous",
    "q": "Quit", "r": "Rate", "s": "Save", "t": "Text", "u": "Undo", "v": "View", "w": "Walk", "x": "Remove",
    "y": "Answer", "z": "Page size",
}  # fmt: skip
"""What each letter does, wherever it does anything: the words that its labels begin with."""
TAKEN = {"f1", "f10", "f12", "ctrl+s", "ctrl+q", "ctrl+p"}  # by terminals and multiplexers
ELSEWHERE = {
    "app.help": "? does it", "app.settings": "an entry of the first screen", "app.keys": "? twice",
    "app.quit": "Esc or q on the first screen", "count.save": "Esc asks",
}  # fmt: skip
"""Actions that only such a key does, and how else they are done."""
DIALOGS = ("offer",)  # their letters stand on the buttons


def test_a_letter_means_one_thing() -> None:
    """Whatever the screen; n is never anything but next, least of all "not met"."""
    wrong = [
        (bound.name, key, bound.label)
        for bound in every_key()
        for key in bound.keys.split(",")
        if len(key) == 1 and key.isalpha() and bound.name.split(".")[0] not in DIALOGS
        if not bound.label.startswith(MEANING.get(key, "?"))
    ]
    assert wrong == []


def test_no_capital_is_a_key_of_its_own() -> None:
    """Caps Lock would change what is done."""
    assert [b.name for b in every_key() if any(len(key) == 1 and key.isupper() for key in b.keys.split(","))] == []


def test_nothing_hangs_on_a_key_that_terminals_take() -> None:
    """Each has another key, or a way that is named here."""
    only = {bound.name for bound in every_key() if set(bound.keys.split(",")) <= TAKEN}
    assert only == set(ELSEWHERE)


async def test_help_and_all_keys_are_a_question_mark_away() -> None:
    """? helps, once more searches every key; Esc leaves each."""
    async with running(scenario("simple-pass")) as (app, pilot):
        await pilot.press("question_mark")
        await until(pilot, lambda: isinstance(app.screen, HelpScreen))
        await pilot.press("question_mark")
        await until(pilot, lambda: isinstance(app.screen, Picker))
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))
        await pilot.press("q", "ctrl+c")
        await pilot.pause()
        assert isinstance(app.screen, JobScreen) and app.return_value is None


async def test_a_question_mark_helps_in_a_field_too() -> None:
    """A number half typed keeps it from nobody; within words it is a letter of them."""
    async with running(scenario("simple-pass")) as (app, pilot):
        await pilot.press("1", "2")
        field = app.focused
        await pilot.press("question_mark")
        await until(pilot, lambda: isinstance(app.screen, HelpScreen))
        await pilot.press("escape")
        await until(pilot, lambda: app.focused is field)
        assert field.value == "12"
        await pilot.press("escape", "f4")
        await until(pilot, lambda: app.screen.query("#site-form Input:focus"))
        await pilot.press("up")
        title = app.focused
        await pilot.press("question_mark")
        await until(pilot, lambda: isinstance(app.screen, HelpScreen))
        await pilot.press("escape", "w", "h", "y", "question_mark")
        await until(pilot, lambda: title.value == "why?")


async def test_every_task_has_its_number_and_escape_leaves_it() -> None:
    """From the first screen into each, and back by one Esc; there Esc asks, a second Esc stays, and Enter leaves."""
    async with running() as (app, pilot):
        for number in NUMBERS:
            await pilot.press(number)
            await until(pilot, lambda: not isinstance(app.screen, StartScreen) and not opening(app))
            if isinstance(app.screen, SettingsScreen):
                await until(pilot, lambda: app.screen.gathered)
            await pilot.press("escape")
            await until(pilot, lambda: isinstance(app.screen, StartScreen))
        await pilot.press("escape", "escape")
        assert isinstance(app.screen, StartScreen) and not app._exit
        await pilot.press("escape", "enter")
        await until(pilot, lambda: app.return_value == 0)


async def test_a_job_is_searched_from_the_first_screen() -> None:
    """/ as elsewhere: words of its title, Enter opens it."""
    async with running() as (app, pilot):
        await pilot.press("slash")
        await typed(pilot, "boathouse")
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))


def opening(app: object) -> bool:
    """Whether the screen in front cannot take keys yet."""
    return bool(getattr(app.screen, "opening", False))  # type: ignore[attr-defined]


def test_every_demonstration_is_listed_by_what_it_shows() -> None:
    """In one group, and there is none without a job."""
    listed = [path for _, path in demonstrations()]
    assert sorted(listed) == sorted(shipped_folder("scenarios").glob("*.toml"))
    assert [path for group, path in demonstrations() if group == "Others"] == []
