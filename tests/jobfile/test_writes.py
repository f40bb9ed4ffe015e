"""Every kind of write, on a disk that is full, a folder that may only be read, at clocks that jump, after a kill.

What was there stays whole, the person is told in a sentence, and nothing is left lying about.
"""

from __future__ import annotations

import datetime
import os
import random
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests import kills_of_writes
from ventsize.allowance.reading import read_table
from ventsize.cli import main
from ventsize.jobfile import atomic_write, recovery
from ventsize.jobfile.atomic_write import sweep, write_whole
from ventsize.jobfile.job import read_job
from ventsize.jobfile.problems import Refused
from ventsize.jobfile.recovery import pending_recoveries, start_journal
from ventsize.jobfile.visits import add_visit, visits_file
from ventsize.jobfile.writer import NO_FILE, open_file, save
from ventsize.studies.lessons.keeping import KeptMark, keep_marks
from ventsize.studies.pricing.own import keep_prices
from ventsize.tui.settings import remember_job, save_settings

EARLIER = Path(__file__).parent / "earlier"


def _save_job(job: Path) -> None:
    save(job, {"title": "other"}, known=None)


def _save_new(job: Path) -> None:
    save(job.with_name("new.toml"), {"title": "other"}, known=NO_FILE)


def _visit(job: Path) -> None:
    add_visit(job, {"date": datetime.date(2026, 11, 20), "job": "title = 'x'"})


def _settings(_: Path) -> None:
    if fault := save_settings({"units": "si"}):
        raise Refused(fault)


def _marks(_: Path) -> None:
    keep_marks([KeptMark(who="a", lesson="b", question=1, points=1)])


def _prices(job: Path) -> None:
    keep_prices(job.with_name("prices.toml"))


def _recent(job: Path) -> None:
    remember_job(job)


def _paper(job: Path) -> None:
    if main(["paper", str(job), "--markdown", str(job.with_suffix(".md")), "--replace"]) not in (0, 1):
        raise Refused("said on standard error")


def _take(job: Path) -> None:
    words = ["options", str(job), "--sizes", "3 in", "--take", "1", "--to", str(job.with_name("taken.toml"))]
    if main(words) not in (0, 1):
        raise Refused("said on standard error")


WRITES: dict[str, Callable[[Path], None]] = {
    "a job": _save_job, "a new job": _save_new, "a visit": _visit, "settings": _settings, "marks": _marks,
    "prices": _prices, "recent jobs": _recent, "a paper": _paper, "a job taken": _take,
}  # fmt: skip


@pytest.fixture
def job(root: Path, tmp_path: Path) -> Path:
    """A job with its table, a price list and a visit, in a folder of its own."""
    for name in ("scenarios/simple-pass.toml", "tables/demo-two-stage.toml"):
        shutil.copy(root / name, tmp_path)
    shutil.copy(root / "tables" / "invented-prices.toml", tmp_path / "prices.toml")
    found = tmp_path / "simple-pass.toml"
    _visit(found)
    return found


def held(*folders: Path) -> dict[str, bytes]:
    """Every file below some folders."""
    return {str(path): path.read_bytes() for folder in folders for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize("step", ["write", "fsync", "replace"])
@pytest.mark.parametrize("write", WRITES)
def test_a_full_disk(
    write: str, step: str, job: Path, nobody_home: Path, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    """At whichever step it fills up: what was there is as it was, and nothing besides."""
    WRITES[write](job)  # once, so that there is something to lose
    (job.with_name("taken.toml")).unlink(missing_ok=True)
    (job.with_name("new.toml")).unlink(missing_ok=True)
    before = held(job.parent, nobody_home)

    def full(*_: Any, **__: Any) -> None:
        raise OSError(28, "No space left on device")

    if step == "write":
        monkeypatch.setattr(atomic_write.os, "fdopen", full)
    else:
        monkeypatch.setattr(atomic_write.os, step, full)
        monkeypatch.setattr(atomic_write.os, "link", full)
    try:
        WRITES[write](job)
    except (Refused, OSError) as error:
        assert "No space left" in str(error) + capsys.readouterr().err
    else:
        assert write == "recent jobs"  # nobody is stopped for these
    monkeypatch.undo()
    assert held(job.parent, nobody_home) == before


@pytest.mark.skipif(os.name == "nt" or os.getuid() == 0, reason="whoever runs this may write anywhere")
@pytest.mark.parametrize("write", ["a job", "a visit", "a paper", "a new job"])
def test_a_folder_that_may_only_be_read(write: str, job: Path) -> None:
    """Nothing is written, and that is said."""
    before = held(job.parent)
    job.parent.chmod(0o500)
    try:
        with pytest.raises(Refused):
            WRITES[write](job)
    finally:
        job.parent.chmod(0o700)
    assert held(job.parent) == before


KILLED = """
import os, sys
from pathlib import Path
from ventsize.jobfile import atomic_write
def die(*_):
    os._exit(9)
setattr(atomic_write.os, sys.argv[2], die)
atomic_write.write_whole(Path(sys.argv[1]), b"new = 1\\n")
"""


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_what_a_kill_leaves_is_cleared_away(job: Path, step: str) -> None:
    """By the next who opens the file to edit it, and by the next who saves it; another file's is left to it."""
    other = job.with_name("other.toml")
    for target in (job, other):
        subprocess.run([sys.executable, "-c", KILLED, str(target), step], check=False)
    assert len(list(job.parent.glob(".*.part"))) == 2
    open_file(job)
    assert [path.name.split(".")[1] for path in job.parent.glob(".*.part")] == ["other"]
    save(other, {"title": "x"}, known=None)
    assert list(job.parent.glob(".*.part")) == []


@pytest.mark.skipif(os.name == "nt", reason="locks of another kind")
def test_a_save_under_way_is_left_alone(job: Path) -> None:
    """Two programs on one job: the one that opens it does not clear away what the other is writing."""
    seen: list[bool] = []

    def meanwhile() -> None:
        sweep(job)
        open_file(job)
        seen.append(any(job.parent.glob(".*.part")))

    write_whole(job, b"new = 1\n", ready=meanwhile)
    assert seen == [True] and job.read_bytes() == b"new = 1\n"
    assert list(job.parent.glob(".*.part")) == []


def test_what_is_not_ours_is_not_cleared_away(job: Path) -> None:
    """Files that are called nearly so, and a link that stands in such a place."""
    names = (".simple-pass.toml.part", ".simple-pass.toml.1234567.part", ".simple-pass.toml.zzzzzzzz.part",
             "simple-pass.toml.12345678.part", ".other.toml.12345678.part")  # fmt: skip
    for name in names:
        (job.parent / name).write_text("x", encoding="utf-8")
    (job.parent / ".simple-pass.toml.12345678.part").symlink_to(job)
    open_file(job)
    assert all((job.parent / name).exists() for name in names) and job.exists()


def test_clocks_that_jump(job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file is known by what stands in it: one from tomorrow, or from 1970, is saved and known like any other."""
    opened = open_file(job)
    for moment in (0, 4_000_000_000, 1):
        os.utime(job, (moment, moment))
        opened = open_file(job)
        known = save(job, {**opened.data, "title": f"at {moment}"}, known=opened.fingerprint)
        assert save(job, {**opened.data, "title": "again"}, known=known)

    class Back(datetime.datetime):
        """A clock that goes back an hour at every look."""

        looks = 0

        @classmethod
        def now(cls, tz: datetime.tzinfo | None = None) -> datetime.datetime:
            """The moment."""
            cls.looks += 1
            return datetime.datetime(2026, 3, 29, 3, tzinfo=tz) - datetime.timedelta(hours=cls.looks)

    monkeypatch.setattr(recovery.datetime, "datetime", Back)
    journal = start_journal(tmp_path / "own")
    for number in range(3):
        journal.note({"title": str(number)}, file=job)
        assert not journal.fault
    assert journal._lock is not None
    os.close(journal._lock._handle)  # as a program that dies lets go
    monkeypatch.undo()
    (offer,) = pending_recoveries(tmp_path / "own")
    assert offer.snapshot.data == {"title": "2"}


@pytest.mark.parametrize("name", sorted(path.name for path in EARLIER.glob("*.toml")))
def test_files_of_the_first_version_are_read(name: str, tmp_path: Path) -> None:
    """As they were first shipped; they are opened, saved, and are then what they were."""
    path = tmp_path / name
    shutil.copy(EARLIER / name, path)
    read = read_table if "[[row]]" in path.read_text(encoding="utf-8") else read_job
    before = read(path)
    opened = open_file(path)
    save(path, opened.data, known=opened.fingerprint)
    assert path.read_bytes() == (EARLIER / name).read_bytes()
    assert read(path) == before


def test_work_left_by_the_first_version_is_offered(tmp_path: Path) -> None:
    """A journal as it was first written."""
    folder = tmp_path / "unsaved"
    folder.mkdir()
    body = (
        b'{"file":"job.toml","fingerprint":"","label":"","when":"2026-11-20T12:00:00+00:00",'
        b'"drafts":[[["run",0,"size"],"3 i"]],"data":{"title":"x","day":{"<date>":"2026-11-20"}}}'
    )
    import zlib

    (folder / "0123.json").write_bytes(b"%08x\n%b" % (zlib.crc32(body), body))
    (offer,) = pending_recoveries(tmp_path)
    assert offer.snapshot.data == {"title": "x", "day": datetime.date(2026, 11, 20)}
    assert offer.snapshot.drafts == {("run", 0, "size"): "3 i"}


@pytest.mark.skipif(not kills_of_writes.AT_HAND, reason="no forks here")
@pytest.mark.parametrize("kind", kills_of_writes.KINDS)
def test_killed_while_writing(kind: str) -> None:
    """Whole, the last or the one before, and nothing left; `python -m tests.kills` does so two hundred times."""
    kills_of_writes.kill_writes(kind, 4, random.Random())


def test_two_programs_save_one_job(job: Path) -> None:
    """The one that comes second is told, and loses nothing of the first's."""
    one, other = open_file(job), open_file(job)
    save(job, {**one.data, "title": "mine"}, known=one.fingerprint)
    with pytest.raises(Refused, match="another program has changed it"):
        save(job, {**other.data, "title": "theirs"}, known=other.fingerprint)
    assert read_job(job).title == "mine"
    assert visits_file(job).exists() and time.time() > 0
