"""Jobs side by side as a paper: figures, curves over each other, where it goes, what made the difference."""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.quantity import Dimension, System, display_unit, display_value, show_pressure
from ventsize.report.comparing import FIGURES, cautions, cell, told, what_made_it
from ventsize.report.drawing import Bar, Series, bars, line_chart
from ventsize.report.paper import Block, Bullets, Column, Figure, Heading, Paper, Paragraph, Table
from ventsize.report.text_parts import signed_pressure
from ventsize.studies.comparing import Comparison


def comparison_paper(found: Comparison, system: System) -> Paper:
    """The whole comparison."""
    return Paper(
        title=f"Side by side: {found.run}",
        subtitle=", ".join(f"{one.name} {one.title}" for one in found.compared),
        blocks=tuple(_blocks(found, system)),
        foot="An estimate: the appliance maker's instructions and the local code decide.",
    )


def _blocks(found: Comparison, system: System) -> Iterator[Block]:
    rest = found.compared[1:]
    yield Heading("What differs")
    yield Table(
        (Column("", share=0.3), Column(f"not as in {found.compared[0].name}", share=3.0)),
        tuple((one.name, "; ".join(told(one.differences, system)) or "nothing") for one in rest),
    )
    yield Heading("What made the difference")
    yield Bullets(what_made_it(found, system))
    yield from comparison_figures(found, system)
    yield Heading("Figures")
    rows = []
    for title, dimension, figure in FIGURES:
        label = title if dimension is None else f"{title}, {display_unit(dimension, system)}"
        rows.append((label, *(cell(figure(one), dimension, system) for one in found.compared)))
    columns = (Column("", share=1.6), *(Column(one.name, "right") for one in found.compared))
    yield Table(columns, tuple(rows))
    for one in rest:
        if len(one.parts) > 1:
            shares = tuple((part.name, signed_pressure(part.pressure, system)) for part in one.parts)
            whole = ("together", signed_pressure(one.together, system))
            yield Table(
                (Column(f"{one.name}, change by change", share=2.0), Column("pressure", "right")),
                (*shares, whole),
                totals=1,
            )
    yield Heading("Cautions")
    yield Bullets(cautions(found, system))


def comparison_figures(found: Comparison, system: System) -> Iterator[Block]:
    """The curves over each other, and a bar for each kind of piece of each job."""
    up, across = display_unit(Dimension.PRESSURE, system), display_unit(Dimension.LENGTH, system)
    series = [
        Series(
            one.name,
            tuple(
                (display_value(x, Dimension.LENGTH, system), display_value(y, Dimension.PRESSURE, system))
                for x, y in one.points
            ),
        )
        for one in found.compared
    ]
    ends = "; ".join(f"{one.name} begins at {show_pressure(one.pressure_drop, system)}" for one in found.compared)
    chart = line_chart(
        series,
        across=f"along the run [{across}]",
        up=f"still to be lost [{up}]",
        title="Pressure still to be lost along each run",
        description=f"{ends}; all end at nothing.",
    )
    yield Heading("Pressure along the run")
    yield Figure(chart, "A fitting is a step, pipe a slope.")
    names = list(dict.fromkeys(name for one in found.compared for name, _ in one.losses))
    items = []
    for name in names:
        for number, one in enumerate(found.compared):
            loss = dict(one.losses).get(name)
            if loss is not None:
                value = display_value(loss, Dimension.PRESSURE, system)
                items.append(Bar(f"{name}, {one.name}", value, show_pressure(loss, system), other=number > 0))
    yield Heading("Where it goes")
    yield Figure(
        bars(items, title="Pressure drop by kind of piece"), f"In the second color: not {found.compared[0].name}."
    )
    yield Paragraph("Shares of a change are the mean over every order in which the changes could be made.", small=True)
