"""The papers of a job: the customer's two pages, the permit appendix, and what the one who builds it needs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Literal

from ventsize.report.job_paper.building import takeoff_pages
from ventsize.report.job_paper.customer import customer_pages
from ventsize.report.job_paper.grounds import ground_pages, permit_head, shared_vents
from ventsize.report.job_paper.material import Material, foot_of
from ventsize.report.job_paper.room_and_ticks import beside_pages
from ventsize.report.job_paper.runs import run_pages
from ventsize.report.paper import Block, Heading, PageBreak, Paper, Paragraph

Part = Literal["customer", "permit", "build"]
"""customer: two pages, the total as its only price. permit: the proof, no prices. build: takeoff, cut list, prices."""

HANDED_OVER: tuple[Part, ...] = ("customer", "permit")
EVERY: tuple[Part, ...] = (*HANDED_OVER, "build")

_TITLES: Mapping[Part, str] = {
    "customer": "",
    "permit": "Permit appendix: by the maker's table, and by calculation",
    "build": "Takeoff and cut list",
}


def job_paper(material: Material, *, parts: Sequence[Part] = HANDED_OVER) -> Paper:
    """A job on paper. parts: which, each beginning a page."""
    return Paper(
        title=material.check.title,
        subtitle=_subtitle(material, parts),
        blocks=tuple(_blocks(material, parts)),
        foot=foot_of(material.check.title, material.day),
        logo=material.head.logo if "customer" in parts else None,
    )


def _subtitle(material: Material, parts: Sequence[Part]) -> str:
    if "customer" in parts and material.head.line:
        return material.head.line
    return _TITLES[parts[0]] if parts else ""


def _blocks(material: Material, parts: Sequence[Part]) -> Iterator[Block]:
    made: Mapping[Part, Callable[[Material], Iterator[Block]]] = {
        "customer": customer_pages,
        "permit": _permit,
        "build": takeoff_pages,
    }
    for number, part in enumerate(parts):
        if number:
            yield PageBreak()
            if part == "permit":
                yield Heading("Permit appendix")
                yield Paragraph(
                    "The verdict by the maker's table, and what the calculation says beside it.", small=True
                )
        yield from made[part](material)


def _permit(material: Material) -> Iterator[Block]:
    yield from permit_head(material)
    yield from shared_vents(material)
    for run in material.check.runs:
        yield from run_pages(material, run)
    yield from beside_pages(material)
    yield from ground_pages(material)
