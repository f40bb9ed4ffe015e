"""Whose paper it is: heading and contact, from the user's own folder."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from ventsize.catalog.folders import user_folder
from ventsize.catalog.properties import Written
from ventsize.jobfile.document import read_toml, record, validate
from ventsize.jobfile.fields import Expected

FILE_NAME = "letterhead.toml"
_MOST, _MOST_LINES = 80, 5

_Line = Annotated[Written, Field(max_length=_MOST), Expected(f"a line of text of {_MOST} characters or fewer")]


@record
class Letterhead:
    """heading: the name of the business. contact: address, telephone, license, a line each."""

    heading: _Line
    contact: Annotated[
        tuple[_Line, ...], Field(max_length=_MOST_LINES), Expected(f"up to {_MOST_LINES} lines of text")
    ] = ()


def own_letterhead() -> Letterhead | None:
    """The user's own, or None where they keep none. Raises InputError with every fault found."""
    path = user_folder() / FILE_NAME
    return validate(read_toml(path), Letterhead, file=str(path)) if path.is_file() else None
