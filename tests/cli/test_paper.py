"""`ventsize paper` and `ventsize proposal` as scripts rely on them."""

from __future__ import annotations

from pathlib import Path

import pytest

from ventsize.catalog.folders import shipped_folder, shipped_table
from ventsize.cli import main

WITHIN, OVER = (str(shipped_folder("scenarios") / f"{name}.toml") for name in ("simple-pass", "old-two-inch-run"))
PRICES = str(shipped_table("invented-prices.toml"))


@pytest.fixture(autouse=True)
def _no_own_tables(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path / "own"))


def test_all_four_kinds(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each file is written and named, a line each; the exit status is the job's."""
    files = [tmp_path / f"p.{kind}" for kind in ("html", "pdf", "markdown", "csv")]
    words = [word for file in files for word in (f"--{file.suffix[1:]}", str(file))]
    assert main(["paper", WITHIN, *words, "--prices", PRICES]) == 0
    assert all(file.stat().st_size > 1000 for file in files)
    out, errors = capsys.readouterr()
    assert errors == "" and out.splitlines() == [str(file) for file in files]
    assert main(["paper", OVER, "--markdown", str(tmp_path / "over.md")]) == 1


def test_what_is_asked_wrongly(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One line each, exit status 2, and nothing written."""
    job = tmp_path / "job.toml"
    job.write_bytes(Path(WITHIN).read_bytes())
    there = tmp_path / "there.html"
    there.write_text("mine")
    new = str(tmp_path / "new.html")
    cases = [
        ["paper", WITHIN],
        ["paper", "nowhere.toml", "--html", new],
        ["paper", WITHIN, "--html", str(there)],
        ["paper", WITHIN, "--html", str(tmp_path / "no folder" / "p.html")],
        ["paper", str(job), "--html", str(job), "--replace"],
        ["paper", WITHIN, "--html", new, "--prices", "nowhere.csv"],
        ["proposal", *[WITHIN] * 5, "--html", new],
        ["proposal", WITHIN, "nowhere.toml", "--html", new],
    ]
    for words in cases:
        assert main(words) == 2, words
    out, errors = capsys.readouterr()
    assert out == "" and len(errors.splitlines()) == len(cases) and "Traceback" not in errors
    assert there.read_text() == "mine" and job.read_bytes() == Path(WITHIN).read_bytes()
    assert sorted(tmp_path.iterdir()) == [job, there]
    assert main(["paper", WITHIN, "--html", str(there), "--replace"]) == 0 and there.read_text() != "mine"


def test_a_proposal(tmp_path: Path) -> None:
    """Two ways in one file; 0 where one of them is within, 1 where none is."""
    file = tmp_path / "p.md"
    assert main(["proposal", OVER, WITHIN, "--markdown", str(file), "--title", "For the lake house"]) == 0
    text = file.read_text()
    assert text.startswith("# For the lake house\n") and "A is no choice: OVER" in text
    assert main(["proposal", OVER, "--markdown", str(file), "--replace"]) == 1
    assert "None of these ways is acceptable" in file.read_text()
