"""Air from the room: rooms and openings to be typed, and beside them what they lack and what would do."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from ventsize.jobfile.editing import EditError, value_at
from ventsize.jobfile.editing.rooms import add_part, add_room, breathe, remove_part
from ventsize.jobfile.problems import InputError
from ventsize.tui.job.form import Form
from ventsize.tui.job.session import Session
from ventsize.tui.questions import QuestionEntry
from ventsize.tui.questions.room_parts import Key, rows, specs
from ventsize.tui.session_screen import SessionScreen
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.picker import Picker
from ventsize.tui.widgets.rows import Column, Rows
from ventsize.tui.widgets.text import one_line
from ventsize.view.answering import still_needed

if TYPE_CHECKING:
    from ventsize.studies.room_air import RoomAir, RoomAirStudy

NO_ROOM = "This job describes no room. a adds the one the appliance stands in."
PARTS = (
    ("opening", "An opening", "to outdoors or to a room beside"),
    ("other", "Another appliance", "that takes its air from the room too"),
    ("beside", "A room beside", "that may lend its air through openings"),
    ("exhaust", "What takes air out", "a dryer, a bath or kitchen fan"),
    ("room", "A room", "with appliances in it"),
)
# The worst last.
_LOOK = {"enough": ("✓", "-good"), "cannot be told": ("▲", "-unsure"), "not enough": ("✗", "-bad")}


class RoomAirScreen(SessionScreen):
    """The list of rooms and their parts, the fields of the one under the cursor, and the answer below."""

    DEFAULT_CSS = """
    RoomAirScreen {
        & #air-verdict { height: auto; min-height: 2; padding: 0 1; background: $panel; text-style: bold; }
        & #air-verdict.-good { background: $success-muted; }
        & #air-verdict.-bad { background: $error-muted; }
        & #air-verdict.-unsure { background: $warning-muted; }
        & #air-body { height: 11; }
        & #parts { width: 38; }
        & #part-form { width: 1fr; border-left: solid $panel-lighten-2; }
        & #air-answer { height: 1fr; border-top: solid $panel-lighten-2; padding: 0 1; }
        & Input { width: 13; margin: 0 0 0 14; }
        & _ChoiceLine { width: 21; margin: 0 0 0 14; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "add", "Add", id="air.add"),
        Binding("delete,x", "remove", "Remove", id="air.remove"),
        Binding("space", "breathe", "Air from here", id="air.breathe"),
        Binding("ctrl+z,u", "undo", "Undo", show=False, id="air.undo"),
        Binding("ctrl+y", "redo", "Redo", show=False, id="air.redo"),
        Binding("f2", "answer", "Answer", id="air.answer"),
        Binding("c", "copy", "Copy", show=False, id="air.copy"),
        Binding("escape", "back", "Back", id="air.back"),
    ]

    topic = "roomair"

    def __init__(self, session: Session, question: QuestionEntry) -> None:
        super().__init__()
        self.session = session
        self._question = question
        self.study: RoomAirStudy | None = None
        self.answer = ""

    def compose(self) -> ComposeResult:
        """Verdict, parts with their fields, answer, keys."""
        yield Static("", id="air-verdict", markup=False)
        with Horizontal(id="air-body"):
            yield Rows([Column(width=14, grow=1), Column(width=13, align="right")], head=False, id="parts")
            yield Form(id="part-form")
        with VerticalScroll(id="air-answer"):
            yield Static("", id="air-text", markup=False)
        yield KeyLine()

    async def on_mount(self) -> None:
        """What there is, with the cursor on the first room."""
        self.query_one(Rows).focus()
        self.refreshed()
        await self._form()

    # Showing

    def refreshed(self) -> None:
        """Show what is typed now, and have it judged."""
        self.query_one("#parts", Rows).show(rows(self.session.data))
        self.judge_then(self._show)

    def _show(self) -> None:
        problem = self._ask()
        line = self.query_one("#air-verdict", Static)
        line.remove_class("-good", "-bad", "-unsure")
        if problem or self.study is None:
            last = "PREVIOUS RESULT" if self.study is not None else "NO RESULT YET"
            line.update(Content(f"{last}\n! {one_line(problem)}"))
        else:
            worst = max(self.study.rooms, key=lambda room: list(_LOOK).index(room.verdict))
            sign, look = _LOOK[worst.verdict]
            line.add_class(look)
            line.update(Content(f"{sign} {worst.verdict.upper()}   {worst.name}\n{self._shortly(worst)}"))
        self.query_one("#air-text", Static).update(Content(self.answer))

    def _ask(self) -> str:
        """Work the answer out anew; gives what is in the way of it."""
        from ventsize.report.room_air import summary
        from ventsize.studies.room_air import room_air

        session = self.session
        if not value_at(session.data, ("room",)):
            self.study, self.answer = None, ""
            return NO_ROOM
        if session.problems:
            return still_needed(session.problems, session.data) or str(session.problems[0])
        try:
            self.study = room_air(session.whole[0])
        except InputError as error:
            return str(error.problems[0])
        self.answer = "\n".join(summary(self.study, session.system))
        return ""

    def _shortly(self, room: RoomAir) -> str:
        from ventsize.report.room_air import shortly

        return shortly(room, self.session.system)

    def _key(self) -> Key | None:
        row = self.query_one("#parts", Rows).current
        return None if row is None else row.key

    async def _form(self) -> None:
        key = self._key()
        fields = [] if key is None else specs(self.session.data, key)
        await self.query_one("#part-form", Form).show(self.session, fields)

    # What comes from the parts

    async def on_rows_moved(self, event: Rows.Moved) -> None:
        """The fields follow the cursor."""
        event.stop()
        await self._form()

    async def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Enter goes into the fields."""
        event.stop()
        key = self._key()
        if key is not None and key[1] == "appliance":
            await self.action_breathe()
        else:
            self.query_one("#part-form", Form).focus_field()

    def on_rows_typed(self, event: Rows.Typed) -> None:
        """A digit on a part is its new figure, which is its second field."""
        event.stop()
        self.query_one("#part-form", Form).begin(1, event.rows.take_typed())

    async def on_form_typed(self, event: Form.Typed) -> None:
        """The answer follows every keystroke."""
        event.stop()
        self.refreshed()
        if event.spec.topic == "opening_to":  # a way outdoors has one field more
            await self._form()

    def on_form_finished(self, event: Form.Finished) -> None:
        """Back to the list."""
        event.stop()
        self.query_one("#parts", Rows).focus()

    # Actions

    async def _edit(self, label: str, change: Any, *, go: Key | None = None) -> None:
        try:
            self.session.do(change(), label)
        except EditError as error:
            self.notify(str(error), severity="warning", markup=False)
            return
        await self._after(go)

    async def _after(self, go: Key | None = None) -> None:
        self.refreshed()
        parts = self.query_one("#parts", Rows)
        at = parts.index_of(go) if go is not None else None
        parts.go(parts.row if at is None else at, tell=False)
        await self._form()
        self.query_one("#part-form", Form).refill()

    def action_add(self) -> None:
        """Something more in the room under the cursor, or the first room."""
        if self._key() is None:
            self.run_worker(self._added("room"))
            return
        self.app.push_screen(Picker("Add", PARTS), self._added)

    async def _added(self, kind: str | None) -> None:
        key, data = self._key(), self.session.data
        if kind is None:
            return
        if kind == "room" or key is None:
            at = len(value_at(data, ("room",), []) or [])
            await self._edit("add a room", lambda: add_room(data), go=(at, "room", 0))
        else:
            at = len(value_at(data, ("room", key[0], kind), []) or [])
            await self._edit(f"add {kind}", lambda: add_part(data, key[0], kind), go=(key[0], kind, at))
        self.query_one("#part-form", Form).focus_field(1)

    async def action_remove(self) -> None:
        """Take out what the cursor stands on."""
        key, data = self._key(), self.session.data
        if key is None or key[1] == "appliance":
            self.notify("An appliance of the job stays in it; Space says whether it takes its air here.", timeout=4)
            return
        await self._edit("remove", lambda: remove_part(data, *key))

    async def action_breathe(self) -> None:
        """Whether the appliance under the cursor takes its air from this room."""
        key, data = self._key(), self.session.data
        if key is None or key[1] != "appliance":
            return
        name = value_at(data, ("appliance", key[2], "name"), "")
        await self._edit(f"air for {name}", lambda: breathe(data, key[0], name))

    async def action_undo(self) -> None:
        """Take the last edit back."""
        self.take_back()
        await self._after()

    async def action_redo(self) -> None:
        """Do it again."""
        self.take_back(again=True)
        await self._after()

    def action_answer(self) -> None:
        """Into the answer, to scroll it; and back to the list."""
        answer = self.query_one("#air-answer", VerticalScroll)
        (self.query_one("#parts", Rows) if answer.has_focus else answer).focus()

    def action_copy(self) -> None:
        """The whole answer, to the clipboard."""
        self.app.copy_to_clipboard(self.answer)
        self.notify("Copied.", timeout=2)

    def action_back(self) -> None:
        """To the job, which shows what has been typed here."""
        self.leave()
