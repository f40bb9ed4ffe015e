"""What else a job tells: the room its appliances breathe from, and the check-over as far as it was ticked off."""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.quantity import System
from ventsize.report.checkover import counts_of, limit_words, place_of, said_of
from ventsize.report.job_paper.material import Material
from ventsize.report.paper import Block, Bullets, Callout, Checklist, Column, Heading, Paragraph, Table
from ventsize.report.room_air import summary
from ventsize.studies.checkover import NOT_MET, OPEN, Item


def warnings(material: Material) -> Iterator[Block]:
    """What the vent's own verdict does not say and the first page has to: a room short of air, a rule not met."""
    rooms, over = material.rooms, material.over
    short = [] if rooms is None or rooms.enough else [f"{room.name}: {room.verdict}" for room in rooms.rooms]
    if short:
        yield Callout("Air for the appliances, from the room they stand in", tuple(short), "bad")
    not_met = () if over is None else over.having(NOT_MET)
    if not_met:
        yield Callout("Found at the check-over and not met", tuple(place_of(item) for item in not_met), "bad")


def beside_pages(material: Material) -> Iterator[Block]:
    """Room air where the job describes rooms; the check-over where something of it was ticked off."""
    if material.rooms is not None:
        yield Heading("Air from the room")
        yield Bullets(tuple(filter(None, summary(material.rooms, material.system, mark=""))))
    if material.over is not None:
        yield from _check_over(material)


def _check_over(material: Material) -> Iterator[Block]:
    over = material.over
    if over is None:
        return
    yield Heading("Check-over")
    yield Paragraph(f"{over.verdict.capitalize()}: {counts_of(over.items)}.")
    columns = (
        Column("What", share=1.6),
        Column("Outcome", share=0.7),
        Column("Found", share=2.0),
        Column("By", share=1.6),
    )
    rows = tuple(
        (_what(item, material.system), item.outcome, said_of(item, material.system) or "-", item.rule.cited)
        for item in over.items
        if item.outcome != OPEN
    )
    if rows:
        yield Table(columns, rows, "What was looked at")
    left = tuple(_what(item, material.system) for item in over.having(OPEN))
    if left:
        yield Heading("Still to be looked at", 3)
        yield Checklist(left)


def _what(item: Item, system: System) -> str:
    limit = limit_words(item, system)
    return f"{place_of(item)}: {limit}" if limit else place_of(item)
