"""Whether what is drawn can be read: the contrast of a screen in every look, worked out from the colors on it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rich.color import ColorTriplet

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


class EveryLook:
    """Screens in every look, one after the other.

    found: what was drawn too faintly, by screen and look. seen: pairs of colors, with whether they are of letters.
    """

    def __init__(self, app: Any, pilot: Any) -> None:
        self._app, self._pilot = app, pilot
        self.found: dict[tuple[str, str], Any] = {}
        self.seen: set[Any] = set()

    async def at(self, name: str) -> None:
        """Look at a screen. The other looks are put on only where the first shows a pair of colors not yet seen."""
        fresh = {(any(map(str.isalnum, text)), *pair) for text, *pair in drawn(self._app)} - self.seen
        self.seen |= fresh
        for theme in THEMES if fresh else ():
            self._app.theme = theme.name
            await self._pilot.pause()
            if bad := faint(self._app):
                self.found[name, theme.name] = bad
        if fresh:
            self._app.theme = THEMES[0].name
            await self._pilot.pause()
