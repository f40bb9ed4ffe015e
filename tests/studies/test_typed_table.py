"""A table while it is typed: rows judged one by one, half typed ones named, nothing corrected, nothing fatal."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ventsize.allowance.implied import row_pressures
from ventsize.allowance.reading import read_table
from ventsize.catalog.folders import shipped_folder
from ventsize.catalog.library import load_catalog
from ventsize.jobfile.problems import InputError
from ventsize.studies.typed_table import look_over

CATALOG = load_catalog()
TABLES = sorted(shipped_folder("tables").glob("demo-*.toml"))


def row(
    input: str = "80 MBH", size: str = "3 in", low: str = "0 ft", high: str = "2000 ft", **more: Any
) -> dict[str, Any]:
    """A row as typed."""
    return {"input": input, "size": size, "altitude": [low, high], **(more or {"allowable": "90 ft"})}


def table(*rows: dict[str, Any], **head: Any) -> dict[str, Any]:
    """A table as typed."""
    whole = {"title": "T", "source": "page 1", "applies_to": ["flue gas"], "counts": "each run", "deductions": {}}
    return {**whole, **head, "row": list(rows)}


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_a_whole_table_is_judged_as_when_it_is_read(path: Any) -> None:
    """Usable, and each row comes to the pressure that `row_pressures` gives."""
    found = look_over(tomllib.loads(path.read_text(encoding="utf-8")), CATALOG)
    assert found.usable and not found.faults
    known = {each.row.number: each.pressure for each in row_pressures(read_table(path), CATALOG)}
    assert {each.number: each.pressure for each in found.rows if each.pressure is not None} == known


def test_rows_that_stand_are_judged_while_others_are_half_typed() -> None:
    """The pressure of a finished row does not wait for the last one."""
    found = look_over(table(row(), row(input="", high="", allowable="")), CATALOG)
    assert found.rows[0].pressure and not found.rows[0].faults
    assert found.rows[1].empty == ("input", "the other altitude", "length") and not found.rows[1].faults
    assert not found.usable


@pytest.mark.parametrize(
    ("rows", "number", "said"),
    [
        ([row(), row(low="1000 ft", high="3000 ft")], 2, "overlaps 0 ft to 2000 ft of row 1"),
        ([row(), row()], 2, "it is for the same case as row 1"),
        ([row(low="2000 ft", high="0 ft")], 1, "is upside down; expected the lower altitude first"),
        ([row(high="45000 ft")], 1, "altitude: no building stands at 45000 ft"),
        ([row(low="-5000 ft")], 1, "altitude: no building stands at -5000 ft"),
        ([row(allowable="90 bananas")], 1, "bananas"),
        ([row(allowable="90 ft", minimum="95 ft")], 1, "the minimum is above what the row allows"),
        ([row(allowable_by_elbows=["90 ft", "not permitted", "60 ft"])], 1, "1 elbows are not permitted, yet 2 are"),
        ([row(input=""), row(), row(low="100 ft", high="300 ft")], 3, "of row 2"),
    ],
)
def test_a_fault_is_said_at_its_row(rows: list[dict[str, Any]], number: int, said: str) -> None:
    """Also where other rows are half typed; the numbers are those of the page."""
    found = look_over(table(*rows), CATALOG)
    assert said in " ".join(map(str, found.rows[number - 1].faults))
    assert not found.usable


@pytest.mark.parametrize(
    ("data", "path"),
    [
        (table(row(), row(low="2000 ft", high="0 ft")), ("altitude",)),
        (table(row(), row(allowable="90 bananas")), ("allowable",)),
        (table(row(), row(allowable_by_elbows=["90 ft", "9 bananas"])), ("allowable_by_elbows", 2)),
        ({**table(row()), "fitting": [{"name": "kit", "kind": "elbow"}]}, ("fitting", 1, "angle")),
        ({**table(row()), "fitting": [{"name": "kit", "kind": "hat"}]}, ("fitting", 1, "kind")),
        ({**table(row()), "deductions": {"elbow-45": {"2 in": "x"}}}, ("deductions", "elbow-45", "2 in")),
        ({**table(row()), "confirm": ["One wall.", "One wall."]}, ("confirm", 2)),
    ],
)
def test_a_fault_has_its_place(data: dict[str, Any], path: tuple[str | int, ...]) -> None:
    """As keys and numbers from 1, so that a screen marks the cell; of a row, inside the row."""
    found = look_over(data, CATALOG)
    assert [fault.path for fault in (*found.faults, *(one for row in found.rows[1:] for one in row.faults))] == [path]


def test_that_no_row_is_typed_yet_is_no_fault_of_the_table() -> None:
    """Nothing is wrong with it so far, and it cannot be used."""
    found = look_over(table(), CATALOG)
    assert not found.faults and not found.rows and not found.usable


def test_a_table_without_deductions_says_what_that_means() -> None:
    """It is usable for straight pipe only, and the sentence says what becomes of other runs."""
    found = look_over(table(row()), CATALOG)
    assert found.usable and [gap.code for gap in found.gaps] == ["no-deductions"]
    elbows = look_over(table(row(allowable_by_elbows=["90 ft", "85 ft"])), CATALOG)
    assert elbows.gaps == ()


def test_deductions_that_do_not_reach_every_size_are_named() -> None:
    """A size that the rows have and a fitting's deduction has not."""
    deductions = {
        "elbow-90-long": {"3 in": "5 ft"},
        "elbow-90-short": "8 ft",
        "elbow-45": "2 ft",
        "terminal-open": "0 ft",
    }
    found = look_over(table(row(), row(size="2 in"), deductions=deductions), CATALOG)
    assert [(gap.code, gap.values["fitting"], gap.values["sizes"]) for gap in found.gaps] == [
        ("deduction-misses-sizes", "elbow-90-long", ("2 in",))
    ]


def test_the_usual_range_is_around_the_median_of_rows() -> None:
    """Rows within it have no remark, those beyond it have one; with few rows there is none."""
    data = tomllib.loads((shipped_folder("tables") / "demo-two-stage.toml").read_text(encoding="utf-8"))
    data["row"][0]["allowable"] = "24 ft"  # printed as 42 ft
    found = look_over(data, CATALOG)
    assert found.rows[0].stands_out and found.rows[0].remarks[0].values["slip"] == "swapped"
    assert found.rows[0].usual is not None and found.rows[0].pressure is not None
    assert found.rows[0].pressure < found.rows[0].usual[0] < found.rows[0].usual[1]
    assert look_over(table(row()), CATALOG).rows[0].usual is None


TEXT = st.one_of(
    st.sampled_from(["", "80", "80 MBH", "3 in", "-", "0 ft", "99999999 ft", "1e300 MBH", "not permitted", "½"]),
    st.text(max_size=6),
)
CELLS = st.one_of(TEXT, st.integers(), st.none(), st.lists(TEXT, max_size=3), st.dictionaries(TEXT, TEXT, max_size=2))
ROWS = st.dictionaries(
    st.sampled_from(["input", "size", "altitude", "allowable", "allowable_by_elbows", "minimum", "color"]), CELLS
)


@given(rows=st.lists(ROWS, max_size=4), deductions=CELLS, title=CELLS)
def test_nothing_typed_is_fatal(rows: list[dict[str, Any]], deductions: Any, title: Any) -> None:
    """Whatever stands in a file or is typed half way, there is something to say of it; and it is used only if read."""
    data = table(*rows, deductions=deductions, title=title)
    found = look_over(data, CATALOG)
    assert len(found.rows) == len(rows)
    assert not any("cannot be looked over" in fault.problem for fault in found.faults), (
        "nothing of the kind is unforeseen"
    )
    try:
        from ventsize.allowance.reading import table_from_data

        table_from_data(data, file="")
    except InputError:
        assert not found.usable


def test_an_altitude_without_a_pressure_leaves_the_others_judged() -> None:
    """4500 typed as 45000: no air pressure can be told there, and the row says so while the next has its own."""
    found = look_over(table(row(high="45000 ft"), row(input="90 MBH")), CATALOG)
    assert found.rows[0].pressure is None and found.rows[0].remarks == ()
    assert found.rows[1].pressure and not found.rows[1].faults
    assert not found.usable


def test_a_table_that_nobody_foresaw_is_unusable_and_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    """The working-out failing is no reason to lose what somebody is typing."""

    def fails(*_: Any) -> Any:
        raise RuntimeError("out of order")

    monkeypatch.setattr("ventsize.studies.typed_table.doubts_of", fails)
    found = look_over(table(row()), CATALOG)
    assert not found.usable and len(found.rows) == 1 and "out of order" in found.faults[0].problem
