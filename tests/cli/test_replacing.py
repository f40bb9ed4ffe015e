"""`--replace` replaces papers: never a job, its visits, a table, or what is no ordinary file."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from ventsize.cli import main

KINDS = ("html", "pdf", "markdown", "csv")


@pytest.fixture
def job(root: Path, tmp_path: Path) -> Path:
    """A job with a table beside it, and visits."""
    for name in ("scenarios/simple-pass.toml", "tables/demo-two-stage.toml"):
        shutil.copy(root / name, tmp_path)
    found = tmp_path / "simple-pass.toml"
    assert main(["visit", str(found), "--keep"]) == 0
    return found


def refused(words: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    """The one sentence that a command is refused with."""
    capsys.readouterr()
    assert main([*words, "--replace"]) == 2
    told = capsys.readouterr()
    assert told.out == "" and len(told.err.splitlines()) == 1
    return told.err


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", ["simple-pass.toml", "simple-pass.visits", "demo-two-stage.toml", "other.toml",
                                  "job.txt", "table", "prices.TOML"])  # fmt: skip
def test_files_of_ours_stay(job: Path, kind: str, name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The job itself, its visits, its table, another job, and a job under any other name."""
    there = job.with_name(name)
    if not there.exists():
        shutil.copy(job, there)
    before = there.read_bytes()
    refused(["paper", str(job), f"--{kind}", str(there)], capsys)
    assert there.read_bytes() == before
    assert sorted(path.name for path in job.parent.iterdir() if path.name.startswith(".")) == []


@pytest.mark.parametrize("verb", ["paper", "proposal", "compare", "working", "exercises", "lesson"])
def test_whatever_the_verb(job: Path, verb: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Every verb that writes papers writes them in the one place."""
    table = job.with_name("demo-two-stage.toml")
    before = table.read_bytes()
    words = {"compare": [str(job), str(job)], "exercises": [], "lesson": ["low-fire"]}.get(verb, [str(job)])
    refused([verb, *words, "--html", str(table)], capsys)
    assert table.read_bytes() == before


def test_a_link_to_a_job_is_that_job(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By whatever name it is reached; so is a link that leads nowhere, which is no ordinary file."""
    other, nowhere = job.with_name("paper.html"), job.with_name("nowhere.html")
    before = job.read_bytes()
    other.symlink_to(job)
    refused(["paper", str(job), "--html", str(other)], capsys)
    assert job.read_bytes() == before and other.is_symlink()
    nowhere.symlink_to(job.with_name("nothing"))
    assert "not an ordinary file" in refused(["paper", str(job), "--html", str(nowhere)], capsys)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names here")
def test_what_is_no_file_stays(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A pipe with a name, a device, a folder."""
    pipe = job.with_name("pipe.html")
    os.mkfifo(pipe)
    assert "not an ordinary file" in refused(["paper", str(job), "--html", str(pipe)], capsys)
    assert pipe.is_fifo()
    if Path("/dev/null").is_char_device():
        assert "not an ordinary file" in refused(["paper", str(job), "--html", "/dev/null"], capsys)
        assert Path("/dev/null").is_char_device()
    assert "folder" in refused(["paper", str(job), "--html", str(job.parent)], capsys)


@pytest.mark.parametrize("kind", KINDS)
def test_a_paper_is_replaced(job: Path, kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    """By its own kind, twice; and not without being told."""
    paper = job.with_name(f"paper.{kind}")
    words = ["paper", str(job), f"--{kind}", str(paper)]
    assert main(words) == 0
    assert main(words) == 2
    assert main([*words, "--replace"]) == 0
    assert main([*words, "--replace"]) == 0
    paper.write_bytes(b"")
    assert main([*words, "--replace"]) == 0
    capsys.readouterr()
