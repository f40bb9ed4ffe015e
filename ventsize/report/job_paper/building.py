"""What it takes to build: items with their prices, and how the pipe is cut."""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.quantity import System, show_length
from ventsize.report.items import describe
from ventsize.report.job_paper.material import Material
from ventsize.report.money import in_column, reasons
from ventsize.report.paper import Block, Bullets, Callout, Column, Heading, Paragraph, Table
from ventsize.report.takeoff import proof, rest_of, sums, use_of
from ventsize.report.wording import place_of, say
from ventsize.studies.pricing.prices import Cost
from ventsize.studies.takeoff.tally import PipeCuts, Takeoff


def takeoff_pages(material: Material) -> Iterator[Block]:
    """The takeoff, where the paper has one."""
    takeoff, system = material.takeoff, material.system
    if takeoff is None:
        return
    yield Heading("Takeoff")
    if not takeoff.complete:
        yield Callout("The takeoff is not complete", tuple(say(one, system) for one in takeoff.missing))
    if material.cost is None:
        columns = (Column("How many", "right", 0.8), Column("What", share=5.0))
        rows = tuple((str(item.quantity), describe(item, system)) for item in takeoff.items)
        yield Table(columns, rows, "What it takes to build")
    else:
        yield _priced(material.cost, system)
        yield Paragraph(_prices_said(material.cost, system), small=True)
    yield from _cut_lists(takeoff, system)
    if takeoff.notes:
        yield Heading("What the takeoff goes by", 3)
        yield Bullets(tuple(say(one, system) for one in takeoff.notes))


def _priced(cost: Cost, system: System) -> Table:
    columns = (
        Column("How many", "right", 0.8),
        Column("What", share=3.6),
        Column(", ".join(part for part in ("Each", cost.currency) if part), "right", 1.1),
        Column(", ".join(part for part in ("Together", cost.currency) if part), "right", 1.3),
    )
    prices = [line.price for line in cost.lines]
    rows = [
        (
            str(line.item.quantity),
            describe(line.item, system),
            "no price" if line.price is None else in_column(line.price, prices),
            "missing" if line.amount is None else f"{line.amount:,}",
        )
        for line in cost.lines
    ]
    added = [("", name, "", amount) for name, amount in sums(cost)]
    return Table(columns, (*rows, *added), "What it takes to build, with its cost", len(added))


def _prices_said(cost: Cost, system: System) -> str:
    said = [f"Prices: {cost.source}"] if cost.source else []
    return " ".join(f"{one[:1].upper()}{one[1:]}." for one in (*said, *reasons(cost, system)))


def _cut_lists(takeoff: Takeoff, system: System) -> Iterator[Block]:
    for cuts in takeoff.cut_lists:
        yield Heading(f"Cut list: {cuts.label} {cuts.material}", 3)
        yield _bars(cuts, system)
        yield Paragraph(_said(cuts, system), small=True)
        yield _pieces(cuts, system)


def _bars(cuts: PipeCuts, system: System) -> Table:
    columns = (
        Column("How many", "right", 0.8),
        Column("Stock length", share=1.1),
        Column("Cut from each", share=3.2),
        Column("Rest of each", share=1.8),
    )
    rows = tuple(
        (
            str(bar.count),
            show_length(bar.stock, system),
            " + ".join(show_length(piece, system) for piece in bar.pieces),
            rest_of(bar, system),
        )
        for bar in cuts.plan.bars
    )
    return Table(columns, rows, "How the stock lengths are cut")


def _said(cuts: PipeCuts, system: System) -> str:
    return f"{proof(cuts).capitalize()}. {use_of(cuts.plan, system)}."


def _pieces(cuts: PipeCuts, system: System) -> Table:
    columns = (
        Column("Piece", "right", 1.2),
        Column("Goes to", share=3.0),
        Column("Taken off for fittings", "right", 1.4),
    )
    rows = tuple(
        (
            show_length(cut.length, system),
            place_of(cut.where),
            show_length(cut.taken_off, system) if cut.taken_off else "nothing",
        )
        for cut in cuts.cuts
    )
    return Table(columns, rows, "Pieces, in the order of the runs")
