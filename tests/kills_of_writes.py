"""Kill a program in the middle of each kind of write, and see what is left.

The program is a copy of this one (a fork), so that a kill costs no start; it says on a pipe when each write begins and
ends. Afterwards the file must be whole, the last one written or the one before, and once the work goes on nothing may
lie beside it.
"""

from __future__ import annotations

import os
import random
import signal
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import NoReturn

import pytest

from tests.conftest import PERSONAL_FOLDERS
from ventsize.jobfile.recovery import Journal, pending_recoveries, start_journal
from ventsize.jobfile.visits import add_visit, read_visits
from ventsize.jobfile.writer import open_file, save
from ventsize.report.paper import Paper, Paragraph, write
from ventsize.studies.lessons.keeping import KeptMark, keep_marks, kept_marks
from ventsize.tui.settings import load_settings, recent_jobs, remember_job, save_settings

AT_HAND = hasattr(os, "fork")
ROUND = 20  # kills in one folder
PIECES = [{"pipe": "12 ft 6 in", "heading": "up"}, {"fitting": "elbow-90-long"}] * 100
FIRST_DAY = date(2000, 1, 1)


class LostInWriting(AssertionError):
    """A file that is not whole, or something left behind."""


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of write. do: the write of a number. found: the number that is there now."""

    do: Callable[[Path, int], None]
    found: Callable[[Path], int]


def _job(folder: Path, number: int) -> None:
    save(folder / "job.toml", {"title": str(number), "run": [{"name": "vent", "pieces": PIECES}]}, known=None)


def _job_found(folder: Path) -> int:
    data = open_file(folder / "job.toml").data
    assert len(data["run"][0]["pieces"]) == len(PIECES)
    return int(data["title"])


def _visit(folder: Path, number: int) -> None:
    add_visit(folder / "job.toml", {"date": FIRST_DAY + timedelta(days=number), "job": "title = 'x'"})


def _visit_found(folder: Path) -> int:
    """The last of them; all before it must be there too."""
    days = [(visit.date - FIRST_DAY).days for visit in read_visits(folder / "job.toml")]
    assert days == list(range(len(days)))
    return days[-1]


def _settings(_: Path, number: int) -> None:
    assert not save_settings({"altitude": f"{number} ft", "keys": {"job.save": "f2"}})


def _settings_found(_: Path) -> int:
    found = load_settings()
    assert not found.faults and found.keys
    return int(found.altitude.removesuffix(" ft"))


def _mark(_: Path, number: int) -> None:
    keep_marks([KeptMark(who="a", lesson="b", question=number, points=1)])


def _mark_found(_: Path) -> int:
    questions = sorted(mark.question for mark in kept_marks())
    assert questions == list(range(1, len(questions) + 1))
    return questions[-1]


def _paper(folder: Path, number: int) -> None:
    write(Paper(title="Paper", blocks=[Paragraph("word " * 2_000), Paragraph(f"number {number}")]),
          {"markdown": folder / "paper.md"}, replace=True)  # fmt: skip


def _paper_found(folder: Path) -> int:
    return int((folder / "paper.md").read_text(encoding="utf-8").rstrip().rpartition("number ")[2])


def _recent(folder: Path, number: int) -> None:
    job = folder / f"{number}.job"
    job.touch()
    remember_job(job)


def _recent_found(_: Path) -> int:
    return int(recent_jobs()[0].stem)


_journals: dict[int, Journal] = {}  # by process


def _typing(folder: Path, number: int) -> None:
    journal = _journals.get(os.getpid()) or start_journal(folder / "own")
    _journals[os.getpid()] = journal
    journal.note({"title": str(number), "run": [{"pieces": PIECES}]}, file=folder / "job.toml")
    assert not journal.fault


def _typing_found(folder: Path) -> int:
    """What is offered; it is taken up and written on by a later write, as when somebody goes on with it."""
    (offer,) = pending_recoveries(folder / "own")
    assert len(offer.snapshot.data["run"][0]["pieces"]) == len(PIECES)
    number = int(offer.snapshot.data["title"])
    offer.discard()
    return number


KINDS: dict[str, Kind] = {
    "a job": Kind(_job, _job_found),
    "a visit": Kind(_visit, _visit_found),
    "settings": Kind(_settings, _settings_found),
    "marks of a class": Kind(_mark, _mark_found),
    "a paper": Kind(_paper, _paper_found),
    "recent jobs": Kind(_recent, _recent_found),
    "typing": Kind(_typing, _typing_found),
}


def kill_writes(name: str, times: int, chance: random.Random) -> None:
    """Kill that kind of write so many times. Raises LostInWriting."""
    kind = KINDS[name]
    for first in range(0, times, ROUND):
        with tempfile.TemporaryDirectory() as place, pytest.MonkeyPatch.context() as patch:
            folder = Path(place)
            for variable in PERSONAL_FOLDERS:
                patch.setenv(variable, place)
            patch.setenv("VENTSIZE_FOLDER", str(folder / "own"))
            (folder / "own").mkdir()
            number = 1 if kind.do is _mark else 0
            if kind.do is not _typing:
                kind.do(folder, number)
            for _ in range(min(ROUND, times - first)):
                number = _kill_one(kind, name, folder, number + 1, chance)
            if kind.do is not _typing:
                kind.do(folder, number + 1)
                _same(kind.found(folder), (number + 1,), name)
            left = [str(path) for path in folder.rglob("*") if path.suffix in (".part", ".lock", ".json")]
            if left:
                raise LostInWriting(f"{name}: left behind: {', '.join(left)}")


def _kill_one(kind: Kind, name: str, folder: Path, start: int, chance: random.Random) -> int:
    """Kill a copy of this program that writes from a number on; the number found."""
    out, into = os.pipe()
    child = os.fork()
    if not child:
        _write_on(kind, folder, start, into)
    os.close(into)
    with os.fdopen(out, "rb") as said:
        told = said.read(3 if kind.do is _typing else 1)  # a keystroke is through, or a write has begun
        time.sleep(chance.uniform(0.0, 0.02))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        told += said.read()
    begun, ended = start + told.count(b"b") - 1, start + told.count(b"e") - 1
    if b"x" in told:
        raise LostInWriting(f"{name}: a write failed")
    try:
        found = kind.found(folder)
    except Exception as error:
        raise LostInWriting(f"{name}: {type(error).__name__}: {error}") from error
    return _same(found, range(ended, begun + 1), name)


def _same(found: int, wanted: range | tuple[int, ...], name: str) -> int:
    if found not in wanted:
        raise LostInWriting(f"{name}: {found} found, {wanted} written")
    return found


def _write_on(kind: Kind, folder: Path, start: int, into: int) -> NoReturn:
    """In the copy: write until killed."""
    try:
        for number in range(start, start + 100_000):
            os.write(into, b"b")
            kind.do(folder, number)
            os.write(into, b"e")
    finally:
        os.write(into, b"x")
        os._exit(1)
