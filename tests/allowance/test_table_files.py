"""Table files: what is read from them, and every fault one sentence that says where and what is expected."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.allowance.support import EXAMPLE, FOOT, HEAD, INCH, row, table
from ventsize.allowance.model import NOT_PERMITTED
from ventsize.allowance.reading import find_table, read_table, table_from_text
from ventsize.catalog.folders import USER_FOLDER_VARIABLE
from ventsize.jobfile.problems import InputError


def faults(text: str) -> list[str]:
    """The sentences a text is refused with."""
    with pytest.raises(InputError) as refused:
        table_from_text(text, file="table.toml")
    return [str(problem) for problem in refused.value.problems]


def test_example_of_the_format():
    """Both kinds of row, deductions by one length and by size, labels as typed."""
    read = table_from_text(EXAMPLE, file="table.toml")
    plain, by_elbows = read.rows
    assert (read.counts, read.applies_to) == ("each run", ("flue gas", "combustion air"))
    assert plain.allowable == pytest.approx(90 * FOOT)
    assert plain.minimum == pytest.approx(5 * FOOT)
    assert plain.altitude == pytest.approx((0, 4500 * FOOT))
    assert plain.label == "80 kBtu/h, 3 in, 0 ft to 4500 ft"
    assert by_elbows.allowable_by_elbows is not None
    assert by_elbows.allowable_by_elbows[-1] == NOT_PERMITTED
    assert by_elbows.allowable_by_elbows[:2] == pytest.approx((70 * FOOT, 65 * FOOT))
    assert by_elbows.length_labels[1] == "65 ft"
    short = read.deductions["elbow-90-short"]
    assert short.at(3 * INCH) == pytest.approx(8 * FOOT)
    assert short.at(4 * INCH) is None
    assert read.deductions["elbow-45"].at(4 * INCH) == pytest.approx(1.5 * FOOT)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        # (what stands in the example, what is put there, what the sentence must hold)
        ('size = "2 in"\naltitude', 'size = "3 in"\naltitude', ("row 2", "same case as row 1")),
        ('["0 ft", "4500 ft"]\nallowable =', '["4500 ft", "0 ft"]\nallowable =', ("row 1", "upside down")),
        ('["0 ft", "4500 ft"]\nallowable =', '["0 ft"]\nallowable =', ("row 1", "altitude")),
        ('allowable = "90 ft"', 'allowable = "0 ft"', ("row 1", "allowable", "more than zero")),
        ('allowable = "90 ft"', 'allowable = "-9 ft"', ("row 1", "allowable", "below zero")),
        ('allowable = "90 ft"', 'allowable = "90"', ("row 1", "allowable", "12 ft 6 in")),
        ('allowable = "90 ft"', "allowable = 90", ("row 1", "allowable", "unit")),
        ('allowable = "90 ft"', 'allowable = "90 Pa"', ("row 1", "allowable", "length")),
        ('allowable = "90 ft"', 'allowable = "nan ft"', ("row 1", "allowable")),
        ('allowable = "90 ft"', 'allowabel = "90 ft"', ("row 1", "unknown key", "'allowable'")),
        ('allowable = "90 ft"\n', "", ("row 1", "allows nothing", "allowable_by_elbows")),
        ('allowable = "90 ft"', 'allowable = "9 ft"\nallowable_by_elbows = ["9 ft"]', ("row 1", "two kinds of limit")),
        ('minimum = "5 ft"', 'minimum = "91 ft"', ("row 1", "minimum", "above what the row allows")),
        ('"65 ft"', '"not permitted"', ("row 2", "1 elbow", "'not permitted' from")),
        ('"65 ft"', '"NP"', ("row 2", "allowable_by_elbows 2")),
        ('"65 ft"', '"0 ft"', ("row 2", "allowable_by_elbows 2", "more than zero")),
        ('["70 ft", "65 ft", "60 ft", "55 ft", "not permitted"]', "[]", ("row 2", "empty")),
        ('["70 ft", "65 ft", "60 ft", "55 ft", "not permitted"]', '"70 ft"', ("row 2", "list")),
        ('"each run"', '"all"', ("counts", "'each run' or 'runs together'")),
        ('"flue gas"', '"smoke"', ("applies_to", "'flue gas' or 'combustion air'")),
        ('["flue gas", "combustion air"]', "[]", ("applies_to", "for nothing")),
        ('source = "Invented for this test"', "", ("'source' is missing", "manual, page, date")),
        ('source = "Invented for this test"', 'source = "  "', ("source", "no source")),
        ("[deductions]", "[deduction]", ("unknown key", "'deductions'")),
        ('elbow-45 = "1 ft 6 in"', "elbow-45 = 1.5", ("deductions, elbow-45", "unit")),
        ('elbow-45 = "1 ft 6 in"', 'elbow-45 = "-1 ft"', ("deductions, elbow-45", "below zero")),
        ('elbow-45 = "1 ft 6 in"', "elbow-45 = {}", ("deductions, elbow-45", "no size")),
        ('{ "2 in" = "5 ft"', '{ "two" = "5 ft"', ("deductions, elbow-90-short", "two")),
        ('{ "2 in" = "5 ft"', '{ "0 in" = "5 ft"', ("deductions, elbow-90-short", "more than zero")),
        ('{ "2 in" = "5 ft"', '{ "76.2 mm" = "5 ft"', ("deductions, elbow-90-short", "one size")),
        ("[deductions]", "[elbows_each]\nelbow-45 = -1\n[deductions]", ("elbows_each, elbow-45", "zero or more")),
        ("[[row]]", "[[rows]]", ("unknown key 'rows'", "'row'")),
    ],
)  # fmt: skip
def test_faults_say_where_and_what(old, new, said):
    """One sentence: the file, the place, what is wrong, what is expected."""
    assert old in EXAMPLE
    sentences = faults(EXAMPLE.replace(old, new))
    assert any(all(word in sentence for word in said) for sentence in sentences), sentences
    assert all(sentence.startswith("table.toml") and "\n" not in sentence for sentence in sentences)
    assert all("; expected " in sentence for sentence in sentences if "more than zero" not in sentence)


@pytest.mark.parametrize(("old", "new"), [
    ('["0 ft", "4500 ft"]\nallowable =', '["4500 ft", "4500 ft"]\nallowable ='),
    ('["0 ft", "4500 ft"]\nallowable =', '["-1000 m", "11000 m"]\nallowable ='),
    ('minimum = "5 ft"', 'minimum = "90 ft"'), ('"not permitted"]', '"not permitted"]\nminimum = "60 ft"'),
])  # fmt: skip
def test_what_is_just_no_fault(old: str, new: str) -> None:
    """A band of one altitude, or of all there is air for; the least length is the longest, or below one of several."""
    assert old in EXAMPLE and table_from_text(EXAMPLE.replace(old, new), file="t").rows


def test_every_fault_at_once():
    """A person typing twenty rows should not be told of one slip at a time."""
    text = EXAMPLE.replace('"90 ft"', '"0 ft"').replace('"65 ft"', '"x"').replace('"3 ft"', '"y"')
    assert len(faults(text)) == 3


def test_table_without_rows():
    """No row, no answer."""
    assert "'row' is missing" in faults(HEAD)[0]
    assert "no row" in faults("row = []\n" + HEAD)[0]


@pytest.mark.parametrize(
    ("first", "second", "fault"),
    [
        (("0 ft", "4500 ft"), ("4500 ft", "8000 ft"), ""),
        (("0 ft", "4500 ft"), ("4499 ft", "8000 ft"), "overlaps"),
        (("4499 ft", "8000 ft"), ("0 ft", "4500 ft"), "overlaps"),
        (("0 ft", "9000 ft"), ("2000 ft", "3000 ft"), "overlaps"),
        (("0 ft", "4500 ft"), ("0 ft", "2000 ft"), "overlaps"),
        (("0 ft", "4500 ft"), ("0 m", "1371.6 m"), "same case"),
        (("0 ft", "4500 ft"), ("1371.6 m", "2000 m"), ""),
        (("0 ft", "4500 ft"), ("5000 ft", "6000 ft"), ""),
    ],
)
def test_two_rows_for_one_case(first, second, fault):
    """Bands of one size and input may meet at one altitude and no more."""
    rows = (row("90 ft", band=first), row("80 ft", band=second))
    if not fault:
        assert len(table(*rows).rows) == 2
        return
    sentences = faults(HEAD + "\n".join(rows))
    assert len(sentences) == 1
    assert fault in sentences[0] and "row 2" in sentences[0] and "row 1" in sentences[0]


def test_overlap_hidden_behind_a_wide_band():
    """The third row overlaps the first, though not its neighbour by altitude."""
    bands = (("0 ft", "9000 ft"), ("1000 ft", "2000 ft"), ("3000 ft", "4000 ft"))
    sentences = faults(HEAD + "\n".join(row("90 ft", band=band) for band in bands))
    assert ["row 2" in sentences[0], "row 3" in sentences[1]] == [True, True]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ({"size": "3 in"}, {"size": "76.2 mm"}),
        ({"input": "80 kBtu/h"}, {"input": "80,000 Btu/h"}),
        ({"input": "80 MBH"}, {"input": "80 kBtu/h"}),
    ],
)
def test_one_case_in_two_units(one, other):
    """The same size or input typed in another unit is the same case."""
    assert "same case" in faults(HEAD + row("90 ft", **one) + row("80 ft", **other))[0]


def test_rows_of_different_cases_may_share_a_band():
    """Another size or another input is another case."""
    read = table(row("90 ft"), row("40 ft", size="2 in"), row("70 ft", input="100 kBtu/h"))
    assert len(read.rows) == 3


def test_many_rows_are_read_quickly():
    """The check for two rows of one case does not compare every row with every other."""
    rows = "\n".join(row("90 ft", input=f"{number} kBtu/h") for number in range(1, 3001))
    assert len(table(rows).rows) == 3000


@pytest.mark.parametrize("content", [b"", b"\xff\xfe\x00", b"title = ", b"[[row]]\n" * 3, b"a = 1"])
def test_files_that_are_no_table(tmp_path, content):
    """Whatever stands in the file, the answer is a sentence."""
    path = tmp_path / "table.toml"
    path.write_bytes(content)
    with pytest.raises(InputError):
        read_table(path)
    with pytest.raises(InputError):
        read_table(tmp_path)
    with pytest.raises(InputError):
        read_table(tmp_path / "none.toml")


def test_a_table_is_found_beside_the_job_first(tmp_path, monkeypatch):
    """Beside the job, then the user's tables, then the shipped ones."""
    job, user = tmp_path / "job", tmp_path / "user"
    job.mkdir()
    (user / "tables").mkdir(parents=True)
    monkeypatch.setenv(USER_FOLDER_VARIABLE, str(user))
    name = "demo-two-stage.toml"
    assert find_table(name, beside=job).parent.name == "tables"
    assert find_table(name, beside=job).parent != user / "tables"
    (user / "tables" / name).write_text(EXAMPLE)
    assert find_table(name, beside=job) == user / "tables" / name
    (job / name).write_text(EXAMPLE)
    assert find_table(name, beside=job) == job / name


@pytest.mark.parametrize("name", ["no-such-table.toml", "", "a\0b", "x" * 5000])
def test_a_table_that_is_nowhere(tmp_path, name):
    """The sentence names the table, the file that asks for it and every folder looked in."""
    with pytest.raises(InputError) as refused:
        find_table(name, beside=tmp_path, asked_by="job.toml", place="run 'vent', table")
    sentence = str(refused.value)
    assert sentence.startswith("job.toml: run 'vent', table: there is no table")
    assert str(tmp_path) in sentence
    assert "\n" not in sentence


def test_demonstration_tables_say_that_they_are_invented(root: Path):
    """Nobody may take them for an appliance's table. All kinds of row and of counting are there."""
    tables = [read_table(path) for path in sorted((root / "tables").glob("demo-*.toml"))]
    assert len(tables) >= 4
    assert all("Invented for demonstration" in read.source for read in tables)
    assert all("Demonstration" in read.title for read in tables)
    assert {read.counts for read in tables} == {"each run", "runs together"}
    assert {one.counts_elbows for read in tables for one in read.rows} == {True, False}
