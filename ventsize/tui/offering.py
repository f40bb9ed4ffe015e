"""Work left unsaved: what it changes in the saved file, and whether to go on with it, drop it or look at both."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, ClassVar

from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import HorizontalGroup, VerticalGroup, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, Static

from ventsize.catalog.folders import user_folder
from ventsize.jobfile.differences import differences
from ventsize.jobfile.problems import InputError
from ventsize.jobfile.recovery import Offer, pending_recoveries
from ventsize.jobfile.writer import open_file
from ventsize.report.differences import difference_words
from ventsize.tui.widgets.question import Question
from ventsize.tui.widgets.text import one_line

ANSWERS = (
    ("keep", "Go on with it", "g"),
    ("both", "Open both", "b"),
    ("drop", "Drop it", "d"),
    ("later", "Not now", "n"),
)


def what_differs(offer: Offer) -> list[str]:
    """The differences to the saved file, line by line; else why there is nothing to compare with."""
    snapshot = offer.snapshot
    typed = [f"being typed: {' '.join(map(str, place))}: {text}" for place, text in snapshot.drafts.items()]
    if snapshot.file is None:
        return ["It was never saved in a file.", *typed]
    try:
        opened = open_file(snapshot.file)
    except InputError as error:
        return [f"Its file cannot be compared: {error.problems[0]}", *typed]
    found = [difference_words(one) for one in differences(opened.data, snapshot.data)]
    if opened.fingerprint != snapshot.fingerprint:
        found.insert(0, "! Another program has changed the file since; what it changed is among these:")
    return [*(found or ["Nothing but what was being typed."]), *typed]


class OfferScreen(ModalScreen[str]):
    """Gives "keep", "both", "drop" or "later"."""

    DEFAULT_CSS = """
    OfferScreen {
        align: center middle;
        & > VerticalGroup { width: 76; max-width: 96%; background: $panel; border: round $warning; padding: 0 2; }
        & VerticalScroll { height: auto; max-height: 12; margin: 1 0; }
        & HorizontalGroup { margin: 0 0 1 0; }
        & Button { margin: 0 2 0 0; min-width: 10; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        *(Binding(key, f"answer('{word}')", label, id=f"offer.{word}") for word, label, key in ANSWERS),
        Binding("escape", "answer('later')", "Not now", show=False, id="offer.leave"),
        Binding("right", "app.focus_next", "Next answer", show=False, id="offer.next"),
        Binding("left", "app.focus_previous", "Answer before", show=False, id="offer.before"),
    ]

    def __init__(self, offer: Offer) -> None:
        super().__init__()
        self._offer = offer

    def compose(self) -> ComposeResult:
        """What was left, what it changes, the answers."""
        snapshot = self._offer.snapshot
        title = one_line(snapshot.data.get("title") or "work without a title")
        with VerticalGroup() as box:
            box.border_title = Content("Left unsaved when the program stopped")
            file = snapshot.file or "no file yet"
            yield Static(Content(f"{title}: {file}, last typed at {snapshot.when.astimezone():%d %b %H:%M}"))
            with VerticalScroll():
                yield Static(Content("\n".join(what_differs(self._offer))), id="offer-differs")
            with HorizontalGroup():
                for word, label, key in ANSWERS:
                    if word != "both" or (snapshot.file is not None and snapshot.file.exists()):
                        yield Button(Content(f"{label} ({key})"), id=f"answer-{word}", compact=True)

    def action_answer(self, word: str) -> None:
        """The answer's key."""
        if self.query(f"#answer-{word}"):
            self.dismiss(word)

    def on_button_pressed(self, event: Button.Pressed) -> None:
        """The same by Enter or mouse."""
        event.stop()
        self.dismiss((event.button.id or "").removeprefix("answer-"))


def left_of(path: Path) -> Offer | None:
    """The work left unsaved on a file, if there is any."""
    where = path.resolve()
    offers = pending_recoveries(user_folder())
    return next((o for o in offers if o.snapshot.file is not None and o.snapshot.file.resolve() == where), None)


def ask(app: App[Any], offer: Offer, done: Callable[[str], None]) -> None:
    """Show an offer; drop the work only when that has been said twice. `done` gets the answer."""

    def answered(word: str | None) -> None:
        if word != "drop":
            done(word or "later")
            return
        answers = (("drop", "Drop it for good", "d"), ("later", "Leave it", "l"))
        text = "What was typed and not saved will be gone. The saved file stays as it is."

        def sure(again: str | None) -> None:
            if again == "drop":
                offer.discard()
            done(again or "later")

        app.push_screen(Question("Drop the unsaved work?", text, answers), sure)

    app.push_screen(OfferScreen(offer), answered)


def take_up(app: Any, offer: Offer) -> None:
    """From the first screen: show what was left, and do with it what is answered."""

    def answered(word: str) -> None:
        if word == "both" and offer.snapshot.file is not None:
            _open_saved(app, offer.snapshot.file)
        if word in ("keep", "both"):
            app.resume(offer)
        elif word == "drop":
            app.screen.look()

    ask(app, offer, answered)


def offer_left(app: Any, path: Path) -> None:
    """Where a file has just been opened: what was left unsaved on it, if anything."""
    offer = left_of(path)
    if offer is None:
        return
    saved = app.screen

    def answered(word: str) -> None:
        if word == "keep":
            saved.session.journal.close()
            saved.dismiss(None)
        if word in ("keep", "both"):
            app.call_after_refresh(app.resume, offer)

    ask(app, offer, answered)


def _open_saved(app: Any, path: Path) -> None:
    from ventsize.tui.job.screen import JobScreen
    from ventsize.tui.job.session import Session
    from ventsize.tui.table.screen import TableScreen

    try:
        session = Session.open(path)
    except InputError as error:
        app.notify(str(error.problems[0]), severity="error", markup=False, timeout=8)
        return
    app.push_screen(TableScreen(None, session) if "row" in session.data else JobScreen(session))
