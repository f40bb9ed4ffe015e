"""A paper of every kind of block, in every kind of file: nothing typed is ever taken for markup."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.report.hostile import HOSTILE
from tests.report.outside import Page
from ventsize.jobfile.letters import plain
from ventsize.report.drawing import Bar, Series, bars, line_chart
from ventsize.report.paper import (
    KINDS,
    Beside,
    Blanks,
    Block,
    Bullets,
    Callout,
    Checklist,
    Column,
    Facts,
    Figure,
    Formula,
    Heading,
    PageBreak,
    Paper,
    PaperNotWritten,
    Paragraph,
    Room,
    Table,
    rendered,
    write,
)


def blocks_of(text: str) -> tuple[Block, ...]:
    """Every kind of block, with a text wherever one can stand."""
    chart = line_chart([Series(text, ((0.0, 1.0), (2.0, 0.0)))], across=text, up=text, title=text, description=text)
    figure = Figure(chart, text)
    return (
        Heading(text),
        Paragraph(text),
        Bullets((text, text)),
        Facts(((text, text),)),
        Table((Column(text), Column("b", "right")), ((text, "1"), ("x", text)), text, 1),
        Heading(text, 3),
        figure,
        Beside((figure, Figure(bars([Bar(text, 1.0, text)], title=text)))),
        Formula(r"v = \frac{m}{\rho A}", text),
        Callout(text, (text, text), "bad"),
        Checklist((text,)),
        Blanks((text,)),
        Room(2, text),
        PageBreak(),
        Paragraph(text, small=True),
    )


def paper_of(text: str) -> Paper:
    """All of them."""
    return Paper(title=text or "t", subtitle=text, blocks=blocks_of(text), foot=text)


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_html_takes_typed_text_for_text(text: str) -> None:
    """No element, attribute or request comes from it, it can be read in full, and every element is closed."""
    made = rendered(paper_of(text), "html").decode()
    page = Page(made)
    assert page.faults == [] and page.open == []
    assert plain(text) in page.text or not text
    assert "default-src 'none'" in made


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_csv_cells_are_never_formulas(text: str) -> None:
    """No cell begins the way a spreadsheet's formula does, but plain numbers, and the text stays readable."""
    content = rendered(paper_of(text), "csv").decode("utf-8-sig")
    rows = list(csv.reader(io.StringIO(content, newline="")))
    cells = [cell for row in rows for cell in row]
    for cell in cells:
        formula = cell.lstrip()[:1] in ("=", "+", "-", "@") and not re.fullmatch(r"-|[+-]?[\d.,]+", cell)
        assert not formula and "\n" not in cell and "\t" not in cell
    if text:
        assert any(plain(text).strip() in cell for cell in cells)


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_markdown_takes_typed_text_for_text(text: str) -> None:
    """Every character that means something in Markdown or HTML has a backslash before it."""
    made = rendered(Paper(title="t", blocks=(Paragraph(text), Bullets((text,)))), "markdown").decode()
    for line in made.splitlines():
        body = line.removeprefix("# ").removeprefix("- ")
        assert not re.search(r"(?<!\\)(?:\\\\)*[<>`*_\[\]|#]", body), body
    assert made.count("\n\n") == 2  # a break that was typed begins no paragraph


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_pdf_prints_typed_text(text: str) -> None:
    """It opens, has the text, and neither scripts nor links."""
    reader = PdfReader(io.BytesIO(rendered(paper_of(text), "pdf")))
    said = "".join(page.extract_text() for page in reader.pages)
    shown = [word for word in plain(text).split() if word.isascii() and len(word) < 12]
    assert all(word in said for word in shown)
    root = reader.trailer["/Root"]
    assert "/OpenAction" not in root or "JavaScript" not in str(root["/OpenAction"])
    assert "/AA" not in root and all("/Annots" not in page for page in reader.pages)


@pytest.mark.parametrize(("size", "width", "height"), [("letter", 612, 792), ("a4", 595.28, 841.89)])
def test_page_sizes(size: str, width: float, height: float) -> None:
    """Letter is 8.5 by 11 in (ANSI/ASME Y14.1), A4 210 by 297 mm (ISO 216); the HTML prints on the same."""
    reader = PdfReader(io.BytesIO(rendered(paper_of("x"), "pdf", size=size)))  # type: ignore[arg-type]
    box = reader.pages[0].mediabox
    assert float(box.width) == pytest.approx(width, abs=0.02) and float(box.height) == pytest.approx(height, abs=0.02)
    assert f"size: {'A4' if size == 'a4' else size};" in rendered(paper_of("x"), "html", size=size).decode()  # type: ignore[arg-type]


def test_pdf_shows_the_signs_of_formulas() -> None:
    """Letters are embedded, with Greek and mathematical signs; one they lack is marked, and the foot says so."""
    text = "≤ ² √ Δ ρ × µ °"
    reader = PdfReader(io.BytesIO(rendered(Paper(title="t", blocks=(Paragraph(text),)), "pdf")))
    said = reader.pages[0].extract_text()
    assert all(sign in said for sign in text.split())
    fonts = reader.pages[0]["/Resources"]["/Font"].get_object()
    kinds = [font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"] for font in fonts.values()]
    assert kinds and all("/FontFile2" in kind.get_object() for kind in kinds)
    reader = PdfReader(io.BytesIO(rendered(Paper(title="t", blocks=(Paragraph("中"),)), "pdf")))
    assert "does not" in (said := reader.pages[0].extract_text()) or "do not have" in said


def test_headings_and_pictures_can_be_heard() -> None:
    """Headings go down by one level at most, and every picture says what it shows."""
    page = Page(rendered(paper_of("words"), "html").decode())
    assert page.headings[0] == 1 and all(b - a <= 1 for a, b in zip(page.headings, page.headings[1:], strict=False))
    assert page.pictures and all(page.pictures)


def test_a_long_table_goes_on_with_its_head() -> None:
    """On each page of the PDF the names of the columns stand again."""
    rows = tuple((f"row {n}", str(n)) for n in range(150))
    reader = PdfReader(
        io.BytesIO(rendered(Paper(title="t", blocks=(Table((Column("Name"), Column("No.")), rows),)), "pdf"))
    )
    texts = [page.extract_text() for page in reader.pages]
    assert len(texts) > 2 and all("Name" in text for text in texts)
    assert all(f"row {n}" in "".join(texts) for n in range(150))


def test_a_row_of_the_wrong_length_is_refused() -> None:
    """A table whose rows do not fit its columns would be read wrongly."""
    with pytest.raises(ValueError, match="1 cells in a table of 2"):
        Table((Column("a"), Column("b")), (("x",),))


def test_nothing_is_replaced_unasked(tmp_path: Path) -> None:
    """A file that is there stays, and so do all the others of the same call; with `replace` it is replaced."""
    there = tmp_path / "there.pdf"
    there.write_text("mine")
    paper = paper_of("x")
    with pytest.raises(PaperNotWritten, match="there already"):
        write(paper, {"html": tmp_path / "new.html", "pdf": there})
    assert there.read_text() == "mine" and sorted(tmp_path.iterdir()) == [there]
    write(paper, {"pdf": there}, replace=True)
    assert there.read_bytes().startswith(b"%PDF")


def test_what_a_paper_is_made_from_is_kept(tmp_path: Path) -> None:
    """Not even with `replace` is the job overwritten, nor one file written twice."""
    job = tmp_path / "job.toml"
    job.write_text("title = 'x'")
    with pytest.raises(PaperNotWritten, match="made from"):
        write(paper_of("x"), {"html": tmp_path / "." / "job.toml"}, replace=True, keep=[job])
    with pytest.raises(PaperNotWritten, match="twice"):
        write(paper_of("x"), {"html": tmp_path / "a", "pdf": tmp_path / "a"})
    assert job.read_text() == "title = 'x'"


def test_bad_places_are_said_in_a_sentence(tmp_path: Path) -> None:
    """A folder, a folder that is not there."""
    for path, why in ((tmp_path, "it is a folder"), (tmp_path / "no" / "a.html", "there is no folder")):
        with pytest.raises(PaperNotWritten, match=why):
            write(paper_of("x"), {"html": path})


def test_every_kind_is_written(tmp_path: Path) -> None:
    """Four kinds, each told as it is done, and nothing else left in the folder."""
    told: list[Path] = []
    files = {kind: tmp_path / f"p.{kind}" for kind in KINDS}
    write(paper_of("x"), files, written=told.append)
    assert sorted(told) == sorted(tmp_path.iterdir()) == sorted(files.values())
