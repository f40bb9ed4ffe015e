"""The report of the last visit, written beside the job: a page for the customer, or one for the office."""

from __future__ import annotations

from typing import Any

from textual import work

from ventsize.jobfile.problems import InputError
from ventsize.tui.field.choices import Choices, Option
from ventsize.tui.field.listing import Listing
from ventsize.tui.job.session import Session

READERS = ("customer", "office")
NONE_KEPT = "No visit has been kept yet: F9, At the appliance, Keep this visit."


class VisitReport(Listing):
    """For whom; a digit writes it."""

    tall = True

    def __init__(self, session: Session, _question: Any = None) -> None:
        super().__init__(session)

    def heading(self) -> tuple[str, ...]:
        """What is asked."""
        return ("Report of the last visit: for whom?",)

    def options(self) -> list[Option]:
        """Two readers."""
        return [
            Option("Report for the customer", "what was found, what it may be, what is next; as PDF beside the job"),
            Option("Report for the office", "the same, with every reading and what has changed; as PDF beside the job"),
        ]

    def on_choices_chosen(self, event: Choices.Chosen) -> None:
        """Write it."""
        event.stop()
        self._write(READERS[event.number])

    @work(thread=True, exclusive=True, group="visit")
    def _write(self, reader: str) -> None:
        from ventsize.jobfile.visits import read_visits
        from ventsize.report.paper import PaperNotWritten, write
        from ventsize.report.visit_pages import visit_paper

        job = self.session.path
        try:
            visits = () if job is None else read_visits(job)
            if job is None or not visits:
                said = NONE_KEPT
            else:
                paper = visit_paper(visits, visits[-1], job, reader=reader, system=self.session.system)
                named = visits[-1].named.replace(" ", "-").replace(":", "")
                path = job.with_name(f"{job.stem}-visit-{named}-{reader}.pdf")
                write(paper, {"pdf": path}, size="letter", replace=True, keep=[job])
                said = f"Written: {path}"
        except (InputError, PaperNotWritten, OSError) as error:
            said = f"Not written: {error}"
        self.app.call_from_thread(self.app.notify, said, markup=False, timeout=10)
