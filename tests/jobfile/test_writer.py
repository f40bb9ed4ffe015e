"""A save happens whole or not at all, and never over somebody else's work."""

from __future__ import annotations

import os
import stat
import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.kills import kill_saving
from ventsize.jobfile import writer
from ventsize.jobfile.problems import InputError
from ventsize.jobfile.writer import NO_FILE, FileChanged, SaveError, fingerprint, open_file, save

TEXT = '# kept\ntitle = "Shed"   # its name\n'


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A small file with comments."""
    path = tmp_path / "job.toml"
    path.write_text(TEXT, encoding="utf-8")
    return path


def leftovers(path: Path) -> list[str]:
    """What lies in the folder beside the file."""
    return [other.name for other in path.parent.iterdir() if other.name != path.name]


def test_saved_and_known(job: Path) -> None:
    """What is saved is what is read next, and can be saved again."""
    opened = open_file(job)
    known = save(job, {**opened.data, "note": "n"}, known=opened.fingerprint)
    assert job.read_text(encoding="utf-8") == TEXT + 'note = "n"\n'
    assert known == fingerprint(job) == open_file(job).fingerprint
    save(job, opened.data, known=known)
    assert job.read_text(encoding="utf-8") == TEXT
    assert leftovers(job) == []


def test_a_changed_file_is_not_written_over(job: Path) -> None:
    """Two people, or a person and an editor: the second save says so, unless told to go ahead."""
    opened = open_file(job)
    job.write_text('title = "Barn"\n', encoding="utf-8")
    with pytest.raises(FileChanged, match="another program has changed it since it was opened"):
        save(job, {"title": "Shed 2"}, known=opened.fingerprint)
    assert job.read_text(encoding="utf-8") == 'title = "Barn"\n'
    assert leftovers(job) == []
    save(job, {"title": "Shed 2"}, known=None)
    assert open_file(job).data == {"title": "Shed 2"}


def test_a_touched_file_is_the_same_file(job: Path) -> None:
    """A new date on the same content is no conflict."""
    opened = open_file(job)
    os.utime(job, (1, 1))
    save(job, opened.data, known=opened.fingerprint)


def test_a_vanished_or_appeared_file_is_said(job: Path) -> None:
    """A file removed since, and a new name that is taken."""
    known = open_file(job).fingerprint
    with pytest.raises(FileChanged, match="there is a file of this name already"):
        save(job, {"title": "new"}, known=NO_FILE)
    job.unlink()
    with pytest.raises(FileChanged, match="no longer there"):
        save(job, {"title": "x"}, known=known)
    assert not job.exists()
    save(job, {"title": "new"}, known=NO_FILE)
    assert tomllib.loads(job.read_text(encoding="utf-8")) == {"title": "new"}


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failing_write_leaves_the_file(job: Path, step: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk: one sentence, the old file whole, no litter."""

    def full(*_arguments: Any) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(writer.os, step, full)
    with pytest.raises(SaveError) as caught:
        save(job, {"title": "x"}, known=None)
    assert (
        str(caught.value) == f"{job}: it cannot be saved: No space left on device; expected a file that can be written"
    )
    assert job.read_text(encoding="utf-8") == TEXT
    assert leftovers(job) == []


@pytest.mark.skipif(os.name == "nt", reason="permissions and links of another kind")
def test_permissions_and_links_stay(job: Path) -> None:
    """A file shared with a group stays shared; a link still leads to the file it led to."""
    job.chmod(0o640)
    link = job.with_name("link.toml")
    link.symlink_to(job.name)
    save(link, {"title": "through a link"}, known=None)
    assert link.is_symlink()
    assert open_file(job).data == {"title": "through a link"}
    assert stat.S_IMODE(job.stat().st_mode) == 0o640


def test_windows_line_ends_stay(job: Path) -> None:
    """A file from another desk keeps its line ends, and its texts are not changed by them."""
    job.write_bytes(b'# a\r\nnote = """x\r\ny"""\r\n')
    opened = open_file(job)
    assert opened.data == {"note": "x\ny"}
    save(job, {**opened.data, "by": "p"}, known=opened.fingerprint)
    assert b"\n" not in job.read_bytes().replace(b"\r\n", b"")
    assert open_file(job).data == {"note": "x\ny", "by": "p"}


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ({"title": object()}, "it holds something that a TOML file cannot"),
        ({"title": "\ud800"}, "half a character"),
        ({"title": "x" * 5_000_000}, "it would be 5 MB large"),
    ],
)
def test_what_cannot_be_saved_is_said(job: Path, data: dict[str, Any], said: str) -> None:
    """One sentence, and the old file whole."""
    with pytest.raises(SaveError, match=said):
        save(job, data, known=None)
    assert job.read_text(encoding="utf-8") == TEXT
    assert leftovers(job) == []


def test_a_place_that_is_no_file(tmp_path: Path) -> None:
    """A folder, and a folder that is not there."""
    with pytest.raises(SaveError, match="it is a folder"):
        save(tmp_path, {"title": "x"}, known=None)
    with pytest.raises(SaveError, match="No such file or directory"):
        save(tmp_path / "nowhere" / "job.toml", {"title": "x"}, known=None)


def test_only_toml_is_opened(job: Path) -> None:
    """What cannot be read cannot be edited; what is only not valid can."""
    job.write_text("title = ", encoding="utf-8")
    with pytest.raises(InputError, match="it is not TOML"):
        open_file(job)


def test_killed_while_saving(tmp_path: Path) -> None:
    """However the program ends, the file is whole: the last save or the one before."""
    import random

    for _ in range(5):
        kill_saving(tmp_path, random.Random())
