"""A working as a paper: each line with its formula set as on a board."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ventsize.quantity import System
from ventsize.report.paper import Block, Bullets, Callout, Heading, PageBreak, Paper, Paragraph, Table
from ventsize.report.paper.blocks import Column
from ventsize.report.paper.formulas import formula_blocks
from ventsize.report.wording import say_all
from ventsize.report.working import DIGITS_SAID, conclusions_of, number_in_words, titles_of, unopened
from ventsize.studies.working.steps import Given, Step, Working

_COLUMNS = (
    Column("", share=1.0),
    Column("is", share=3.0),
    Column("value", "right", share=2.0),
    Column("from", share=3.0),
)


def working_paper(workings: Sequence[Working], system: System, *, job: str) -> Paper:
    """The workings of a job, each beginning on a page of its own."""
    blocks: list[Block] = [Paragraph(DIGITS_SAID, small=True)]
    for number, working in enumerate(workings):
        blocks += [PageBreak(), *_working(working, system)] if number else _working(working, system)
    return Paper(title="The working", subtitle=job, blocks=tuple(blocks))


def _working(working: Working, system: System) -> Iterator[Block]:
    yield Heading(working.title)
    if working.conclusion:
        yield Bullets(conclusions_of(working, system))
    titles = titles_of(working)
    for number, step in enumerate(working.steps, start=1):
        if number in titles:
            yield Heading(titles[number], level=2)
        yield from _step(number, step, system)
    if working.unopened:
        yield Heading("Not opened here", level=3)
        yield Paragraph(unopened(working))
    if working.remarks:
        yield Heading("Not worked out here", level=3)
        yield Bullets(working.remarks)
    if working.findings:
        yield Callout("Cautions", say_all(working.findings, system))


def _step(number: int, step: Step, system: System) -> Iterator[Block]:
    yield Heading(f"{number}. {step.name}", level=3)
    yield Paragraph(step.source, small=True)
    yield from formula_blocks(step, system)
    told = tuple({given.symbol: given for given in step.inputs if given.source}.values())
    if told:
        yield Table(_COLUMNS, tuple(_row(given, system) for given in told))


def _row(given: Given, system: System) -> tuple[str, str, str, str]:
    return given.symbol, given.name, number_in_words(given, system), given.source
