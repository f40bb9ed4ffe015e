"""A visit as a page: one for the customer, in plain words, and one for the office, with everything."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from ventsize.jobfile.problems import InputError
from ventsize.jobfile.reading import Reading
from ventsize.jobfile.visits import Visit
from ventsize.quantity import System
from ventsize.report.diagnosis import first_cautions, likely_text, next_step, reason_text
from ventsize.report.paper import Blanks, Block, Bullets, Callout, Column, Facts, Heading, Paper, Paragraph, Table
from ventsize.report.readings import reading_row, value_text
from ventsize.report.visits import changes_lines
from ventsize.report.wording import say
from ventsize.report.wording.field import KIND_NAMES
from ventsize.studies.diagnosis.result import Diagnosis
from ventsize.studies.readings.result import ReadingFound
from ventsize.studies.visits import VisitChanges, compare, diagnosis_of, photos_missing, title_of

SAFETY = (
    "A vent that is blocked, leaks or is wrongly built can put carbon monoxide in the house. Keep a working carbon "
    "monoxide alarm. If it sounds, get everybody out and call the emergency number."
)
STAYS_OFF = (
    "The appliance stays off until what caused this has been found and repaired, and the same readings have been taken "
    "again and are as they should be."
)
Told = Diagnosis | InputError | None
"""What the readings of a visit mean: None where nothing was read or seen, a fault where they cannot be judged."""


def visit_paper(visits: Sequence[Visit], visit: Visit, job: Path, *, reader: str, system: System) -> Paper:
    """The page of one of the visits to a job; reader: "customer" or "office"."""
    title, told = title_of(visit), diagnosis_of(visit, job)
    if reader == "customer":
        return customer_page(visit, title=title, told=told, system=system)
    at = visits.index(visit)
    changes = compare(visits[at - 1], visit) if at else None
    missing = photos_missing(visit, job.parent)
    return office_page(visit, changes, title=title, told=told, missing=missing, system=system)


def customer_page(visit: Visit, *, title: str, told: Told, system: System) -> Paper:
    """What was looked at, what was found, what is to be done, and by whom."""
    return Paper(
        title=f"Visit of {visit.date.isoformat()}", subtitle=title, blocks=tuple(_customer(visit, told, system))
    )


def _customer(visit: Visit, told: Told, system: System) -> Iterator[Block]:
    yield from _shut_off(told, system)
    yield Facts((("Date", visit.named), ("Technician", visit.by or "-"), ("Readings taken", str(len(visit.readings)))))
    yield Heading("What was found")
    if visit.not_met:
        yield Callout("Not as it should be", visit.not_met, "bad")
    yield from _meaning(visit, told, system)
    if _all_well(visit, told):
        yield Paragraph("Nothing that was looked at is other than it should be.")
    length = f"Length of the vent by the maker's table: {visit.verdict or 'not checked'}."
    yield Paragraph(length) if visit.verdict in ("within", "") else Callout("By the table", (length,), "bad")
    if visit.to_do:
        yield Paragraph(f"Not looked at on this visit: {visit.to_do} points.")
    if visit.note:
        yield Heading("Note")
        yield Paragraph(visit.note)
    yield Callout("Carbon monoxide", (SAFETY,), "caution")
    yield Blanks(("Technician", "License number", "Customer", "Date"))


def _all_well(visit: Visit, told: Told) -> bool:
    """Whether everything was looked at, and nothing is other than it should be: a thing not known is no such thing."""
    ruled = bool(visit.met) and not visit.not_met and not visit.to_do and visit.verdict == "within"
    return ruled and isinstance(told, Diagnosis) and told.all_well and told.readings.all_expected


def _shut_off(told: Told, system: System) -> Iterator[Block]:
    if isinstance(told, Diagnosis) and told.readings.stops:
        yield Callout(
            "Shut it off",
            (*(f"{say(stop, system, place=False)}." for stop in told.readings.stops), STAYS_OFF),
            "bad",
        )


def _meaning(visit: Visit, told: Told, system: System) -> Iterator[Block]:
    """What the readings say: which are off, what would explain them, and what is next."""
    if told is None:
        yield Paragraph("No reading was taken: nothing is said about how the appliance and its vent work.")
        return
    if isinstance(told, InputError):
        said = f"They could not be judged, and are not to be taken for good: {told.problems[0]}"
        yield Callout("The readings", (said, *(_as_read(reading, system) for reading in visit.readings)), "bad")
        yield from _seen(visit)
        return
    study = told.readings
    wrong = [reading for reading in study.readings if reading.off or reading.verdict == "doubtful"]
    if wrong:
        yield Heading("Readings that are not what they should be", 3)
        yield _readings_table(wrong, system)
    open_ = [reading for reading in study.readings if reading.verdict == "not compared"]
    if open_:
        yield Heading("Readings that could not be compared", 3)
        yield _readings_table(open_, system)
    yield from _seen(visit)
    yield Paragraph(reason_text(told, system))
    if told.outcome == "something is off":
        yield Paragraph(f"Most likely: {likely_text(told)}")
    cautions = first_cautions(told)
    if cautions:
        yield Callout("Until this is settled", tuple(f"{say(one, system)}." for one in cautions), "bad")
    if study.stops:
        yield Paragraph(f"Next: {STAYS_OFF}")
    elif (step := next_step(told)) and not told.all_well:
        yield Paragraph(f"Next: {step}")


def _readings_table(readings: list[ReadingFound], system: System) -> Table:
    columns = (Column("Reading", share=2.0), Column("Read", "right"), Column("Should be", "right"), Column("It is"))
    return Table(columns, tuple(reading_row(reading, system) for reading in readings))


def _seen(visit: Visit) -> Iterator[Block]:
    if visit.symptoms:
        yield Heading("Seen and heard", 3)
        yield Bullets(tuple(f"{seen.what}{', ' + seen.rate if seen.rate else ''}" for seen in visit.symptoms))


def office_page(
    visit: Visit,
    changes: VisitChanges | None,
    *,
    title: str,
    told: Told,
    missing: tuple[str, ...],
    system: System,
) -> Paper:
    """Everything the visit kept, what it means, and what has changed since the one before."""
    blocks = tuple(_office(visit, changes, told, missing, system))
    return Paper(title=f"Visit of {visit.named}", subtitle=title, blocks=blocks)


def _office(
    visit: Visit, changes: VisitChanges | None, told: Told, missing: tuple[str, ...], system: System
) -> Iterator[Block]:
    yield from _shut_off(told, system)
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
    yield Heading("What the readings mean")
    yield from _meaning(visit, told, system)
    if visit.readings:
        columns = (Column("Place", share=1.4), Column("Rate"), Column("What"), Column("Read", "right"), Column("When"))
        yield Heading("Readings")
        yield Table(columns, tuple(_row(reading, system) for reading in visit.readings), "As they were read")
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
    before = f", before the repair{f' ({reading.note})' if reading.note else ''}" if reading.before_repair else ""
    shown = value_text(reading.kind, reading.value, system)
    return reading.place, reading.rate or "-", f"{KIND_NAMES[reading.kind]}{before}", shown, reading.when or "-"


def _as_read(reading: Reading, system: System) -> str:
    return ", ".join(filter(None, _row(reading, system)[:4]))
