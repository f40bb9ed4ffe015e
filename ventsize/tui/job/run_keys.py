"""The keys that make runs: walking one, adding one; and variants of the job, side by side."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType

from ventsize.jobfile.editing import EditError, value_at, variant
from ventsize.tui.job import edits
from ventsize.tui.job.base import JobBase
from ventsize.tui.job.session import Session
from ventsize.tui.job.walking import ASKED, Walk
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.verdict_line import VerdictLine

MOST_VARIANTS = 4


class RunKeys(JobBase):
    """Walking, adding, trying out."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("w", "walk", "Walk", id="job.walk"),
        Binding("ctrl+r", "new_run", "Add a run", show=False, id="job.new_run"),
        Binding("b", "variant", "Beside this one, a variant", show=False, id="job.variant"),
        Binding("f8", "beside", "The open variants", show=False, id="job.beside"),
    ]

    variants: list[Session]
    _walking: Walk

    async def action_new_run(self) -> None:
        """A run more, beside the others."""
        data = self.session.data
        if await self.edit("add a run", lambda: edits.new_run(data), said="run added: count it, or w to walk it"):
            rows = self.outline
            rows.go(rows.index_of((len(value_at(self.session.data, ("run",), [])) - 1, None)) or 0)

    async def action_walk(self) -> None:
        """Lay the route out by saying where it goes; what was counted is taken off as it is placed."""
        if edits.is_counted(self.session.data, self.run_at):
            await self.with_layout(self._walk_the_count)
        else:
            await self.with_layout(self._walk)

    async def _walk_the_count(self) -> None:
        await self._walk(len(value_at(self.session.data, ("run", self.run_at, "pieces"), [])))

    async def _walk(self, left: int = 0) -> None:
        self._walking = Walk((self.app.settings.elbow,), left)  # type: ignore[attr-defined]
        self._line = AskLine(ASKED, self._step)
        self.app.push_screen(self._line, self._walked)

    def _step(self, text: str) -> tuple[str, bool]:
        """One step of the walk; gives what is said about it, and whether it was taken."""
        try:
            self._walking, data, said = self._walking.step(self.session.data, self.run_at, text)
        except (EditError, ValueError) as error:
            return f"! {error}", False
        if data is not self.session.data:
            self.session.do(data, f"walk {text}")
        run = self.run_at
        self.show_all()
        rows = self.outline
        rows.go(edits.last_row(rows, run), tell=False)

        def judged() -> None:
            self.show_all()
            self._line.say(f"{said}\n{self.query_one(VerdictLine).text.splitlines()[0]}")

        self.judge_then(judged)
        return said, True

    async def _walked(self, _: str | None) -> None:
        await self.after()

    async def action_variant(self) -> None:
        """Go on with a copy of the job beside it: both stay open, and F8 shows them."""
        if len(self.variants) >= MOST_VARIANTS:
            self.warn(f"{MOST_VARIANTS} are open side by side; close one (Esc) before another is made.")
            return
        titles = [str(value_at(one.data, ("title",), "")) for one in self.variants]
        session = Session(self.session.data, path=None, beside=self.session.beside)
        session.system = self.session.system
        session.do(variant(self.session.data, titles), "make a variant")
        self.variants.append(session)
        await self.change_to(session)
        self.say("this is the variant: change it; F8 shows both")

    async def action_beside(self) -> None:
        """Verdict, margin and pressure of each variant; Enter goes on with one."""
        from ventsize.tui.job.beside import BesideScreen

        if len(self.variants) < 2:
            self.warn("There is one job only. b makes a variant of it, to be changed and compared.")
            return

        async def chosen(number: int | None) -> None:
            if number is not None:
                await self.change_to(self.variants[number])

        self.app.push_screen(BesideScreen(self.variants, self.variants.index(self.session)), chosen)

    async def change_to(self, session: Session) -> None:
        """Show another of the variants."""
        self.session = session
        self.outline.marked.clear()
        await self.after()

    def closed(self) -> None:
        """With variants open, the next of them comes into sight."""
        self.variants.remove(self.session)
        if not self.variants:
            self.dismiss(None)
            return
        self.session = self.variants[-1]
        self.call_later(self.after)
        self.say("closed; this one is still open")
