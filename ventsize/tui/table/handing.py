"""Tables handed from and to other places: sheets and files."""

from __future__ import annotations

from pathlib import Path

from ventsize.allowance.sheet import as_sheet, from_sheet, is_sheet
from ventsize.jobfile.document import parse_toml, read_text, read_toml
from ventsize.jobfile.editing import Data
from ventsize.jobfile.problems import InputError, Problem
from ventsize.tui.table import model
from ventsize.view.page.pasted import understand, with_pasted


def data_from(text: str, path: Path) -> Data:
    """The data of a table file or of a sheet, whether written here or elsewhere. Raises InputError."""
    if path.suffix.lower() == ".toml":
        return parse_toml(text, file=str(path))
    if is_sheet(text):
        return from_sheet(text)
    found = understand(text)
    if found is None:
        expected = "heads over the columns: input, size, altitude, allowed; or sizes across"
        raise InputError(Problem(str(path), "", "no page of lengths is found in it", expected))
    return with_pasted({**model.empty_table(), "title": path.stem}, found)


def give_out(path: Path, target: Path) -> str:
    """Write a table file to another place, as it stands or, by its name, as a sheet; gives why that failed."""
    try:
        sheet = target.suffix.lower() == ".csv"
        text = as_sheet(read_toml(path)) if sheet else read_text(path)
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8")
    except InputError as error:
        return str(error.problems[0])
    except OSError as error:
        return f"{target}: {error.strerror}"
    return ""
