"""More errands of the three people in an open job, by keys alone."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from textual.widgets import Input

from tests.tui.screens import LARGE, SMALL, as_text, running, scenario, typed, until, verdict
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.job.variants import VariantsScreen
from ventsize.tui.job.working import WorkingScreen
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.field import Field
from ventsize.tui.widgets.question import Question


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A copy of a demonstration job that may be changed."""
    return Path(shutil.copy(scenario("simple-pass"), tmp_path / "job.toml"))


async def pressed(pilot: Any, *keys: str) -> None:
    """Keys one by one."""
    for key in keys:
        await pilot.press(key)
    await pilot.pause()


async def test_tech_opens_a_number_reads_it_in_metric_and_copies_it(job: Path) -> None:
    """The working of the elbow under the cursor, its source beside it; Esc is back where it was."""
    async with running(job) as (app, pilot):
        await pressed(pilot, "down", "o")
        screen = app.screen
        assert isinstance(screen, WorkingScreen)
        assert "2. elbow-90-long" in as_text(app) and "[in w.c.]" in screen.answer
        await pressed(pilot, "ctrl+u", "c")
        assert "[Pa]" in screen.answer and "Reynolds" in screen.answer
        assert app.clipboard == screen.answer
        await pressed(pilot, "right")
        assert screen.answer.startswith("vent at low")
        await pressed(pilot, "o")
        await until(pilot, lambda: app.screen is not screen)
        await typed(pilot, "viscosity")
        await pressed(pilot, "enter")
        assert app.screen is screen and "µ[CO2,2]" in screen.answer
        await pressed(pilot, "escape", "plus")
        assert "2. elbow-90-long" in screen.answer and "µ[CO2,2]" in screen.answer and "n[fuel]" not in screen.answer
        await pressed(pilot, "plus")
        assert "n[fuel]" in screen.answer and "back to combustion" in as_text(app)
        await pressed(pilot, "s")
        await until(pilot, lambda: app.screen.query("Input:focus"))
        await pressed(pilot, *["backspace"] * 40)
        await typed(pilot, str(job.parent / "working.html"))
        await pressed(pilot, "enter")
        await until(pilot, lambda: (job.parent / "working.html").exists())
        await pressed(pilot, "escape", "ctrl+o")
        assert "What it comes to" in app.screen.answer
        await pressed(pilot, "escape")
        assert isinstance(app.screen, JobScreen) and app.screen.outline.row == 2


async def test_estimator_adds_a_firing_rate_and_opens_its_figures(job: Path) -> None:
    """F3, a: a rate; its input; the verdict waits for it and goes on; x takes it out again."""
    async with running(job) as (app, pilot):
        await pressed(pilot, "f3", "a", "enter")
        assert "PREVIOUS RESULT" in verdict(app)
        await typed(pilot, "40 MBH")
        await pressed(pilot, "enter", "escape")
        screen = app.screen
        rates = screen.session.data["appliance"][0]["rate"]
        assert [rate["name"] for rate in rates] == ["high", "low", "low 2"] and rates[2]["input"] == "40 MBH"
        assert verdict(app).startswith("✓ WITHIN")
        await pressed(pilot, "o")
        assert app.screen.answer.startswith("vent at low 2")
        await pressed(pilot, "escape", "x")
        assert len(screen.session.data["appliance"][0]["rate"]) == 2


async def test_tech_gives_the_air_as_the_analyser_reads_it(job: Path) -> None:
    """Another way to give it keeps the air: 35 % of excess air are some 5.9 % of O2 in dry gas of this fuel."""
    async with running(job) as (app, pilot):
        await pressed(pilot, "f3", "down", "enter", "down", "right")
        rate = app.screen.session.data["appliance"][0]["rate"][0]
        assert "excess_air" not in rate and 5.0 < float(rate["oxygen"].split()[0].rstrip("%")) < 6.5
        assert "O2, dry" in as_text(app)
        assert verdict(app).startswith("✓ WITHIN")


async def test_estimator_renames_an_appliance_and_the_runs_follow(job: Path) -> None:
    """While the name is typed nothing refers to half of it; it takes effect when the field is left."""
    async with running(job) as (app, pilot):
        session = app.screen.session
        await pressed(pilot, "f3", "home", "enter")
        await typed(pilot, "boiler")
        assert session.data["appliance"][0]["name"] == "furnace" and "WITHIN" in verdict(app)
        assert session.drafts == {("appliance", 0, "name"): "boiler"}
        await pressed(pilot, "enter", "escape")
        assert session.data["appliance"][0]["name"] == "boiler"
        assert [run["between"][0] for run in session.data["run"]] == ["boiler", "boiler"]
        assert verdict(app).startswith("✓ WITHIN") and not session.drafts
        await pressed(pilot, "u")
        assert session.data["appliance"][0]["name"] == "furnace"


async def test_estimator_changes_the_size_of_marked_pieces_and_of_the_run(job: Path) -> None:
    """Two marked pieces are of 2 in and the one after them is as before; then the whole run is."""
    async with running(job) as (app, pilot):
        session = app.screen.session
        await pressed(pilot, "space", "space", "ctrl+e", "enter")
        await typed(pilot, "2 in")
        await pressed(pilot, "enter")
        pieces = session.data["run"][0]["pieces"]
        assert [piece.get("size") for piece in pieces[:3]] == ["2 in", "2 in", "3 in"]
        await pressed(pilot, "ctrl+e", "enter")
        await typed(pilot, "2 in")
        await pressed(pilot, "enter")
        assert session.data["run"][0]["size"] == "2 in"
        assert not any("size" in piece for piece in session.data["run"][0]["pieces"])


async def test_instructor_puts_a_variant_beside_the_job(job: Path) -> None:
    """v goes on with a copy; V shows both with verdict, margin and pressure; Enter goes back to the first."""
    async with running(job, size=LARGE) as (app, pilot):
        first = app.screen.session
        await pressed(pilot, "b", "down", "e")
        await typed(pilot, "mitered")
        await pressed(pilot, "enter", "f8")
        assert isinstance(app.screen, VariantsScreen)
        shown = as_text(app)
        assert "Boathouse replacement" in shown and "99.5 ft to spare" in shown and "in w.c." in shown
        assert "2 × elbow-90-mitered instead of elbow-90-long" in " ".join(shown.replace("│", " ").split())
        await pressed(pilot, "up", "enter")
        assert isinstance(app.screen, JobScreen) and app.screen.session is first
        assert first.data["run"][0]["pieces"][1]["fitting"] == "elbow-90-long"


async def test_tech_is_asked_whether_ten_miles_are_meant(job: Path) -> None:
    """Judged all the same; the doubt stands under the field and among the cautions."""
    async with running(job) as (app, pilot):
        await typed(pilot, "10 mi")
        assert verdict(app).startswith("✗ OVER")
        assert "is that so?" in as_text(app)
        await pressed(pilot, "enter", "f6")
        assert "outside the usual range" in app.screen.query_one("#cautions").text


async def test_remarks_do_not_pile_up(job: Path) -> None:
    """Ten edits taken back: one remark beside the title, no stack of notices over the list."""
    async with running(job) as (app, pilot):
        await pressed(pilot, *["d"] * 5, *["u"] * 6)
        assert not app._notifications
        assert "nothing to undo" in as_text(app).splitlines()[0]


async def test_reasons_are_in_full_at_eighty_columns(job: Path) -> None:
    """The verdict's reason and a field's problem, to the last word."""
    async with running(job, size=SMALL) as (app, pilot):
        flat = " ".join(as_text(app).split())
        assert " ".join(verdict(app).splitlines()[1].split()) in flat
        await typed(pilot, "7 bananas")
        flat = " ".join(as_text(app).split())
        assert "expected a length, for example 12 ft 6 in or 3.8 m" in flat
        assert as_text(app).splitlines()[-1].rstrip().endswith("Help")


async def test_save_and_close_does_both(job: Path) -> None:
    """Esc with changes asks; s writes the file and leaves."""
    async with running(job) as (app, pilot):
        await typed(pilot, "5")
        await pressed(pilot, "enter", "escape", "s")
        await until(pilot, lambda: not isinstance(app.screen, JobScreen))
    assert 'pipe = "5 ft"' in job.read_text(encoding="utf-8")


async def test_what_is_half_typed_is_offered_back_too(job: Path) -> None:
    """A name that has not taken effect yet stands in its field again after the work is taken up."""
    from ventsize.catalog.folders import user_folder
    from ventsize.jobfile.recovery import pending_recoveries

    async with running(job) as (app, pilot):
        await pressed(pilot, "f3", "home", "enter")
        await typed(pilot, "boi")
        app.screen.session.journal._lock.release()  # as the end of a process does
    offer = pending_recoveries(user_folder())[0]
    async with running() as (app, pilot):
        await pressed(pilot, *["escape"] * (not isinstance(app.screen, JobScreen) and len(app.screen_stack) > 1))
        app.resume(offer)
        await until(pilot, lambda: isinstance(app.screen, JobScreen) and not app.screen.opening)
        await pressed(pilot, "f3")
        names = [field.value for field in app.screen.query("#appliance-form Field").results(Field) if field.display]
        assert names[0] == "boi"


async def test_tech_opens_numbers_by_mouse_alone(job: Path) -> None:
    """A click on the verdict opens how it comes about; a click on the last line's key goes back."""
    async with running(job) as (app, pilot):
        await pilot.click("VerdictLine")
        await until(pilot, lambda: isinstance(app.screen, WorkingScreen))
        await pilot.click("KeyLine", offset=(2, 0))
        await until(pilot, lambda: isinstance(app.screen, JobScreen))
        await pilot.click("KeyLine", offset=(14, 0))
        await until(pilot, lambda: isinstance(app.screen, WorkingScreen))


async def test_an_added_run_is_walked(job: Path) -> None:
    """N adds a run to be counted; with nothing in it yet W lays it out at once, and Ctrl+Z makes it a count again."""
    async with running(job) as (app, pilot):
        screen = app.screen
        await pilot.press("ctrl+r", "w")
        await until(pilot, lambda: isinstance(app.screen, AskLine))
        for step in ("up 3", "north 12 6", "end"):
            await typed(pilot, step)
            await pilot.press("enter")
        await pilot.press("escape")
        await until(pilot, lambda: app.screen is screen)
        run = screen.session.data["run"][-1]
        assert [piece.get("pipe") or piece["fitting"] for piece in run["pieces"]] == [
            "3 ft", "elbow-90-long", "12 ft 6 in", "terminal-open",
        ]  # fmt: skip
        assert "straight" not in run and "fittings" not in run
        await pilot.press("u", "u", "u", "u")
        await until(pilot, lambda: screen.session.data["run"][-1].get("straight") == "0 ft")


async def test_a_counted_run_walked_takes_from_its_count(job: Path) -> None:
    """Neither feet nor fittings are counted twice: the totals stay while the route is placed."""
    async with running(job) as (app, pilot):
        screen = app.screen
        counted = next(n for n, run in enumerate(screen.session.data["run"]) if "pieces" not in run)
        before = next(
            run for run in screen.session.check.runs if run.run.name == screen.session.data["run"][counted]["name"]
        )
        rows = screen.outline
        rows.go(rows.index_of((counted, None)))
        await pilot.press("w")
        await until(pilot, lambda: isinstance(app.screen, Question))
        await pilot.press("l")
        await until(pilot, lambda: isinstance(app.screen, AskLine))
        for step in ("up 2", "north 3"):
            await typed(pilot, step)
            await pilot.press("enter")
            await pilot.pause()
        assert "22 ft, 2 elbow-90-long, 1 terminal-open" in as_text(app)
        await pilot.press("escape")
        await until(pilot, lambda: app.screen is screen)
        after = next(run for run in screen.session.check.runs if run.run.name == before.run.name)
        assert after.run.straight_length == pytest.approx(before.run.straight_length, abs=0.01)
        assert len(after.run.pieces) == len(before.run.pieces) + 2


async def test_a_pipe_in_an_empty_count_is_its_first_piece(job: Path) -> None:
    """P as well: the run is laid out, and the pipe waits for its length."""
    async with running(job) as (app, pilot):
        await pilot.press("ctrl+r", "insert")
        await typed(pilot, "7")
        await until(pilot, lambda: app.screen.session.data["run"][-1].get("pieces") == [{"pipe": "7 ft"}])


async def test_a_count_is_laid_out_after_asking(job: Path) -> None:
    """Feet and fittings become pieces, the end last; C leaves it a count."""
    async with running(job) as (app, pilot):
        screen = app.screen
        counted = next(n for n, run in enumerate(screen.session.data["run"]) if "pieces" not in run)
        before = screen.session.data["run"][counted]
        screen.outline.go(screen.outline.index_of((counted, None)))
        for answer in ("c", "l"):
            await pilot.press("w")
            await until(pilot, lambda: isinstance(app.screen, Question))
            assert screen.session.data["run"][counted] == before
            await pilot.press(answer)
            await pilot.pause()
        await until(pilot, lambda: isinstance(app.screen, AskLine))
        pieces = screen.session.data["run"][counted]["pieces"]
        assert [piece for piece in pieces if "pipe" in piece] == [{"pipe": before["straight"]}]
        counts: dict[str, int] = {}
        for piece in pieces[1:]:
            counts[piece["fitting"]] = counts.get(piece["fitting"], 0) + 1
        assert counts == before["fittings"] and pieces[-1] == {"fitting": "terminal-open"}


async def test_stale_losses_stay_with_their_pieces(job: Path) -> None:
    """While a length is half typed the last losses are shown, each at the piece it is of, wherever that is moved."""

    def losses(screen: Any) -> dict[str, str]:
        """The loss beside each piece, by the piece's words."""
        cells = [row.cells for row in screen.outline.rows if row.key[0] == 0 and isinstance(row.key[1], int)]
        return {f"{c[1]} {c[2]}": c[5].text for c in cells}

    async with running(job) as (app, pilot):
        screen = app.screen
        before = losses(screen)
        assert len(set(before.values())) == len(before) == 5  # the two long elbows lose the same
        await pilot.press("down", "down", "enter", *["delete"] * 12, "x", "enter")
        await until(pilot, lambda: screen.session.stale)
        assert losses(screen) == before
        await pilot.press("ctrl+down", "ctrl+down")
        await pilot.pause()
        moved = losses(screen)
        assert screen.session.stale and list(moved) != list(before)
        assert moved == {**before, "pipe east": ""}  # typed anew and moved besides: nobody can say that it is the same
        await pilot.press("up", "insert")
        await pilot.pause()
        added = [row.cells for row in screen.outline.rows if row.key == screen.key_at]
        assert screen.session.stale and added[0][5].text == ""


async def test_no_letter_is_shown_as_a_key_where_letters_are_typed(job: Path) -> None:
    """In a field `u` is a letter: only what works there is on the last line."""
    async with running(job) as (app, pilot):
        assert "u Undo" in as_text(app).splitlines()[-1]
        await pressed(pilot, "f4", "enter")
        await until(pilot, lambda: isinstance(app.focused, Input))
        await pilot.pause()
        assert "u Undo" not in as_text(app).splitlines()[-1]
