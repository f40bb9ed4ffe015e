"""A lock that one program at a time can hold, and that the system lets go of when that program ends, however."""

from __future__ import annotations

import os
from pathlib import Path

try:
    import fcntl
except ImportError:  # not a Unix
    fcntl = None  # type: ignore[assignment]


class Lock:
    """A held lock on a file made for the purpose."""

    def __init__(self, path: Path, handle: int) -> None:
        self.path = path
        self._handle = handle

    def release(self) -> None:
        """Let go, and remove the file."""
        if fcntl:  # the file first: nobody may take the lock of a file about to vanish
            self.path.unlink(missing_ok=True)
            os.close(self._handle)
        else:  # a file that is open cannot be removed there
            os.close(self._handle)
            try:
                self.path.unlink(missing_ok=True)
            except OSError:
                return  # another program has just taken it


def take_lock(path: Path) -> Lock | None:
    """The lock, or None where another program holds it. Raises OSError where none can be made."""
    while True:
        handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
        try:
            if not _locked(handle):
                os.close(handle)
                return None
            if _is_still(handle, path):
                return Lock(path, handle)
        except BaseException:
            os.close(handle)
            raise
        os.close(handle)  # its last holder removed the file in between: try the new one


def hold(handle: int, path: Path) -> bool:
    """Lock a file just made as long as it is open, where locks do not stand in the way of renaming; gives whether it
    is still there. Where there are no locks, nobody sweeps up either."""
    if fcntl:
        _locked(handle)
    return _is_still(handle, path)


def remove_left_behind(path: Path) -> None:
    """Remove a file that was locked by the program that made it, if that program has ended. Raises OSError."""
    if not fcntl:  # one that a living program has open cannot be removed there
        path.unlink()
        return
    handle = os.open(path, os.O_RDWR | getattr(os, "O_NOFOLLOW", 0))
    try:
        if _locked(handle) and _is_still(handle, path):
            path.unlink()
    finally:
        os.close(handle)


def _locked(handle: int) -> bool:
    try:
        if fcntl:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        else:
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined]
    except OSError:  # held elsewhere; or no locks on this file system, where to leave it alone is safe too
        return False
    return True


def _is_still(handle: int, path: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(handle), path.stat())
    except FileNotFoundError:
        return False
