"""What is drawn can be read: the contrast of every screen in every look, worked out from the colors on the screen."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from rich.color import ColorTriplet

from tests.tui.screens import running, scenario
from tests.tui.walk import before_a_job, of_a_job
from ventsize.tui.themes import HIGH_CONTRAST, THEMES

TEXT, SIGN = 4.5, 3.0  # WCAG 2.2, success criteria 1.4.3 and 1.4.11
TEXT_HIGH = 7.0  # in the look of high contrast: 1.4.6


def luminance(color: ColorTriplet) -> float:
    """Relative luminance, by WCAG 2.2."""
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in color.normalized
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(first: ColorTriplet, second: ColorTriplet) -> float:
    """Contrast of two colors, by WCAG 2.2: 1 to 21."""
    light, dark = sorted((luminance(first), luminance(second)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_measure_itself() -> None:
    """Black on white is 21:1, #767676 on white 4.54:1 (published with the guideline)."""
    white, black, gray = ColorTriplet(255, 255, 255), ColorTriplet(0, 0, 0), ColorTriplet(0x76, 0x76, 0x76)
    assert contrast(white, black) == pytest.approx(21)
    assert contrast(gray, white) == pytest.approx(4.54, abs=0.01)


def colors(style: Any) -> tuple[ColorTriplet, ColorTriplet]:
    """Of what is drawn and of what it is drawn on, as the terminal gets them."""
    front, back = style.color.get_truecolor(), style.bgcolor.get_truecolor()
    if style.reverse:
        front, back = back, front
    if style.dim:
        front = ColorTriplet(*((a + b) // 2 for a, b in zip(front, back, strict=True)))
    return front, back


def drawn(app: Any) -> Iterator[tuple[str, ColorTriplet, ColorTriplet]]:
    """Every text on the screen in front, with its color and what it is drawn on."""
    box = next(iter(app.screen.children)).region if app.screen.is_modal else app.screen.region
    for y, strip in enumerate(app.screen._compositor.render_strips(app.size)):
        if box.y <= y < box.bottom:
            for text, style, _ in strip.crop(box.x, box.right):
                if text.strip() and style is not None:
                    yield text.strip(), *colors(style)


def faint(app: Any) -> set[tuple[str, str, float]]:
    """What is drawn too faintly: the text, its colors, their contrast."""
    least = TEXT_HIGH if app.theme == HIGH_CONTRAST else TEXT
    return {
        (text, f"{front.hex} on {back.hex}", round(contrast(front, back), 2))
        for text, front, back in drawn(app)
        if contrast(front, back) < (least if any(map(str.isalnum, text)) else SIGN)
    }


async def too_faint(app: Any, pilot: Any, stops: Any) -> dict[tuple[str, str], Any]:
    """By screen and look. The other looks are put on only where the first one shows a pair of colors not yet seen."""
    found, seen = {}, set()
    async for name in stops:
        fresh = {(any(map(str.isalnum, text)), *pair) for text, *pair in drawn(app)} - seen
        seen |= fresh
        for theme in THEMES if fresh else ():
            app.theme = theme.name
            await pilot.pause()
            found[name, theme.name] = faint(app)
        app.theme = THEMES[0].name
        await pilot.pause()
    assert len(seen) > 4
    return {where: bad for where, bad in found.items() if bad}


async def test_screens_without_a_job() -> None:
    """The first screen, the count, tables and their parts, settings, what asks."""
    async with running(size=(100, 30)) as (app, pilot):
        assert await too_faint(app, pilot, before_a_job(app, pilot)) == {}


async def test_screens_of_a_job() -> None:
    """Every part, every report and the pages at the appliance, a wrong and a doubtful entry among them."""
    async with running(scenario("trips-on-the-vent"), size=(100, 30)) as (app, pilot):
        assert await too_faint(app, pilot, of_a_job(app, pilot)) == {}


@pytest.mark.parametrize("job", ["simple-pass", "no-acceptable-option", "not-in-the-table"])
async def test_every_verdict(job: str) -> None:
    """Within, over, and nothing to go by."""
    async with running(scenario(job), size=(100, 30)) as (app, pilot):

        async def once() -> Any:
            yield job

        assert await too_faint(app, pilot, once()) == {}
