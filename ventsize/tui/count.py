"""Verdict by count: one form, from the rating plate and a tape measure to a verdict."""

from __future__ import annotations

from typing import Any, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.widgets import Footer, Static

from ventsize.jobfile.editing import Data, put
from ventsize.tui.job import edits, specs
from ventsize.tui.job.form import Form
from ventsize.tui.job.outline import margins
from ventsize.tui.job.screen import JobScreen
from ventsize.tui.job.session import Session
from ventsize.tui.widgets.question import Question
from ventsize.tui.widgets.verdict_line import VerdictLine

ASKED = {
    "table": "Enter lists them; Ctrl+T: new",
    "input": "rating plate; such as 80 MBH",
    "altitude": "of the site; feet if no unit",
    "straight": "all of it; such as 12 ft 6 in",
    "size": "left, right change it",
    "count": "how many",
    "excess_air": "typical; moves no verdict",
    "flue_temperature": "typical; moves no verdict",
}


def count_specs(data: Data, catalog: Any, tables: list[str]) -> list[specs.Spec]:
    """The fields in the order in which a person has them at hand."""
    from dataclasses import replace

    run = specs.run(data, 0, list(catalog.pipes), _sizes(data, catalog), ["", *tables])
    by_topic = {spec.topic: spec for spec in [*specs.site(data), *specs.rate(data, ("appliance", 0, "rate", 0)), *run]}
    order = [by_topic[t] for t in ("input", "altitude", "table", "size", "straight")]
    order += [specs.count(("run", 0), name)[0] for name in data["run"][0]["fittings"]]
    order += [by_topic["material"], by_topic["excess_air"], by_topic["flue_temperature"]]
    return [replace(s, label=s.label.strip(), example="", optional=False, hint=ASKED.get(s.topic, "")) for s in order]


def _sizes(data: Data, catalog: Any) -> list[str]:
    material = catalog.pipes.get(data["run"][0].get("material"))
    return [size.label for size in material.sizes] if material else []


class CountScreen(Screen[None]):
    """Type from top to bottom; the verdict stands above as soon as there is enough for one."""

    DEFAULT_CSS = """
    CountScreen {
        & #count-title { height: 1; padding: 0 1; text-style: bold; }
        & Form { height: 1fr; padding: 1 1 0 1; }
        & Field Input, & ChoiceField _ChoiceLine { width: 28; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+o", "open_job", "See the pressures", id="count.open"),
        Binding("ctrl+t", "table", "Type a table in", id="count.table"),
        Binding("ctrl+z", "undo", "Undo", id="count.undo", priority=True),
        Binding("ctrl+y", "redo", "Redo", show=False, id="count.redo", priority=True),
        Binding("escape", "back", "Back", id="count.back"),
        Binding("tab", "app.focus_next", show=False, priority=True),  # at once: the next key is for the next line
        Binding("shift+tab", "app.focus_previous", show=False, priority=True),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.session = Session(edits.counted_job(), path=None)

    def compose(self) -> ComposeResult:
        """Verdict, form, keys."""
        yield Static("Verdict by count: type what is asked, Tab or Down for the next line", id="count-title")
        yield VerdictLine()
        yield Form(id="count-form")
        yield Footer()

    def on_mount(self) -> None:
        """The catalog may still be on its way."""
        self.query_one(VerdictLine).hold(None, (), "waiting for the input of the appliance")
        self._load()

    @work(thread=True)
    def _load(self) -> None:
        from ventsize.catalog.library import load_catalog
        from ventsize.quantity import System

        self.session.system = System(self.app.settings.units)  # type: ignore[attr-defined]
        self._catalog = load_catalog()
        self.app.call_from_thread(self._loaded)  # type: ignore[arg-type]

    async def _loaded(self) -> None:
        form = self.query_one(Form)
        await form.show(self.session, count_specs(self.session.data, self._catalog, edits.table_names(None)))
        form.focus_field(0)
        self._judge()

    def on_screen_resume(self) -> None:
        """A table typed in meanwhile can be chosen."""
        if hasattr(self, "_catalog"):
            self.query_one(Form).offer(count_specs(self.session.data, self._catalog, edits.table_names(None)))

    def _judge(self) -> None:
        line, session = self.query_one(VerdictLine), self.session
        missing = [
            spec.label for spec in self.query_one(Form).specs if spec.kind != "choice" and not spec.shown(session.data)
        ]
        if not session.data["run"][0].get("table"):
            missing.append("Table")
        if missing:
            line.hold(None, (), f"still to be given: {', '.join(missing)}")
            return
        session.judge()
        shown = margins(session.check, session.system)
        if session.problems:
            line.hold(session.check.verdict if session.check else None, shown, str(session.problems[0]))
        else:
            line.show(session.check.verdict, shown, session.check.reason)

    def on_form_typed(self, event: Form.Typed) -> None:
        """The verdict follows every keystroke."""
        event.stop()
        self._judge()

    def on_form_finished(self, event: Form.Finished) -> None:
        """Enter goes to the next line; Esc, with nothing to put back, leaves."""
        event.stop()
        if event.by_escape:
            self.action_back()
        else:
            self.focus_next()

    def action_back(self) -> None:
        """Leave the count; ask where something has been typed."""
        if not self.session.history.unsaved:
            self.session.journal.close()
            self.dismiss(None)
            return
        answers = (("open", "Open as a job", "o"), ("drop", "Drop it", "d"), ("stay", "Go on typing", "g"))

        def answered(word: str | None) -> None:
            if word == "open":
                self.action_open_job()
            elif word == "drop":
                self.session.journal.close()
                self.dismiss(None)

        self.app.push_screen(Question("Leave the count?", "What is typed here is not saved.", answers), answered)

    def action_undo(self) -> None:
        """Take the last entry back."""
        self.session.undo()
        self.query_one(Form).refill()
        self._judge()

    def action_redo(self) -> None:
        """Enter it again."""
        self.session.redo()
        self.query_one(Form).refill()
        self._judge()

    def action_open_job(self) -> None:
        """The same job with its pieces and pressures, to be saved if wanted."""
        data = self.session.data
        for name, number in list(data["run"][0]["fittings"].items()):
            if number == 0:
                data = put(data, ("run", 0, "fittings", name), None)
        session = Session(edits.counted_job(), path=None)
        session.do(data, "count")
        self.app.push_screen(JobScreen(session))

    def action_table(self) -> None:
        """A table of one's own."""
        from ventsize.tui.table.screen import TableScreen

        self.app.push_screen(TableScreen(None))
