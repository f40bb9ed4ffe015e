"""Exercise sheets for a class: chosen here, looked at, and written to a file to print."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any, ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.widget import Widget

from ventsize.check.inputs import Inputs
from ventsize.studies.exercises import LEVELS, MIXED, TOPICS
from ventsize.studies.exercises.model import Sheet
from ventsize.tui.job.session import Session
from ventsize.tui.long_work import tell
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.asking import once_given, once_replaceable
from ventsize.tui.questions.picture import PictureScreen
from ventsize.tui.saving import folder_for
from ventsize.tui.widgets.field import Choice, ChoiceField, Field, Reader, Reading
from ventsize.tui.widgets.file_picker import FilePicker
from ventsize.tui.widgets.text import one_line

MOST_STUDENTS = 60
_SAID_OF_LEVELS = {1: "1  one formula", 2: "2  several formulas", 3: "3  the other way about"}
_KINDS = {".pdf": "pdf", ".html": "html", ".md": "markdown"}


class ExercisesScreen(PictureScreen["list[Sheet]"]):
    """The first sheet of the class, and its key; Ctrl+S, which no field takes for a letter, saves them all."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("v", "key", "View the key", id="exercises.key"),
        Binding("s,ctrl+s", "write", "Save to a file", id="exercises.write"),
    ]

    topic = "exercises"

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__(session, question)
        self._key = False
        topics = [Choice(topic, topic) for topic in TOPICS]
        levels = [Choice(str(level), _SAID_OF_LEVELS[level]) for level in LEVELS]
        self._topic = ChoiceField("Topic", MIXED, topics, topic="exercises_topic")
        self._level = ChoiceField("Level", "1", levels, topic="exercises_level")
        self._seed = Field("Sheet number", "1", topic="exercises_seed", reader=_whole_number(0, 10**9))
        self._names = Field("Names", "", topic="exercises_names", reader=_text)
        self._students = Field("Students", "1", topic="exercises_students", reader=_whole_number(1, MOST_STUDENTS))

    def fields(self) -> Iterable[Widget]:
        """What the sheets are about, which ones, and how many."""
        return self._topic, self._level, self._seed, self._students, self._names

    def asked(self) -> Callable[[Inputs], list[Sheet]]:
        """A sheet for each student."""
        topic, level, units = self._topic.value, int(self._level.value), self.session.system
        seed, students = (int(field.reader(field.value).text) for field in (self._seed, self._students))

        def work(_: Inputs) -> list[Sheet]:
            from ventsize.studies.exercises import sheet

            return [
                sheet(student=student, units=units, topic=topic, level=level, seed=seed)
                for student in range(1, students + 1)
            ]

        return work

    def text(self, study: list[Sheet]) -> str:
        """The first sheet and its key."""
        from ventsize.report.exercises.as_text import key_text, sheet_text

        return f"{sheet_text(study[0])}\n\n\n{key_text(study[0])}"

    def drawn(self, study: list[Sheet], *, width: int, height: int) -> Iterator[str]:
        """The first sheet, or its key."""
        from ventsize.report.exercises.as_text import key_text, sheet_text

        yield (key_text if self._key else sheet_text)(study[0], self.names(1)[0])

    def begin_at(self) -> None:
        """In the fields: most of the work is typed there."""
        self._topic.focus_entry()

    def _head(self) -> str:
        """The sheets are made of no job, so none is judged here."""
        return one_line(self.question.title)

    def action_back(self) -> None:
        """From the key to the sheet, with all that was typed; from that, leave."""
        if self._key:
            self.action_key()
        else:
            super().action_back()

    def action_key(self) -> None:
        """The sheet, or its key."""
        self._key = not self._key
        self.from_the_top()

    def names(self, number: int) -> list[str]:
        """The students' names, as many as there are students."""
        typed = [name.strip() for name in self._names.value.split(",")]
        return [*typed, *[""] * number][:number]

    # Writing

    def action_write(self) -> None:
        """Ask for a file; its ending says what is written."""
        if self.study is None:
            return
        name = f"exercises-{self.study[0].topic}-{self.study[0].seed}.pdf"
        title = "Write the sheets to (.pdf, .html or .md); key and answers go beside it"
        picker = FilePicker(title, folder_for(self.session),
                            suffixes=tuple(_KINDS), name=name, saving=True)  # fmt: skip
        self.app.push_screen(picker, once_given(self._named))

    def _named(self, path: Path) -> None:
        sheets = self.study
        if path.suffix.lower() not in _KINDS:
            self._say(f"{path.name}: no such kind of file is written here; expected .pdf, .html or .md")
        elif sheets is not None:
            once_replaceable(self, path, lambda replaced: self._write(path, sheets, replace=replaced))

    @work(thread=True, exclusive=True, group="writing")
    def _write(self, path: Path, sheets: list[Sheet], *, replace: bool) -> None:
        from ventsize.report.exercises.as_paper import PAPERS
        from ventsize.report.paper import PaperNotWritten, write

        writing = f"writing {len(sheets)} sheets and their key" if len(sheets) > 1 else "writing the sheet and its key"
        tell(self, self._say, f"{writing} to {path.name} …", "")
        try:
            kind: Any = _KINDS[path.suffix.lower()]
            for part, paper in PAPERS.items():
                own = path if part == "sheet" else path.with_stem(f"{path.stem}-{part}")
                write(paper(sheets, self.names(len(sheets))), {kind: own}, replace=replace)
            said = f"Written: {path}, and the key and the answers beside it"
        except PaperNotWritten as error:
            said = f"! {error}"
        tell(self, self._say, "")
        self.app.call_from_thread(self.app.notify, said, markup=False)


def _text(text: str) -> Reading:
    return Reading(text.strip())


def _whole_number(least: int, most: int) -> Reader:
    def read(text: str) -> Reading:
        if not text.strip().isdigit() or not least <= int(text) <= most:
            raise ValueError(f"expected a whole number from {least:,} to {most:,}")
        return Reading(text.strip())

    return read
