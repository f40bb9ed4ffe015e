"""The screen of a job: what each of its keys does, and what follows what is typed in its parts."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widgets import TabbedContent

from ventsize.tui.job import appliances, pieces, plant, run_table, runs, variants, working
from ventsize.tui.job.form import Form
from ventsize.tui.job.open_job import DRAWN, OpenJob
from ventsize.tui.settings import remember_job
from ventsize.tui.widgets.picker import Picker
from ventsize.tui.widgets.rows import Rows
from ventsize.tui.widgets.said import Said
from ventsize.tui.widgets.verdict_line import VerdictLine

SHAPES_FORM = ("air_given", "material", "between")  # fields on which it depends what other fields there are
IN_LISTS = frozenset(("add", "remove", "duplicate", "open_number"))  # actions of both lists
IN_OUTLINE = frozenset(("add_pipe", "shift", "mark", "cut", "paste", "exchange", "bulk", "walk", "new_run"))


class JobScreen(OpenJob):
    """An open job."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f9", "questions", "Reports", id="job.questions"),
        Binding("o", "open_number", "Open working", id="job.open_number"),
        Binding("ctrl+o", "open_verdict", "Open the verdict", show=False, id="job.open_verdict"),
        Binding("c", "copy", "Copy what is shown", show=False, id="job.copy"),
        Binding("ctrl+t", "table", "Table of the run", show=False, id="job.table"),
        Binding("y", "answer", "Answer what is open", show=False, id="job.answer"),
        Binding("w", "walk", "Walk", id="job.walk"),
        Binding("ctrl+r", "new_run", "Add a run", show=False, id="job.new_run"),
        Binding("b", "variant", "Beside this one, a variant", show=False, id="job.variant"),
        Binding("f8", "beside", "The open variants", show=False, id="job.beside"),
        Binding("a", "add", "Add", id="job.add"),
        Binding("insert", "add_pipe", "Add pipe", show=False, id="job.add_pipe"),
        Binding("x,delete", "remove", "Remove", show=False, id="job.remove"),
        Binding("d", "duplicate", "Duplicate", show=False, id="job.duplicate"),
        Binding("ctrl+up,less_than_sign", "shift(-1)", "Move piece up", show=False, id="job.move_up"),
        Binding("ctrl+down,greater_than_sign", "shift(1)", "Move piece down", show=False, id="job.move_down"),
        Binding("space", "mark", "Mark piece", show=False, id="job.mark"),
        Binding("ctrl+x", "cut", "Cut pieces", show=False, id="job.cut"),
        Binding("ctrl+v", "paste", "Paste pieces", show=False, id="job.paste"),
        Binding("e", "exchange", "Change all of one fitting", show=False, id="job.exchange"),
        Binding("ctrl+e", "bulk", "Change the marked pieces, or the whole run", show=False, id="job.bulk"),
        Binding("f2", "area('runs')", "Runs", show=False, id="job.runs"),
        Binding("f3", "area('appliance')", "Appliance", show=False, id="job.appliance"),
        Binding("f4", "area('site')", "Site", show=False, id="job.site"),
        Binding("f5", "area('pressure')", "Pressure along the run", show=False, id="job.pressure"),
        Binding("f6", "area('notes')", "Cautions", show=False, id="job.cautions"),
        Binding("f7", "area('route')", "Route of the run", show=False, id="job.route"),
        Binding("s,ctrl+s", "save", "Save", id="job.save"),
        Binding("ctrl+z,u", "undo", "Undo", id="job.undo", key_display="u"),
        Binding("ctrl+y", "redo", "Redo", show=False, id="job.redo"),
        Binding("ctrl+n", "save_as", "Save under a new name", show=False, id="job.save_as"),
        Binding("escape", "back", "Close", id="job.back"),
    ]

    # What the keys do; `save`, `save_as` and `back` as for every open file

    action_add_pipe = pieces.add_pipe
    action_shift = pieces.shift
    action_mark = pieces.mark
    action_cut = pieces.cut
    action_paste = pieces.paste
    action_exchange = pieces.exchange
    action_bulk = pieces.change_marked
    action_walk = runs.walk
    action_new_run = runs.add
    action_variant = variants.make
    action_beside = variants.choose
    action_table = run_table.open_table
    action_open_number = working.open_number
    action_open_verdict = working.open_verdict

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keys of a list hold while it is in sight."""
        if action in IN_LISTS:
            return self.area in ("runs", "appliance")
        return self.area == "runs" or action not in IN_OUTLINE

    async def action_area(self, name: str) -> None:
        """Go to a part of the job: to the field that is still needed, else into its list."""
        self.session.history.pause()
        self.query_one(TabbedContent).active = name
        await self.open_part()
        if name == "runs":
            self.outline.focus()
        elif name == "appliance":
            self.plant.focus()
            if (place := plant.without_input(self.session.data)) is not None:
                await appliances.go_to(self, place)
                self.appliance_form.focus_topic("input")
        elif name == "site":
            self.query_one("#site-form", Form).focus_topic("altitude")

    def action_add(self) -> None:
        """A fitting after the cursor; among the appliances, a rate, an appliance or a joint."""
        (appliances.add if self.area == "appliance" else pieces.add)(self)

    async def action_remove(self) -> None:
        """Take out what is under the cursor, or what is marked."""
        await (appliances.remove if self.area == "appliance" else pieces.remove)(self)

    async def action_duplicate(self) -> None:
        """Once more, after it."""
        await (appliances.duplicate if self.area == "appliance" else pieces.duplicate)(self)

    def action_answer(self) -> None:
        """The question that keeps the job from a pass, with the answers it may have."""
        asked = self.asked
        if asked is None:
            self.warn("No open question has answers to choose from; the verdict above says what is missing.")
            return

        async def chosen(at: str | None) -> None:
            if at is not None:
                answer = asked.answers[int(at)]
                await self.edit("answer", lambda _: answer.data, said=answer.label)

        entries = [(str(n), answer.label, "", answer.label) for n, answer in enumerate(asked.answers)]
        self.app.push_screen(Picker("Answer what is open", entries), chosen)

    def action_questions(self) -> None:
        """What can be asked of this job."""
        self.ask("menu")

    def action_copy(self) -> None:
        """What is shown, to the clipboard."""
        if self.area in DRAWN:
            text = self.query_one(f"#{DRAWN[self.area]}", Said).text
        elif self.area == "appliance":
            text = self.plant.as_text()
        else:
            text = self.query_one(VerdictLine).text + "\n" + self.outline.as_text()
        self.app.copy_to_clipboard(text)
        self.say("copied")

    async def action_undo(self) -> None:
        """Take the last edit back."""
        step = self.session.undo()
        self.say(f"undone: {step.label}" if step else "nothing to undo")
        await self.after()

    async def action_redo(self) -> None:
        """Do it again."""
        step = self.session.redo()
        self.say(f"done again: {step.label}" if step else "nothing to do again")
        await self.after()

    # What comes from the parts

    @property
    def topic(self) -> str:
        """The help topic where no field has the focus."""
        return {"route": "route", "appliance": "plant"}.get(self.area, "list")

    async def on_rows_moved(self, event: Rows.Moved) -> None:
        """The form follows the cursor."""
        event.stop()
        if event.rows is self.plant:
            await self.show_appliance_form()
            return
        await self.show_piece_form()
        if self.run_at != self.shown_run:
            self.show_area()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Enter goes into the form; at a firing rate to its input, since a digit there is none of its name."""
        event.stop()
        self._form_beside(event.rows).focus_topic("input")

    async def on_rows_typed(self, event: Rows.Typed) -> None:
        """A digit on a pipe is its new length; on a counted fitting, how many; on a firing rate, its input."""
        event.stop()
        form, place = self._form_beside(event.rows), self.place_at
        if event.rows is self.plant and place[:1] == ("appliance",) and len(place) == 2:
            await appliances.go_to(self, (*place, "rate", 0))
        found = (form.field_of(topic) for topic in ("length", "straight", "count", "input"))
        at = next((at for at in found if at is not None), None)
        if at is None:
            self.say("nothing here is changed by a digit; Enter goes into the fields")
        else:
            form.begin(at, event.character)

    def _form_beside(self, rows: Rows) -> Form:
        return self.appliance_form if rows is self.plant else self.piece_form

    async def on_form_typed(self, event: Form.Typed) -> None:
        """The verdict follows every keystroke, once no more keys are waiting."""
        event.stop()
        self.remark = ""
        if self.app.keys_waiting:
            self.show_title()
            self.show_verdict()
        else:
            self.refreshed()
        if event.spec.topic in SHAPES_FORM or event.spec.when_left:
            await self.forms()
        else:
            self.plant.show(plant.rows(self.session.data))

    def keys_through(self) -> None:
        """No more keys are waiting: what they have changed is judged."""
        if not (self.opening or self.session.fresh):
            self.refreshed()

    def on_form_settled(self) -> None:
        """The field has been left: the verdict is no longer one so far."""
        self.refreshed()

    def on_form_finished(self, event: Form.Finished) -> None:
        """Enter goes to the next field, after the last one to the list; so does Esc."""
        event.stop()
        if not event.by_escape and event.form.go_on():
            return
        (self.plant if self.area == "appliance" else self.outline).focus()
        self.query_one(TabbedContent).active = "runs" if self.area == "site" else self.area

    def on_verdict_line_chosen(self, event: VerdictLine.Chosen) -> None:
        """The working of the verdict, by mouse."""
        event.stop()
        self.action_open_verdict()

    async def on_tabbed_content_tab_activated(self, event: TabbedContent.TabActivated) -> None:
        """Show what the part shows; its keys are others."""
        if not self.opening:
            await self.open_part()
            self.show_area()
            self.refresh_bindings()

    def on_resize(self) -> None:
        """Title and charts fit the new size."""
        if not self.opening:
            self.show_title()
            self.call_after_refresh(self.show_area)

    # Saving and closing

    def saved(self, path: Path) -> None:
        """It is among the jobs opened last now."""
        remember_job(path)
        self.say(f"saved as {path}")

    def closed(self) -> None:
        """With variants open, the next of them comes into sight."""
        self.variants.remove(self.session)
        if not self.variants:
            self.dismiss(None)
            return
        self.session = self.variants[-1]
        self.call_later(self.after)
        self.say("closed; this one is still open")
