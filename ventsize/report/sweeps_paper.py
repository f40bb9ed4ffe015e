"""A sweep as a picture on a page: its lines or bars, where the job stands, and what to notice."""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.quantity import System
from ventsize.report.drawing import Bar, Drawing, Series, bars, line_chart
from ventsize.report.paper import Block, Bullets, Callout, Figure, Heading, Paper, Paragraph
from ventsize.report.sweeps import LETTERS, as_number, axis_title, remark_of, shown, source_of, title_of
from ventsize.report.wording import say_all
from ventsize.report.wording.sweeps import WHY_UNSURE
from ventsize.studies.sweeps import Sweep

WIDE, LARGE = (468.0, 270.0), (320.0, 300.0)  # pt; alone on a screen the smaller one has the larger type


def sweep_drawing(sweep: Sweep, system: System, *, large: bool = False) -> Drawing:
    """The picture alone. Each line has its letter; where the job stands is an upright line with its name."""
    width, height = LARGE if large else WIDE
    said = " ".join(say_all(sweep.notice, system))
    if sweep.across is None:
        items = []
        for entry in sweep.bars:
            figure = as_number(shown(entry.value, sweep.up, system))
            items.append(
                Bar(entry.name, entry.value, ", ".join(filter(None, (figure, remark_of(entry)))), other=entry.by_table)
            )
            if entry.beside is not None:
                beside = as_number(shown(entry.beside, sweep.up, system))
                items.append(Bar(sweep.beside, entry.beside, beside, other=True))
        return bars(items, up=axis_title(sweep.up, system), title=title_of(sweep), description=said, width=width)
    across, lines = sweep.across, []
    for letter, one in zip(LETTERS, sweep.series, strict=False):
        points = tuple((shown(x, across, system), shown(y, sweep.up, system)) for x, y in one.points)
        lines.append(Series(f"{letter} {one.name}", points, letter=letter, beside=one.beside, apart=one.apart))
    start, end = (shown(x, across, system) for x in sweep.unsure or (0.0, 0.0))
    return line_chart(
        lines,
        across=axis_title(sweep.across, system),
        up=axis_title(sweep.up, system),
        title=title_of(sweep),
        description=said,
        width=width,
        height=height,
        places=[(shown(here.at, across, system), here.name) for here in sweep.here],
        shaded=(start, end, "nobody can say for sure") if sweep.unsure else None,
    )


def sweep_paper(sweep: Sweep, system: System) -> Paper:
    """The picture with what to notice and what it leaves out."""
    return Paper(title=title_of(sweep), blocks=tuple(_blocks(sweep, system)))


def _blocks(sweep: Sweep, system: System) -> Iterator[Block]:
    yield Figure(sweep_drawing(sweep, system))
    if sweep.unsure is not None:
        yield Paragraph(f"{WHY_UNSURE[0].upper()}{WHY_UNSURE[1:]}.", small=True)
    yield Heading("What to notice")
    yield Bullets(say_all(sweep.notice, system))
    sources = dict.fromkeys(f"{entry.name}: {source_of(entry)}" for entry in sweep.bars)
    if sources:
        yield Heading("Where they come from")
        yield Bullets(tuple(sources))
    if sweep.cautions:
        yield Callout("Cautions", say_all(sweep.cautions, system))
