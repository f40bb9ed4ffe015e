"""From a verdict to what decided it: the row of the table, the deduction it lacks, the question left open."""

from __future__ import annotations

from typing import Any, ClassVar

from textual.binding import Binding, BindingType

from ventsize.allowance.answer import TableAnswer
from ventsize.jobfile.editing import value_at
from ventsize.tui.job.base import JobBase
from ventsize.tui.widgets.picker import Picker


class TableKeys(JobBase):
    """Opening the table that judges a run."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+t", "table", "Table of the run", show=False, id="job.table"),
        Binding("y", "answer", "Answer what is open", show=False, id="job.answer"),
    ]

    def action_answer(self) -> None:
        """The question that keeps the job from a pass, with the answers it may have."""
        asked = self.asked
        if asked is None:
            self.warn("No open question has answers to choose from; the verdict above says what is missing.")
            return

        async def chosen(at: str | None) -> None:
            if at is not None:
                answer = asked.answers[int(at)]
                await self.edit("answer", lambda: answer.data, said=answer.label)

        entries = [(str(n), answer.label, "", answer.label) for n, answer in enumerate(asked.answers)]
        self.app.push_screen(Picker("Answer what is open", entries), chosen)

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
        self.session.outdated()
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
