"""What the keys of the list do to runs: adding one, laying out what was counted, walking the route."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from ventsize.jobfile.editing import EditError, nothing_counted, value_at
from ventsize.tui.job import edits
from ventsize.tui.job.open_job import OpenJob
from ventsize.tui.job.walking import ASKED, Walk
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.question import Question
from ventsize.tui.widgets.verdict_line import VerdictLine


async def add(job: OpenJob) -> None:
    """A run more, beside the others."""
    if await job.edit("add a run", edits.new_run, said="run added: count it, or w to walk it"):
        rows = job.outline
        rows.go(rows.index_of((len(value_at(job.session.data, ("run",), [])) - 1, None)) or 0)


async def laid_out(job: OpenJob, then: Callable[[], Awaitable[None]]) -> None:
    """Do something that needs pieces; a counted run is laid out first, after asking where something is counted."""
    data, run = job.session.data, job.run_at

    async def answered(word: str | None) -> None:
        if word != "lay":
            return
        said = "laid out; u: a count again"
        if await job.edit("lay out the count", lambda data: edits.laid_out(data, run, job.catalog), said=said):
            rows = job.outline
            rows.go(rows.index_of((run, 0)) or rows.index_of((run, None)) or 0, tell=False)
            await job.forms()
            await then()

    if not edits.is_counted(data, run):
        await then()
    elif nothing_counted(data, run):
        await answered("lay")
    else:
        text = (
            "This run is counted: feet and fittings, without their order. Laid out, its pipe is one piece and each "
            "fitting another, for you to put in their places (Ctrl+Up, Ctrl+Down)."
        )
        answers = (("lay", "Lay it out", "l"), ("leave", "Leave it counted", "c"))
        job.app.push_screen(Question("A counted run", text, answers), answered)


async def walk(job: OpenJob) -> None:
    """Lay the route out by saying where it goes; what was counted is taken off as it is placed."""
    counted = edits.is_counted(job.session.data, job.run_at)

    async def begin() -> None:
        left = len(value_at(job.session.data, ("run", job.run_at, "pieces"), [])) if counted else 0
        _ask_for_steps(job, Walk((job.app.settings.elbow,), left))

    await laid_out(job, begin)


def _ask_for_steps(job: OpenJob, walking: Walk) -> None:
    def step(text: str) -> tuple[str, bool]:
        """Take a step; gives what is said about it, and whether it was taken."""
        nonlocal walking
        session, run = job.session, job.run_at
        try:
            walking, data, said = walking.step(session.data, run, text)
        except (EditError, ValueError) as error:
            return f"! {error}", False
        if data is not session.data:
            session.do(data, f"walk {text}")
        job.show_all()
        job.outline.go(edits.last_row(job.outline, run), tell=False)

        def judged() -> None:
            job.show_all()
            line.say(f"{said}\n{job.query_one(VerdictLine).text.splitlines()[0]}")

        job.judge_then(judged)
        return said, True

    line = AskLine(ASKED, step)
    job.app.push_screen(line, lambda _: job.after())
