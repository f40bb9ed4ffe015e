"""From a run's verdict to the row of the table that decided, or to the deduction it lacks, and back."""

from __future__ import annotations

from typing import Any, ClassVar

from textual.binding import Binding, BindingType

from ventsize.allowance.answer import TableAnswer
from ventsize.jobfile.editing import value_at
from ventsize.tui.job.base import JobBase


class TableKeys(JobBase):
    """Opening the table that judges a run."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("t", "table", "Table of the run", show=False, id="job.table")]

    def action_table(self) -> None:
        """The table of the run under the cursor, at the row that decided or the deduction that is missing."""
        from ventsize.allowance.reading import find_table
        from ventsize.jobfile.problems import InputError
        from ventsize.tui.table.screen import TableScreen

        named = value_at(self.session.data, ("run", self.run_at, "table"))
        file = named or (self.found.table_file if self.found else None)
        if not isinstance(file, str) or not file:
            self.warn("This run names no table yet: choose one in its field Table.")
            return
        try:
            path = find_table(file, beside=self.session.beside)
        except InputError as error:
            self.warn(str(error.problems[0]))
            return
        answer = self.found.table if self.found else None
        self.app.push_screen(TableScreen(path, show=place_to_show(answer)), self._back_from_table)

    async def _back_from_table(self, _: Any) -> None:
        """The table may have been changed: judge by it as it is now."""
        await self.after()


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
