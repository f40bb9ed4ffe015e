"""Saving a job or an allowance table: in one step, beside nobody's work, in the file's own style.

    opened = open_file(path)                                # data and fingerprint
    fingerprint = save(path, data, known=opened.fingerprint)

A save either happens whole or leaves the file that was there as it was.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ventsize.jobfile.atomic_write import sweep, write_whole
from ventsize.jobfile.bounds import LARGEST_FILE
from ventsize.jobfile.document import decoded, parse_toml, read_bytes
from ventsize.jobfile.editing.values import Data
from ventsize.jobfile.problems import InputError, Problem, Refused
from ventsize.jobfile.rewriting import NotToml, rewritten

NO_FILE = ""  # the fingerprint of a file that is not there


class SaveError(Refused):
    """A file that could not be saved; what was there is as it was. `problem` says why."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(str(problem))
        self.problem = problem


class FileChanged(SaveError):
    """Another program wrote, made or removed the file since it was read; nothing has been written."""


@dataclass(frozen=True, slots=True)
class OpenedFile:
    """The data of a file, and the fingerprint of what was read."""

    path: Path
    data: Data
    fingerprint: str


def open_file(path: Path) -> OpenedFile:
    """A file to be edited: it must be TOML, but need not be a valid job or table. Raises InputError."""
    content = read_bytes(path)
    text = decoded(content, file=str(path))
    sweep(Path(os.path.realpath(path)))
    return OpenedFile(path, parse_toml(text, file=str(path)), _fingerprint_of(content))


def fingerprint(path: Path) -> str:
    """The fingerprint of a file's content as it is now; NO_FILE where there is none. Raises InputError."""
    return _fingerprint_of(read_bytes(path)) if path.exists() else NO_FILE


def _fingerprint_of(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def save(path: Path, data: Mapping[str, Any], *, known: str | None) -> str:
    """Save the data in a file and return its new fingerprint.

    Comments, order and style of the file are kept where the values did not change; a new file is laid out afresh.

    known: fingerprint of the file when it was read, NO_FILE for a file that must not be there yet, None to write
        over whatever is there.
    Raises FileChanged where the file is not as known, SaveError where it cannot be saved.
    """
    shown = str(path)
    try:
        target = Path(os.path.realpath(path))
        content = _content(target, known, shown)
        made = rewritten(_text_of(content), data)
        if b"\r\n" in content:
            made = made.replace("\n", "\r\n")
        written = made.encode("utf-8")
        if len(written) > LARGEST_FILE:
            raise SaveError(Problem(shown, "", f"it would be {len(written) / 1e6:.0f} MB large", "a smaller file"))
        write_whole(target, written, ready=lambda: _refuse_changed(target, known, shown))
    except NotToml as error:
        raise SaveError(Problem(shown, "", f"it cannot be saved: {error}")) from None
    except UnicodeEncodeError:
        problem = Problem(shown, "", "it cannot be saved: a text in it holds half a character", "whole characters")
        raise SaveError(problem) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise SaveError(Problem(shown, "", f"it cannot be saved: {reason}", "a file that can be written")) from None
    except InputError as error:
        raise SaveError(error.problems[0]) from None
    return _fingerprint_of(written)


def _refuse_changed(target: Path, known: str | None, shown: str) -> None:
    _content(target, known, shown)


def _content(target: Path, known: str | None, shown: str) -> bytes:
    """What the file holds now, known to be what it held when it was read."""
    content = read_bytes(target) if target.exists() else None
    now = NO_FILE if content is None else _fingerprint_of(content)
    if known is not None and now != known:
        if known == NO_FILE:
            raise FileChanged(Problem(shown, "", "there is a file of this name already", "another name"))
        what = "it is no longer there" if content is None else "another program has changed it"
        raise FileChanged(Problem(shown, "", f"{what} since it was opened", "the file as it was read"))
    if content is not None and not os.access(target, os.W_OK):
        raise SaveError(Problem(shown, "", "it cannot be saved: the file may only be read", "leave to write to it"))
    return content or b""


def _text_of(content: bytes) -> str:
    """The text whose style is kept; empty where what is there is no TOML."""
    try:
        text = decoded(content, file="").replace("\r\n", "\n")
        parse_toml(text, file="")
    except InputError:
        return ""
    return text
