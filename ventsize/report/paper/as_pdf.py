"""A paper as PDF: pages with a foot, letters embedded, pictures and formulas as vector graphics."""

from __future__ import annotations

from itertools import takewhile

from ventsize.report.drawing.on_pdf import draw
from ventsize.report.paper.blocks import (
    Beside,
    Blanks,
    Block,
    Bullets,
    Callout,
    Checklist,
    Column,
    Facts,
    Figure,
    Formula,
    Heading,
    Logo,
    PageBreak,
    Paper,
    Paragraph,
    Room,
    Size,
    Table,
)
from ventsize.report.paper.rows_of_pdf import height_of_rows, put_rows
from ventsize.report.paper.sheet_of_pdf import BODY, FAINT, INK, RULE, SMALL, Sheet

_TONE = {"caution": "#e69f00", "good": "#0072b2", "bad": "#d55e00"}
_GAP, _BETWEEN = 6.0, 14.0
_LOGO = (220.0, 44.0)  # pt, the widest and the highest
_HEADING = {2: 14.0, 3: 11.0}


def pdf(paper: Paper, *, size: Size = "letter") -> bytes:
    """The whole file."""
    sheet = Sheet(size=size, title=paper.title, foot=paper.foot, creator=paper.creator)
    if paper.logo is not None:
        _logo(sheet, paper.logo)
    sheet.strong(paper.title, size=19.0, kind="H1")
    if paper.subtitle:
        sheet.write(paper.subtitle, color=FAINT)
    sheet.ln(_GAP)
    for number, (block, following) in enumerate(zip(paper.blocks, (*paper.blocks[1:], PageBreak()), strict=True), 1):
        if isinstance(block, Heading) and block.together:
            own = takewhile(lambda one: not isinstance(one, Heading | PageBreak), paper.blocks[number:])
            high = 30.0 + sum(_high(sheet, one) for one in own)
            sheet.need(high if high < sheet.eph else 0.0)
        _put(sheet, block, following)
    return bytes(sheet.output())


def _logo(sheet: Sheet, logo: Logo) -> None:
    """A picture at the head of the first page, within a frame that leaves the page as it is."""
    import io

    scale = min(_LOGO[0] / logo.wide, _LOGO[1] / logo.high)
    with sheet.tagged("Figure", alt=sheet.letters(logo.alt)):
        sheet.image(io.BytesIO(logo.png), x=sheet.l_margin, w=logo.wide * scale, h=logo.high * scale)
    sheet.ln(_GAP)


def _put(sheet: Sheet, block: Block, following: Block) -> None:
    match block:
        case Heading():
            _heading(sheet, block, following)
        case Paragraph():
            sheet.write(block.text, size=SMALL if block.small else BODY, color=FAINT if block.small else INK)
            sheet.ln(_GAP)
        case Bullets():
            _bullets(sheet, block)
        case Facts():
            _facts(sheet, block)
        case Table():
            _table(sheet, block, following)
        case Figure() | Beside():
            _figures(sheet, _figures_of(block))
        case Formula():
            _formula(sheet, block)
        case Callout():
            _callout(sheet, block)
        case PageBreak():
            sheet.add_page()
        case _:
            _to_fill_in(sheet, block)


def _heading(sheet: Sheet, heading: Heading, following: Block) -> None:
    """A heading is not left alone at the foot of a page."""
    size = _HEADING[heading.level]
    sheet.need(min(_least_of(sheet, following) + 45.0, sheet.eph))
    sheet.ln(10.0 if heading.level == 2 else 5.0)
    sheet.start_section(sheet.letters(heading.text), level=heading.level - 2)
    sheet.strong(heading.text, size=size, kind=f"H{heading.level}")
    if heading.level == 2:
        sheet.rule(INK, 1.0)
    sheet.ln(_GAP)


def _least_of(sheet: Sheet, block: Block) -> float:
    """How much of a block has to stand on the page of its heading."""
    match block:
        case Figure() | Beside():
            return _height_of(sheet, _figures_of(block))
        case Table():
            return _kept(sheet, block)
        case Bullets():
            return _height_of_bullets(sheet, block)
        case Checklist():  # with the lines to sign below it
            return 20.0 * len(block.items) + 180.0
        case _:
            return 65.0


def _high(sheet: Sheet, block: Block) -> float:
    """How high a block comes out, about [pt]."""
    match block:
        case Paragraph():
            return sheet.height_of(block.text, sheet.epw, SMALL if block.small else BODY) + _GAP
        case Room():
            return sheet.height_of(block.label, sheet.epw, BODY) + 23.0 * block.lines + _GAP
        case Table():
            rows = height_of_rows(sheet, block.columns, block.rows, most=sheet.eph)
            return rows + (15.0 if block.caption else 0.0) + _GAP
        case _:
            return _least_of(sheet, block) + _GAP


def _bullets(sheet: Sheet, bullets: Bullets) -> None:
    sheet.need(_height_of_bullets(sheet, bullets))
    with sheet.grouped("L"):
        for number, item in enumerate(bullets.items, start=1):
            sheet.hanging(f"{number}." if bullets.numbered else "•", item, 18.0)
    sheet.ln(_GAP)


def _height_of_bullets(sheet: Sheet, bullets: Bullets) -> float:
    """How much of them stands together: all of those that take less than half a page."""
    high = sum(sheet.height_of(item, sheet.epw - 18.0, BODY) + 2.0 for item in bullets.items)
    return high if high < 0.5 * sheet.eph else 65.0


def _facts(sheet: Sheet, facts: Facts) -> None:
    columns = (Column("", share=1.0), Column("", share=2.6))
    put_rows(sheet, columns, facts.pairs, heads=False)


def _kept(sheet: Sheet, table: Table) -> float:
    """How much of a table stands together: all of one that takes less than two thirds of a page."""
    most = 0.66 * sheet.eph
    return min(20.0 + height_of_rows(sheet, table.columns, table.rows, most=most), most)


def _table(sheet: Sheet, table: Table, following: Block) -> None:
    """A table, on the page of a line that follows it."""
    sheet.need(_kept(sheet, table) + (30.0 if isinstance(following, Paragraph) else 0.0))
    if table.caption:
        sheet.write(table.caption, size=SMALL, color=FAINT)
        sheet.ln(2.0)
    put_rows(sheet, table.columns, table.rows, totals=table.totals, tight=table.tight)


def _figures_of(block: Figure | Beside) -> tuple[Figure, ...]:
    return (block,) if isinstance(block, Figure) else block.figures


def _room(sheet: Sheet, figures: tuple[Figure, ...]) -> float:
    """The width each of some figures beside each other has."""
    return (sheet.epw - _BETWEEN * (len(figures) - 1)) / len(figures)


def _size_of(figure: Figure, room: float) -> tuple[float, float]:
    """A drawing's width and height: as it is made, or as wide as there is room."""
    drawing = figure.drawing
    width = min(room, drawing.width)
    return width, width * drawing.height / drawing.width


def _height_of(sheet: Sheet, figures: tuple[Figure, ...]) -> float:
    room = _room(sheet, figures)
    return max(_size_of(f, room)[1] + sheet.height_of(f.caption, room, SMALL) for f in figures) + 8.0


def _figures(sheet: Sheet, figures: tuple[Figure, ...]) -> None:
    """Figures beside each other; one alone as wide as it is made for, up to the width of the page."""
    room = _room(sheet, figures)
    sheet.need(min(_height_of(sheet, figures), sheet.eph))
    top, below = sheet.get_y(), 0.0
    for number, figure in enumerate(figures):
        width, height = _size_of(figure, room)
        x = sheet.l_margin + number * (room + _BETWEEN)
        with sheet.tagged("Figure", alt=figure.drawing.alt):
            draw(figure.drawing, sheet, x=x, y=top, width=width, letters=sheet.letters)
        sheet.set_xy(x, top + height + 2.0)
        if figure.caption:
            sheet.write(figure.caption, size=SMALL, color=FAINT, width=room, kind="Caption")
        below = max(below, sheet.get_y())
    sheet.set_xy(sheet.l_margin, below)
    sheet.ln(_GAP)


def _formula(sheet: Sheet, formula: Formula) -> None:
    import io

    from ventsize.report.paper.setting import formula_svg

    made = formula_svg(formula.latex, formula.text)
    scale = min(0.78, (sheet.epw - 16.0) / made.width)
    sheet.need(made.height * scale + 4.0)
    picture = io.BytesIO(made.element.encode())
    with sheet.tagged("Formula", alt=formula.text) if formula.text else sheet.artifact():
        sheet.image(picture, x=sheet.l_margin + 16.0, w=made.width * scale, h=made.height * scale)
    sheet.ln(4.0)


def _callout(sheet: Sheet, callout: Callout) -> None:
    inset, width = 16.0, sheet.epw - 24.0
    height = sheet.height_of(callout.title, width, 10.5) + 14.0
    height += sum(sheet.height_of(sentence, width - 12.0, BODY) + 2.0 for sentence in callout.sentences)
    sheet.need(min(height, sheet.eph))
    framed = height < sheet.eph
    top = sheet.get_y()
    sheet.ln(7.0)
    sheet.strong(callout.title, size=10.5, indent=inset, width=width)
    with sheet.grouped("L"):
        for sentence in callout.sentences:
            sheet.hanging("•", sentence, 12.0, indent=inset, width=width)
    sheet.ln(5.0)
    if framed:
        sheet.frame(top, sheet.get_y(), _TONE[callout.tone])
    sheet.ln(_GAP)


def _to_fill_in(sheet: Sheet, block: Checklist | Blanks | Room) -> None:
    match block:
        case Checklist():
            with sheet.grouped("L"):
                for item in block.items:
                    sheet.hanging("", item, 20.0, box=True)
        case Blanks():
            sheet.need(min(30.0 * len(block.labels), sheet.eph))
            for label in block.labels:
                sheet.blank(label)
        case Room():
            if block.label:
                sheet.write(block.label)
            for _ in range(block.lines):
                sheet.need(24.0)
                sheet.ln(23.0)
                sheet.rule(RULE, 0.6)
    sheet.ln(_GAP)
