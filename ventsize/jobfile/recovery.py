"""Work kept safe while it is typed: after a crash the next start offers it back.

Each open file has a journal of its own in the user's folder: one small file that always holds the last snapshot,
whole, and beside it a lock that its program holds as long as it lives. A journal whose lock is free was left by a
program that died. Snapshots are put in place in one step, so that a program killed at any moment leaves the last one
or the one before. They survive the end of the program at once, and a power cut as soon as the system has written
them out, which a snapshot for every keystroke does not wait for.
"""

from __future__ import annotations

import datetime
import json
import os
import tomllib
import zlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any
from uuid import uuid4

from ventsize.jobfile.locks import Lock, take_lock

if TYPE_CHECKING:  # so that looking for unsaved work at the start loads nothing else
    from ventsize.jobfile.editing.values import Data
    from ventsize.jobfile.editing.values import Path as Place

_FOLDER = "unsaved"
_DATE = "<date>"
Drafts = Mapping["Place", str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapshot:
    """An open file at one moment.

    file: where it was read from or would be saved; None for work that has no file yet.
    fingerprint: of the file as it was read (`ventsize.jobfile.writer.fingerprint`).
    drafts: what was being typed and is not a value yet, by the path of its field.
    when: the moment, with its time zone.
    """

    file: Path | None
    data: Data
    fingerprint: str = ""
    label: str = ""
    drafts: Drafts = field(default_factory=dict)
    when: datetime.datetime


class Journal:
    """The journal of one open file; make it with `start_journal` or `Offer.resume`.

    Nothing here raises: editing goes on without a journal where the user's folder cannot be written, and
    `fault` says so.
    """

    def __init__(self, path: Path | None, lock: Lock | None, fault: str = "") -> None:
        self._path = path
        self._lock = lock
        self._beside = path.with_suffix(".part") if path else None
        self.fault = fault

    def note(
        self, data: Data, *, file: Path | None, fingerprint: str = "", label: str = "", drafts: Drafts | None = None
    ) -> None:
        """Keep the work as it stands now: to be called at every keystroke."""
        if self._path is None or self._beside is None:
            return
        when = datetime.datetime.now(datetime.UTC)
        snapshot = Snapshot(file=file, data=data, fingerprint=fingerprint, label=label, drafts=drafts or {}, when=when)
        try:
            self._beside.write_bytes(_written(snapshot))
            os.replace(self._beside, self._path)
        except (OSError, ValueError, TypeError, RecursionError) as error:
            self.fault = _fault(error)
        else:
            self.fault = ""

    def clear(self) -> None:
        """The work is saved, or given up: there is nothing to offer. What is typed later is kept again."""
        _remove(self._beside, self._path)

    def close(self) -> None:
        """The file is closed: nothing to offer, and no journal any more."""
        self.clear()
        if self._lock:
            self._lock.release()
        self._path = self._beside = self._lock = None


@dataclass(frozen=True, slots=True)
class Offer:
    """Work that a program left unsaved when it died."""

    path: Path
    snapshot: Snapshot

    def resume(self) -> Journal | None:
        """Go on with the work: its journal, which stays as it is until the next `note`.

        None where another program has taken it in the meantime.
        """
        lock = take_lock(_lock_of(self.path))
        if lock is None:
            return None
        if not self.path.exists():
            lock.release()
            return None
        return Journal(self.path, lock)

    def discard(self) -> None:
        """Give the work up. Does nothing where another program has taken it."""
        if journal := self.resume():
            journal.close()


def start_journal(folder: Path) -> Journal:
    """A journal for a file just opened. Nothing is written before the first `note`.

    folder: the user's own folder.
    """
    try:
        place = folder / _FOLDER
        place.mkdir(parents=True, exist_ok=True)
        for _ in range(3):  # a program that sweeps up may hold a new lock for a moment
            path = place / f"{uuid4().hex}.json"
            if lock := take_lock(_lock_of(path)):
                break
        return Journal(path, lock)
    except OSError as error:
        return Journal(None, None, _fault(error))


def pending_recoveries(folder: Path) -> tuple[Offer, ...]:
    """The work left unsaved by programs that died, latest first.

    folder: the user's own folder.
    """
    try:
        paths = sorted((folder / _FOLDER).iterdir())
    except OSError:
        return ()
    found = [offer for path in paths if path.suffix == ".json" and (offer := _left_behind(path))]
    _sweep([path for path in paths if path.suffix == ".lock" and not path.with_suffix(".json").exists()])
    return tuple(sorted(found, key=lambda offer: offer.snapshot.when, reverse=True))


def _left_behind(path: Path) -> Offer | None:
    try:
        lock = take_lock(_lock_of(path))
        if lock is None:
            return None
        try:
            return Offer(path, _read(path.read_bytes()))
        finally:
            lock.release()
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return None  # gone in the meantime, or not one of ours; it is left where it is


def _sweep(locks: list[Path]) -> None:
    """Remove what programs that died before their first snapshot left."""
    for path in locks:
        try:
            lock = take_lock(path)
        except OSError:
            continue
        if lock:
            _remove(path.with_suffix(".part"))
            lock.release()


def _lock_of(path: Path) -> Path:
    return path.with_suffix(".lock")


def _remove(*paths: Path | None) -> None:
    for path in paths:
        if path:
            try:
                path.unlink(missing_ok=True)
            except OSError:
                continue


def _fault(error: Exception) -> str:
    reason = getattr(error, "strerror", None) or str(error)
    return f"Unsaved work is not kept safe from a crash: {reason}."


def _written(snapshot: Snapshot) -> bytes:
    """A checksum on the first line, the snapshot as JSON after it."""
    body = json.dumps(
        {
            "file": None if snapshot.file is None else os.fspath(snapshot.file),
            "fingerprint": snapshot.fingerprint,
            "label": snapshot.label,
            "when": snapshot.when.isoformat(),
            "drafts": [[list(place), text] for place, text in snapshot.drafts.items()],
            "data": snapshot.data,
        },
        default=_date,
        separators=(",", ":"),
    ).encode("ascii")
    return b"%08x\n%b" % (zlib.crc32(body), body)


def _read(written: bytes) -> Snapshot:
    checksum, _, body = written.partition(b"\n")
    if int(checksum, 16) != zlib.crc32(body):
        raise ValueError("damaged")
    kept = json.loads(body, object_hook=_dated)
    return Snapshot(
        file=None if kept["file"] is None else Path(kept["file"]),
        data=kept["data"],
        fingerprint=kept["fingerprint"],
        label=kept["label"],
        drafts={tuple(place): text for place, text in kept["drafts"]},
        when=datetime.datetime.fromisoformat(kept["when"]),
    )


def _date(value: object) -> dict[str, str]:
    """Dates and times, which TOML has and JSON has not, in the words of TOML."""
    if not isinstance(value, (datetime.date, datetime.time)):
        raise TypeError(f"{type(value).__name__} is not a value of a TOML file")
    return {_DATE: value.isoformat()}


def _dated(table: dict[str, Any]) -> Any:
    return tomllib.loads(f"x = {table[_DATE]}")["x"] if table.keys() == {_DATE} else table
