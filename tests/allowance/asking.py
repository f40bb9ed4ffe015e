"""Tables asked about runs, and what of the answers is looked at."""

from __future__ import annotations

from tests.allowance.support import EXAMPLE, FOOT, KBTU_H
from ventsize.allowance.answer import TableAnswer
from ventsize.allowance.case import Site
from ventsize.allowance.counted import Counted
from ventsize.allowance.lookup import look_up
from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.reading import table_from_text

EXAMPLE_TABLE = table_from_text(EXAMPLE, file="table.toml")


def ask(
    allowance: AllowanceTable, *runs: Counted, kbtu: float = 80, feet: float | None = 1000, one_way: bool = False
) -> TableAnswer:
    """Look runs up at an input in kBtu/h and an altitude in feet."""
    site = Site(altitude=None if feet is None else feet * FOOT)
    return look_up(allowance, input=kbtu * KBTU_H, site=site, counted=runs, one_way=one_way)


def code(answer: TableAnswer) -> str:
    """The code of what settles an answer."""
    return answer.decides.because.code


def said(answer: TableAnswer) -> dict[str, object]:
    """What settles an answer, as values."""
    return dict(answer.decides.because.values)


def noted(answer: TableAnswer) -> set[str]:
    """Codes of what is worth knowing besides."""
    return {finding.code for finding in answer.findings}
