"""Papers from the screens: a kind, a file name, and the file is there."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.tui.screens import as_text, running, scenario, until
from ventsize.catalog.folders import user_folder
from ventsize.tui.questions import QUESTIONS
from ventsize.tui.questions.papers import PapersScreen
from ventsize.tui.widgets.file_picker import FilePicker
from ventsize.tui.widgets.question import Question


@asynccontextmanager
async def papers(folder: Path) -> AsyncIterator[tuple[Any, Any]]:
    """The question open over a job that lies in a folder of its own."""
    job = folder / "attic run.toml"
    job.write_text(scenario("simple-pass").read_text())
    entry = next(question for question in QUESTIONS if question.name == "papers")
    async with running(job) as (app, pilot):
        app.push_screen(entry.open(app.screen.session))
        await until(pilot, lambda: isinstance(app.screen, PapersScreen) and "Letter" in as_text(app))
        yield app, pilot


async def test_a_pdf_by_keys(tmp_path: Path) -> None:
    """Z, Enter, Enter: the file has the job's name, the page is A4, and the screen says where it is."""
    async with papers(tmp_path) as (app, pilot):
        await pilot.press("z", "enter")
        await until(pilot, lambda: isinstance(app.screen, FilePicker))
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, PapersScreen) and app.screen.copied(), seconds=60)
        assert app.screen.copied().startswith("Written: ")
    pdf = PdfReader(tmp_path / "attic run.pdf")
    assert round(float(pdf.pages[0].mediabox.width)) == 595
    assert "Boathouse replacement" in pdf.pages[0].extract_text()


async def test_a_logo_that_is_no_picture_is_a_sentence(tmp_path: Path) -> None:
    """The screen stays, says which file is no picture, and no paper is written."""
    user_folder().mkdir(parents=True, exist_ok=True)
    (user_folder() / "letterhead.toml").write_text('heading = "A"\nlogo = "logo.png"', encoding="utf-8")
    (user_folder() / "logo.png").write_text("no picture")
    async with papers(tmp_path) as (app, pilot):
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, FilePicker))
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, PapersScreen) and app.screen.copied(), seconds=60)
        assert app.screen.copied().startswith("! ") and "logo.png" in app.screen.copied()
    assert not list(tmp_path.glob("*.pdf"))


async def test_a_file_that_is_there_is_asked_about(tmp_path: Path) -> None:
    """K keeps it; the job itself is never replaced."""
    kept = tmp_path / "attic run.pdf"
    kept.write_text("mine")
    async with papers(tmp_path) as (app, pilot):
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, FilePicker))
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, Question))
        await pilot.press("k")
        await until(pilot, lambda: isinstance(app.screen, PapersScreen))
    assert kept.read_text() == "mine"


@pytest.mark.parametrize("beside", ["old-two-inch-run", "counted-run"])
async def test_a_proposal_with_a_job_beside(tmp_path: Path, beside: str) -> None:
    """B adds a job, and the paper is a proposal of two ways."""
    async with papers(tmp_path) as (app, pilot):
        await pilot.press("b")
        await until(pilot, lambda: isinstance(app.screen, FilePicker))
        app.screen.dismiss(scenario(beside))
        await until(pilot, lambda: "proposal of 2 ways" in as_text(app))
        await pilot.press("down", "down", "enter")
        await until(pilot, lambda: isinstance(app.screen, FilePicker))
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, PapersScreen) and app.screen.copied(), seconds=60)
    text = (tmp_path / "proposal-attic run.md").read_text()
    assert (
        text.startswith("# Proposal: Boathouse replacement") and "A: " in text and "B: " in text and beside not in text
    )
