"""The customer's two pages: what was found, what will be done and what it costs, in plain words."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from ventsize.check.result import JobCheck, RunCheck
from ventsize.finding import Verdict
from ventsize.quantity import System, show, show_feet, show_power, show_temperature
from ventsize.quantity.dimensions import Dimension
from ventsize.report.check_text import margin
from ventsize.report.drawing.model import Drawing
from ventsize.report.drawing.route import route
from ventsize.report.drawing.strip import strip
from ventsize.report.job_paper.material import Material, written_day
from ventsize.report.job_paper.room_and_ticks import warnings
from ventsize.report.job_paper.scope import scope
from ventsize.report.money import amount, is_unknown, total_words
from ventsize.report.paper import (
    Blanks,
    Block,
    Bullets,
    Callout,
    Column,
    Facts,
    Figure,
    Heading,
    Paragraph,
    Table,
)
from ventsize.report.wording import derated, reason, verdict_in_words
from ventsize.report.wording.check import ALWAYS
from ventsize.run.model import Run
from ventsize.studies.pricing.prices import Cost

MEANING: dict[Verdict, str] = {
    "unsafe": "Whatever the table says, this must not be run as it stands.",
    "within": "Every pipe is within what the table from the maker's instructions allows.",
    "over": "A pipe is longer, or has more fittings, than the table from the maker's instructions allows. It must not "
    "be built or left like this.",
    "short": "A pipe is shorter than the least that the table from the maker's instructions states.",
    "not covered": "The table has no answer for this job. That is no approval: ask the maker.",
    "incomplete": "Something needed for an answer is missing. That is no approval.",
}
_MOST_NOTE = 500  # characters of the job's note; more would push the page over
_BEYOND = (
    "By calculation, the pressure lost is more than what the table allows comes to. Ask the maker before relying on it."
)


def customer_pages(material: Material) -> Iterator[Block]:
    """Two pages: the verdict, what is done and what it costs; then pictures, the warning, and lines to sign.

    What is not within is no offer: it has no price, and is signed as seen only.
    """
    check, job, system = material.check, material.inputs.job, material.system
    offered = check.verdict == "within"
    yield verdict_of(check, material.system)
    yield from warnings(material)
    yield Heading("What will be done" if offered else "What was looked at")
    yield Bullets(tuple(scope(run.run, system) for run in check.runs))
    if job.note.strip():
        yield Paragraph(textwrap.shorten(" ".join(job.note.split()), _MOST_NOTE, placeholder=" …"))
    facts = [] if material.cost is None or not offered else [price_of(material.cost)]
    facts += [("Date", written_day(material.day)), ("Site", _site(material)), *_appliances(material)]
    facts += [("Altitude", f"{said}, unless the maker says otherwise") for said in derated(check, system)]
    yield Facts(tuple(facts))
    yield Callout("Carbon monoxide kills: before you rely on this paper", ALWAYS)
    yield Heading("The pipes")
    yield runs_table(check, system)
    if pictures_first(check):
        yield Heading("How the pipes run")
        yield from _pictures(check, system)
    yield Heading("Agreed" if offered else "Seen, and not to be built or left like this")
    yield Blanks(("Customer", "Installer", "License number", "Signature", "Date"))


def price_of(cost: Cost) -> tuple[str, str]:
    """What the customer is told a job costs, by its name: a sum of materials alone is called no price of the job."""
    alone = cost.labor is None and cost.markup is None and not cost.charges and cost.tax is None
    return ("Materials only" if alone and not is_unknown(cost) else "Price"), price_in_words(cost)


def price_in_words(cost: Cost) -> str:
    """The total alone, and where it may be more why: no prices, no rates."""
    if is_unknown(cost):
        return "not known: nothing of it has a price in the list"
    said = total_words(cost)
    if cost.tax is not None:
        said += ", tax included"
    missing = [] if cost.currency else ["the price list names no currency"]
    if cost.without_price:
        missing.append("some parts have no price yet")
    if cost.labor_without_rate:
        missing.append("labor is not in it")
    if cost.left_out:
        missing.append("not everything could be counted yet")
    if cost.highest > cost.total:
        missing.append(f"up to {amount(cost.highest, cost.currency)}, by the fittings bought")
    return f"{said}: {'; '.join(missing)}" if missing else said


def _pictures(check: JobCheck, system: System) -> Iterator[Block]:
    """As wide as the page, the second below the first: all on one page with the lines to sign."""
    for run in check.runs:
        yield picture_figure(run.run, system, height=260.0 if len(check.runs) == 1 else 185.0)


def pictures_first(check: JobCheck) -> bool:
    """Whether the pictures of the runs have room on the first page; else each stands with its run."""
    return len(check.runs) <= 2


def picture_figure(run: Run, system: System, *, height: float = 180.0) -> Figure:
    """A run's picture with its caption."""
    return Figure(picture_of(run, system, width=468.0, height=height), _caption(run))


def verdict_of(check: JobCheck, system: System) -> Callout:
    """The verdict in a frame."""
    where = check.decides.because.where
    run = f"{where.run[:1].upper()}{where.run[1:]}: " if where.run and not where.way else ""
    said = [MEANING[check.verdict], run + reason(check.decides, system, with_run=not run)]
    if any(rate.within_allowance is False for run in check.runs for rate in run.rates):
        said.append(_BEYOND)
    word, passed = verdict_in_words(check.verdict, len(check.doubted)), check.verdict == "within"
    return Callout(
        f"Verdict: {word.upper()}", tuple(said), "bad" if not passed else "caution" if check.doubted else "good"
    )


def _site(material: Material) -> str:
    site, system = material.inputs.job.site, material.system
    unknown = "not given"
    altitude = unknown if site.altitude is None else show(site.altitude, Dimension.LENGTH, system, style="altitude")
    outdoor = unknown if site.outdoor is None else show_temperature(site.outdoor, system)
    indoor = unknown if site.indoor is None else show_temperature(site.indoor, system)
    return f"altitude {altitude}; outdoors {outdoor}; indoors {indoor}"


def _appliances(material: Material) -> Iterator[tuple[str, str]]:
    for appliance in material.inputs.job.appliances:
        fuel = material.inputs.catalog.fuel(appliance.fuel).title
        rates = ", ".join(f"{rate.name} {show_power(rate.input, material.system)}" for rate in appliance.rates)
        yield appliance.name[:1].upper() + appliance.name[1:], f"{fuel}; {rates}"


def runs_table(check: JobCheck, system: System) -> Table:
    """A row a run: what it carries, its verdict, and how it stands to its allowance."""
    columns = (
        Column("Pipe", share=1.2),
        Column("Carries", share=1.3),
        Column("Size", share=1.3),
        Column("Verdict", share=1.2),
        Column("Counts as", "right"),
        Column("Allowed", "right"),
        Column("Left", "right", share=1.4),
    )
    return Table(columns, tuple(_run_row(run, system) for run in check.runs), "Each pipe by the maker's table")


def _run_row(run: RunCheck, system: System) -> tuple[str, ...]:
    answer = run.table
    compared = None if answer is None else answer.equivalent_length
    allowed = None if answer is None else answer.allowable_length
    return (
        run.run.name,
        run.run.carries,
        sizes_of(run.run),
        run.verdict.upper(),
        _length(compared, system),
        _length(allowed, system),
        "none known" if run.margin is None else margin(run.margin, system),
    )


def sizes_of(run: Run) -> str:
    """Its sizes in walking order: `2 in, then 3 in`."""
    return ", then ".join(dict.fromkeys(piece.section.label for piece in run.pieces))


def _length(value: float | None, system: System) -> str:
    return "-" if value is None else show_feet(value, system)


def picture_of(run: Run, system: System, *, width: float, height: float) -> Drawing:
    """The route of a run that is laid out, the parts of one that is not."""
    return route(run, system, width=width, height=height) or strip(run, system, width=width)


def _caption(run: Run) -> str:
    if run.counted:
        return f"{run.name}: what it is made of. It was counted, not laid out, so no route is known."
    said = f"{run.name}: the route. Numbers are those of its pieces, as the permit appendix lists them."
    if any(piece.is_pipe and piece.heading is None for piece in run.pieces):
        said += " A dashed pipe has no heading in the job and is drawn straight on."
    return said
