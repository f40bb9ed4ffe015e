"""The bench as pictures on a page: what the switches feel and how fast the inducers turn, by the length of the vent."""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.quantity import Dimension, System, display_unit, display_value, show_pressure
from ventsize.report.bench import (
    KINDS,
    LEGEND,
    SPEED,
    SWITCH,
    allowed_of,
    axis,
    cells,
    limit_of,
    lines_of,
    seen,
    titles,
)
from ventsize.report.drawing import Drawing, Series, beside, line_chart
from ventsize.report.inducer import curve_label
from ventsize.report.paper import Block, Bullets, Callout, Figure, Heading, Paper, Paragraph, Table
from ventsize.report.paper.blocks import Column
from ventsize.report.wording import say_all
from ventsize.studies.bench import Bench

WIDTH, HEIGHT = 234.0, 270.0  # pt, of one of two pictures: on a page, and alone on a wide screen


def bench_drawing(found: Bench, at: int, system: System) -> Drawing:
    """Both pictures of a rate, the one beside the other."""
    said = " ".join(seen(found, system))
    return beside([_picture(found, at, what, system, said) for what in (SWITCH, SPEED)])


def _picture(found: Bench, at: int, what: str, system: System, said: str) -> Drawing:
    name = f"{found.appliance} at {found.rates[at].name}: {axis(what, system)}"
    lines = [Series(title, tuple(points), letter=letter, marked=len(points) == 1)
             for letter, title, points in lines_of(found, at, what, system)]  # fmt: skip
    first, last = (display_value(step.length, Dimension.LENGTH, system) for step in (found.steps[0], found.steps[-1]))
    limit, allowed = limit_of(found, at, what, system), allowed_of(found, system)
    lines.append(
        Series("top speed" if what == SPEED else "the switch opens", ((first, limit), (last, limit)), limit=True)
    )
    over = None if allowed is None or allowed >= last else (max(allowed, first), last, "more than the table allows")
    return line_chart(lines, across=f"straight vent pipe [{display_unit(Dimension.LENGTH, system)}]", shaded=over,
                      up=axis(what, system), title=name, description=said, width=WIDTH, height=HEIGHT)  # fmt: skip


def bench_paper(found: Bench, system: System) -> Paper:
    """A picture for each rate, every step in figures, and what was to be seen."""
    return Paper(title=f"On the bench: {found.appliance}", subtitle=curve_label(found.curve),
                 blocks=tuple(_blocks(found, system)))  # fmt: skip


def _blocks(found: Bench, system: System) -> Iterator[Block]:
    for at, rate in enumerate(found.rates):
        yield Heading(f"{rate.name}: the switch opens below {show_pressure(rate.switch, system)}")
        yield Figure(bench_drawing(found, at, system))
        heads = [f"vent, {display_unit(Dimension.LENGTH, system)}", "A speed"]
        heads += [f"{KINDS[kind][0]} {name}" for kind in titles(found, at) for name in ("air", "switch")]
        columns = [Column(head, "right") for head in heads]
        yield Table((*columns, Column("by the table", share=1.5)), tuple(cells(found, at, system)))
    yield Paragraph(" ".join(LEGEND), small=True)
    yield Heading("What was to be seen")
    yield Bullets(tuple(seen(found, system)))
    yield Callout("Cautions", say_all(found.cautions, system))
