"""An open job: its data as typed, its history, and the last answer to it. Knows nothing of screens."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from ventsize.catalog.folders import is_shipped, user_folder
from ventsize.jobfile.editing import Data
from ventsize.jobfile.editing import Path as Place
from ventsize.jobfile.history import History, Step
from ventsize.jobfile.problems import InputError, Problem
from ventsize.jobfile.recovery import Journal, Snapshot, start_journal
from ventsize.quantity import System

if TYPE_CHECKING:
    from ventsize.allowance.model import AllowanceTable
    from ventsize.check.inputs import Inputs
    from ventsize.check.result import JobCheck


class ChangedOnDisk(Exception):
    """Somebody else has written the file since it was read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What came of judging a job as typed. problems: why nothing did; check and inputs are None then.

    tables_at: the session's when it was asked, which is another once tables may have changed.
    """

    data: Data
    tables_at: object
    check: JobCheck | None = None
    inputs: Inputs | None = None
    problems: tuple[Problem, ...] = ()


class Session:
    """path: where it was read from or is saved, None for new work.

    check: the last whole answer; stale: whether what is typed has gone on since. problems: why there is no newer one.
    fresh: whether check and problems are of what is typed now. drafts: what is being typed and is no value yet.
    """

    def __init__(
        self,
        data: Data,
        *,
        path: Path | None,
        journal: Journal | None = None,
        beside: Path | None = None,
    ) -> None:
        self.history = History(data)
        self.path = path
        self.journal = journal or start_journal(user_folder())
        self.system = System.US
        self.check: JobCheck | None = None
        self.inputs: Inputs | None = None  # what the last valid result was worked out from
        self.answered: Data | None = None  # the job as typed then
        self.problems: tuple[Problem, ...] = ()
        self.drafts: dict[Place, str] = {}
        self._judged: tuple[Data, object] | None = None
        self._tables_at = object()
        self._beside = beside
        self._print = ""
        self._tables: dict[str, tuple[tuple[str, int], AllowanceTable]] = {}
        self._in_short: tuple[JobCheck | None, System, dict[str, str]] = (None, self.system, {})

    @classmethod
    def open(cls, path: Path) -> Session:
        """The session of a file. Raises InputError only where it is no TOML at all: faults inside can be mended."""
        from ventsize.jobfile.writer import open_file

        opened = open_file(path)
        session = cls(opened.data, path=path)
        session._print = opened.fingerprint
        return session

    @classmethod
    def resumed(cls, snapshot: Snapshot, journal: Journal) -> Session:
        """The session of work left unsaved: not saved, and its file judged changed if it is not as it was."""
        session = cls(snapshot.data, path=snapshot.file, journal=journal)
        session._print = snapshot.fingerprint
        session.history = History(snapshot.data, saved={})  # nothing before it to go back to, and not on disk
        session.drafts = dict(snapshot.drafts)
        return session

    @property
    def shipped(self) -> bool:
        """Whether it came with the program, as a demonstration, and is not to be overwritten."""
        return self.path is not None and is_shipped(self.path)

    @property
    def data(self) -> Data:
        """The job as typed."""
        return self.history.data

    @property
    def beside(self) -> Path:
        """The folder in which its tables are looked for first: the file's own, or that of the job it came from."""
        return self.path.parent if self.path else self._beside or Path()

    @property
    def fresh(self) -> bool:
        """Whether what is typed now has been judged, for better or worse."""
        return self._judged is not None and self._judged[0] is self.data and self._judged[1] is self._tables_at

    @property
    def stale(self) -> bool:
        """Whether the answer shown is to an earlier state."""
        return bool(self.problems) or not self.fresh

    @property
    def file(self) -> str:
        """The file's name, for messages."""
        return str(self.path) if self.path else "new job"

    # Editing

    def type_at(self, place: Place, data: Data, label: str) -> None:
        """One keystroke's worth of change in the field of a place."""
        self.history.do(data, label, at=place, typing=True)
        self.keep()

    def draft(self, place: Place, text: str | None) -> None:
        """What is being typed in a field that takes effect when it is left; None where it is as it was."""
        if text is None:
            self.drafts.pop(place, None)
        else:
            self.drafts[place] = text
        self.keep()

    def typed_at(self, place: Place, value: str) -> str:
        """What a field shows: what is being typed there, else the value."""
        return self.drafts.get(place, value)

    def do(self, data: Data, label: str) -> None:
        """A whole edit."""
        self.history.pause()
        self.drafts.clear()
        self.history.do(data, label)
        self.keep()

    def undo(self) -> Step | None:
        """Take the last edit back."""
        self.drafts.clear()
        step = self.history.undo()
        self.keep()
        return step

    def redo(self) -> Step | None:
        """Do it again."""
        self.drafts.clear()
        step = self.history.redo()
        self.keep()
        return step

    def keep(self) -> None:
        """Keep the work safe from a crash."""
        if self.history.unsaved or self.drafts:
            self.journal.note(self.data, file=self.path, fingerprint=self._print, drafts=self.drafts)
        else:
            self.journal.clear()

    # The answer

    def judge(self) -> None:
        """Answer what is typed now, for whoever can wait for it."""
        self.take(self.worked_out())

    def outdated(self) -> None:
        """What is typed must be judged anew: a table it names may have changed."""
        self._tables_at = object()

    def take(self, answer: Answer) -> None:
        """Hold an answer, unless it is an earlier one; where nothing came of it, the last one, and why."""
        if self.fresh and (answer.data is not self.data or answer.tables_at is not self._tables_at):
            return
        self._judged = (answer.data, answer.tables_at)
        self.problems = answer.problems
        if answer.check is not None:
            self.check, self.inputs, self.answered = answer.check, answer.inputs, answer.data

    def worked_out(self) -> Answer:
        """The answer to what is typed now. Nothing of the session changes, so that any thread may ask."""
        from ventsize.check.inputs import prepare
        from ventsize.check.verdict import check
        from ventsize.jobfile.job import job_from_data

        data, tables_at = self.data, self._tables_at

        def failed(*problems: Problem) -> Answer:
            return Answer(data=data, tables_at=tables_at, problems=problems)

        try:
            job = job_from_data(data, file="")
            beside = self.beside
            names = {*job.tables, *(run.table for run in job.runs if run.table is not None)}
            tables = {name: table for name in names if (table := self._table(name, beside)) is not None}
            inputs = prepare(job, file="", beside=beside, tables=tables)
            return Answer(data=data, tables_at=tables_at, check=check(inputs), inputs=inputs)
        except InputError as error:
            return failed(*error.problems)
        except ArithmeticError as error:  # figures beyond what can be reckoned with
            return failed(Problem("", "", f"it cannot be worked out with these figures ({error})", "usual ones"))
        except Exception as error:  # a fault of ours: nobody loses what is typed by it
            said = f"it cannot be worked out, by a fault of this program ({type(error).__name__}: {error})"
            return failed(Problem("", "", said, "another figure, or the last one taken back"))

    def _table(self, name: str, beside: Path) -> AllowanceTable | None:
        """A table at hand, read again only when its file has changed; None to let the reading say what is wrong."""
        from ventsize.allowance.reading import find_table, read_table

        try:
            path = find_table(name, beside=beside)
            stamp = (str(path), path.stat().st_mtime_ns)
            if name not in self._tables or self._tables[name][0] != stamp:
                self._tables[name] = (stamp, read_table(path))
            return self._tables[name][1]
        except (InputError, OSError):
            return None

    @property
    def whole(self) -> tuple[Inputs, JobCheck]:
        """The last whole answer and what it was worked out from, for what is opened only once there is one."""
        assert self.inputs is not None and self.check is not None
        return self.inputs, self.check

    @property
    def in_short(self) -> dict[str, str]:
        """What questions of the last whole answer come to, as far as they have been asked, in a few words each."""
        if self._in_short[0] is not self.check or self._in_short[1] is not self.system:
            self._in_short = (self.check, self.system, {})
        return self._in_short[2]

    def keep_in_short(self, question: str, study: object) -> None:
        """A study has been made of the last whole answer: what it comes to is known."""
        from ventsize.report.in_short import in_short

        self.in_short[question] = in_short(question, study, self.system)

    # Saving

    def save(self, path: Path | None = None, *, overwrite: bool = False) -> Path:
        """Write the job, whole or not at all, keeping a file's comments and order; gives where it is.

        Raises ChangedOnDisk unless `overwrite`, and OSError or SaveError where it cannot be written.
        """
        from ventsize.jobfile.writer import NO_FILE, FileChanged, save

        target = path or self.path
        if target is None:
            raise OSError("the job has no file yet")
        known = self._print if target == self.path else NO_FILE
        target.parent.mkdir(parents=True, exist_ok=True)
        try:
            self._print = save(target, self.data, known=None if overwrite else known)
        except FileChanged as error:
            raise ChangedOnDisk(str(error)) from None
        self.path = target
        self.history.mark_saved()
        self.journal.clear()
        return target
