"""A PDF tells a screen reader what is what: title, language, and elements that hold everything on its pages."""

from __future__ import annotations

import io
import re
from collections import Counter
from itertools import pairwise
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject

from tests.report.test_job_paper import material
from ventsize.catalog.folders import shipped_folder
from ventsize.report.drawing import Bar, bars
from ventsize.report.job_paper import EVERY as EVERY_PART
from ventsize.report.job_paper import job_paper
from ventsize.report.paper import (
    Blanks,
    Bullets,
    Callout,
    Checklist,
    Column,
    Facts,
    Figure,
    Heading,
    Paper,
    Paragraph,
    Table,
    rendered,
)


def of(*blocks: Any) -> PdfReader:
    """These blocks as a PDF, read back."""
    paper = Paper(title="Title of it", blocks=blocks, foot="Foot of every page")
    return PdfReader(io.BytesIO(rendered(paper, "pdf")))


EVERY = (
    Heading("Part"),
    Heading("Part of a part", 3),
    Paragraph("Text."),
    Bullets(("one", "two")),
    Facts((("name", "what it is"),)),
    Table((Column("A"), Column("B")), (("1", "2"), ("3", "4")), "Caption"),
    Figure(bars([Bar("pipe", 2.0, "2 Pa")], title="Loss", description="pipe 2 Pa"), "Below it"),
    Callout("Mind", ("this", "and this")),
    Checklist(("done",)),
    Blanks(("Signature",)),
)


def elements(reader: PdfReader) -> list[DictionaryObject]:
    """Every element of the structure, in reading order."""
    found: list[DictionaryObject] = []

    def walk(node: Any) -> None:
        element = node.get_object()
        if not isinstance(element, DictionaryObject):
            return
        found.append(element)
        kids = element.get("/K", ArrayObject())
        for kid in kids if isinstance(kids, ArrayObject) else [kids]:
            walk(kid)

    root: Any = reader.trailer["/Root"]
    walk(root["/StructTreeRoot"]["/K"][0])
    return found


def test_title_language_and_marks() -> None:
    """What a checker asks first; the title is shown in place of the file's name."""
    reader = of(*EVERY)
    root: Any = reader.trailer["/Root"]
    assert reader.metadata and reader.metadata.title == "Title of it"
    assert root["/Lang"] == "en-US" and root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]


def test_every_kind_of_block_is_an_element() -> None:
    """Headings by their level, cells in rows in tables, what stands in lists, pictures with their words."""
    found = elements(of(*EVERY))
    kinds = Counter(str(element["/S"]) for element in found)
    assert {"/H1": 1, "/H2": 1, "/H3": 1, "/Table": 2, "/Figure": 1, "/L": 3}.items() <= kinds.items()
    assert kinds["/TR"] == 4 and kinds["/TH"] == 3 and kinds["/TD"] == 5 and kinds["/LI"] == kinds["/LBody"] == 5
    (figure,) = (element for element in found if element["/S"] == "/Figure")
    assert "pipe 2 Pa" in figure["/Alt"]
    parents = {str(element["/P"].get_object()["/S"]) for element in found if element["/S"] in ("/TH", "/TD")}
    assert parents == {"/TR"}


@pytest.mark.parametrize("many", [1, 120])
def test_everything_on_a_page_is_marked(many: int) -> None:
    """Marks open and close on the same page, no text stands outside of one, and each number belongs to an element."""
    rows = tuple((f"{n}", "words " * 12) for n in range(many))
    reader = of(*EVERY, Paragraph("long " * 40 * many), Table((Column("A"), Column("B")), rows))
    numbered: dict[int, int] = Counter()
    pages = {page.indirect_reference.idnum: n for n, page in enumerate(reader.pages) if page.indirect_reference}
    for element in elements(reader):
        for kid in element.get("/K", ()):
            if isinstance(kid, int):
                numbered[pages[element.raw_get("/Pg").idnum]] += 1
    for number, page in enumerate(reader.pages):
        stream = page.get_contents()
        assert stream is not None
        depth, marks = 0, 0
        for line in stream.get_data().decode("latin-1").splitlines():
            if re.search(r"\b(BDC|BMC)$", line):
                depth += 1
                marks += "/MCID" in line
            elif line == "EMC":
                depth -= 1
            elif re.search(r"\)\s*Tj|\]\s*TJ", line):
                assert depth == 1, line
            assert 0 <= depth <= 1
        assert depth == 0 and marks == numbered[number]


def faults(reader: PdfReader) -> set[str]:
    """What a checker asks of a file by itself, in the words of ISO 14289-1 (PDF/UA-1), from memory; no claim to it."""
    root: Any = reader.trailer["/Root"]
    metadata = root["/Metadata"].get_data().decode() if "/Metadata" in root else ""
    found = elements(reader)
    heads = [int(str(one["/S"])[2:]) for one in found if re.fullmatch(r"/H\d", str(one["/S"]))]
    asked = {
        "language": bool(root.get("/Lang")),
        "marked": bool(root.get("/MarkInfo", {}).get("/Marked")),
        "title shown": bool(root.get("/ViewerPreferences", {}).get("/DisplayDocTitle")),
        "title in the metadata": bool(re.search(r"<dc:title>.*[^<>]+</rdf:li>", metadata)),
        "headings in order": heads[:1] == [1] and all(b <= a + 1 for a, b in pairwise(heads)),
        "pictures with words": all(str(one.get("/Alt", "")).strip() for one in found if one["/S"] == "/Figure"),
        "header cells with their scope": all("/Scope" in str(one.get("/A")) for one in found if one["/S"] == "/TH"),
        "tables with header cells": all(any(kid.get("/S") == "/TH" for kid in cells(one)) for one in found
                                        if one["/S"] == "/Table"),
        "pages in the structure": all("/StructParents" in page for page in reader.pages),
    }  # fmt: skip
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():  # type: ignore[index]
            whole = font.get_object()
            described = whole["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
            asked["fonts embedded"] = asked.get("fonts embedded", True) and "/FontFile2" in described
            asked["letters told"] = asked.get("letters told", True) and "/ToUnicode" in whole
    return {name for name, held in asked.items() if not held}


def cells(table: Any) -> list[Any]:
    """The cells of a table's element."""
    return [cell.get_object() for row in table["/K"] for cell in row.get_object()["/K"]]


@pytest.mark.parametrize("name", ["two-pipe-at-altitude", "no-acceptable-option", "common-vent"])
def test_a_checker_finds_nothing(name: str) -> None:
    """In the papers of a job, all parts; and it does find what is wrong."""
    made = material(shipped_folder("scenarios") / f"{name}.toml")
    reader = PdfReader(io.BytesIO(rendered(job_paper(made, parts=EVERY_PART), "pdf")))
    assert faults(reader) == set()
    root: Any = reader.trailer["/Root"]
    del root["/Lang"], root["/Metadata"]
    for element in elements(reader):
        element.pop("/A", None)
        element.pop("/Alt", None)
    spoilt = {"language", "title in the metadata", "pictures with words", "header cells with their scope"}
    assert faults(reader) == spoilt
