"""Papers to hand over: the open job, or it beside others as a proposal, written to a file of a chosen kind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static
from textual.worker import Worker, get_current_worker

from ventsize.check.inputs import Inputs
from ventsize.tui.job.session import Session
from ventsize.tui.long_work import long_work, tell
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.asking import once_given, once_replaceable
from ventsize.tui.questions.editing import EditingScreen
from ventsize.tui.widgets.file_picker import FilePicker
from ventsize.tui.widgets.rows import Column, Row, Rows

if TYPE_CHECKING:
    from ventsize.report.paper.blocks import Paper

KINDS: tuple[tuple[str, str, str, str], ...] = (
    ("pdf", ".pdf", "PDF", "pages to print, sign and file"),
    ("html", ".html", "HTML", "one file for a browser or a mail, pictures and all"),
    ("markdown", ".md", "Markdown", "plain text, pictures in words"),
    ("csv", ".csv", "CSV", "the tables, for a spreadsheet"),
)
SIZES = {"letter": "Letter", "a4": "A4"}
COLUMNS = (Column(title="Kind", width=12), Column(title="For", width=40, grow=1))
MOST_BESIDE = 3


class PapersScreen(EditingScreen):
    """A kind is chosen, then a file is named; it is written beside the screen."""

    DEFAULT_CSS = "PapersScreen { & Rows { height: 1fr; } & #asked-detail { height: 9; } }"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("r", "rates", "Rates, firm", id="papers.rates"),
        Binding("z", "size", "Page size", id="papers.size"),
        Binding("b", "beside", "Beside it, a job", id="papers.beside"),
        Binding("x", "drop", "Remove", id="papers.drop"),
    ]

    topic = "papers"

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__(session, question)
        self._page = "letter"
        self._beside: list[Path] = []
        self._written: list[str] = []
        self._state = ""
        self._worker: Worker[None] | None = None

    def body(self) -> ComposeResult:
        """The kinds, and what has been written."""
        yield Rows(COLUMNS, id="paper-rows")
        yield Static("", id="asked-detail", markup=False)

    def ask(self) -> None:
        """Show the kinds; nothing is worked out before one is chosen."""
        rows = self.query_one(Rows)
        rows.show([Row(key=kind, cells=(name, purpose)) for kind, _, name, purpose in KINDS])
        rows.focus()
        self._show()

    def _show(self) -> None:
        what = f"A proposal of {1 + len(self._beside)} ways" if self._beside else "This job"
        cost = "with its cost" if self.prices is not None else "no cost (i: prices, r: rates, firm)"
        self.say(f"{what} on {SIZES[self._page]}, {cost}. Enter names the file.")
        lines = [f"Beside this job: {', '.join(path.name for path in self._beside)}"] if self._beside else []
        lines += [self._state] if self._state else []
        self.show_detail([*lines, *self._written[-6:]])

    def copied(self) -> str:
        """The files written."""
        return "\n".join(self._written)

    # Keys

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Enter: ask where to."""
        event.stop()
        row = event.rows.current
        if row is None or not self.may_edit() or self._state:
            return
        kind, suffix, name, _ = next(one for one in KINDS if one[0] == row.key)

        def chosen(path: Path) -> None:
            once_replaceable(self, path, lambda replaced: self._begin(kind, path, replaced=replaced))

        stem = self.session.path.stem if self.session.path else "job"
        stem = f"proposal-{stem}" if self._beside else stem
        title = f"Write {name} to"
        picker = FilePicker(title, self.folder, suffixes=(suffix,), name=f"{stem}{suffix}", saving=True)
        self.app.push_screen(picker, once_given(chosen))

    def on_rows_typed(self, event: Rows.Typed) -> None:
        """Digits mean nothing here."""
        event.stop()
        event.rows.take_typed()

    def action_size(self) -> None:
        """Letter or A4."""
        self._page = "a4" if self._page == "letter" else "letter"
        self._show()

    def action_beside(self) -> None:
        """Another job to stand beside this one: the paper is then a proposal."""
        if len(self._beside) >= MOST_BESIDE:
            self.notify(f"A proposal has {MOST_BESIDE + 1} ways at most.", severity="warning")
            return

        def chosen(path: Path) -> None:
            self._beside.append(path)
            self._show()

        self.app.push_screen(FilePicker("Another way to do it: a job", self.folder), once_given(chosen))

    def action_drop(self) -> None:
        """Without the job added last."""
        if self._beside:
            self._beside.pop()
            self._show()

    # Writing

    def _begin(self, kind: str, path: Path, *, replaced: bool) -> None:
        self._tell_state("Taking off and cutting … Esc leaves it unwritten.")
        name = str(self.session.path) if self.session.path else ""
        inputs = replace(self.session.whole[0], file=name)
        self._worker = self._write(inputs, tuple(self._beside), kind, path, replaced)

    @long_work
    def _write(self, inputs: Inputs, beside: Sequence[Path], kind: Any, path: Path, replaced: bool) -> None:
        from ventsize.jobfile.problems import InputError
        from ventsize.report.paper import PaperNotWritten, write

        worker = get_current_worker()
        try:
            paper = self._proposal(inputs, beside) if beside else self._paper(inputs)
            tell(self, self._tell_state, "Setting the pages …")
            if worker.is_cancelled:
                return
            keep = [one for one in (self.session.path, *beside) if one is not None]
            write(paper, {kind: path}, size=self._page, replace=replaced, keep=keep)  # type: ignore[arg-type]
        except InputError as error:
            tell(self, self._ended, f"! {error.problems[0]}")
            return
        except (PaperNotWritten, ValueError) as error:
            tell(self, self._ended, f"! {error}")
            return
        tell(self, self._ended, f"Written: {path}")

    def _paper(self, inputs: Inputs) -> Paper:
        from ventsize.report.job_paper import job_paper, material_of

        found, system = self.session.check, self.session.system
        return job_paper(material_of(inputs, check=found, system=system, day=date.today(), prices=self.prices))

    def _proposal(self, inputs: Inputs, beside: Sequence[Path]) -> Paper:
        from ventsize.check.inputs import read_inputs
        from ventsize.report.job_paper.proposal import proposal_paper
        from ventsize.studies.proposal import proposal
        from ventsize.studies.takeoff.practice import read_practice

        system = self.session.system
        jobs = [inputs, *(read_inputs(path) for path in beside)]
        found = proposal(jobs, practice=read_practice(), prices=self.prices)
        title = f"Proposal: {found.ways[0].check.title}"
        return proposal_paper(found, title=title, system=system, day=date.today())

    def _tell_state(self, text: str) -> None:
        self._state = text
        self._show()

    def _ended(self, said: str) -> None:
        self._written.append(said)
        self._tell_state("")
