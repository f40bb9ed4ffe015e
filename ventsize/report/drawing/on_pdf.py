"""A drawing put into a PDF as vector graphics."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ventsize.report.drawing.model import Box, Dot, Drawing, Line, Mark, Words
from ventsize.report.drawing.styles import INK, STYLES, Role

if TYPE_CHECKING:
    from collections.abc import Callable

    from fpdf import FPDF


def draw(drawing: Drawing, pdf: FPDF, *, x: float, y: float, width: float, letters: Callable[[str], str]) -> None:
    """Put a drawing on the page so that it is `width` wide; [pt], x and y of its upper left corner.

    letters: what the PDF's font can show of a text.
    """
    place = _Place(pdf, x, y, width / drawing.width, letters)
    with pdf.local_context():
        for mark in drawing.marks:
            place.put(mark)


class _Place:
    """A drawing's place on a page: its corner and its scale."""

    def __init__(self, pdf: FPDF, x: float, y: float, scale: float, letters: Callable[[str], str]) -> None:
        self._pdf, self._x, self._y, self._scale, self._letters = pdf, x, y, scale, letters

    def put(self, mark: Mark) -> None:
        match mark:
            case Line():
                points = [self._at(x, y) for x, y in mark.points]
                style = self._take(mark.role)
                if mark.closed:
                    self._pdf.polygon(points, style=style)
                elif style:
                    self._pdf.polyline(points)
            case Box():
                style = self._take(mark.role)
                x, y = self._at(mark.x, mark.y)
                self._pdf.rect(x, y, mark.width * self._scale, mark.height * self._scale, style=style)
            case Dot():
                style = self._take(mark.role)
                if style == "D":  # a dot of a line: filled, or a dashed one would be hard to see
                    self._pdf.set_fill_color(STYLES[mark.role].stroke or INK)
                    style = "F"
                x, y = self._at(mark.x, mark.y)
                self._pdf.circle(x, y, mark.radius * self._scale, style=style)
            case Words():
                self._words(mark)

    def _at(self, x: float, y: float) -> tuple[float, float]:
        return self._x + x * self._scale, self._y + y * self._scale

    def _take(self, role: Role) -> str:
        """Set pen and brush for a role; how the two are used."""
        style, pdf = STYLES[role], self._pdf
        if style.fill is not None:
            pdf.set_fill_color(style.fill)
        if style.stroke is None:
            return "F"
        pdf.set_draw_color(style.stroke)
        pdf.set_line_width(style.width * self._scale)
        on, off = style.dash or (0.0, 0.0)
        pdf.set_dash_pattern(dash=on * self._scale, gap=off * self._scale)
        return "D" if style.fill is None else "DF"

    def _words(self, mark: Words) -> None:
        pdf = self._pdf
        pdf.set_font(size=mark.size * self._scale)
        pdf.set_text_color(INK)
        text = self._letters(mark.text)
        x, y = self._at(mark.x, mark.y)
        wide = pdf.get_string_width(text) * {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.anchor]
        pdf.text(x - wide, y, text)
