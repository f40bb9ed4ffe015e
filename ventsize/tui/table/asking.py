"""What is asked before a table is begun or handed out: the kind of its rows, and where a file is to go."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from textual.screen import Screen

from ventsize.catalog.folders import at_home
from ventsize.tui.table import model
from ventsize.tui.table.handing import give_out
from ventsize.tui.table.screen import TableScreen
from ventsize.tui.widgets.file_picker import FilePicker
from ventsize.tui.widgets.picker import Picker
from ventsize.tui.widgets.question import Question

LAYOUTS = (
    ("size", "Sizes across", "inputs and altitudes down, a length in each cell"),
    ("input", "Inputs across", "sizes and altitudes down"),
    ("altitude", "Altitudes across", "inputs and sizes down"),
    ("elbows", "Numbers of elbows across", "0, 1, 2 … over straight lengths"),
    ("elbows-size", "Sizes across, elbows down", "a line for each number of elbows"),
    ("list", "One length a line", "input, size, altitude and length beside each other"),
)


def ask_kind(screen: Screen[Any], first: dict[str, Any] | None = None) -> None:
    """Ask what the page looks like, and open a table of that kind to be typed.

    first: what is known of its first row already.
    """

    def chosen(word: str | None) -> None:
        if word is None:
            return
        kind = model.OF_ELBOWS if word.startswith("elbows") else model.PLAIN
        across = {"elbows": "", "elbows-size": "size", "list": ""}.get(word, word)
        data = model.empty_table(kind)
        if first:
            lengths: dict[str, Any] = {"allowable_by_elbows": []} if kind == model.OF_ELBOWS else {"allowable": ""}
            data = {**data, "row": [{**first, "altitude": ["", ""], **lengths}]}
        screen.app.push_screen(TableScreen.of_new(data, across=across, worth_keeping=bool(first)))

    screen.app.push_screen(Picker("How does the page give its lengths? (v changes it)", LAYOUTS), chosen)


def export(screen: Screen[Any], path: Path) -> None:
    """Ask where to, and write."""

    def chosen(target: Path | None) -> None:
        if target is not None:
            write(target, overwrite=False)

    def write(target: Path, *, overwrite: bool) -> None:
        if target.exists() and not overwrite:
            answers = (("over", "Write over it", "w"), ("leave", "Leave it", "l"))

            def answered(word: str | None) -> None:
                if word == "over":
                    write(target, overwrite=True)

            screen.app.push_screen(Question("There is such a file", f"{target} is there already.", answers), answered)
            return
        fault = give_out(path, target)
        said = f"Not written: {fault}" if fault else f"Written: {target}"
        screen.notify(said, severity="error" if fault else "information", markup=False, timeout=6)

    title = "Export to (a name ending in .csv: for a spreadsheet)"
    picker = FilePicker(title, at_home("~"), suffixes=(".toml", ".csv"), name=path.name, saving=True)
    screen.app.push_screen(picker, chosen)
