"""Variants of a job, open beside each other: making one, and in what each differs and what it comes to."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from ventsize.jobfile.editing import value_at, variant
from ventsize.quantity import show_pressure
from ventsize.report.wording import reason
from ventsize.tui.job.open_job import OpenJob
from ventsize.tui.job.outline import margins
from ventsize.tui.job.session import Session
from ventsize.tui.long_work import tell
from ventsize.tui.widgets.rows import Cell, Column, Row, Rows
from ventsize.tui.widgets.text import one_line
from ventsize.tui.widgets.verdict_line import in_a_word

COLUMNS = (
    Column(title="", width=2),
    Column(title="Variant", width=10, grow=1),
    Column(title="Verdict", width=13),
    Column(title="Nearest its limit", width=22),
    Column(title="Most lost", width=13, align="right"),
)

MOST_VARIANTS = 4


async def make(job: OpenJob) -> None:
    """Go on with a copy of the job beside it: both stay open, and F8 shows them."""
    if len(job.variants) >= MOST_VARIANTS:
        job.warn(f"{MOST_VARIANTS} are open side by side; close one (Esc) before another is made.")
        return
    titles = [str(value_at(one.data, ("title",), "")) for one in job.variants]
    session = Session(job.session.data, path=None, beside=job.session.beside)
    session.system = job.session.system
    session.do(variant(job.session.data, titles), "make a variant")
    job.variants.append(session)
    await job.change_to(session)
    job.say("this is the variant: change it; F8 shows both")


def choose(job: OpenJob) -> None:
    """Verdict, margin and pressure of each variant; Enter goes on with one."""
    if len(job.variants) < 2:
        job.warn("There is one job only. b makes a variant of it, to be changed and compared.")
        return

    async def chosen(number: int | None) -> None:
        if number is not None:
            await job.change_to(job.variants[number])

    job.app.push_screen(VariantsScreen(job.variants, job.variants.index(job.session)), chosen)


class VariantsScreen(ModalScreen[int | None]):
    """Gives the number of the variant to go on with, or None."""

    topic = "beside"

    DEFAULT_CSS = """
    VariantsScreen {
        align: center middle;
        & > Vertical { width: 110; max-width: 96%; height: auto; background: $panel; border: round $primary; }
        & Rows { height: auto; max-height: 10; }
        & .beside-why { height: auto; max-height: 6; padding: 1 1 0 1; color: $text-muted; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="beside.back"),
        Binding("c", "copy", "Copy", id="beside.copy"),
    ]

    def __init__(self, sessions: Sequence[Session], at: int) -> None:
        super().__init__()
        self._sessions = sessions
        self._rows = Rows(COLUMNS, id="beside")
        self._rows.row = at

    def compose(self) -> ComposeResult:
        """A line each, and the reason of the one under the cursor."""
        with Vertical() as box:
            box.border_title = Content("The open variants")
            yield self._rows
            yield Static("", classes="beside-why", markup=False)
            yield Static("Enter goes on with one   c: copy   Esc goes back", classes="beside-why", markup=False)

    def on_mount(self) -> None:
        """Show all; those that have not been judged are."""
        self._show()
        self._judge()

    @work(thread=True)
    def _judge(self) -> None:
        for session in self._sessions:
            if not session.fresh:
                session.judge()
        tell(self, self._show)

    def _show(self) -> None:
        self._rows.show([self._row(n, session) for n, session in enumerate(self._sessions)])
        self._why()

    def _row(self, number: int, session: Session) -> Row:
        check, title = session.check, one_line(self._named(number))
        if session.stale or check is None:
            said = "▲ not judged" if session.problems else "working it out"
            return Row(key=number, cells=(str(number + 1), title, Cell(said, "warn")))
        verdict = Cell(*in_a_word(check.verdict, len(check.doubted)))
        limits = [(run.margin, n) for n, run in enumerate(check.runs) if run.margin is not None]
        margin = margins(check, session.system)[min(limits)[1]] if limits else "no margin by the table"
        most = max((run.worst.flow.pressure_drop for run in check.runs), default=None)
        lost = "" if most is None else show_pressure(most, session.system)
        return Row(key=number, cells=(str(number + 1), title, verdict, margin, lost))

    def _named(self, number: int) -> str:
        """The first by its title, the others by what is different in them."""
        from ventsize.report.comparing import told
        from ventsize.studies.comparing.differences import job_differences

        first, session = self._sessions[0], self._sessions[number]
        title = str(value_at(session.data, ("title",), ""))
        if number == 0 or session.problems or first.problems or session.inputs is None or first.inputs is None:
            return title
        return "; ".join(told(job_differences(first.inputs, session.inputs), session.system)) or "no change yet"

    def _why(self) -> None:
        session = self._sessions[self._rows.row]
        why = str(session.problems[0]) if session.problems else ""
        if not session.stale:
            why = reason(session.whole[1].decides, session.system)
        said = one_line(f"{self._named(self._rows.row)}. {why}")
        self.query(".beside-why").first(Static).update(Content(said))

    def on_rows_moved(self, event: Rows.Moved) -> None:
        """The reason of another."""
        event.stop()
        self._why()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Go on with this one."""
        event.stop()
        self.dismiss(event.row)

    def action_copy(self) -> None:
        """All of it, columns apart by tabs."""
        self.app.copy_to_clipboard(self._rows.as_text())

    def action_leave(self) -> None:
        """As it was."""
        self.dismiss(None)
