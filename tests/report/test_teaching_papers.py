"""Papers for a class: a lesson's answers stand on pages after its questions; a comparison says what the study says."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from tests.studies.support import SCENARIOS, again
from ventsize.check.inputs import read_inputs
from ventsize.cli import main
from ventsize.jobfile.lesson import Changed
from ventsize.quantity import System
from ventsize.report.comparing_paper import comparison_paper
from ventsize.report.lessons import answer_in_words, why_of
from ventsize.report.lessons_paper import lesson_paper
from ventsize.report.paper import Figure, PageBreak, Paper, Paragraph
from ventsize.report.paper.as_html import html
from ventsize.report.paper.as_markdown import markdown
from ventsize.report.paper.formulas import formula_blocks
from ventsize.report.paper.setting import FORMULA_SIZE, formula_svg
from ventsize.studies.altering.altered import altered
from ventsize.studies.comparing import compare
from ventsize.studies.lessons import held_lesson
from ventsize.studies.working.steps import Given, Kind, Step

LESSONS = sorted(SCENARIOS.glob("lesson-*.toml"))


def texts(paper: Paper, *, before_break: bool) -> str:
    """What stands before the first page break, or after it."""
    at = next(n for n, block in enumerate(paper.blocks) if isinstance(block, PageBreak))
    part = paper.blocks[:at] if before_break else paper.blocks[at:]
    return markdown(replace(paper, blocks=part)).replace("\\", "")  # the marks of Markdown itself


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_answers_come_after_the_questions(path: Path) -> None:
    """On the first pages every question, and nothing of how its answer comes about; behind them every answer."""
    lesson = held_lesson(read_inputs(path))
    paper = lesson_paper(lesson, System.US)
    first, rest = (texts(paper, before_break=before) for before in (True, False))
    for question in lesson.questions:
        assert question.ask in first
        assert why_of(question, System.US) not in first
        assert why_of(question, System.US) in rest and answer_in_words(question, System.US) in rest


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_large_type_has_a_page_for_each(path: Path) -> None:
    """Every text of it is a drawing with the text as its alternative; a question's page is not its answer's."""
    lesson = held_lesson(read_inputs(path))
    paper = lesson_paper(lesson, System.SI, large=True)
    assert sum(isinstance(block, PageBreak) for block in paper.blocks) >= 2 * len(lesson.questions)
    said = [block.drawing.title for block in paper.blocks if isinstance(block, Figure)]
    assert all(question.ask in said for question in lesson.questions)
    assert not any(isinstance(block, Paragraph) for block in paper.blocks)


def test_a_comparison_says_what_the_study_says() -> None:
    """Sentences, shares, a column a job; text that somebody typed is text."""
    inputs = read_inputs(SCENARIOS / "simple-pass.toml")
    typed = again(inputs, replace(inputs.job, title="<b>Röhre & Co</b>"))
    other = altered(typed, Changed(size=0.0508, altitude=2000.0))
    found = compare([("A", typed), ("B", other)])
    page = html(comparison_paper(found, System.US))
    assert "<b>Röhre" not in page and "Röhre" in page
    text = markdown(comparison_paper(found, System.US))
    assert "the size adds" in text and "together" in text and "2 in pipe instead of 3 in" in text


def test_the_verbs_write_them(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """HTML and PDF; what is there is not written over unless asked."""
    job = str(SCENARIOS / "simple-pass.toml")
    page, sheet = tmp_path / "lesson.html", tmp_path / "compare.pdf"
    assert main(["lesson", "low-fire", "--html", str(page)]) == 0
    assert "guess" in page.read_text(encoding="utf-8")
    assert main(["lesson", "low-fire", "--html", str(page)]) == 2
    assert main(["lesson", "low-fire", "--large", "--html", str(page), "--replace"]) == 0
    assert main(["compare", job, "--with", 'size = "2 in"', "--pdf", str(sheet)]) == 0
    assert sheet.read_bytes().startswith(b"%PDF")
    assert len(capsys.readouterr().err.splitlines()) == 1


@pytest.mark.parametrize("system", list(System))
def test_a_formula_is_read_with_its_symbols_its_numbers_and_its_result(system: System) -> None:
    """Where formulas cannot be set, each step still has three lines, and none of them twice."""
    bore = Given("bore", "D", 0.05, Kind.BORE, "typed")
    step = Step(name="area", symbol="A", template="3.14159265 / 4 * {0}^2", inputs=(bore,), value=0.0019635,
                kind=Kind.AREA, source="geometry", powers=(2.0,))  # fmt: skip
    texts = [block.text for block in formula_blocks(step, system) if block.text]
    assert len(texts) == len(set(texts)) == 3
    if system is System.SI:
        assert texts == ["A = 3.14159265 / 4 × D^2", "= 3.14159265 / 4 × (0.05 m)^2", "A = 0.0019635 m²"]
    else:  # 0.05 m is 1.9685 in; square inches to square feet by 1/144
        assert texts[0].startswith("A = C × 3.14159265") and "0.00694444 × " in texts[1] and "(1.9685 in)^2" in texts[1]


@pytest.mark.parametrize(
    "latex",
    [
        r"f = {\left({-}2 \cdot \log_{10}\left(\frac{\varepsilon}{3.7 \cdot D_{\mathrm{1}}}\right)\right)}^{-2}",
        r"q = C \cdot \frac{\rho \cdot {\left(5.1\,\mathrm{lb/(ft{\cdot}h)}\right)}^{2}}{\sqrt{{x}^{0.5}}}",
        r"2.1 \times 10^{-6}\,\mathrm{{}^{\circ}F}",
    ],
)
def test_a_formula_in_few_rows_is_drawn_the_same(latex: str) -> None:
    """Stroke by stroke as ziamath draws it with all the rows that its LaTeX makes."""
    from ziamath.config import config
    from ziamath.zmath import Latex

    config.svg2 = False
    assert re.findall(' d="([^"]+)', formula_svg(latex, "").element) == re.findall(
        ' d="([^"]+)', Latex(latex, size=FORMULA_SIZE).svg()
    )
