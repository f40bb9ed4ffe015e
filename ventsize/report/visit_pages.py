"""A visit as a page: one for the customer, in plain words, and one for the office, with everything."""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.finding import Finding
from ventsize.jobfile.reading import Reading
from ventsize.jobfile.visits import Visit
from ventsize.quantity import System
from ventsize.report.paper import Blanks, Block, Bullets, Callout, Column, Facts, Heading, Paper, Paragraph, Table
from ventsize.report.readings import value_text
from ventsize.report.visits import changes_lines
from ventsize.report.wording import say
from ventsize.report.wording.field import KIND_NAMES
from ventsize.studies.visits import VisitChanges

SAFETY = (
    "A vent that is blocked, leaks or is wrongly built can put carbon monoxide in the house. Keep a working carbon "
    "monoxide alarm. If it sounds, get everybody out and call the emergency number."
)


def customer_page(visit: Visit, *, title: str, stops: tuple[Finding, ...], system: System) -> Paper:
    """What was looked at, what was found, what is to be done, and by whom. stops: what says to shut it off."""
    return Paper(
        title=f"Visit of {visit.date.isoformat()}", subtitle=title, blocks=tuple(_customer(visit, stops, system))
    )


def _customer(visit: Visit, stops: tuple[Finding, ...], system: System) -> Iterator[Block]:
    if stops:
        said = tuple(say(stop, system, place=False) for stop in stops)
        yield Callout("Shut it off", said, "bad")
    yield Facts((("Date", visit.named), ("Technician", visit.by or "-"), ("Readings taken", str(len(visit.readings)))))
    yield Heading("What was found")
    if visit.not_met:
        yield Callout("Not as it should be", visit.not_met, "bad")
    else:
        yield Paragraph("Nothing that was looked at is other than it should be.")
    yield Paragraph(f"Length of the vent by the maker's table: {visit.verdict or 'not checked'}.")
    if visit.to_do:
        yield Paragraph(f"Not looked at on this visit: {visit.to_do} points.")
    if visit.note:
        yield Heading("Note")
        yield Paragraph(visit.note)
    yield Callout("Carbon monoxide", (SAFETY,), "caution")
    yield Blanks(("Technician", "License number", "Customer", "Date"))


def office_page(
    visit: Visit,
    changes: VisitChanges | None,
    *,
    title: str,
    stops: tuple[Finding, ...],
    missing: tuple[str, ...],
    system: System,
) -> Paper:
    """Everything the visit kept, and what has changed since the one before."""
    blocks = tuple(_office(visit, changes, stops, missing, system))
    return Paper(title=f"Visit of {visit.named}", subtitle=title, blocks=blocks)


def _office(
    visit: Visit,
    changes: VisitChanges | None,
    stops: tuple[Finding, ...],
    missing: tuple[str, ...],
    system: System,
) -> Iterator[Block]:
    if stops:
        yield Callout("Shut it off", tuple(say(stop, system, place=False) for stop in stops), "bad")
    met = "-" if visit.met is None else str(visit.met)
    counts = f"{met} met, {len(visit.not_met)} not met, {visit.to_do} to do"
    yield Facts(
        (
            ("Date", visit.named),
            ("By", visit.by or "-"),
            ("Verdict", f"{visit.verdict}: {visit.reason}"),
            *((f"Left of the allowance, {run}", margin) for run, margin in visit.margins.items()),
            ("Check-over", counts),
        )
    )
    if visit.note:
        yield Paragraph(visit.note)
    if visit.readings:
        columns = (Column("Place", share=1.4), Column("Rate"), Column("What"), Column("Read", "right"), Column("When"))
        yield Heading("Readings")
        yield Table(columns, tuple(_row(reading, system) for reading in visit.readings), "As they were read")
    if visit.symptoms:
        yield Heading("Seen and heard")
        yield Bullets(tuple(f"{seen.what}{', ' + seen.rate if seen.rate else ''}" for seen in visit.symptoms))
    if visit.not_met:
        yield Heading("Not met")
        yield Bullets(visit.not_met)
    if changes is not None:
        yield Heading("Since the visit before")
        yield Bullets(tuple(line.strip() for line in changes_lines(changes, system) if line.strip(" =")))
    if visit.photos:
        yield Heading("Photos")
        yield Bullets(tuple(f"{name}{' (not beside the job)' * (name in missing)}" for name in visit.photos))


def _row(reading: Reading, system: System) -> tuple[str, ...]:
    before = ", before the repair" if reading.before_repair else ""
    shown = value_text(reading.kind, reading.value, system)
    return reading.place, reading.rate or "-", f"{KIND_NAMES[reading.kind]}{before}", shown, reading.when or "-"
