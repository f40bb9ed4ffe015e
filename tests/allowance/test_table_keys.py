"""What a page can say beyond lengths: every key is read, and what contradicts itself is refused at its place."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import pytest

from tests.allowance.support import FOOT, HEAD, INCH, row, table
from ventsize.allowance.model import EVERY_ALTITUDE, AllowanceTable, Conditions, Deduction, Limits, TableFitting
from ventsize.allowance.reading import head_from_data, read_table, table_from_data, table_from_text
from ventsize.allowance.sheet import as_sheet, from_sheet
from ventsize.jobfile.problems import InputError

FULL = """
title = "Invented"
source = "Invented for this test"
applies_to = ["flue gas", "combustion air"]
counts = "each run"
mixed_sizes = "shares"
altitude_factor = { above = "2000 ft", per = "1000 ft", less = "4 %" }
confirm = ["Terminals on one wall.", "Not in a closet; see page 9."]

[deductions]
elbow-90-long = "3 ft"
elbow-90-short = { "2 in" = "5 ft", "3 in" = "8 ft" }
elbow-45 = { per_two = "3 ft" }
wall-kit = "4 ft"

[elbows_each]
elbow-90-mitered = 2

[counts_as]
flexible-liner-corrugated = 2.0

[limits]
most_elbows = 8
longest_level = "40 ft"
longest_rise = "60 ft"
longest_difference = "20 ft"
same_size = true

[[row]]
input = "80 kBtu/h"
size = "3 in"
altitude = ["0 ft", "4500 ft"]
allowable = "90 ft"
minimum = "5 ft"
elbows_included = 2
pipes = "two"
ends = ["terminal-open", "wall-kit"]
materials = ["pvc-40", "cpvc-40"]
air_size = "3 in"

[[row]]
input = "80 kBtu/h"
size = "2 in"
allowable_by_elbows = ["65 ft", "60 ft", "not permitted"]
first_elbows = 1

[[row]]
input = "100 kBtu/h"
size = "4 in"
allowable_pressure = "0.30 in w.c."

[[row]]
input = "100 kBtu/h"
size = "2 in"
allowable = "not permitted"

[[exposed]]
size = "3 in"
outdoor = "-10 degF"
insulation = "1/2 in"
allowable = "30 ft"

[[exposed]]
size = "3 in"
outdoor = "-10 degF"
insulation = "0 in"
allowable = "not permitted"

[[fitting]]
name = "wall-kit"
title = "Wall kit"
kind = "terminal"

[[fitting]]
name = "sweep-60"
kind = "elbow"
angle = "60 deg"
k = 0.3
"""


def faults(text: str) -> list[str]:
    """The sentences a text is refused with."""
    with pytest.raises(InputError) as refused:
        table_from_text(text, file="table.toml")
    return [str(problem) for problem in refused.value.problems]


def test_every_key_is_read() -> None:
    """Labels as typed, figures in SI: 1/2 in is 0.0127 m, -10 °F 249.8167 K, 0.30 in w.c. 74.727 Pa."""
    read = table_from_text(FULL, file="table.toml")
    assert (read.mixed_sizes, len(read.confirm)) == ("shares", 2)
    factor = read.altitude_factor
    assert factor is not None
    assert (factor.above, factor.per, factor.less) == pytest.approx((609.6, 304.8, 0.04))
    assert read.deductions["elbow-45"] == Deduction(length=pytest.approx(3 * FOOT), per_two=True)
    assert read.counts_as == {"flexible-liner-corrugated": 2.0}
    assert read.limits == Limits(
        most_elbows=8, longest_level=pytest.approx(40 * FOOT), longest_rise=pytest.approx(60 * FOOT),
        longest_difference=pytest.approx(20 * FOOT), same_size=True,
    )  # fmt: skip
    first, by_elbows, by_pressure, never = read.rows
    assert first.holds_for == Conditions(
        pipes="two", ends=("terminal-open", "wall-kit"), materials=("pvc-40", "cpvc-40"),
        air_size=pytest.approx(3 * INCH), air_size_label="3 in",
    )  # fmt: skip
    assert (first.elbows_included, first.holds_for.count) == (2, 4)
    assert by_elbows.altitude == EVERY_ALTITUDE and by_elbows.first_elbows == 1
    assert [by_elbows.entry(count) for count in range(5)] == [
        pytest.approx(65 * FOOT), pytest.approx(65 * FOOT), pytest.approx(60 * FOOT), "not permitted", None,
    ]  # fmt: skip
    assert by_pressure.allowable_pressure == pytest.approx(74.727, abs=0.001)
    assert never.not_permitted and never.allowable is None and not never.by_pressure
    wool, bare = read.exposed
    assert (wool.outdoor, wool.insulation, wool.allowable) == pytest.approx((249.8167, 0.0127, 30 * FOOT), abs=1e-4)
    assert (bare.insulation, bare.allowable) == (0.0, 0.0)
    assert read.fittings == (
        TableFitting(name="wall-kit", title="Wall kit", kind="terminal"),
        TableFitting(name="sweep-60", title="sweep-60", kind="elbow", angle=pytest.approx(math.pi / 3), k=0.3),
    )


def test_what_a_page_does_not_say_is_left_out() -> None:
    """Nothing is read into a table of an earlier version."""
    read = table(row("90 ft"))
    assert read.limits == Limits() and read.rows[0].holds_for == Conditions() and read.rows[0].holds_for.count == 0
    assert (read.mixed_sizes, read.altitude_factor, read.confirm, read.exposed) == ("strictest", None, (), ())


def test_the_limit_of_elbows_at_the_top_is_one_of_the_limits() -> None:
    """Earlier files have it there; twice the same is no contradiction, two figures are."""
    assert table(row("90 ft"), head=HEAD + "most_elbows = 6\n").limits.most_elbows == 6
    both = HEAD + "most_elbows = 6\n[limits]\nmost_elbows = {}\n" + row("90 ft")
    assert table_from_text(both.format(6), file="t").limits.most_elbows == 6
    assert "limits, most_elbows" in faults(both.format(7))[0]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('less = "4 %"', 'less = "104 %"', ("altitude_factor, less", "104%", "100 %")),
        ('less = "4 %"', 'less = "0 %"', ("altitude_factor, less",)),
        ('less = "4 %"', "less = 0.04, more = 1", ("altitude_factor", "unknown key 'more'")),
        ('per = "1000 ft", ', "", ("altitude_factor", "'per' is missing", "1000 ft'")),
        ('"shares"', '"sum"', ("mixed_sizes", "'strictest' or 'shares'")),
        ('"Terminals on one wall."', '" "', ("confirm 1", "empty")),
        ('"Terminals on one wall."', '"Not in a closet; see page 9."', ("confirm 2", "twice")),
        ('{ per_two = "3 ft" }', '{ per_two = "3" }', ("deductions, elbow-45, per_two",)),
        ('{ per_two = "3 ft" }', '{ per_two = "3 ft", "2 in" = "1 ft" }', ("deductions, elbow-45", "unknown key")),
        ("corrugated = 2.0", "corrugated = 0", ("counts_as, flexible-liner-corrugated", "more than zero")),
        ("most_elbows = 8", "most_elbows = 1.5", ("limits, most_elbows", "whole number")),
        ("most_elbows = 8", "most_elbow = 8", ("limits", "unknown key", "'most_elbows'")),
        ('longest_level = "40 ft"', "longest_level = 40", ("limits, longest_level", "unit")),
        ('longest_rise = "60 ft"', 'longest_rise = "-1 ft"', ("limits, longest_rise", "below zero")),
        ("same_size = true", 'same_size = "yes"', ("limits, same_size", "true or false")),
        ("elbows_included = 2", "elbows_included = -1", ("row 1, elbows_included",)),
        ("first_elbows = 1", "first_elbows = 1\nelbows_included = 1", ("row 2, elbows_included", "equivalent length")),
        ("elbows_included = 2", "first_elbows = 1", ("row 1, first_elbows", "by number of elbows")),
        ('pipes = "two"', 'pipes = "three"', ("row 1, pipes", "'one'")),
        ('pipes = "two"', 'pipes = "one"', ("row 1, air_size", "one pipe")),
        ('ends = ["terminal-open", "wall-kit"]', "ends = []", ("row 1, ends", "never holds")),
        ('ends = ["terminal-open", "wall-kit"]', 'ends = "terminal-open"', ("row 1, ends", "list")),
        ('"pvc-40", "cpvc-40"', '"pvc-40", "pvc-40"', ("row 1, materials", "twice")),
        ('air_size = "3 in"', 'air_size = "0 in"', ("row 1, air_size", "more than zero")),
        ('allowable_pressure = "0.30 in w.c."', 'allowable_pressure = "3 ft"', ("row 3, allowable_pressure",)),
        ('"0.30 in w.c."', '"0.3 Pa"\nallowable = "1 ft"', ("row 3", "two kinds of limit")),
        ('allowable_pressure = "0.30 in w.c."', 'allowable_pressure = "0 Pa"', ("row 3, allowable_pressure", "zero")),
        ('allowable = "not permitted"\n\n[[exposed]]', 'allowable = "NP"\n\n[[exposed]]', ("row 4, allowable",)),
        ('outdoor = "-10 degF"\ninsulation = "0 in"\n', 'insulation = "0 in"\n', ("exposed 2", "'outdoor' is missing")),
        ('outdoor = "-10 degF"\ninsulation = "0 in"', 'outdoor = "-10"\ninsulation = "0 in"', ("exposed 2, outdoor",)),
        ('insulation = "0 in"', 'insulation = "0.5 in"', ("exposed 2", "same case as exposed 1")),
        ('kind = "terminal"', 'kind = "cap"', ("fitting 'wall-kit', kind", "'terminal', 'entrance'")),
        ('name = "sweep-60"', 'name = "wall-kit"', ("fitting 'wall-kit'", "two fittings")),
        ('angle = "60 deg"\n', "", ("fitting 'sweep-60'", "angle: it is missing")),
        ('angle = "60 deg"', 'angle = "200 deg"', ("fitting 'sweep-60', angle", "180")),
        ('kind = "elbow"', 'kind = "other"', ("fitting 'sweep-60', angle", "does not turn")),
        ("k = 0.3", "k = -0.3", ("fitting 'sweep-60', k", "below zero")),
    ],
)  # fmt: skip
def test_faults_say_where_and_what(old: str, new: str, said: tuple[str, ...]) -> None:
    """One sentence: the place, what is wrong, what is expected."""
    assert old in FULL
    sentences = faults(FULL.replace(old, new))
    assert any(all(word in sentence for word in said) for sentence in sentences), sentences
    assert all("\n" not in sentence for sentence in sentences)


def test_conditions_nobody_can_meet_by_what_the_table_is_for() -> None:
    """A vent table's rows for air pipes: no job has such a case."""
    vent = HEAD.replace('["flue gas", "combustion air"]', '["flue gas"]')
    air = HEAD.replace('["flue gas", "combustion air"]', '["combustion air"]')
    assert "ends" in faults(vent + row("90 ft") + 'ends = ["entrance-open"]\n')[0]
    assert table_from_text(vent + row("90 ft") + 'ends = ["entrance-open", "terminal-open"]\n', file="t").rows
    assert "pipes" in faults(air + row("90 ft") + 'pipes = "one"\n')[0]
    cold = '[[exposed]]\nsize = "3 in"\noutdoor = "0 degF"\ninsulation = "0 in"\nallowable = "9 ft"\n'
    assert "exposed 1" in faults(air + row("90 ft") + cold)[0]


EITHER = ("flue gas", "combustion air")


def rows_for(*conditions: str, applies_to: tuple[str, ...] = EITHER) -> str:
    """Rows of one input and band, each with what it says it holds for; "in 2" sets the size."""
    head = HEAD.replace('["flue gas", "combustion air"]', str(list(applies_to)))
    made = []
    for said in conditions:
        size, _, rest = said.partition("|") if said.startswith("size") else ("size 3 in", "", said)
        made.append(row("90 ft", size=size.removeprefix("size ")) + rest.replace("; ", "\n") + "\n")
    return head + "".join(made)


@pytest.mark.parametrize(
    ("conditions", "clash"),
    [
        # (what the rows say they hold for, whether two of them can both apply to one case and name equally many)
        (("", 'pipes = "two"'), False),  # one names more
        (('pipes = "one"', 'pipes = "two"'), False),  # never both
        (('pipes = "two"', 'pipes = "two"'), True),
        (('ends = ["terminal-open"]', 'ends = ["wall-kit"]'), False),
        (('ends = ["terminal-open", "wall-kit"]', 'ends = ["wall-kit"]'), True),  # a wall kit: which?
        (('ends = ["terminal-open"]', 'materials = ["pvc-40"]'), True),  # PVC with an open end: which?
        (
            ('ends = ["terminal-open"]', 'materials = ["pvc-40"]', 'ends = ["terminal-open"]; materials = ["pvc-40"]'),
            False,
        ),  # the third names both, and decides
        (
            ('ends = ["terminal-open"]', 'materials = ["pvc-40", "cpvc-40"]',
             'ends = ["terminal-open"]; materials = ["pvc-40"]'),
            True,
        ),  # CPVC with an open end is still open
        (
            ('ends = ["terminal-open"]', 'materials = ["pvc-40"]', 'ends = ["wall-kit"]; materials = ["pvc-40"]'),
            True,
        ),  # the third is of another end
        (
            ('ends = ["terminal-open"]', 'materials = ["pvc-40"]', 'materials = ["pvc-40"]; pipes = "one"',
             'materials = ["pvc-40"]; pipes = "two"'),
            False,
        ),  # with one pipe or two there is a row that names two
        (
            ('ends = ["terminal-open"]', 'materials = ["pvc-40"]', 'materials = ["pvc-40"]; pipes = "one"'),
            True,
        ),  # with two pipes there is none
        (('pipes = "one"', 'air_size = "3 in"'), False),  # an air pipe is a second pipe
        (('pipes = "two"', 'air_size = "3 in"'), True),
        (('air_size = "2 in"', 'air_size = "3 in"'), False),
        (("", 'air_size = "3 in"; pipes = "two"'), False),
        (('size 2 in|air_size = "3 in"', "size 3 in|"), False),  # of an air pipe of 3 in the first names more
        (('size 2 in|air_size = "3 in"', 'size 3 in|pipes = "two"'), True),  # ... and here neither
        (('size 2 in|air_size = "3 in"', 'size 4 in|air_size = "3 in"'), False),  # the vents differ
        (('size 2 in|air_size = "3 in"', 'size 3 in|pipes = "one"'), False),
    ],
)  # fmt: skip
def test_two_rows_that_name_equally_many_conditions(conditions: tuple[str, ...], clash: bool) -> None:
    """An error only where some case belongs to both, and no row that names more decides it."""
    text = rows_for(*conditions)
    if clash:
        sentences = faults(text)
        assert len(sentences) == 1 and "row 2" in sentences[0] and "row 1" in sentences[0]
    else:
        assert len(table_from_text(text, file="t").rows) == len(conditions)


def test_rows_that_can_both_hold_are_told_with_what_each_names() -> None:
    """Else nobody sees what to mend; rows that name the same are one case."""
    (said,) = faults(rows_for('pipes = "two"', 'air_size = "3 in"'))
    assert "(air pipe 3 in)" in said and "row 1 (two pipes)" in said
    assert "same case" in faults(rows_for('pipes = "two"', 'pipes = "two"'))[0]


def test_a_vent_table_does_not_ask_about_air_pipes() -> None:
    """The same two rows contradict each other for an air pipe of 3 in only."""
    pair = ('size 2 in|air_size = "3 in"', 'size 3 in|pipes = "two"')
    assert table_from_text(rows_for(*pair, applies_to=("flue gas",)), file="t").rows


def test_rows_with_and_without_a_band() -> None:
    """A row without a band holds everywhere, so that a band beside it overlaps; two without are one case."""
    bare = row("80 ft").replace('altitude = ["0 ft", "4500 ft"]\n', "").replace("altitude = ['0 ft', '4500 ft']\n", "")
    assert "altitude" not in bare
    assert "row 2, altitude" in faults(HEAD + row("90 ft") + bare)[0]
    assert "same case as row 1" in faults(HEAD + bare + bare)[0]
    assert table_from_text(HEAD + row("90 ft") + bare + 'pipes = "two"\n', file="t").rows


def test_many_contradictions_are_found_quickly() -> None:
    """Two thousand rows for one case: each is named once, in well under a second."""
    sentences = faults(HEAD + row("90 ft") * 2000)
    assert len(sentences) == 1999


def test_bands_of_a_third_row_may_decide_together() -> None:
    """Two rows that name both conditions, one a band, decide for the whole band of the other two."""
    parts = [
        row("90 ft", band=("0 ft", "4000 ft")) + 'ends = ["terminal-open"]\n',
        row("80 ft", band=("0 ft", "4000 ft")) + 'materials = ["pvc-40"]\n',
        row("70 ft", band=("0 ft", "2000 ft")) + 'ends = ["terminal-open"]\nmaterials = ["pvc-40"]\n',
        row("60 ft", band=("2000 ft", "4000 ft")) + 'ends = ["terminal-open"]\nmaterials = ["pvc-40"]\n',
    ]
    assert table_from_text(HEAD + "".join(parts), file="t").rows
    assert len(faults(HEAD + "".join(parts[:3]))) == 1
    gap = [part.replace('["2000 ft"', '["2500 ft"').replace("['2000 ft'", "['2500 ft'") for part in parts]
    assert gap != parts
    assert len(faults(HEAD + "".join(gap))) == 1


def test_the_whole_allowance_may_be_taken_off() -> None:
    """100 % for each step is a table that ends above the first; more is none. As high as there is air for."""
    text = FULL.replace('less = "4 %"', 'less = "100 %"').replace('above = "2000 ft"', 'above = "11000 m"')
    factor = table_from_text(text.replace('"60 deg"', '"180 deg"'), file="t").altitude_factor
    assert factor is not None and (factor.less, factor.above) == (1.0, 11_000.0)


def test_what_a_head_lacks_is_said_key_by_key() -> None:
    """Of a table half typed, only what is not there yet; its rows are read apart."""
    head = {"title": "T", "source": "S", "applies_to": ["flue gas"], "counts": "each run"}
    for missing in head:
        _, problems = head_from_data({key: value for key, value in head.items() if key != missing}, ())
        assert [problem.path for problem in problems] == [(missing,)]
    assert head_from_data(head, ())[1] == ()
    wrong = head_from_data({**head, "counts": "all", "row": [{}]}, ())[1]
    assert [problem.path for problem in wrong] == [("counts",)]


def _same(one: AllowanceTable, other: AllowanceTable) -> bool:
    return one == other


def test_a_sheet_holds_every_key() -> None:
    """Table, sheet, table: nothing is lost and nothing added; and the sheet of what came back is the same."""
    data = tomllib.loads(FULL)
    sheet = as_sheet(data)
    back = from_sheet(sheet)
    assert _same(table_from_data(back, file="t"), table_from_data(data, file="t"))
    assert as_sheet(back) == sheet


def test_a_sheet_typed_by_hand_is_read_as_it_stands() -> None:
    """Blanks before a cell in quotes, a head without a cell, half a band, two kinds of limit: the table's to refuse."""
    data = from_sheet(
        'title, "A, B"\nnote\n\nInput,size,from,to,allowed,1 elbow\n80 kBtu/h, 3 in,0 ft,,90 ft,60 ft\n'
        "60 kBtu/h,2 in,,9 ft,,50 ft\n"
    )
    assert (data["title"], data["note"]) == ("A, B", "")
    assert data["row"] == [
        {"input": "80 kBtu/h", "size": "3 in", "altitude": ["0 ft", ""], "allowable": "90 ft", "first_elbows": 1,
         "allowable_by_elbows": ["60 ft"]},
        {"input": "60 kBtu/h", "size": "2 in", "altitude": ["", "9 ft"], "first_elbows": 1,
         "allowable_by_elbows": ["50 ft"]},
    ]  # fmt: skip


@pytest.mark.parametrize(("wrong", "places"), [
    ({"row": "none"}, ["row"]), ({"deductions": [], "exposed": {}}, ["deductions", "exposed"]),
    ({"row": [{}, 7, {"altitude": "0 ft"}]}, ["row 2, altitude"]),
    ({"row": [{"allowable_by_elbows": "9 ft"}]}, ["row 1, allowable_by_elbows"]),
])  # fmt: skip
def test_a_sheet_is_made_of_a_table_only(wrong: dict[str, object], places: list[str]) -> None:
    """Half typed it may be; of another shape it is refused, place by place."""
    with pytest.raises(InputError) as refused:
        as_sheet({"title": "T", **wrong})
    assert [problem.place for problem in refused.value.problems] == places


def test_a_sheet_of_a_list_that_begins_with_one_elbow() -> None:
    """Columns are headed by the number of elbows, whatever each row begins with."""
    two = row(["50 ft"], input="60 kBtu/h")
    data = tomllib.loads(HEAD + row(["65 ft", "60 ft"]) + "first_elbows = 1\n" + two)
    sheet = as_sheet(data)
    assert "0 elbows,1 elbow,2 elbows" in sheet
    assert from_sheet(sheet)["row"] == data["row"]


def test_shipped_tables_open_as_before(root: Path) -> None:
    """Tables of an earlier version say none of this."""
    for name in ("demo-two-stage", "demo-elbow-count", "demo-runs-together", "demo-propane-metric"):
        read = read_table(root / "tables" / f"{name}.toml")
        assert all(one.has_band and not one.holds_for.count for one in read.rows)
        assert from_sheet(as_sheet(tomllib.loads((root / "tables" / f"{name}.toml").read_text())))["row"]
