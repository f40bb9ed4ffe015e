"""What the job screen shows: title, verdict, list, and the part that is in sight."""

from __future__ import annotations

from rich.cells import cell_len
from textual.content import Content

from ventsize.jobfile.editing import value_at
from ventsize.tui.job import panels
from ventsize.tui.job.outline import outline, show_verdict
from ventsize.tui.job.question_keys import DRAWN
from ventsize.tui.job.run_keys import RunKeys
from ventsize.tui.widgets.said import OneLine, Said
from ventsize.tui.widgets.text import fitted
from ventsize.tui.widgets.verdict_line import VerdictLine

SHORT_TITLE = 20  # cells; so much of a title is always shown


class SmallPicture(Said):
    """Drawn anew whenever its room changes, also while something else lay on top."""

    def on_resize(self) -> None:
        """The room there is now."""
        if isinstance(self.screen, Showing) and not self.screen.opening:
            self.screen.small_pictures()


class Showing(RunKeys):
    """Puts what is typed, and the answer to it, on the screen.

    opening: keys wait until the job is open.
    """

    opening = True
    remark = ""
    shown_run = -1
    _title = ""

    def say(self, text: str) -> None:
        """A remark beside the title, until the next one."""
        self.remark = text
        self.show_title()

    def refreshed(self) -> None:
        """Show what is typed now, and have it judged."""
        if not self.session.fresh:
            self.show_title()
            self.show_verdict()
        self.judge_then(self.show_all)

    def keys_through(self) -> None:
        """No more keys are waiting: what they have changed is judged."""
        if not (self.opening or self.session.fresh):
            self.refreshed()

    def show_all(self) -> None:
        """Title, verdict, list, and the part in sight."""
        session = self.session
        self.show_title()
        self.show_verdict()
        answered = session.answered if session.stale else None
        self.outline.show(outline(session.data, session.check, session.system, answered=answered))
        self.show_area()

    def show_area(self) -> None:
        """The part in sight, for the run under the cursor."""
        session, area = self.session, self.area
        self.shown_run = self.run_at
        if area == "runs":
            if self.has_class("-wide"):
                self.query_one("#results", Said).say(panels.results(self.found, session.system, stale=session.stale))
            if self.query_one("#pictures").display:
                self.small_pictures()
            return
        if area not in DRAWN:
            return
        size = self.query_one("#areas").size
        width, height = size.width - 4, size.height - 4
        if area == "pressure":
            drawn = panels.pressure_chart(self.found, session.system, width=width, height=height)
        elif area == "notes":
            drawn = panels.cautions(session.check, session.system, session.problems)
        else:
            drawn = panels.route(self.found, session.system, width=width, height=height, stale=session.stale)
        self.query_one(f"#{DRAWN[area]}", Said).say(drawn)

    def small_pictures(self) -> None:
        """Pressure and route below the list, where there is room for all three."""
        session, found = self.session, self.found
        for name, draw in (("#small-chart", panels.small_chart), ("#small-sketch", panels.small_route)):
            said = self.query_one(name, Said)
            size = said.content_size
            said.say(draw(found, session.system, width=size.width, height=size.height))

    def show_title(self) -> None:
        """What it is, whether it is saved, and the last remark."""
        session = self.session
        kept = "demonstration" if session.shipped else "saved"
        state = "not saved" if session.history.unsaved or session.path is None else kept
        place = session.path.name if session.path else "new"
        title, end = str(value_at(session.data, ("title",), "")), f"   {place}, {state}"
        if len(self.variants) > 1:
            title = f"{self.variants.index(session) + 1} of {len(self.variants)}: {title}"
        title = fitted(title, max(SHORT_TITLE, self.size.width - 2 - cell_len(end))).rstrip() + end
        if self.remark:
            title = f"{self.remark}   |   {title}"
        if session.journal.fault:
            title += f"   ! {session.journal.fault}"
        if title != self._title:
            self._title = title
            self.query_one("#job-title", OneLine).update(Content(title), layout=False)

    def show_verdict(self) -> None:
        """The verdict on what is typed now, or that there is none yet."""
        check = self.session.check
        asked = check is not None and check.verdict == "incomplete" and self.asked is not None
        lacks = check is not None and check.decides.because.code.startswith("no-deduction")
        hint = "y answers it" if asked else "Ctrl+T types it" if lacks else ""
        show_verdict(self.query_one(VerdictLine), self.session, hint=hint)
