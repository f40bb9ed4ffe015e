"""Nothing typed is lost: what a dead program left is offered, once, and to one program only."""

from __future__ import annotations

import datetime
import random
import subprocess
import sys
from pathlib import Path

from tests.kills import kill_typing
from ventsize.jobfile.recovery import pending_recoveries, start_journal

DATA = {"title": "x", "k": 0.5, "n": 3, "yes": True, "day": datetime.date(1979, 5, 27), "run": [{"name": "vent"}]}

DIES = """
import os, sys
from pathlib import Path
from ventsize.jobfile.recovery import start_journal
journal = start_journal(Path(sys.argv[1]))
journal.note({"title": "left"}, file=None, label="set title", drafts={("site", "altitude"): "52 f"})
os._exit(9)
"""


def die_typing(folder: Path) -> None:
    """A program that types and dies."""
    subprocess.run([sys.executable, "-c", DIES, str(folder)], check=False)


def test_killed_while_typing(tmp_path: Path) -> None:
    """Forty deaths at moments nobody chose: the work is offered every time, the last keystroke missing at most."""
    for _ in range(40):
        kill_typing(tmp_path, random.Random())


def test_offered_with_what_was_half_typed(tmp_path: Path) -> None:
    """The offer says whose work it is, and holds the field that was no value yet."""
    die_typing(tmp_path)
    (offer,) = pending_recoveries(tmp_path)
    assert offer.snapshot.data == {"title": "left"}
    assert offer.snapshot.drafts == {("site", "altitude"): "52 f"}
    assert offer.snapshot.label == "set title" and offer.snapshot.file is None
    assert abs(datetime.datetime.now(datetime.UTC) - offer.snapshot.when) < datetime.timedelta(minutes=5)


def test_one_program_only(tmp_path: Path) -> None:
    """Work resumed here is offered to nobody else, and goes on under the same journal."""
    die_typing(tmp_path)
    (offer,) = pending_recoveries(tmp_path)
    journal = offer.resume()
    assert journal is not None
    assert pending_recoveries(tmp_path) == () and offer.resume() is None
    offer.discard()  # too late: it is not this program's to give up
    journal.note({"title": "further"}, file=Path("a.toml"))
    assert not journal.fault
    journal.close()
    assert list((tmp_path / "unsaved").iterdir()) == []


def test_a_living_program_keeps_its_own(tmp_path: Path) -> None:
    """Another program that runs now has lost nothing."""
    journal = start_journal(tmp_path)
    journal.note(DATA, file=Path("job.toml"))
    look = "import sys; from pathlib import Path; from ventsize.jobfile.recovery import pending_recoveries; "
    look += "print(len(pending_recoveries(Path(sys.argv[1]))))"
    seen = subprocess.run([sys.executable, "-c", look, str(tmp_path)], capture_output=True, text=True, check=True)
    assert seen.stdout.split() == ["0"]
    journal.close()


def test_every_value_comes_back(tmp_path: Path) -> None:
    """Dates too, which a job has no use for, but a file being mended may hold."""
    journal = start_journal(tmp_path)
    journal.note(DATA, file=Path("job.toml"), fingerprint="abc")
    (path,) = (tmp_path / "unsaved").glob("*.json")
    from ventsize.jobfile.recovery import _read

    snapshot = _read(path.read_bytes())
    assert snapshot.data == DATA and snapshot.file == Path("job.toml") and snapshot.fingerprint == "abc"
    journal.close()


def test_saved_work_is_not_offered(tmp_path: Path) -> None:
    """After a save, a discard or a clean end there is nothing to offer."""
    journal = start_journal(tmp_path)
    journal.note(DATA, file=None)
    journal.clear()
    assert list((tmp_path / "unsaved").glob("*.json")) == []
    journal.note(DATA, file=None)
    journal.close()
    assert list((tmp_path / "unsaved").iterdir()) == []


def test_damaged_journals_are_left_alone(tmp_path: Path) -> None:
    """What is not a whole snapshot is neither offered nor an error, and nobody deletes it."""
    die_typing(tmp_path)
    (path,) = (tmp_path / "unsaved").glob("*.json")
    path.write_bytes(path.read_bytes()[:-5])
    (tmp_path / "unsaved" / "other.json").write_text("not ours", encoding="utf-8")
    assert pending_recoveries(tmp_path) == ()
    assert path.exists()


def test_no_folder_no_crash(tmp_path: Path) -> None:
    """Where nothing can be kept, editing goes on and the reason is said."""
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert pending_recoveries(tmp_path / "file") == ()
    journal = start_journal(tmp_path / "file")
    journal.note(DATA, file=None)
    journal.clear()
    journal.close()
    assert journal.fault.startswith("Unsaved work is not kept safe from a crash: ")
