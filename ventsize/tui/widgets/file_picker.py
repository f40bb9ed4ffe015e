"""Choosing a file by keys: to open one, or to say where one is to be saved, with the whole path always in sight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from ventsize.catalog.folders import at_home
from ventsize.tui.widgets.rows import Cell, Column, Row, Rows
from ventsize.tui.widgets.said import OneLine
from ventsize.tui.widgets.text import one_line


def shown(path: Path) -> str:
    """A path as people write it: one's own folder is ~."""
    try:
        return str(Path("~") / path.relative_to(at_home("~")))
    except ValueError:
        return str(path)


@dataclass(frozen=True, slots=True)
class Folder:
    """What a folder holds, as far as it is of interest. fault: why it cannot be looked into."""

    folders: tuple[Path, ...] = ()
    files: tuple[Path, ...] = ()
    fault: str = ""


def look_into(folder: Path, suffixes: Sequence[str]) -> Folder:
    """The folders and the files with one of these suffixes in a folder, hidden ones left out."""
    try:
        inside = sorted(folder.iterdir(), key=lambda path: path.name.lower())
        shown = [path for path in inside if not path.name.startswith(".")]
        folders = tuple(path for path in shown if path.is_dir())
        files = tuple(path for path in shown if path.suffix.lower() in suffixes and path.is_file())
    except OSError as error:
        return Folder(fault=f"{folder}: {error.strerror}")
    return Folder(folders, files)


def meant(text: str, folder: Path, suffix: str = "") -> Path:
    """The path that a typed text means: a bare name lies in the folder, and gets the suffix if it has none."""
    path = folder / at_home(text.strip())
    last = Path(text.strip()).name
    is_name = last not in ("", "..", "~") and not text.strip().endswith("/")  # else a folder is meant
    return path.with_name(path.name + suffix) if suffix and is_name and not path.suffix else path


def _state(path: Path) -> str:
    """What Enter would do with a path to save to."""
    if path.is_dir():
        return "Enter goes into the folder"
    return "! There is such a file already:" if path.exists() else "Will be saved as"


class FilePicker(ModalScreen[Path | None]):
    """Gives a path, or None.

    suffixes: of the files listed, the first for a name typed without one. saving: whether the file is to be written;
    then a name that is there already is said so, and the owner asks before it writes.
    """

    DEFAULT_CSS = """
    FilePicker {
        align: center middle;
        & > Vertical {
            width: 76; max-width: 96%; height: auto; max-height: 92%;
            background: $panel; border: round $primary; padding: 0 1;
        }
        & Rows { height: auto; min-height: 3; max-height: 13; }
        & #file-folder { height: 1; color: $text-muted; }
        & #file-said { height: auto; min-height: 1; }
        & .picker-foot { height: auto; color: $text-muted; }
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Close", id="file.leave"),
        Binding("down", "move(1)", "Down", show=False, priority=True, id="file.down"),
        Binding("up", "move(-1)", "Up", show=False, priority=True, id="file.up"),
        Binding("tab", "fill", "Take the name under the cursor", show=False, priority=True, id="file.fill"),
        Binding("ctrl+up,shift+tab", "outwards", "Folder above", show=False, priority=True, id="file.outwards"),
    ]

    topic = "file"

    def __init__(
        self, title: str, folder: Path, *, suffixes: Sequence[str] = (".toml",), name: str = "", saving: bool = False
    ) -> None:
        super().__init__()
        self._title = title
        self._folder = folder
        self._suffixes = tuple(suffixes)
        self._name = name
        self._saving = saving
        self._inside = Folder()
        self._pointed = False  # whether the cursor was put on a row by its owner
        self._rows = Rows([Column(width=40, grow=1), Column(width=14)], head=False)
        self._rows.can_focus = False

    def compose(self) -> ComposeResult:
        """The line for the name over the folder."""
        with Vertical() as box:
            box.border_title = Content(self._title)
            line = Input(self._name, placeholder="name, or a path", compact=True)
            line.cursor_blink = False
            yield line
            yield OneLine(id="file-folder")
            yield self._rows
            yield Static("", id="file-said", markup=False)
            doing = "saves" if self._saving else "opens"
            yield Static(
                f"Enter {doing}, or goes into a folder   Tab takes the name   Shift+Tab: folder above   Esc closes",
                classes="picker-foot", markup=False,
            )  # fmt: skip

    def on_mount(self) -> None:
        """The folder as it is."""
        while not self._folder.is_dir() and self._folder != self._folder.parent:
            if self._saving:
                break  # it is made when something is saved in it
            self._folder = self._folder.parent
        self._look()

    def _look(self) -> None:
        there = self._folder.is_dir()
        self._inside = look_into(self._folder, self._suffixes) if there else Folder()
        self.query_one("#file-folder", OneLine).update(
            Content(f"In {shown(self._folder)}{'' if there else ' (to be made)'}")
        )
        self._fill()

    @property
    def _text(self) -> str:
        return self.query_one(Input).value

    def _fill(self) -> None:
        wanted = "" if self._saving else self._text.lower().strip()
        rows = [Row(key=self._folder.parent, cells=("../", Cell("folder above", "faint")))]
        rows += [
            Row(key=path, cells=(f"{path.name}/", Cell("folder", "faint")))
            for path in self._inside.folders if wanted in path.name.lower()
        ]  # fmt: skip
        rows += [Row(key=path, cells=(path.name, "")) for path in self._inside.files if wanted in path.name.lower()]
        self._pointed = False
        self._rows.show(rows)
        self._rows.go(1 if len(rows) > 1 else 0)
        self._tell()

    def _tell(self) -> None:
        said = self._inside.fault
        if self._saving and self._text.strip():
            path = meant(self._text, self._folder, self._suffixes[0])
            said = f"{_state(path)} {shown(path)}"
        self.query_one("#file-said", Static).update(Content(one_line(said)))

    def on_input_changed(self, event: Input.Changed) -> None:
        """The list follows what is typed; a path ending in a slash goes there."""
        event.stop()
        folder = at_home(event.value)
        if event.value.endswith("/") and event.value.strip() != "/" and (self._folder / folder).is_dir():
            self._folder = self._folder / folder
            event.input.value = ""
            self._look()
            return
        self._fill()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter: what is typed, or what the cursor stands on."""
        event.stop()
        self._take(self._path())

    def _path(self) -> Path | None:
        text, row = self._text.strip(), self._rows.current
        here = Path(str(row.key)) if row is not None else None
        if self._saving:
            return here if self._pointed and here is not None and here.is_dir() else (
                meant(text, self._folder, self._suffixes[0]) if text else None
            )  # fmt: skip
        typed = meant(text, self._folder) if text else None
        if typed is not None and not self._pointed:
            for path in (typed, meant(text, self._folder, self._suffixes[0])):
                if path.exists():
                    return path
        return here if here is not None and (self._pointed or here != self._folder.parent) else typed

    def _take(self, path: Path | None) -> None:
        if path is None:
            self.query_one("#file-said", Static).update(Content("! Type a name for the file."))
            return
        if path.is_dir():
            self._folder = path.resolve()
            if not self._saving:
                self.query_one(Input).value = ""
            self._look()
        elif self._saving:
            self._save_to(path)
        elif path.exists():
            self.dismiss(path)
        else:
            self.query_one("#file-said", Static).update(Content(f"! There is no file {shown(path)}"))

    def _save_to(self, path: Path) -> None:
        """Give the path; the folder that was said to be made is made."""
        try:
            if path.parent == self._folder:
                path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            self.query_one("#file-said", Static).update(Content(f"! {shown(path.parent)}: {error.strerror}"))
        else:
            self.dismiss(path)

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """A double click takes what it is on."""
        event.stop()
        self._pointed = True
        if event.rows.current is not None:
            path = Path(str(event.rows.current.key))
            if self._saving and not path.is_dir():
                self.query_one(Input).value = path.name
            else:
                self._take(path)

    def on_rows_moved(self, event: Rows.Moved) -> None:
        """Nobody else need know."""
        event.stop()

    def action_move(self, step: int) -> None:
        """Up and down work while typing."""
        self._pointed = True
        self._rows.action_move(step)

    def action_fill(self) -> None:
        """The name under the cursor into the line."""
        if self._rows.current is not None:
            path = Path(str(self._rows.current.key))
            if path.is_dir():
                self._take(path)
            else:
                self.query_one(Input).value = path.name
                self.query_one(Input).cursor_position = len(path.name)

    def action_outwards(self) -> None:
        """The folder above."""
        self._folder = self._folder.parent
        self._look()

    def action_leave(self) -> None:
        """No file."""
        self.dismiss(None)
