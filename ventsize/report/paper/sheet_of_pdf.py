"""The page of a PDF: its letters, margins and foot, and how text is put on it.

The letters are DejaVu Sans, free to embed, which ziafont ships; they come in one weight.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from importlib.resources import as_file, files
from typing import Any, cast
from xml.sax.saxutils import escape

from fpdf import FPDF
from fpdf.enums import MethodReturnValue, TextMode, XPos, YPos
from fpdf.fonts import TTFFont
from fpdf.prefs import ViewerPreferences

from ventsize.jobfile.letters import plain
from ventsize.report.paper.blocks import Size
from ventsize.report.paper.tags_of_pdf import Tags

INK, FAINT, RULE, SHADE = "#1a1a1a", "#595959", "#a6a6a6", "#efefef"
BODY, SMALL, LINE = 9.5, 8.5, 1.35  # type [pt], and lines apart in heights of the type
_MARGIN = 48.0
_FAMILY = "DejaVu Sans"
_MISSING = "\ufffd"
_XMP = (
    '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
    '<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:title><rdf:Alt>'
    '<rdf:li xml:lang="x-default">{}</rdf:li></rdf:Alt></dc:title></rdf:Description></rdf:RDF></x:xmpmeta>'
)
_LAST_WORD = "A character that these letters do not have is shown as "


class Sheet(FPDF):
    """Pages in points, from the top down, in one family of letters that has Greek and the signs of formulas."""

    def __init__(self, *, size: Size, title: str, foot: str, creator: str) -> None:
        super().__init__(orientation="portrait", unit="pt", format=size)
        self.tags = Tags()
        self.struct_builder = self.tags
        self._open: tuple[str, str | None] | None = None
        self.viewer_preferences = ViewerPreferences(display_doc_title=True)
        with as_file(files("ziafont") / "fonts" / "DejaVuSans.ttf") as path:
            self.add_font(_FAMILY, fname=path)
        self.set_font(_FAMILY, size=BODY)
        self._known = _known(self)
        self._foot, self._lacking = foot, False
        self.set_margins(_MARGIN, _MARGIN)
        self.set_auto_page_break(True, margin=_MARGIN + 12.0)
        self.set_title(self.letters(title))
        self.set_xmp_metadata(_XMP.format(escape(self.letters(title))))
        self.set_creator(creator)
        self.set_lang("en-US")
        self.add_page()

    def letters(self, text: str) -> str:
        """What these letters can show of a text."""
        kept = "".join(c if ord(c) in self._known else _MISSING for c in plain(text))
        self._lacking = self._lacking or _MISSING in kept
        return kept

    # What is what, for those who have it read out

    @contextmanager
    def tagged(self, kind: str, *, alt: str | None = None) -> Iterator[None]:
        """What is put on the page within is an element of this kind; over a page's end it goes on as another."""
        if self._open is not None:  # one inside another: the outer one says what it is
            yield
            return
        self._open = (kind, alt)
        self._begin()
        yield
        self._out("EMC")
        self._open = None

    def _begin(self) -> None:
        kind, alt = self._open or ("P", None)
        number = self.tags.next_mcid_for_page(self.page)
        self._add_marked_content(struct_type=f"/{kind}", mcid=number, alt_text=alt)
        self._out(f"/{kind} <</MCID {number}>> BDC")

    @contextmanager
    def grouped(self, kind: str) -> Iterator[None]:
        """Elements within lie in one of this kind."""
        self.tags.enter(self.page, f"/{kind}")
        yield
        self.tags.leave()

    @contextmanager
    def artifact(self) -> Iterator[None]:
        """What is put on the page within is only to look at."""
        if self._open is not None:
            yield
            return
        self._out("/Artifact BMC")
        yield
        self._out("EMC")

    def add_page(self, *options: Any, **named: Any) -> None:
        """A page; an element that is open ends on the one before and begins again."""
        was = self._open
        if was is not None:
            self._out("EMC")
            self._open = None
        super().add_page(*options, **named)
        if was is not None:
            self._open = was
            self._begin()

    def output(self, *options: Any, **named: Any) -> Any:
        """The file; each element is told its page, which fpdf2 does for those right below the document only."""
        for element in self.tags.elements():
            element.pg = self.pages[element.page_number() or 1]  # type: ignore[assignment]
        return super().output(*options, **named)

    def footer(self) -> None:
        """The foot, and the page's number."""
        with self.artifact():
            self._foot_and_number()

    def _foot_and_number(self) -> None:
        self.set_y(-_MARGIN + 6.0)
        self.plain_ink(size=7.0, color=FAINT)
        said = f"{self._foot}   {_LAST_WORD}{_MISSING}." if self._lacking else self._foot
        text, number = self.letters(said), f"{self.page_no()} of {{nb}}"
        self.multi_cell(self.epw - 60.0, 9.0, text, max_line_height=9.0, align="L", new_x=XPos.RIGHT, new_y=YPos.TOP)
        self.cell(60.0, 9.0, number, align="R")

    def plain_ink(self, *, size: float = BODY, color: str = INK) -> None:
        """Letters of a size and color."""
        self.set_font(_FAMILY, size=size)
        self.set_text_color(color)

    def need(self, height: float) -> None:
        """Begin a page where so much does not fit on this one."""
        if self.will_page_break(height):
            self.add_page()

    def write(  # type: ignore[override]
        self,
        text: str,
        *,
        size: float = BODY,
        color: str = INK,
        indent: float = 0.0,
        width: float | None = None,
        kind: str = "P",
    ) -> None:
        """Text in lines from the current place, indented; width: of the lines [pt]. kind: what it is."""
        with self.tagged(kind):
            self._write(text, size, color, indent, width)

    def _write(self, text: str, size: float, color: str, indent: float, width: float | None) -> None:
        self.plain_ink(size=size, color=color)
        x = self.get_x()
        self.set_x(x + indent)
        wide = self.epw - indent if width is None else width
        self.multi_cell(wide, LINE * size, self.letters(text), align="L", new_x=XPos.LMARGIN, new_y=YPos.NEXT)

    def strong(
        self, text: str, *, size: float, indent: float = 0.0, width: float | None = None, kind: str = "P"
    ) -> None:
        """Text that stands out: the same letters with their outlines drawn over."""
        with (
            self.tagged(kind),
            self.local_context(text_mode=TextMode.FILL_STROKE, line_width=0.035 * size, draw_color=INK),
        ):
            self.write(text, size=size, indent=indent, width=width)

    def height_of(self, text: str, width: float, size: float) -> float:
        """How high a text comes out in lines of a width [pt]."""
        if not text:
            return 0.0
        self.plain_ink(size=size)
        height = self.multi_cell(
            width, LINE * size, self.letters(text), align="L", dry_run=True, output=MethodReturnValue.HEIGHT
        )
        return cast(float, height)

    def hanging(
        self, mark: str, text: str, by: float, *, indent: float = 0.0, width: float | None = None, box: bool = False
    ) -> None:
        """Text beside a mark, its lines below each other; box: a square to tick instead."""
        wide = (self.epw if width is None else width) - by
        self.need(min(self.height_of(text, wide, BODY), 60.0))
        with self.grouped("LI"), self.tagged("LBody"):
            self._hung(mark, text, by, indent, wide, box)
        self.ln(6.0 if box else 2.0)

    def _hung(self, mark: str, text: str, by: float, indent: float, wide: float, box: bool) -> None:
        x, y = self.l_margin + indent, self.get_y()
        if box:
            self.set_draw_color(INK)
            self.set_line_width(0.9)
            self.rect(x + 1.0, y + 1.5, 9.0, 9.0)
        else:
            self.plain_ink()
            self.text(x, y + LINE * BODY - 3.4, mark)
        self.set_xy(x + by, y)
        self.write(text, width=wide)

    def blank(self, label: str) -> None:
        """A line to write on, its label before it."""
        self.need(30.0)
        self.ln(16.0)
        y = self.get_y()
        self.plain_ink()
        shown = self.letters(label)
        with self.tagged("P"):
            self.cell(0, LINE * BODY, shown)
        start = min(max(self.get_string_width(shown) + 10.0, 130.0), 0.6 * self.epw)
        self.set_draw_color(INK)
        self.set_line_width(0.7)
        with self.artifact():
            self.line(self.l_margin + start, y + LINE * BODY, self.l_margin + self.epw, y + LINE * BODY)
        self.set_xy(self.l_margin, y + LINE * BODY)

    def rule(self, color: str, width: float) -> None:
        """A line across the page."""
        self.set_draw_color(color)
        self.set_line_width(width)
        y = self.get_y() + 1.5
        with self.artifact():
            self.line(self.l_margin, y, self.l_margin + self.epw, y)

    def frame(self, top: float, bottom: float, color: str) -> None:
        """A frame with a thick left edge around what stands between two heights."""
        self.set_draw_color(INK)
        self.set_line_width(0.6)
        with self.artifact():
            self.rect(self.l_margin, top, self.epw, bottom - top)
            self.set_fill_color(color)
            self.rect(self.l_margin, top, 7.0, bottom - top, style="F")


def _known(sheet: FPDF) -> set[int]:
    font = next(iter(sheet.fonts.values()))
    return set(font.cmap) if isinstance(font, TTFFont) else set()
