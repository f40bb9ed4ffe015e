"""The whole paper of a job."""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.report.job_paper.besides import beside_pages
from ventsize.report.job_paper.building import takeoff_pages
from ventsize.report.job_paper.customer import first_page
from ventsize.report.job_paper.grounds import appliances_table, ground_pages, shared_vents, signed
from ventsize.report.job_paper.material import Material, foot_of
from ventsize.report.job_paper.runs import run_pages
from ventsize.report.paper import Block, Heading, PageBreak, Paper


def job_paper(material: Material) -> Paper:
    """A job on paper: the customer's page, then the details."""
    return Paper(
        title=material.check.title,
        subtitle="Vent and combustion-air pipe: by the maker's table, and by calculation",
        blocks=tuple(_blocks(material)),
        foot=foot_of(material.check.title, material.day),
    )


def _blocks(material: Material) -> Iterator[Block]:
    yield from first_page(material)
    yield PageBreak()
    yield Heading("Appliances")
    yield appliances_table(material)
    yield from shared_vents(material)
    for run in material.check.runs:
        yield from run_pages(material, run)
    yield from beside_pages(material)
    yield from takeoff_pages(material)
    yield from ground_pages(material)
    yield from signed(material)
