"""Nothing is cut within a word: every screen is compared with itself on a terminal where there is room for all."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from textual.widgets import Input

from tests.tui.screens import LARGE, SMALL, running, scenario
from tests.tui.walk import before_a_job, of_a_job
from ventsize.catalog.folders import settings_file

ROOMY = (300, 100)
WORD = re.compile(r"[^\W\d_]{3,}")
LONG = {
    "furnace": "condensing furnace of the upper workshop",
    "boiler": "condensing boiler of the upper workshop",
    "vent": "vent through the northern knee wall",
    "air": "combustion air from the northern gable",
}
TITLE = "Replacement at the lighthouse keeper's former boathouse, second storey, northern workshop"


def long_names(name: str, folder: Path, *, pieces: int = 0) -> Path:
    """A demonstration with long names, and with so many pieces more in its first run."""
    text = scenario(name).read_text(encoding="utf-8")
    for short, long in LONG.items():
        text = text.replace(f'"{short}"', f'"{long}"')
    text = re.sub(r'^title = ".*"', f'title = "{TITLE}"', text, flags=re.MULTILINE)
    more = '  { pipe = "6 in", heading = "up" },\n  { fitting = "coupling" },\n' * (pieces // 2)
    text = text.replace("pieces = [\n", f"pieces = [\n{more}", 1)
    path = folder / "a-job-with-a-rather-long-name-for-a-file.toml"
    path.write_text(text, encoding="utf-8")
    return path


def words(app: Any) -> list[str]:
    """Every word on the screen in front, but for what stands in fields, whose text moves as it is typed."""
    typed = [field.region for field in app.screen.query(Input)]
    box = next(iter(app.screen.children)).region if app.screen.is_modal else app.screen.region
    found = []
    for y, strip in enumerate(app.screen._compositor.render_strips(app.size)):
        if box.y <= y < box.bottom:
            text = strip.crop(box.x, box.right).text
            for field in typed:
                if field.y <= y < field.bottom:
                    text = text[: field.x - box.x] + " | " + " " * (field.width - 3) + text[field.right - box.x :]
            found += WORD.findall(text)
    return found


def halves(seen: list[str], whole: set[str]) -> set[str]:
    """What is no word of the roomy screen, but the beginning or the end of one."""
    return {
        word
        for word in set(seen) - whole
        if any((other.startswith(word) or other.endswith(word)) and len(other) > len(word) for other in whole)
    }


async def cut(app: Any, pilot: Any, stops: Any) -> dict[tuple[str, int], set[str]]:
    """By screen and width."""
    found = {}
    async for name in stops:
        await pilot.resize_terminal(*ROOMY)
        await pilot.pause()
        whole = set(words(app))
        for size in (LARGE, SMALL):
            await pilot.resize_terminal(*size)
            await pilot.pause()
            await pilot.pause()
            found[name, size[0]] = halves(words(app), whole)
    assert len(found) > 8
    return {where: bad for where, bad in found.items() if bad}


async def test_screens_without_a_job() -> None:
    """The first screen, the count, tables, settings, what asks."""
    async with running(size=SMALL) as (app, pilot):
        assert await cut(app, pilot, before_a_job(app, pilot)) == {}


@pytest.mark.parametrize("units,pieces", [("us", 0), ("si", 200)])
async def test_screens_of_a_job(units: str, pieces: int, tmp_path: Path) -> None:
    """Long names; both systems of units; two hundred pieces."""
    settings_file().parent.mkdir(parents=True, exist_ok=True)
    settings_file().write_text(f'units = "{units}"\n', encoding="utf-8")
    job = long_names("trips-on-the-vent", tmp_path, pieces=pieces)
    async with running(job, size=SMALL) as (app, pilot):
        assert await cut(app, pilot, of_a_job(app, pilot)) == {}
