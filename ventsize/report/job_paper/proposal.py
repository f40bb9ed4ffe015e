"""A proposal: up to four ways to do a job, side by side, for the customer to choose from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from ventsize.check.result import JobCheck
from ventsize.quantity import System, show_feet, show_length, show_power
from ventsize.report.drawing.model import Drawing
from ventsize.report.job_paper.customer import (
    picture_of,
    price_of,
    runs_table,
    sizes_of,
    verdict_of,
)
from ventsize.report.job_paper.letterhead import own_head
from ventsize.report.job_paper.material import foot_of, written_day
from ventsize.report.job_paper.scope import fittings_of, scope
from ventsize.report.job_paper.ways import names_of
from ventsize.report.money import total_words
from ventsize.report.paper import (
    Beside,
    Blanks,
    Block,
    Bullets,
    Callout,
    Checklist,
    Column,
    Figure,
    Heading,
    Paper,
    Paragraph,
    Table,
)
from ventsize.report.wording import reason, say, say_all, verdict_in_words
from ventsize.report.wording.check import ALWAYS
from ventsize.studies.proposal import Proposal, Way

_NARROW, _FLAT = 250.0, 150.0
Row = tuple[str, ...]


def proposal_paper(found: Proposal, *, title: str, system: System, day: date) -> Paper:
    """The ways on paper. title: what the proposal is called. Raises InputError: a letterhead at fault."""
    head = own_head()
    return Paper(
        title=title,
        subtitle=". ".join(filter(None, (head.line, f"{_count(found)}, {written_day(day)}"))),
        logo=head.logo,
        blocks=tuple(_blocks(found, system)),
        foot=foot_of(title, day),
    )


def _count(found: Proposal) -> str:
    return "One way to do it" if len(found.ways) == 1 else f"{len(found.ways)} ways to do it, side by side"


def _blocks(found: Proposal, system: System) -> Iterator[Block]:
    names = dict(zip((way.letter for way in found.ways), names_of(found.ways, system), strict=True))
    yield _advice(found, system)
    yield Heading("Side by side")
    columns = (
        Column("What", share=1.1),
        *(Column(f"{way.letter}: {names[way.letter]}", share=1.3) for way in found.ways),
    )
    rows = _rows(found.ways, system)
    alike = [row for row in rows if _alike(row)] if len(found.ways) > 1 else []
    yield Table(columns, tuple(row for row in rows if row not in alike), "Line by line, where they differ")
    if alike:
        yield Paragraph("The same in all: " + "; ".join(f"{name} {cell}" for name, cell, *_ in alike) + ".")
    yield Callout("Carbon monoxide kills: before you rely on this paper", ALWAYS)
    yield Heading("How the pipes run")
    yield from _pictures(found.ways, system)
    told: set[str] = set()
    for way in found.ways:
        yield from _way(way, names[way.letter], system, told)
    yield Heading("Your choice")
    yield Checklist(tuple(f"{way.letter}: {names[way.letter]}{_price(way)}" for way in found.ways if way.acceptable))
    yield Blanks(("Customer", "Installer", "License number", "Signature", "Date"))


def _advice(found: Proposal, system: System) -> Callout:
    """Which way stands out for what, of those within."""
    good = [way for way in found.ways if way.acceptable]
    if not good:
        return Callout(
            "None of these ways is acceptable",
            tuple(
                f"{way.letter}: {way.check.verdict.upper()}. {reason(way.check.decides, system)}" for way in found.ways
            ),
            "bad",
        )
    said = [f"Within by the maker's table: {', '.join(way.letter for way in good)}."]
    if found.cheapest is not None and found.cheapest.cost is not None:
        said.append(f"{found.cheapest.letter} costs the least: {total_words(found.cheapest.cost)}.")
    if found.roomiest is not None and found.roomiest.margin is not None:
        said.append(f"{found.roomiest.letter} leaves the most to spare: {show_feet(found.roomiest.margin, system)}.")
    if found.fewest_joints is not None:
        said.append(f"{found.fewest_joints.letter} has the fewest joints: {found.fewest_joints.joints}.")
    said += [
        f"{way.letter} is no choice: {_verdict_in_words(way.check, system)}" for way in found.ways if not way.acceptable
    ]
    return Callout("What stands out", tuple(said), "good")


def _rows(ways: Sequence[Way], system: System) -> list[Row]:
    """Line by line, a cell each way."""
    rows = [
        ("Job", *(way.check.title for way in ways)),
        ("Verdict", *(verdict_in_words(way.check.verdict, len(way.check.doubted)).upper() for way in ways)),
        ("By calculation", *(_by_calculation(way) for way in ways)),
        ("Least left of an allowance", *(_margin(way, system) for way in ways)),
        ("Appliances", *(_appliances(way, system) for way in ways)),
    ]
    for name in dict.fromkeys(run.run.name for way in ways for run in way.check.runs):
        rows.append((f"{name}: size", *(_of_run(way, name, "size") for way in ways)))
        rows.append((f"{name}: material", *(_of_run(way, name, "material") for way in ways)))
        rows.append((f"{name}: fittings", *(_of_run(way, name, "fittings") for way in ways)))
    rows += [
        ("Straight pipe", *(show_length(way.straight, system) for way in ways)),
        ("Joints", *(str(way.joints) for way in ways)),
    ]
    if any(way.cost is not None for way in ways):
        taxed = any(way.cost is not None and way.cost.tax is not None for way in ways)
        rows.insert(0, ("Price, tax included" if taxed else "Price", *(_cost(way) for way in ways)))
    return rows


def _alike(row: Row) -> bool:
    """Whether a line need not be shown for each way: it is the same in all, and not a verdict."""
    return row[0] != "Verdict" and len(set(row[1:])) == 1


def _by_calculation(way: Way) -> str:
    words = {True: "inside the allowance", False: "MORE than the allowance", None: "no answer"}
    return words[way.by_calculation]


def _margin(way: Way, system: System) -> str:
    if way.margin is None:
        return "not known"
    return f"{show_feet(abs(way.margin), system)} {'too long' if way.margin < 0 else 'to spare'}"


def _appliances(way: Way, system: System) -> str:
    return "; ".join(
        f"{appliance.name} {show_power(appliance.highest.plate, system)}" for appliance in way.check.appliances
    )


def _of_run(way: Way, name: str, what: str) -> str:
    run = next((run.run for run in way.check.runs if run.run.name == name), None)
    if run is None:
        return "no such pipe"
    if what == "size":
        return sizes_of(run)
    if what == "material":
        return ", ".join(dict.fromkeys(piece.section.material.title for piece in run.pieces))
    return fittings_of(run) or "none"


def _cost(way: Way) -> str:
    if not way.acceptable:
        return "no offer"
    if way.cost is None:
        return "no prices"
    return total_words(way.cost)


def _price(way: Way) -> str:
    return "" if way.cost is None else f", {total_words(way.cost)}"


def _pictures(ways: Sequence[Way], system: System) -> Iterator[Block]:
    """A picture of each way's vent, two beside each other."""
    figures = [Figure(drawing, f"{way.letter}: {name}") for way in ways for name, drawing in _vents(way, system)]
    for start in range(0, len(figures), 2):
        yield Beside(tuple(figures[start : start + 2]))


def _vents(way: Way, system: System) -> Iterator[tuple[str, Drawing]]:
    for run in way.check.runs:
        if run.run.carries == "flue gas":
            yield run.run.name, picture_of(run.run, system, width=_NARROW, height=_FLAT)


def _way(way: Way, name: str, system: System, told: set[str]) -> Iterator[Block]:
    """One way by itself; a note or a caution that an earlier one has told is not told again."""
    yield Heading(f"{way.letter}: {name}")
    yield verdict_of(way.check, system)
    note = " ".join(way.inputs.job.note.split())
    if note and note not in told:
        told.add(note)
        yield Paragraph(note)
    yield Bullets(tuple(scope(run.run, system) for run in way.check.runs))
    yield runs_table(way.check, system)
    if way.cost is not None and way.acceptable:
        yield Paragraph("{}: {}.".format(*price_of(way.cost)))
    if not way.takeoff.complete:
        yield Bullets(tuple(say(one, system) for one in way.takeoff.missing))
    own = tuple(said for said in say_all(way.check.doubted, system) if said not in told)
    told.update(own)
    if own:
        yield Heading(f"Cautions of {way.letter}", 3)
        yield Bullets(own)


def _verdict_in_words(check: JobCheck, system: System) -> str:
    return f"{check.verdict.upper()}. {reason(check.decides, system)}"
