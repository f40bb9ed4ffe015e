"""The job screen: the verdict on top, the job's parts under it, one key each."""

from __future__ import annotations

import contextlib
from typing import Any, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Footer, Static, TabbedContent, TabPane

from ventsize.jobfile.editing import EditError, value_at
from ventsize.tui.job import edits, panels, specs
from ventsize.tui.job.form import Form
from ventsize.tui.job.outline import COLUMNS, margins, outline
from ventsize.tui.job.session import Session
from ventsize.tui.saving import FileScreen
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.picker import Picker
from ventsize.tui.widgets.rows import Rows
from ventsize.tui.widgets.verdict_line import VerdictLine

AREAS = (
    ("runs", "Runs"),
    ("appliance", "Appliance"),
    ("site", "Site"),
    ("pressure", "Pressure"),
    ("notes", "Cautions"),
    ("route", "Route"),
)
_DRAWN = {"pressure": "chart", "notes": "cautions", "route": "sketch"}


class JobScreen(FileScreen):
    """An open job."""

    DEFAULT_CSS = """
    JobScreen {
        & #job-title { height: 1; padding: 0 1; text-wrap: nowrap; text-overflow: ellipsis; }
        & TabbedContent { height: 1fr; }
        & TabPane { padding: 0; }
        & #runs-body { layout: vertical; }
        & #outline { height: 1fr; min-height: 5; }
        & #side { height: auto; max-height: 10; border-top: solid $panel-lighten-2; }
        & #results { display: none; padding: 0 1; }
        &.-wide #runs-body { layout: horizontal; }
        &.-wide #outline { width: 1fr; height: 1fr; }
        &.-wide #side {
            width: 52; height: 1fr; max-height: 100%; border-top: none; border-left: solid $panel-lighten-2;
        }
        &.-wide #results { display: block; border-top: solid $panel-lighten-2; }
        & #chart, & #cautions, & #sketch { padding: 0 1; }
    }
    """

    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f2", "area('runs')", "Runs", show=False, id="job.runs"),
        Binding("f3", "area('appliance')", "Appliance", show=False, id="job.appliance"),
        Binding("f4", "area('site')", "Site", show=False, id="job.site"),
        Binding("f5", "area('pressure')", "Pressure along the run", show=False, id="job.pressure"),
        Binding("f6", "area('notes')", "Cautions", show=False, id="job.cautions"),
        Binding("f7", "area('route')", "Route of the run", show=False, id="job.route"),
        Binding("f9", "questions", "Questions", id="job.questions"),
        Binding("ctrl+s", "save", "Save", id="job.save"),
        Binding("ctrl+z,u", "undo", "Undo", id="job.undo"),
        Binding("ctrl+y,U", "redo", "Redo", show=False, id="job.redo"),
        Binding("w", "walk", "Walk", id="job.walk"),
        Binding("a", "add", "Add fitting", id="job.add"),
        Binding("p", "add_pipe", "Add pipe", show=False, id="job.add_pipe"),
        Binding("delete,x", "remove", "Remove", show=False, id="job.remove"),
        Binding("d", "duplicate", "Duplicate", show=False, id="job.duplicate"),
        Binding("ctrl+up,K", "shift(-1)", "Move piece up", show=False, id="job.move_up"),
        Binding("ctrl+down,J", "shift(1)", "Move piece down", show=False, id="job.move_down"),
        Binding("space,m", "mark", "Mark piece", show=False, id="job.mark"),
        Binding("ctrl+x", "cut", "Cut pieces", show=False, id="job.cut"),
        Binding("ctrl+v", "paste", "Paste pieces", show=False, id="job.paste"),
        Binding("e", "exchange", "Change all of one fitting", show=False, id="job.exchange"),
        Binding("n", "new_run", "Add a run", show=False, id="job.new_run"),
        Binding("v", "variant", "Make the job a variant", show=False, id="job.variant"),
        Binding("c", "copy", "Copy what is shown", show=False, id="job.copy"),
        Binding("S", "save_as", "Save under another name", show=False, id="job.save_as"),
        Binding("escape", "back", "Close", id="job.back"),
    ]

    def __init__(self, session: Session, *, start_in_form: bool = False) -> None:
        super().__init__()
        self.session = session
        self._start_in_form = start_in_form
        self._cut: list[Any] = []
        self._form_for: Any = None

    # Laying out

    def compose(self) -> ComposeResult:
        """Title, verdict, parts, keys."""
        yield Static("", id="job-title", markup=False)
        yield VerdictLine()
        with TabbedContent(id="areas"):
            for number, (name, title) in enumerate(AREAS, start=2):
                with TabPane(f"F{number} {title}", id=name):
                    yield from self._area(name)
        yield Footer()

    def _area(self, name: str) -> ComposeResult:
        if name == "runs":
            with Horizontal(id="runs-body"):
                yield Rows(COLUMNS, id="outline")
                with Vertical(id="side"):
                    yield Form(id="piece-form")
                    yield Static("", id="results", markup=False)
        elif name in ("appliance", "site"):
            yield Form(id=f"{name}-form")
        else:
            with VerticalScroll():
                yield Static("", id=_DRAWN[name], markup=False)

    def on_mount(self) -> None:
        """The title at once; the answer once the solver is in memory."""
        self._show_title()
        self.query_one(VerdictLine).hold(None, (), "working it out")
        self._open()

    @work(thread=True, exclusive=True)
    def _open(self) -> None:
        from ventsize.catalog.library import load_catalog
        from ventsize.quantity import System

        self.session.system = System(self.app.settings.units)  # type: ignore[attr-defined]
        self._catalog = load_catalog()
        self.session.judge()
        self.app.call_from_thread(self._opened)  # type: ignore[arg-type]

    async def _opened(self) -> None:
        await self._forms()
        self._show()
        rows = self.query_one("#outline", Rows)
        rows.focus()
        rows.go(1 if len(rows.rows) > 1 else 0)
        await self._piece_form()
        if self._start_in_form:
            rows.go(0)
            await self._piece_form()
            self.query_one("#piece-form", Form).focus_field(1)

    async def _forms(self) -> None:
        data = self.session.data
        await self.query_one("#site-form", Form).show(self.session, specs.site(data))
        fuels = sorted(self._catalog.fuels)
        fields = [
            s for at in range(len(value_at(data, ("appliance",), []) or [])) for s in specs.appliance(data, at, fuels)
        ]
        await self.query_one("#appliance-form", Form).show(self.session, fields)

    # Showing

    @property
    def topic(self) -> str:
        """The help topic where no field has the focus."""
        return "route" if self.query_one(TabbedContent).active == "route" else "list"

    def refreshed(self) -> None:
        """Judge what is typed now, and show it."""
        self.session.judge()
        self._show()

    def _show(self) -> None:
        session = self.session
        self._show_title()
        self._show_verdict()
        rows = self.query_one("#outline", Rows)
        rows.show(outline(session.data, session.check, session.system, stale=session.stale))
        area = self.query_one(TabbedContent).active
        if area == "runs" and self.has_class("-wide"):
            self.query_one("#results", Static).update(
                panels.results(self._found(), session.system, stale=session.stale)
            )
        elif area == "pressure":
            size = self.query_one("#areas").size
            chart = panels.pressure_chart(self._found(), session.system, width=size.width - 4, height=size.height - 4)
            self.query_one("#chart", Static).update(chart)
        elif area == "notes":
            self.query_one("#cautions", Static).update(panels.cautions(session.check))
        elif area == "route":
            size = self.query_one("#areas").size
            width, height = size.width - 4, size.height - 4
            drawn = panels.route(self._found(), session.system, width=width, height=height, stale=session.stale)
            self.query_one("#sketch", Static).update(drawn)

    def _show_title(self) -> None:
        session = self.session
        state = "not saved" if session.history.unsaved else ("demonstration" if session.shipped else "saved")
        place = session.path.name if session.path else "new job"
        title = f"{value_at(session.data, ('title',), '')}   {place}, {state}"
        if session.journal.fault:
            title += f"   ! {session.journal.fault}"
        self.query_one("#job-title", Static).update(Content(title))

    def _show_verdict(self) -> None:
        session, line = self.session, self.query_one(VerdictLine)
        shown = margins(session.check, session.system)
        if session.problems:
            line.hold(session.check.verdict if session.check else None, shown, str(session.problems[0]))
        elif session.check is None:
            line.hold(None, (), "working it out")
        else:
            line.show(session.check.verdict, shown, session.check.reason)

    def _found(self) -> Any:
        """The result of the run under the cursor."""
        run = self._run_at()
        name = value_at(self.session.data, ("run", run, "name"))
        return next((c for c in self.session.check.runs if c.run.name == name), None) if self.session.check else None

    def _run_at(self) -> int:
        row = self.query_one("#outline", Rows).current
        return row.key[0] if row is not None else 0

    def _piece_at(self) -> tuple[int, Any]:
        row = self.query_one("#outline", Rows).current
        return row.key if row is not None else (0, None)

    async def _piece_form(self) -> None:
        key = self._piece_at()
        fields = edits.fields_for(self.session.data, key, self._catalog, self._tables())
        await self.query_one("#piece-form", Form).show(self.session, fields)

    def _tables(self) -> list[str]:
        return edits.table_names(self.session.path.parent if self.session.path else None)

    # What comes from the parts

    async def on_rows_moved(self, event: Rows.Moved) -> None:
        """The form follows the cursor."""
        event.stop()
        await self._piece_form()
        self._show()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Enter goes into the form."""
        event.stop()
        self.query_one("#piece-form", Form).focus_field()

    def on_rows_typed(self, event: Rows.Typed) -> None:
        """A digit on a pipe is its new length; on a fitting of a counted run, how many."""
        event.stop()
        run, piece = self._piece_at()
        at = 1 if piece is None else 0
        self.query_one("#piece-form", Form).begin(at, event.rows.take_typed())

    async def on_form_typed(self, event: Form.Typed) -> None:
        """The verdict follows every keystroke."""
        event.stop()
        self.refreshed()

    def on_form_finished(self, event: Form.Finished) -> None:
        """Back to the list."""
        event.stop()
        if self.query_one(TabbedContent).active == "runs":
            self.query_one("#outline", Rows).focus()

    def on_tabbed_content_tab_activated(self, event: TabbedContent.TabActivated) -> None:
        """Show what the part shows."""
        if hasattr(self, "_catalog"):
            self._show()

    def on_resize(self) -> None:
        """Charts fit the new size."""
        if hasattr(self, "_catalog"):
            self.call_after_refresh(self._show)

    # Actions

    def action_area(self, name: str) -> None:
        """Go to a part of the job, and into its first field."""
        self.query_one(TabbedContent).active = name
        if name == "runs":
            self.query_one("#outline", Rows).focus()
        elif name in ("appliance", "site"):
            self.query_one(f"#{name}-form", Form).focus_field(0)

    async def _edit(self, label: str, change: Any, *, go: int = 0) -> None:
        """Make a whole edit, or say why it cannot be made."""
        try:
            self.session.do(change(), label)
        except EditError as error:
            self.notify(str(error), severity="warning", markup=False)
            return
        await self._after(go)

    async def _after(self, go: int = 0) -> None:
        self.refreshed()
        rows = self.query_one("#outline", Rows)
        rows.go(rows.row + go, tell=False)
        await self._forms()
        await self._piece_form()
        for form in self.query(Form):
            form.refill()
        self._show()

    async def edited_elsewhere(self) -> None:
        """Show an edit that a screen on top of this one made."""
        await self._after()

    async def action_undo(self) -> None:
        """Take the last edit back."""
        step = self.session.undo()
        self.notify(f"Undone: {step.label}" if step else "Nothing to undo.", markup=False, timeout=2)
        await self._after()

    async def action_redo(self) -> None:
        """Do it again."""
        step = self.session.redo()
        self.notify(f"Done again: {step.label}" if step else "Nothing to do again.", markup=False, timeout=2)
        await self._after()

    def action_add(self) -> None:
        """Ask for a fitting, and put it after the cursor."""
        entries = [(f.name, f.name, f.title) for f in self._catalog.fittings.values()]
        self.app.push_screen(Picker("Add after this piece", entries), self._added)

    async def _added(self, name: str | None) -> None:
        if name:
            key, data = self._piece_at(), self.session.data
            await self._edit(f"add {name}", lambda: edits.add_fitting(data, key, name), go=1)

    async def action_add_pipe(self) -> None:
        """A straight pipe after the cursor; its length is for typing next."""
        key, data = self._piece_at(), self.session.data
        await self._edit("add pipe", lambda: edits.add_pipe(data, key), go=1)
        self.query_one("#piece-form", Form).focus_field()

    async def action_remove(self) -> None:
        """Take out the marked pieces, or the one under the cursor, or an empty run."""
        places, data = self._chosen(), self.session.data
        await self._edit("remove", lambda: edits.remove(data, places))
        self.query_one("#outline", Rows).marked.clear()

    async def action_duplicate(self) -> None:
        """Once more, after the last of them."""
        places, data = self._chosen(), self.session.data
        await self._edit("duplicate", lambda: edits.duplicate_at(data, places), go=1)

    async def action_shift(self, by: int) -> None:
        """Move pieces along the run."""
        places, data = self._chosen(), self.session.data
        await self._edit("move", lambda: edits.shift(data, places, by), go=by)

    def _chosen(self) -> list[tuple[int, Any]]:
        marked = self.query_one("#outline", Rows).marked
        return sorted(marked, key=str) if marked else [self._piece_at()]

    def action_mark(self) -> None:
        """Mark a piece, or take the mark away, and go on."""
        rows = self.query_one("#outline", Rows)
        key = self._piece_at()
        if isinstance(key[1], int):
            rows.marked ^= {key}
            rows.action_move(1)
            rows.refresh()

    async def action_cut(self) -> None:
        """Take the pieces out, to be pasted into any run."""
        places, data = self._chosen(), self.session.data
        self._cut = edits.copied(data, places)
        await self._edit("cut", lambda: edits.remove(data, places))
        self.query_one("#outline", Rows).marked.clear()
        self.notify(f"{len(self._cut)} cut; paste after any piece.", timeout=3)

    async def action_paste(self) -> None:
        """Put what was cut after the cursor."""
        key, data, cut = self._piece_at(), self.session.data, self._cut
        if cut:
            await self._edit("paste", lambda: edits.paste(data, key, cut), go=len(cut))

    def action_exchange(self) -> None:
        """Change every fitting of one kind in the run to another kind."""
        key = self._piece_at()
        old = edits.fitting_at(self.session.data, key)
        if old is None:
            self.notify("Put the cursor on the fitting to change; all of its kind in the run will change.", timeout=4)
            return
        entries = [(f.name, f.name, f.title) for f in self._catalog.fittings.values()]

        async def chosen(new: str | None) -> None:
            if new:
                data = self.session.data
                await self._edit(f"{old} to {new}", lambda: edits.exchange(data, key[0], old, new))

        self.app.push_screen(Picker(f"Every {old} in this run becomes", entries, at=old), chosen)

    async def action_new_run(self) -> None:
        """A run more, beside the others."""
        data = self.session.data
        await self._edit("add a run", lambda: edits.new_run(data))

    async def action_variant(self) -> None:
        """Go on with a copy of the job, under another name."""
        from ventsize.jobfile.editing import variant

        session = Session(self.session.data, path=None)
        session.do(variant(self.session.data), "make a variant")
        await self.app.push_screen(JobScreen(session))

    def action_walk(self) -> None:
        """Lay the route out by saying where it goes."""
        self.app.push_screen(
            AskLine("Walk the route: up 3, elbow is proposed, north 12 6, end", self._step), self._walked
        )

    def _step(self, text: str) -> str:
        """One step of the walk; gives what is said about it."""
        try:
            data, said = edits.walk_step(self.session.data, self._run_at(), text)
        except (EditError, ValueError) as error:
            return f"! {error}"
        self.session.do(data, f"walk {text}")
        self.refreshed()
        rows = self.query_one("#outline", Rows)
        rows.go(edits.last_row(rows, self._run_at()), tell=False)
        self._show()
        verdict = self.query_one(VerdictLine).text.splitlines()[0]
        return f"{said}\n{verdict}"

    async def _walked(self, _: str | None) -> None:
        await self._after()

    def action_questions(self) -> None:
        """What can be asked of this job."""
        from ventsize.tui.questions import QUESTIONS

        entries = [(q.name, q.title, q.answers) for q in QUESTIONS]

        def chosen(name: str | None) -> None:
            for question in QUESTIONS:
                if question.name == name:
                    self.app.push_screen(question.open(self.session))

        self.app.push_screen(Picker("Questions to this job", entries), chosen)

    def action_copy(self) -> None:
        """What is shown, to the clipboard."""
        area = self.query_one(TabbedContent).active
        if area in _DRAWN:
            text = str(self.query_one(f"#{_DRAWN[area]}", Static).content)
        else:
            text = self.query_one(VerdictLine).text + "\n" + self.query_one("#outline", Rows).as_text()
        self.app.copy_to_clipboard(text)
        self.notify("Copied.", timeout=2)

    # Saving and closing

    def usual_name(self) -> tuple[str, str]:
        """Named after the job's title."""
        return "Save the job as", edits.file_name(self.session.data)

    def saved(self) -> None:
        """It is among the jobs opened last now."""
        with contextlib.suppress(OSError):
            self.app.remember(self.session.path)  # type: ignore[attr-defined]
        self.notify(f"Saved {self.session.path}", markup=False, timeout=3)
        self._show_title()
