"""Which files are tables, how a list names them, and by which words they are found."""

from __future__ import annotations

from pathlib import Path

import pytest

from ventsize.allowance.library import KnownTable, bring_back, jobs_in, known_table, known_tables, take_away, take_in
from ventsize.catalog.folders import user_tables_folder
from ventsize.jobfile.problems import InputError


@pytest.mark.parametrize(("text", "known"), [
    ('[[row]]\nsize = "3 in"\n', True), ('title = "T"\n[[row]]\n[[row]]\nsize = "3 in"\n', True),
    ('row = ["size"]', False), ('[[row]]\nmaterial = "size"\n', False), ("row = 3", False), ("row = []", False),
    ("size = 3", False),
])  # fmt: skip
def test_a_file_with_rows_of_a_size_is_a_table(text: str, known: bool, tmp_path: Path) -> None:
    """Half typed it is one all the same; without a title it goes by the name of its file."""
    path = tmp_path / "mine.toml"
    path.write_text(text)
    found = known_table(path)
    assert (found is not None) is known
    if found:
        assert found.title == ("T" if "title" in text else "mine") and found.sizes == ("3 in",)


@pytest.mark.parametrize("counts", [0, 1, 2])
def test_one_row_that_counts_elbows_is_enough_to_say_so(counts: int, tmp_path: Path) -> None:
    """Of two."""
    rows = ['[[row]]\nsize = "3 in"\n' + "allowable_by_elbows = []\n" * (number < counts) for number in range(2)]
    (tmp_path / "t.toml").write_text("".join(rows))
    found = known_table(tmp_path / "t.toml")
    assert found is not None and found.by_elbows is (counts > 0)


def test_a_broken_file_is_listed_among_the_users_own_only(tmp_path: Path) -> None:
    """Beside a job any file may lie; of two of one name the nearer is the one."""
    own = user_tables_folder()
    own.mkdir(parents=True)
    for folder in (own, tmp_path):
        (folder / "broken.toml").write_text("[[row]]\nsize = ")
        (folder / "both.toml").write_text('[[row]]\nsize = "3 in"\n')
    assert known_table(tmp_path / "broken.toml") is None
    found = {table.path.name: table for table in known_tables(tmp_path)}
    assert found["broken.toml"].path.parent == own and found["broken.toml"].fault
    assert found["both.toml"].path.parent == tmp_path and "demo-two-stage.toml" in found
    assert {table.path.parent for table in known_tables() if table.path.name == "both.toml"} == {own}


def test_what_a_list_says_of_a_table() -> None:
    """The words that all shipped ones begin with are no help; one's own title stands as it is."""
    title = "Demonstration table, two stages"
    labels = [KnownTable(Path("t.toml"), title=title, shipped=shipped).label for shipped in (True, False)]
    assert labels == ["two stages (demonstration)", title]
    made_up = [KnownTable(Path("t.toml"), source=source).invented for source in ("Invented for tests", "Manual, p. 9")]
    assert made_up == [True, False]


@pytest.mark.parametrize(("words", "found"), [
    ("two stages", True), ("stages 3in", True), ("TWO 80kbtu/h", True), ("two four", False), ("t.toml", True),
])  # fmt: skip
def test_every_word_has_to_be_there(words: str, found: bool) -> None:
    """With or without the space between a figure and its unit."""
    table = KnownTable(Path("t.toml"), title="Two stages", inputs=("80 kBtu/h",), sizes=("3 in",))
    assert table.matches(words) is found


@pytest.mark.parametrize("text", ["row = 3", "row = []", "title = 'T'"])
def test_what_is_taken_in_has_rows(text: str, tmp_path: Path) -> None:
    """A file of anything else is refused."""
    path = tmp_path / "t.toml"
    path.write_text(text)
    with pytest.raises(InputError):
        take_in(path)
    path.write_text('[[row]]\nsize = "3 in"\n')
    for name in ("one.toml", "two.toml"):
        assert take_in(path, name=name).read_text() == path.read_text()


def test_a_table_put_aside_can_be_brought_back() -> None:
    """Two of one name one after the other, neither in place of the other."""
    path = user_tables_folder() / "t.toml"
    path.parent.mkdir(parents=True)
    aside = []
    for text in ("one", "two"):
        path.write_text(text)
        aside.append(take_away(path))
    assert [one.name for one in aside] == ["t.toml", "t-2.toml"] and not path.exists()
    bring_back(aside[1], path)
    assert path.read_text() == "two"
    with pytest.raises(InputError):
        bring_back(aside[0], path)
    assert aside[0].read_text() == "one"


def test_a_folder_of_many_jobs_is_looked_through_in_part(tmp_path: Path) -> None:
    """The first ones, also in folders below."""
    (tmp_path / "b").mkdir()
    for name in ("c.toml", "b/1.toml", "a.toml", "d.txt"):
        (tmp_path / name).write_text("")
    assert [path.name for path in jobs_in(tmp_path)] == ["a.toml", "1.toml", "c.toml"]
    assert [path.name for path in jobs_in(tmp_path, most=2)] == ["a.toml", "1.toml"]
