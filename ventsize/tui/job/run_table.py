"""From a verdict to what decided it: the row of the table, or the deduction it lacks."""

from __future__ import annotations

from ventsize.allowance.answer import TableAnswer
from ventsize.jobfile.editing import value_at
from ventsize.tui.job.open_job import OpenJob


def open_table(job: OpenJob) -> None:
    """The table of the run under the cursor, at the row that decided or the deduction that is missing."""
    from ventsize.allowance.reading import find_table
    from ventsize.jobfile.problems import InputError
    from ventsize.tui.table.screen import TableScreen

    found = job.found
    file = value_at(job.session.data, ("run", job.run_at, "table")) or (found.table_file if found else None)
    if not isinstance(file, str) or not file:
        job.warn("This run names no table yet: choose one in its field Table.")
        return
    try:
        path = find_table(file, beside=job.session.beside)
    except InputError as error:
        job.warn(str(error.problems[0]))
        return

    async def back(_: None) -> None:
        """The table may have been changed: judge by it as it is now."""
        job.session.outdated()
        await job.after()

    job.app.push_screen(TableScreen(path, show=place_to_show(found.table if found else None)), back)


def place_to_show(answer: TableAnswer | None) -> tuple[str | int, ...]:
    """Where in its table an answer comes from: ("deductions", name) of a missing one, else ("row", from 0)."""
    if answer is None:
        return ()
    because = answer.decides.because
    fitting = because.values.get("fitting")
    if isinstance(fitting, str) and because.code.startswith("no-deduction"):
        return ("deductions", fitting)
    rows = [row for row in answer.rows if row.input == answer.row_input and row.size_label == answer.row_size]
    return ("row", (rows or list(answer.rows))[0].number - 1) if answer.rows else ()
