"""What the job screen looks like in each of its states, at both sizes; what it shows is asserted first."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from tests.tui.screens import LARGE, SMALL, as_text, running, scenario, typed, until
from tests.tui.test_pictures import compare

SIZES = {"80x24": SMALL, "120x40": LARGE}

# A state: its name, the keys that lead to it from a job just opened ("text:" before what is typed), what must be shown.
STATES: Sequence[tuple[str, Sequence[str], Sequence[str]]] = (
    ("over", ("text:150", "enter"), ("✗ OVER", "43.5 ft over", "not saved")),
    ("invalid", ("text:7 bananas",), ("PREVIOUS RESULT", "is not a unit of length")),
    ("doubtful", ("text:10 mi",), ("is that so?",)),
    ("run", ("home",), ("From", "outdoors", "Material")),
    ("fitting", ("down",), ("Own K", "Own length")),
    ("marked", ("space", "space"), ("2 marked",)),
    ("add", ("a",), ("Add after this piece", "elbow-90-short")),
    ("exchange", ("down", "e"), ("All 2 × elbow-90-long in this run become",)),
    ("several", ("ctrl+e",), ("Change the whole run (Space marks pieces)", "Surroundings")),
    ("walk", ("w",), ("Walk: up 3",)),
    ("undone", ("d", "u"), ("undone: duplicate",)),
    ("working", ("down", "o"), ("2. elbow-90-long", "rate 1 of 2")),
    ("verdict-working", ("ctrl+o",), ("air at high",)),
    ("joints", ("f3", "a", "text:joint", "enter"), ("Where runs meet", "Straight through")),
    ("rate", ("f3", "down", "enter"), ("Air given as", "80,000 Btu/h")),
    ("cautions", ("f6",), ("cools, or the air warms",)),
    ("route", ("f7",), ("Plan", "Scale")),
    ("beside", ("b", "f8"), ("The open variants", "Enter goes on with one")),
    ("unsaved", ("text:5", "enter", "escape"), ("Save and close (s)",)),
)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name,keys,shown", STATES, ids=[state[0] for state in STATES])
async def test_state(size: str, name: str, keys: Sequence[str], shown: Sequence[str], tmp_path: Path) -> None:
    """The state is what it should be, and looks as a person last agreed to."""
    job = Path(shutil.copy(scenario("simple-pass"), tmp_path / "job.toml"))
    async with running(job, size=SIZES[size]) as (app, pilot):
        await _go(pilot, keys)
        await until(pilot, lambda: not app._animator._animations)
        flat = " ".join(as_text(app).split())
        for words in shown:
            assert words in flat
        compare(f"job-{name}-{size}", as_text(app))


@pytest.mark.parametrize("size", SIZES)
async def test_the_menu_of_questions(size: str) -> None:
    """Its first entries; more are added as questions are."""
    async with running(scenario("simple-pass"), size=SIZES[size]) as (app, pilot):
        await _go(pilot, ("f9",))
        flat = " ".join(as_text(app).split())
        assert "Reports" in flat and "The whole answer as text" in flat


async def _go(pilot: Any, keys: Sequence[str]) -> None:
    for key in keys:
        if key.startswith("text:"):
            await typed(pilot, key.removeprefix("text:"))
        else:
            await pilot.press(key)
            await pilot.pause()


async def test_a_terminal_made_larger_shows_what_one_of_that_size_does() -> None:
    """Lines of choices made for more room had been wrapped meanwhile, and kept their height."""
    seen = []
    for size in (LARGE, SMALL):
        async with running(scenario("simple-pass"), size=size) as (app, pilot):
            await pilot.resize_terminal(*LARGE)
            await pilot.pause()
            seen.append(as_text(app))
    assert seen[0] == seen[1]
