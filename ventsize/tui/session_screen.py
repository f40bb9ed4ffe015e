"""The screen of an open file: it is answered on a thread of its own, so that no key waits for it."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from textual import events, getters, work
from textual.screen import Screen

from ventsize.tui.job.session import Answer, Session
from ventsize.tui.keys import KeysInTurn

Then = Callable[[], Awaitable[None] | None]


class SessionScreen(Screen[None]):
    """A screen that works on an open file and shows what comes of it.

    opening: keys wait while it is true.
    """

    app = getters.app(KeysInTurn)
    session: Session
    opening = False
    _judging = False
    _afterwards: Then | None = None

    def _on_screen_resume(self, event: events.ScreenResume) -> None:
        """Its styles were put on as it was made: not once more, for two hundred widgets."""
        event.refresh_styles = False

    def refreshed(self) -> None:
        """What has been changed, here or on another screen, is shown."""

    def leave(self) -> None:
        """Back to the screen below, which shows what has been done here."""
        below = self.app.screen_stack[-2]
        self.app.pop_screen()
        if isinstance(below, SessionScreen):
            below.refreshed()

    def judge_then(self, then: Then) -> None:
        """Go on once what is typed has been judged, next where it has been; of several calls, the last goes on."""
        self._afterwards = then
        if self.session.fresh:
            self.call_next(self._go_on)
        elif not self._judging:
            self._judging = True
            self._work_out()

    def once_judged(self, then: Callable[[], None]) -> None:
        """Go on with the answer to what is typed now, never with an earlier one; keys typed ahead wait for it."""
        self.opening = True

        def judged() -> None:
            self.opening = False
            then()

        self.judge_then(judged)

    def take_back(self, *, again: bool = False) -> bool:
        """Take the last edit of the job back, or do it again, and say which; gives whether there was one."""
        step = self.session.redo() if again else self.session.undo()
        done, none = ("Done again", "Nothing to do again.") if again else ("Undone", "Nothing to undo.")
        self.notify(f"{done}: {step.label}" if step else none, markup=False, timeout=2)
        return step is not None

    def _go_on(self) -> Awaitable[None] | None:
        then = self._afterwards
        if then is None or not self.session.fresh:  # what was typed meanwhile is being judged
            return None
        self._afterwards = None
        return then()

    @work(thread=True, group="judging")
    def _work_out(self) -> None:
        self.app.call_from_thread(self._worked_out, self.session.worked_out())

    def _worked_out(self, answer: Answer) -> None:
        self._judging = False
        self.session.take(answer)
        if self.is_attached and self._afterwards is not None:
            self.judge_then(self._afterwards)  # what was typed meanwhile comes next
