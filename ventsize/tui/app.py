"""The terminal UI. Nothing heavy is imported before the first frame: the solver's libraries come in a thread."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any, ClassVar

from textual import work
from textual.app import SystemCommand
from textual.binding import Binding, BindingType
from textual.screen import Screen

from ventsize.jobfile.recovery import Offer
from ventsize.tui.keys import KeysInTurn, shown_key
from ventsize.tui.palette import Actions, actions_of
from ventsize.tui.plain import LettersOnly, PlainCharacters, terminal_is_plain
from ventsize.tui.session_screen import SessionScreen
from ventsize.tui.settings import Settings, load_settings, remember_job
from ventsize.tui.start import StartScreen
from ventsize.tui.themes import THEMES


class VentsizeApp(KeysInTurn):
    """The first screen, and on top of it what is open."""

    TITLE = "ventsize"
    CSS = """
    Tab { color: $text-muted; &:hover, &.-active { color: $text; } }
    Underline > .underline--bar { background: $border-blurred; }
    """  # Textual's own are too faint to be read
    COMMANDS: ClassVar[set[Any]] = {Actions}
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f1", "help_here", "Help", show=False, id="app.help", priority=True),
        Binding("question_mark", "help_here", "Help", show=False, id="app.help_too", key_display="?"),
        Binding("f10", "settings", "Settings", show=False, id="app.settings"),
        Binding("f12", "keys", "All keys", show=False, id="app.keys"),
        Binding("ctrl+q", "leave", "Quit", show=False, id="app.quit", priority=True),
        Binding("q", "how_to_leave", "Quit, from the first screen", show=False, id="app.leaving"),
        Binding("ctrl+c", "how_to_leave", "How to leave", show=False, system=True, id="app.interrupted"),
    ]

    def __init__(self, job: Path | None = None) -> None:
        super().__init__()
        self.settings = load_settings()
        self._job = job
        for name in list(self.available_themes):
            if name not in ("textual-dark", "textual-light"):
                self.unregister_theme(name)
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = self.settings.theme
        self._filters.append(LettersOnly())
        if self.settings.characters == "plain" or terminal_is_plain():
            self._filters.append(PlainCharacters())
        self.set_keymap(self.settings.keys)

    def get_default_screen(self) -> Screen[None]:
        """What can be done."""
        return StartScreen(id="_default")

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:
        """None but our own, which the palette has from the key bindings."""
        return ()

    def on_mount(self) -> None:
        """Open the job asked for; bring the heavy libraries in meanwhile."""
        if self.settings.fault:
            self.notify(self.settings.fault, severity="warning", markup=False, timeout=10)
        if self._job is not None:
            self.open_job(self._job)
        self.call_after_refresh(self._warm_up)

    @work(thread=True)
    def _warm_up(self) -> None:
        if os.environ.get("VENTSIZE_COLD"):
            return
        from ventsize.catalog.library import load_catalog
        from ventsize.quantity import Dimension, parse

        parse("1 ft", Dimension.LENGTH)
        try:
            load_catalog()
        except Exception:  # said where a job is opened
            return

    # What is open

    def open_job(self, path: Path, then: str = "", back: Callable[[], None] | None = None) -> None:
        """Open a job file, or say in one sentence why not.

        then: the report to go on to, or "menu" for all of them. back: what leaving that report leads to, job and all.
        """
        from ventsize.jobfile.problems import InputError
        from ventsize.tui.job.screen import JobScreen
        from ventsize.tui.job.session import Session
        from ventsize.tui.offering import offer_left

        try:
            session = Session.open(path)
        except InputError as error:
            self.notify(str(error.problems[0]), severity="error", markup=False, timeout=8)
            return
        if not session.shipped:
            remember_job(path)
        passing = JobScreen(session, then=then, passing=back is not None)
        self.push_screen(passing, None if back is None else lambda _: back())
        if "lesson" in session.data and not then:
            self.notify("This job is a lesson: it stands under Teach on the first screen.", timeout=8)
        offer_left(self, path)

    def resume(self, offer: Offer) -> None:
        """Go on with work that was left unsaved."""
        from ventsize.tui.job.screen import JobScreen
        from ventsize.tui.job.session import Session

        journal = offer.resume()
        if journal is None:
            self.notify("Another window has taken this work up.", severity="warning")
            return
        session = Session.resumed(offer.snapshot, journal)
        if "row" in offer.snapshot.data:
            from ventsize.tui.table.screen import TableScreen

            self.push_screen(TableScreen(None, session))
            return
        self.push_screen(JobScreen(session))

    # Help, keys, settings

    def action_help_here(self) -> None:
        """Help for what has the focus, with the keys of the screen."""
        from ventsize.tui.help import HelpScreen
        from ventsize.tui.widgets.field import FieldBase

        if isinstance(self.screen, HelpScreen):
            self.screen.dismiss("keys")
            return
        node: Any = self.focused
        while node is not None and not isinstance(node, FieldBase):
            node = node.parent
        topic = node.topic if node is not None else getattr(self.screen, "topic", "anywhere")
        keys = dict.fromkeys((keys, label) for label, keys, _, _ in actions_of(self.screen))

        def closed(word: str | None) -> None:
            if word == "keys":
                self.action_keys()

        self.push_screen(HelpScreen(topic, list(keys)), closed)

    def action_keys(self) -> None:
        """Every action with its key; searching in them, and doing one by Enter."""
        from ventsize.tui.widgets.picker import Picker

        actions = {name: call for _, _, name, call in actions_of(self.screen)}
        entries = [(name, label, keys) for label, keys, name, _ in actions_of(self.screen)]

        async def chosen(name: str | None) -> None:
            if name in actions:
                node, action = actions[name]
                await self.run_action(action, node)

        self.push_screen(Picker("All keys here (Enter does it)", entries), chosen)

    def action_settings(self) -> None:
        """Units, look, folders, keys."""
        from ventsize.tui.settings_screen import SettingsScreen

        if not isinstance(self.screen, SettingsScreen):
            self.push_screen(SettingsScreen())

    def use_settings(self, settings: Settings) -> None:
        """Work by these settings from now on."""
        before, self.settings = self.settings, settings
        self.theme = settings.theme
        self.set_keymap(settings.keys)
        if settings.units != before.units:
            from ventsize.quantity import System

            for screen in self.screen_stack:
                if isinstance(screen, SessionScreen):
                    screen.session.system = System(settings.units)
                    screen.refreshed()

    def get_key_display(self, binding: Binding) -> str:
        """A key as it stands on a keyboard: Ctrl+S, F9, Esc."""
        return binding.key_display or shown_key(binding.key)

    def action_how_to_leave(self) -> None:
        """Leave from the first screen; elsewhere say how, since a slip of the finger must not close a job."""
        if isinstance(self.screen, StartScreen):
            self.action_leave()
        else:
            self.clear_notifications()
            self.notify("Esc goes back. On the first screen, q leaves the program; Ctrl+Q leaves from anywhere.")

    def action_leave(self) -> None:
        """Leave. What is not saved is kept, and offered at the next start."""
        self.exit(0)


def run_app(job: Path | None) -> int:
    """Open the screens; gives the exit status."""
    app = VentsizeApp(job)
    app.run()
    return app.return_code or 0  # 1 where it broke off by a fault
