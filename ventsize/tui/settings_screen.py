"""The settings: units, look, folders and keys, each kept as soon as it is chosen, all of it undone by Ctrl+Z."""

from __future__ import annotations

import tomllib
from typing import Any, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import HorizontalGroup, VerticalGroup
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, Label, Static

from ventsize.catalog.folders import settings_file, user_folder, user_jobs_folder
from ventsize.jobfile.editing import Data, put, value_at
from ventsize.jobfile.history import History
from ventsize.tui.ask_key import AskKey
from ventsize.tui.key_list import Bound, clashes, every_key
from ventsize.tui.keys import shown_key
from ventsize.tui.long_work import tell
from ventsize.tui.settings import Settings, save_settings, settings_from
from ventsize.tui.settings_reading import altitude_read, folder_read
from ventsize.tui.themes import THEMES
from ventsize.tui.widgets.field import Choice, ChoiceField, Field
from ventsize.tui.widgets.file_picker import shown
from ventsize.tui.widgets.key_line import KeyLine
from ventsize.tui.widgets.rows import Cell, Column, Row, Rows

LOOKS = {
    "colour-safe": "dark, for every color vision", "dark": "dark", "light": "light",
    "high-contrast": "high contrast, dark",
}  # fmt: skip
ELBOWS = {"elbow-90-long": "long turn", "elbow-90-short": "short turn", "elbow-90-mitered": "mitered"}
PLACES = {
    "units": ("units",), "theme": ("theme",), "characters": ("characters",), "altitude": ("altitude",),
    "elbow": ("elbow",), "tables": ("folders", "tables"), "jobs": ("folders", "jobs"),
}  # fmt: skip


class SettingsScreen(Screen[None]):
    """Fields on top; every key under them, searchable, each to be given another."""

    DEFAULT_CSS = """
    SettingsScreen {
        & #settings-title { text-style: bold; background: $panel; }
        & #settings-said { height: auto; max-height: 3; padding: 0 1; color: $text-warning; }
        & #settings-fields { padding: 0 1; height: auto; }
        & #settings-fields Input, & #settings-fields _ChoiceLine { width: 32; }
        & #keys-row { height: 1; padding: 0 1; margin: 1 0 0 0; background: $panel; }
        & #keys-row Label { width: 20; text-style: bold; }
        & #keys-search { width: 1fr; height: 1; background: $surface-lighten-1; }
        & #keys-list { height: 1fr; min-height: 4; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+z", "undo", "Undo", id="settings.undo", priority=True),
        Binding("ctrl+y", "redo", "Redo", show=False, id="settings.redo", priority=True),
        Binding("f3", "keys", "Keys", id="settings.keys"),
        Binding("f2", "fields", "Fields", id="settings.fields"),
        Binding("slash", "search", "Search the keys", key_display="/", show=False, id="settings.search"),
        Binding("x", "usual", "Remove your own key", show=False, id="settings.usual_key"),
        Binding("c", "copy", "Copy the keys", show=False, id="settings.copy"),
        Binding("escape", "back", "Close", id="settings.back"),
    ]

    topic = "settings_keys"

    def __init__(self) -> None:
        super().__init__()
        self._fault = ""
        self.history = History(self._read())
        self._kept: Data = self.history.data
        self._keys: tuple[Bound, ...] = ()

    def _read(self) -> Data:
        try:
            return tomllib.loads(settings_file().read_text(encoding="utf-8"))
        except FileNotFoundError:
            return {}
        except (OSError, ValueError, RecursionError) as error:
            self._fault = f"{settings_file()} cannot be read: {error}. Mend it there; nothing is written over it."
            return {}

    def compose(self) -> ComposeResult:
        """Fields, faults, keys."""
        settings = settings_from(self.history.data)
        yield Static(Content(f"Settings, kept in {shown(settings_file())}"), id="settings-title")
        yield Static("", id="settings-said", markup=False)
        with VerticalGroup(id="settings-fields"):
            units = (Choice("us", "feet, in w.c., Btu/h, °F"), Choice("si", "m, Pa, kW, °C"))
            looks = [Choice(theme.name, LOOKS[theme.name]) for theme in THEMES]
            marks = (Choice("auto", "as the terminal shows them"), Choice("plain", "plain ASCII"))
            yield ChoiceField("Units", settings.units, units, topic="settings_units", id="units", hint="shown in")
            yield ChoiceField("Look", settings.theme, looks, topic="settings_theme", id="theme")
            yield ChoiceField(
                "Characters", settings.characters, marks, topic="settings_characters", id="characters",
                hint="from the next start",
            )  # fmt: skip
            elbows = [Choice(name, said) for name, said in ELBOWS.items()]
            yield ChoiceField("Usual elbow", settings.elbow, elbows, topic="settings_elbow", id="elbow", hint="walking")
            yield Field(
                "Usual altitude", settings.altitude, topic="settings_altitude", reader=altitude_read, optional=True,
                hint="empty: asked each time", id="altitude",
            )  # fmt: skip
            for name, usual in (("tables", user_folder() / "tables"), ("jobs", user_jobs_folder())):
                text = value_at(self.history.data, ("folders", name), "")
                yield Field(
                    f"{name.capitalize()} folder", str(text), topic=f"settings_{name}", reader=folder_read,
                    optional=True, hint=f"else {shown(usual)}", id=name,
                )  # fmt: skip
        with HorizontalGroup(id="keys-row"):
            yield Label("F3 Keys, / search")
            search = Input(placeholder="words of an action, a place or a key", id="keys-search", compact=True)
            search.cursor_blink = False
            yield search
        yield Rows(
            [Column(title="What it does", width=26, grow=1), Column(title="Where", width=19),
             Column(title="Keys", width=16), Column(title="As shipped", width=12, from_width=90)],
            id="keys-list",
        )  # fmt: skip
        yield KeyLine()

    def on_mount(self) -> None:
        """The keys are gathered beside the screen: every screen is loaded for it."""
        self.query_one("#units", ChoiceField).focus_entry()
        self._gather()

    @work(thread=True)
    def _gather(self) -> None:
        keys = every_key()
        tell(self, self._gathered, keys)

    def _gathered(self, keys: tuple[Bound, ...]) -> None:
        self._keys = keys
        self._show()

    # Showing

    @property
    def gathered(self) -> bool:
        """Whether the list of keys is there."""
        return bool(self._keys)

    def _show(self) -> None:
        own = settings_from(self.history.data).keys
        wanted = self.query_one("#keys-search", Input).value.lower().split()
        rows = []
        for bound in self._keys:
            keys, usual = _shown(own.get(bound.name, bound.keys)), _shown(bound.keys)
            if all(word in f"{bound.label} {bound.place} {keys} {bound.name}".lower() for word in wanted):
                tone = "strong" if bound.name in own else ""
                cells = (
                    Cell(bound.label, tone),
                    Cell(bound.place, "faint"),
                    Cell(keys, tone),
                    Cell(usual, "faint"),
                )
                rows.append(Row(key=bound.name, cells=cells))
        self.query_one("#keys-list", Rows).show(rows)
        said = [self._fault] if self._fault else list(settings_from(self.history.data).faults)
        said += clashes(own) if self._keys else []
        more = f" (and {len(said) - 1} more)" if len(said) > 1 else ""
        self.query_one("#settings-said", Static).update(Content(f"! {said[0]}{more}" if said else ""))
        self.query_one("#settings-said", Static).display = bool(said)

    def _apply(self) -> None:
        """Keep what is chosen, and work by it."""
        if not self._fault:
            if self.history.data is not self._kept and (fault := save_settings(self.history.data)):
                self.notify(f"Not kept: {fault}", severity="warning", markup=False)
            self._kept = self.history.data
        settings: Settings = settings_from(self.history.data)
        self.app.use_settings(settings)  # type: ignore[attr-defined]
        self._show()

    # What is chosen

    def on_field_base_changed(self, event: Field.Changed) -> None:
        """A choice holds at once; a text when its field is left."""
        event.stop()
        if event.valid:
            place = PLACES[str(event.field.id)]
            usual = event.text == "" or (place == ("characters",) and event.text == "auto")
            data = put(self.history.data, place, None if usual else event.text)
            self.history.do(data, str(event.field.label), at=place, typing=isinstance(event.field, Field))
            if isinstance(event.field, ChoiceField):
                self._apply()

    def on_field_base_left(self, event: Field.Left) -> None:
        """A text is through."""
        event.stop()
        self.history.pause()
        if self.history.data is not self._kept:
            self._apply()

    def on_field_base_done(self, event: Field.Done) -> None:
        """Enter goes on; Esc closes."""
        event.stop()
        if event.by_escape:
            self.action_back()
        elif event.field.id == "jobs":
            self.action_keys()
        else:
            self.focus_next()

    def _refill(self) -> None:
        settings = settings_from(self.history.data)
        for name in ("units", "theme", "characters", "elbow"):
            self.query_one(f"#{name}", ChoiceField).put(getattr(settings, name))
        self.query_one("#altitude", Field).put(settings.altitude)
        for name in ("tables", "jobs"):
            self.query_one(f"#{name}", Field).put(str(value_at(self.history.data, ("folders", name), "")))

    # Keys

    def on_input_changed(self, event: Input.Changed) -> None:
        """The list of keys follows what is searched for."""
        event.stop()
        self._show()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """From the search into the list."""
        event.stop()
        self.action_keys()

    def on_rows_moved(self, event: Rows.Moved) -> None:
        """Nobody else need know."""
        event.stop()

    def on_rows_typed(self, event: Rows.Typed) -> None:
        """A digit is no value here."""
        event.stop()
        event.rows.take_typed()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Ask for another key."""
        event.stop()
        bound = self._bound()
        if bound is not None:

            def pressed(key: str | None) -> None:
                if key is not None:
                    self._give(bound, key)

            self.app.push_screen(AskKey(bound), pressed)

    def _bound(self) -> Bound | None:
        row = self.query_one("#keys-list", Rows).current
        return next((bound for bound in self._keys if row is not None and bound.name == row.key), None)

    def _give(self, bound: Bound, key: str) -> None:
        """Another key for an action; an empty one, or the one as shipped, takes the entry out."""
        keys = {**value_at(self.history.data, ("keys",), {}), bound.name: key}
        if not key or key == bound.keys:
            keys.pop(bound.name)
        self.history.do(put(self.history.data, ("keys",), keys or None), f"key for {bound.label}")
        self._apply()

    def action_usual(self) -> None:
        """The key it was shipped with."""
        if (bound := self._bound()) is not None:
            self._give(bound, "")

    def action_keys(self) -> None:
        """To the list of keys."""
        self.set_focus(self.query_one("#keys-list", Rows))

    def action_fields(self) -> None:
        """To the fields."""
        self.query_one("#units", ChoiceField).focus_entry()

    def action_search(self) -> None:
        """To the line for searching."""
        self.set_focus(self.query_one("#keys-search", Input))

    def action_copy(self) -> None:
        """The list of keys, for the clipboard."""
        self.app.copy_to_clipboard(self.query_one("#keys-list", Rows).as_text())
        self.notify("Copied.", timeout=2)

    # Undo

    def action_undo(self) -> None:
        """Take the last choice back."""
        self._step(self.history.undo(), "Undone")

    def action_redo(self) -> None:
        """Choose it again."""
        self._step(self.history.redo(), "Done again")

    def _step(self, step: Any, said: str) -> None:
        self.notify(f"{said}: {step.label}" if step else "Nothing left.", markup=False, timeout=2)
        if step is not None:
            self._refill()
            self._apply()

    def action_back(self) -> None:
        """Out of the search first; then close."""
        search = self.query_one("#keys-search", Input)
        if search.has_focus or search.value:
            search.value = ""
            self.action_keys()
        else:
            if self.history.data is not self._kept:
                self._apply()
            self.dismiss(None)


def _shown(keys: str) -> str:
    """Keys as they are printed on a keyboard."""
    return " ".join(shown_key(key.strip()) for key in keys.split(","))
