"""Whose paper it is: heading, contact and logo, from the user's own folder."""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from pydantic import Field

from ventsize.catalog.folders import user_folder
from ventsize.catalog.properties import Written
from ventsize.jobfile.atomic_write import write_whole
from ventsize.jobfile.document import read_bytes, read_toml, record, validate
from ventsize.jobfile.field_types import Expected
from ventsize.jobfile.problems import InputError, Problem
from ventsize.report.paper import Logo

FILE_NAME = "letterhead.toml"
_MOST, _MOST_LINES = 80, 5
_PICTURE = "a PNG or JPEG file"
_MOST_PIXELS, _SHOWN = 25_000_000, (1200, 480)  # of the file; what is put on the paper is no larger

_Line = Annotated[Written, Field(max_length=_MOST), Expected(f"a line of text of {_MOST} characters or fewer")]


@record
class Letterhead:
    """heading: the name of the business. contact: address, telephone, license, a line each. logo: a picture's file."""

    heading: _Line
    contact: Annotated[
        tuple[_Line, ...], Field(max_length=_MOST_LINES), Expected(f"up to {_MOST_LINES} lines of text")
    ] = ()
    logo: Annotated[Written | None, Expected("the name of a picture's file, such as 'logo.png'")] = None


@dataclass(frozen=True, slots=True)
class Head:
    """What heads a paper: a line of heading and contact, and a logo; neither where the user keeps none."""

    line: str = ""
    logo: Logo | None = None


def own_head() -> Head:
    """The user's own. Raises InputError with every fault found."""
    path = user_folder() / FILE_NAME
    if not path.is_file():
        return Head()
    kept = validate(read_toml(path), Letterhead, file=str(path))
    logo = None if kept.logo is None else _logo(user_folder() / Path(kept.logo).expanduser(), kept.heading)
    return Head(". ".join((kept.heading, *kept.contact)), logo)


def keep_heading(text: str) -> None:
    """The name of the business, kept. Raises InputError where it is none or the file is at fault, OSError."""
    import tomlkit

    path = user_folder() / FILE_NAME
    kept = tomlkit.parse(path.read_text(encoding="utf-8")) if path.is_file() else tomlkit.document()
    kept["heading"] = text
    validate(kept.unwrap(), Letterhead, file=str(path))
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, tomlkit.dumps(kept).encode())


def _logo(path: Path, heading: str) -> Logo:
    """A picture made anew, so that nothing else of its file is handed on.

    Raises InputError where the file is no picture, or too large a one.
    """
    from PIL import Image

    content = read_bytes(path, expected=_PICTURE)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)  # looked at below
            picture = Image.open(io.BytesIO(content), formats=("PNG", "JPEG"))
        if picture.width * picture.height > _MOST_PIXELS:
            said = f"it is {picture.width:,} by {picture.height:,} pixels"
            raise InputError(Problem(str(path), "", said, f"no more than {_MOST_PIXELS:,} in all"))
        shown = picture.convert("RGBA")
        shown.thumbnail(_SHOWN)
        made = io.BytesIO()
        Image.alpha_composite(Image.new("RGBA", shown.size, "white"), shown).convert("RGB").save(made, "PNG")
    except (OSError, SyntaxError, ValueError, OverflowError, EOFError, MemoryError) as error:
        raise InputError(Problem(str(path), "", "it is no picture that can be read", _PICTURE)) from error
    except Image.DecompressionBombError as error:
        raise InputError(Problem(str(path), "", "it has too many pixels", _PICTURE)) from error
    wide, high = shown.size
    return Logo(png=made.getvalue(), wide=wide, high=high, alt=f"Logo of {heading}")
