"""`ventsize tables`: found by words, looked over, written as a sheet."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from ventsize.allowance.library import jobs_by_table, known_tables, rename_file, take_in
from ventsize.allowance.sheet import as_sheet, from_sheet, is_sheet
from ventsize.catalog.folders import shipped_folder, shipped_table, user_tables_folder
from ventsize.cli import main
from ventsize.jobfile.document import read_toml
from ventsize.jobfile.problems import InputError

TABLES = sorted(shipped_folder("tables").glob("demo-*.toml"))


def mine(name: str = "mine.toml", shipped: str = "demo-two-stage.toml") -> Path:
    """A table of the user's own."""
    path = user_tables_folder() / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(shipped_table(shipped).read_text(encoding="utf-8"), encoding="utf-8")
    return path


def test_tables_are_found_by_words(capsys: pytest.CaptureFixture[str]) -> None:
    """All of them must be there; size and input are found with or without their space."""
    assert main(["tables", "two-stage", "80kbtu", "3in"]) == 0
    assert "demo-two-stage.toml" in capsys.readouterr().out
    assert main(["tables", "nosuchword"]) == 1


def test_the_list_says_what_is_invented_and_what_each_judges(capsys: pytest.CaptureFixture[str]) -> None:
    """As an object."""
    mine()
    assert main(["tables", "--json"]) == 0
    found = {Path(table["file"]).name: table for table in json.loads(capsys.readouterr().out)}
    assert found["demo-two-stage.toml"]["invented"] and found["demo-two-stage.toml"]["shipped"]
    assert any(job.endswith("simple-pass.toml") for job in found["demo-two-stage.toml"]["jobs"])
    assert not found["mine.toml"]["shipped"] and found["mine.toml"]["jobs"] == []


def test_a_table_is_looked_over(capsys: pytest.CaptureFixture[str]) -> None:
    """Exit status 0 for one that can be used, 1 for one that cannot, 2 for no table at all."""
    assert main(["tables", "--look", "demo-two-stage.toml"]) == 0
    assert "row 1: 0." in capsys.readouterr().out
    path = mine()
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace('source = "Invented', 'sauce = "Invented'), encoding="utf-8")
    assert main(["tables", "--look", str(path)]) == 1
    path.write_text(text.replace('"2000 ft"]', '"45000 ft"]', 1), encoding="utf-8")
    assert main(["tables", "--look", str(path)]) == 1
    assert "no building stands at 45000 ft" in capsys.readouterr().out
    assert main(["tables", "--look", "nowhere.toml"]) == 2
    assert "there is no table" in capsys.readouterr().err


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_a_sheet_holds_the_whole_table(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Written and read back it is the same, but for the order of its keys."""
    assert main(["tables", "--sheet", str(path)]) == 0
    text = capsys.readouterr().out
    data = read_toml(path)
    assert from_sheet(as_sheet({**data, "most_elbows": 8}))["most_elbows"] == 8
    assert is_sheet(text) and text == as_sheet(data)
    back = from_sheet(text)
    for key in (*data, "elbows_each"):
        assert back.get(key, {}) == data.get(key, {}), key


def test_a_table_renamed_is_renamed_in_its_jobs(tmp_path: Path) -> None:
    """Jobs that mean another table of that name are left alone."""
    path = mine()
    job = tmp_path / "job.toml"
    job.write_text("# mine\n[[run]]\nname = 'vent'\ntable = 'mine.toml'  # page 12\n", encoding="utf-8")
    other = tmp_path / "other" / "job.toml"
    other.parent.mkdir()
    other.write_text("[[run]]\nname = 'vent'\ntable = 'mine.toml'\n", encoding="utf-8")
    (other.parent / "mine.toml").write_text(path.read_text(encoding="utf-8"), encoding="utf-8")
    assert rename_file(path, "ours", [job, other]) == (job,)
    assert "ours.toml" in job.read_text(encoding="utf-8") and "# page 12" in job.read_text(encoding="utf-8")
    assert "mine.toml" in other.read_text(encoding="utf-8")
    assert jobs_by_table([job]) == {(path.parent / "ours.toml").resolve(): (job,)}


def test_what_is_taken_in_must_be_a_table_and_takes_no_others_name() -> None:
    """A job file is none."""
    with pytest.raises(InputError, match="it is no allowance table"):
        take_in(shipped_folder("scenarios") / "simple-pass.toml")
    taken = take_in(shipped_table("demo-two-stage.toml"), name="two.toml")
    assert taken == user_tables_folder() / "two.toml"
    with pytest.raises(InputError, match="there is a table of this name already"):
        take_in(shipped_table("demo-two-stage.toml"), name="two.toml")


def test_a_file_that_cannot_be_read_is_listed_with_its_fault() -> None:
    """It is one's own, and one looks for it."""
    mine().write_text("[[row]]\nsize = ", encoding="utf-8")
    broken = next(table for table in known_tables() if table.path.name == "mine.toml")
    assert "not TOML" in broken.fault
