"""Every screen, walked once: nothing is cut within a word, and what is drawn can be read in every look.

For cut words a screen is compared with itself on a terminal where there is room for all.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from textual.widgets import Input

from tests.tui.contrast import EveryLook
from tests.tui.screens import LARGE, SMALL, as_text, running, scenario
from tests.tui.walk import before_a_job, of_a_job, settled
from ventsize.catalog.folders import settings_file
from ventsize.catalog.library import load_catalog
from ventsize.tui.job.outline import COLUMNS
from ventsize.tui.widgets.key_line import KeyLine

ROOMY = (200, 60)
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
    seen = app.screen._compositor.visible_widgets
    typed = [area.intersection(clip) for field, (area, clip) in seen.items() if isinstance(field, Input)]
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


def halves(seen: set[str], whole: set[str]) -> set[str]:
    """What is the beginning or the end of a longer word of the roomy screen."""
    return {
        word
        for word in seen
        if any((other.startswith(word) or other.endswith(word)) and other not in (word, f"{word}s") for other in whole)
    }


async def drawn(app: Any, pilot: Any, size: tuple[int, int]) -> list[str]:
    """The words on a terminal of this size, once they stand."""
    await pilot.resize_terminal(*size)
    await settled(app, pilot)
    return words(app)


async def cut(
    app: Any, pilot: Any, stops: Any, *, last: str = "", looks: EveryLook | None = None
) -> dict[tuple[str, int], set[str]]:
    """By screen and width, as far as the last; what is a whole word on some roomy screen is none.

    looks: what looks at each screen too. Every other screen is drawn from the smallest on, the ones between from the
    roomiest: each begins at the size of the one before.
    """
    found: dict[tuple[str, int], set[str]] = {}
    words_there: set[str] = set()
    sizes = [ROOMY, LARGE, SMALL]
    async for name in stops:
        seen = {}
        for size in sizes:
            seen[size] = set(await drawn(app, pilot, size))
            if size != ROOMY:
                assert [line.left_out for line in app.screen.query(KeyLine) if line.left_out] == [], (name, size)
            if looks and size == LARGE:
                await looks.at(name)
        sizes.reverse()
        words_there |= seen[ROOMY]
        found |= {(name, size[0]): halves(seen[size], seen[ROOMY]) for size in (LARGE, SMALL)}
        if name == last:
            break
    assert len(found) > 8
    return {where: bad - words_there for where, bad in found.items() if bad - words_there}


async def test_what_is_too_long_ends_in_words(tmp_path: Path) -> None:
    """A title leaves room for whether the job is saved; a reason of many lines says that there is more."""
    async with running(long_names("trips-on-the-vent", tmp_path), size=SMALL) as (app, _):
        title, *shown = as_text(app).splitlines()
        assert "…" in title and title.endswith(".toml, saved")
        assert shown[5].endswith("…") and "F2 Runs" in shown[6]


def test_every_size_fits_its_column() -> None:
    """Half of one is another size."""
    column = next(one for one in COLUMNS if one.title == "Size")
    labels = [size.label for pipe in load_catalog(user=False).pipes.values() for size in pipe.sizes]
    assert len(labels) > 20 and [label for label in labels if len(label) > column.width] == []


async def test_screens_without_a_job() -> None:
    """The first screen, the count, tables and their parts, settings, what asks."""
    async with running(size=SMALL) as (app, pilot):
        looks = EveryLook(app, pilot)
        assert await cut(app, pilot, before_a_job(app, pilot), looks=looks) == {}
        assert looks.found == {} and len(looks.seen) > 4


@pytest.mark.parametrize("units,pieces,last", [("us", 0, ""), ("si", 200, "headroom")])
async def test_screens_of_a_job(units: str, pieces: int, last: str, tmp_path: Path) -> None:
    """Every part, every report and the pages at the appliance, a wrong and a doubtful entry among them.

    Long names; both systems of units; two hundred pieces.
    """
    settings_file().parent.mkdir(parents=True, exist_ok=True)
    settings_file().write_text(f'units = "{units}"\n', encoding="utf-8")
    job = long_names("trips-on-the-vent", tmp_path, pieces=pieces)
    async with running(job, size=SMALL) as (app, pilot):
        looks = EveryLook(app, pilot)
        assert await cut(app, pilot, of_a_job(app, pilot), last=last, looks=looks if units == "us" else None) == {}
        assert looks.found == {} and (len(looks.seen) > 4) is (units == "us")
