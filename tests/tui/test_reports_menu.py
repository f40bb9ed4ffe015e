"""The list of a job's reports: each with its answer beside it, quickly or once it has been opened."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.tui.screens import as_text, running, scenario, until
from tests.tui.walk import settled
from ventsize.finding.halting import go_on
from ventsize.tui.questions import QUESTIONS, TAUGHT, menu
from ventsize.tui.questions.menu import ReportsMenu


def beside(app: object) -> dict[str, str]:
    """What stands beside each report."""
    assert isinstance(app.screen, ReportsMenu)  # type: ignore[attr-defined]
    return {entry[0]: entry[2] for entry in app.screen._entries}  # type: ignore[attr-defined]


async def test_reports_stand_with_their_answers() -> None:
    """Those of a job that trips: verdict, room left by the check, the outcome of the diagnosis; none of teaching."""
    async with running(scenario("trips-on-the-vent")) as (app, pilot):
        await pilot.press("f9")
        await settled(app, pilot)
        said = beside(app)
        check = app.screen._session.check
        assert set(said) == {q.name for q in QUESTIONS} - set(TAUGHT)
        assert said["report"].startswith(check.verdict)
        assert said["headroom"].startswith("1.0 ft")  # the least of the margins, 6 ft and 1 ft
        assert said["field"].startswith(str(len(app.screen._session.inputs.job.readings)))
        assert said["diagnose"] == "something is off"
        assert said["roomair"] != next(q.answers for q in QUESTIONS if q.name == "roomair")
        assert said["options"] == next(q.answers for q in QUESTIONS if q.name == "options")  # not asked yet


async def test_what_has_been_opened_is_known(tmp_path: Path) -> None:
    """The options as they were found; another job typed meanwhile makes it unknown again."""
    async with running(Path(shutil.copy(scenario("simple-pass"), tmp_path))) as (app, pilot):
        job = app.screen
        entry = next(q for q in QUESTIONS if q.name == "options")
        app.push_screen(entry.open(job.session))
        await until(pilot, lambda: app.screen is not job and app.screen._found and not app.screen.looking, seconds=60)
        found = app.screen._found
        await pilot.press("escape", "f9")
        await settled(app, pilot)
        assert beside(app)["options"] == f"{found.within} of {found.looked_at} within"
        await pilot.press("escape", "1", "2", "enter", "f9")
        await settled(app, pilot)
        assert beside(app)["options"] == entry.answers


async def test_a_report_that_takes_long_holds_nobody_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is given up after its time, the others come, and it is not begun again."""
    begun = []

    def long(*_: object) -> None:
        begun.append(1)
        while True:
            go_on()

    monkeypatch.setattr(menu, "STUDIES", {"repairs": long, "roomair": menu.STUDIES["roomair"]})
    async with running(scenario("simple-pass")) as (app, pilot):
        for _ in range(2):
            await pilot.press("f9")
            await settled(app, pilot)
            assert beside(app)["repairs"] == next(q.answers for q in QUESTIONS if q.name == "repairs")
            assert beside(app)["roomair"] in as_text(app)
            await pilot.press("escape")
        assert begun == [1]
