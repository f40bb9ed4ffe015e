"""A file put in place in one step: every reader sees what was there or what is new, and never half of either.

The new content is written to a file beside it, which is locked as long as its program lives. One that a killed program
left there is not locked any more; the next write of the same file removes it.
"""

from __future__ import annotations

import os
import re
import stat
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from uuid import uuid4

from ventsize.jobfile.locks import hold, remove_left_behind

_NAME = 60  # characters of the file's name in that of the one beside it
_ENDING = ".part"


def write_whole(target: Path, content: bytes, *, ready: Callable[[], None] | None = None, fresh: bool = False) -> None:
    """Put the content in place of the file, whole or not at all. Raises OSError.

    ready: called as late as possible before it is put there; may raise to prevent it.
    fresh: the file must not be there yet; FileExistsError where somebody else has just made it.
    """
    sweep(target)
    beside, handle = _made_beside(target)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(handle)
            _copy_owner(target, beside)
            if os.name == "nt":  # a file that is open cannot be renamed there, and is not locked
                file.close()
            if ready is not None:
                ready()
            _put(beside, target, fresh)
    except BaseException:
        with suppress(OSError):
            beside.unlink()
        raise
    _sync_folder(target.parent)


def sweep(target: Path) -> None:
    """Remove what killed programs left beside a file. Failing to is no reason to stop anybody."""
    mine = re.compile(rf"{re.escape(_beginning(target))}[0-9a-f]{{8}}{re.escape(_ENDING)}")
    with suppress(OSError, ValueError):
        for entry in os.scandir(target.parent):
            if mine.fullmatch(entry.name):
                remove_left_behind(Path(entry.path))


def _made_beside(target: Path) -> tuple[Path, int]:
    """A new file beside another, open and locked."""
    while True:
        beside = target.with_name(f"{_beginning(target)}{uuid4().hex[:8]}{_ENDING}")
        handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
        if hold(handle, beside):
            return beside, handle
        os.close(handle)  # somebody swept up before it was locked: another one


def _beginning(target: Path) -> str:
    return f".{target.name[:_NAME]}."


def _put(beside: Path, target: Path, fresh: bool) -> None:
    if fresh:
        try:
            os.link(beside, target)  # unlike a rename, this fails where somebody else just made the file
        except FileExistsError:
            raise
        except OSError:  # a file system without links
            os.replace(beside, target)
        else:
            beside.unlink()
    else:
        os.replace(beside, target)


def _copy_owner(target: Path, beside: Path) -> None:
    """Who may read and write the new file is who might the old one."""
    try:
        was = target.stat()
    except FileNotFoundError:
        return
    if hasattr(os, "chown") and (was.st_uid, was.st_gid) != (os.getuid(), os.getgid()):
        with suppress(OSError):  # it is not ours to give away
            os.chown(beside, was.st_uid, was.st_gid)
    beside.chmod(stat.S_IMODE(was.st_mode))


def _sync_folder(folder: Path) -> None:
    """Have the new name survive a power cut, where folders can be written out."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
