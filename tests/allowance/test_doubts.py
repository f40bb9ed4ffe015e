"""Typing mistakes in a table are pointed at; a sound table is left in peace."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.allowance.support import FOOT, HEAD, INCH, KBTU_H, row, table
from ventsize.allowance.budget import Losses, implied_pressures
from ventsize.allowance.doubts import doubts_of
from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.reading import read_table, table_from_text
from ventsize.allowance.row_remarks import order_doubts
from ventsize.allowance.slips import likely_slip
from ventsize.catalog.library import load_catalog
from ventsize.finding import Finding
from ventsize.jobfile.problems import InputError

CATALOG = load_catalog()


def pressure(*, input: float, size: float, altitude: float, length: float) -> float:
    """Turbulent flow in smooth pipe: loss as flow^1.75 / bore^4.75 (Blasius), thinner air counted roughly.

    Scaled so that 36 ft of 2 in at 70 kBtu/h and 600 m lose some 60 Pa.
    """
    return 1.6e-13 * input**1.75 / size**4.75 * length / (1 - altitude / 44300) ** 5.256 / 1e3


def losses(*, input: float, size: float, altitude: float) -> Losses:
    """Straight pipe alone."""
    return Losses(pressure(input=input, size=size, altitude=altitude, length=1.0))


def budget_table(change: str = "", to: str = "") -> AllowanceTable:
    """Twelve rows of one pressure to within rounding, with one figure changed if wanted."""
    rows = []
    for kbtu in (50, 70, 90, 110):
        for inches in (2, 2.5, 3):
            each_foot = pressure(input=kbtu * KBTU_H, size=inches * INCH, altitude=600, length=FOOT)
            at_70 = pressure(input=70 * KBTU_H, size=2 * INCH, altitude=600, length=FOOT)
            rows.append(
                row(
                    f"{round(36 * at_70 / each_foot)} ft",
                    input=f"{kbtu} kBtu/h",
                    size=f"{inches} in",
                    band=("0 m", "600 m"),
                )
            )
    text = HEAD + "\n".join(rows)
    assert change in text
    return table_from_text(text.replace(change, to, 1) if change else text, file="table.toml")


def doubts(read: AllowanceTable) -> list[Finding]:
    return [doubt for found in implied_pressures(read, losses) for doubt in found.doubts]


def test_sound_table():
    """Rows of one budget show one pressure, and no remark."""
    found = implied_pressures(budget_table(), losses)
    assert len(found) == 12
    assert all(one.usual[0] < one.pressure < one.usual[1] for one in found if one.pressure and one.usual)
    assert doubts(budget_table()) == []


@pytest.mark.parametrize(
    ("typed", "meant", "slip"),
    [
        ("63 ft", "36 ft", "swapped"),
        ("360 ft", "36 ft", "shifted"),
        ("3 ft", "3", "shifted"),
        ("96 ft", "36 ft", "wrong digit"),
    ],
)
def test_one_slip(typed: str, meant: str, slip: str) -> None:
    """The row at 70 kBtu/h in 2 in pipe allows 36 ft; each slip is found, named, and left as it is."""
    read = budget_table('"36 ft"', f'"{typed}"')
    found = doubts(read)
    assert [one.code for one in found] == ["row-pressure-unlikely"]
    values = found[0].values
    assert (values["typed"], values["slip"]) == (typed, slip) and str(values["meant"]).startswith(meant)
    assert found[0].where.row is not None and read.rows[found[0].where.row - 1].length_labels == (typed,)


@pytest.mark.parametrize("end_deducted", [False, True])
def test_a_page_has_the_end_in_its_lengths_or_in_its_deductions(end_deducted: bool) -> None:
    """A foot takes 1 Pa at 50 kBtu/h and 4 Pa at 200, an end 5 to 20 Pa: all rows come to 60 Pa, with it or without."""

    def of(*, input: float, **_: float) -> Losses:
        return Losses(input / (50 * KBTU_H) / FOOT, end=input / (10 * KBTU_H))

    inputs = (50, 80, 110, 140, 200)
    lengths = [(60 - (0 if end_deducted else kbtu / 10)) * 50 / kbtu for kbtu in inputs]
    rows = (row(f"{feet:.3f} ft", input=f"{kbtu} kBtu/h") for kbtu, feet in zip(inputs, lengths, strict=True))
    found = implied_pressures(table(*rows), of)
    assert [one.pressure for one in found] == pytest.approx([60.0] * 5, rel=1e-3)


def test_row_at_a_limit_shared_by_others():
    """Large pipe is often cut at one longest length: low pressure there is no mistake."""
    rows = [
        row("36 ft", input="70 kBtu/h", size="2 in"),
        row("37 ft", input="70 kBtu/h", size="2.01 in"),
        row("24 ft", input="90 kBtu/h", size="2 in"),
        row("17 ft", input="110 kBtu/h", size="2 in"),
        row("66 ft", input="50 kBtu/h", size="2 in"),
        row("100 ft", input="50 kBtu/h", size="4 in"),
        row("100 ft", input="70 kBtu/h", size="4 in"),
    ]
    assert doubts(table(*rows)) == []


def unlikely(*lengths: str, size: str = "2 in") -> list[tuple[object, object]]:
    """What was typed and what was meant, of rows at 80, 90 … kBtu/h, by the real calculation."""
    rows = [row(text, input=f"{80 + 10 * n} kBtu/h", size=size) for n, text in enumerate(lengths)]
    found = doubts_of(table(*rows), CATALOG).rows
    return [(one.values["typed"], one.values.get("meant")) for one in found if one.code == "row-pressure-unlikely"]


def test_one_row_alone_can_be_absurd() -> None:
    """40 ft of 2 in at 80 kBtu/h take 0.36 in w.c.; ten times that is more than any such appliance gives."""
    assert unlikely("40 ft") == []
    assert unlikely("400 ft") == [("400 ft", "40 ft")]
    alone = doubts_of(table(row("400 ft", size="2 in")), CATALOG).rows[0]
    assert alone.values["pressure"].value / 249.089 == pytest.approx(3.2, abs=0.1)  # type: ignore[union-attr]
    assert unlikely("4 ft") == []  # errs the safe way, and a fan may be weak


def test_of_two_or_three_rows_a_slipped_digit_is_seen() -> None:
    """Four times the pressure of the others and more is no rounding; less may be another fan."""
    assert unlikely("10 ft", "8 ft", "6 ft") == []
    assert unlikely("10 ft", "90 ft", "6 ft") == [("90 ft", "9 ft")]
    assert unlikely("10 ft", "8 ft") == []
    wide = [row("60 ft", size="2 in"), row("90 ft"), row("120 ft", size="4 in")]  # wide pipe is cut at some length
    assert doubts_of(table(*wide), CATALOG).all == ()
    assert unlikely("10 ft", "100 ft") == [("100 ft", "10 ft")]


def test_an_entry_of_a_list_by_elbows() -> None:
    """60 typed as 600 among entries that go down by five feet."""
    sound = ["70 ft", "65 ft", "60 ft", "55 ft", "50 ft"]
    assert doubts_of(table(row(sound)), CATALOG).all == ()
    codes = {one.code for one in doubts_of(table(row(["70 ft", "65 ft", "600 ft", "55 ft", "50 ft"])), CATALOG).all}
    assert codes == {"row-pressure-unlikely", "more-with-more-elbows"}
    low = doubts_of(table(row(["70 ft", "65 ft", "6 ft", "55 ft", "50 ft"])), CATALOG).all
    assert ("row-pressure-unlikely", 2, "6 ft") in {
        (one.code, one.values.get("elbows"), one.values.get("typed")) for one in low
    }


def test_included_elbows_and_the_open_end_are_part_of_the_budget() -> None:
    """10 Pa/m over 6 m, two elbows of 4 Pa and an end of 3 Pa: 71 Pa."""

    read = table(row("6 m") + "elbows_included = 2\n")
    found = implied_pressures(read, lambda **_: Losses(straight=10.0, elbow=4.0, end=3.0))
    assert [one.pressure for one in found] == [pytest.approx(71.0)]


def test_doubts_are_worked_out_once() -> None:
    """A table keeps what was found of it; a catalog with another elbow asks anew."""
    read = table(row("400 ft", size="2 in"), deductions='elbow-90-long = "3 ft"')
    first = doubts_of(read, CATALOG)
    assert doubts_of(read, CATALOG.extended(pipes=(), fittings=(), file="")) is first
    other = {"name": "elbow-90-long", "source": "own", "kind": "elbow", "angle": "90 deg", "loss": {"k": 9.0}}
    assert doubts_of(read, CATALOG.extended(fittings=[other], file="")) is not first


@pytest.mark.parametrize(
    ("typed", "factor", "said"),
    [
        ("52 ft", 25 / 52, ("25 ft", "swapped")),
        ("9 m", 10, ("90 m", "shifted")),
        ("125 ft", 0.1, ("12.5 ft", "shifted")),
        ("12.5 m", 10, ("125 m", "shifted")),
        ("400 ft", 0.1, ("40 ft", "shifted")),
        ("80 ft", 30 / 80, ("30 ft", "wrong digit")),
        ("52 ft", 25 / 1.05 / 52, ("25 ft", "swapped")),  # 25 for 23.8, within the tenth that rounding explains
        ("52 ft", 25 / 1.15 / 52, ("22 ft", "wrong digit")),  # 25 for 21.7 is beyond it
        ("no figure", 2, None),
    ],
)
def test_likely_slip(typed, factor, said):
    """The likeliest slip of the keys that would give the length the other rows lead one to expect."""
    slip = likely_slip(typed, factor, 0.02)
    assert (None if slip is None else (slip.meant, slip.kind)) == said


def test_more_elbows_never_allow_more() -> None:
    """It is a doubt, not a fault: the table may be printed so. As much with one more is in order."""
    assert list(order_doubts(table(row(["70 ft", "56 ft", "56 ft"])))) == []
    found = list(order_doubts(table(row(["70 ft", "56 ft", "60 ft", "not permitted"]) + "first_elbows = 1\n")))
    assert [(one.code, one.where.row) for one in found] == [("more-with-more-elbows", 1)]
    assert (found[0].values["elbows"], found[0].values["allowed"], found[0].values["with_fewer"]) == (
        3,
        "60 ft",
        "56 ft",
    )


@pytest.mark.parametrize(
    ("rows", "code"),
    [
        ((row("40 ft"), row("50 ft", input="90 kBtu/h")), "longer-at-larger-input"),
        ((row("40 ft"), row("50 ft", size="2 in")), "longer-in-smaller-size"),
        ((row("40 ft"), row("50 ft", band=("4500 ft", "9000 ft"))), "longer-at-higher-altitude"),
    ],
)
def test_rows_out_of_order(rows: tuple[str, str], code: str) -> None:
    """More input, less bore or thinner air never allows more pipe; what holds for another case is another matter."""
    found = list(order_doubts(table(*rows)))
    assert [(one.code, one.where.row, one.values["allowed"]) for one in found] == [(code, 2, "50 ft")]
    assert list(order_doubts(table(rows[0]))) == []
    assert list(order_doubts(table(rows[0], rows[1] + 'pipes = "two"\n'))) == []


def test_demonstration_tables_are_in_order(root: Path):
    """The invented figures are at least possible ones."""
    for path in (root / "tables").glob("demo-*.toml"):
        assert doubts_of(read_table(path), CATALOG).all == (), path.name


def test_where_nothing_can_be_worked_out() -> None:
    """The row says why, and the others are held against one another without it."""

    def failing(*, input: float, size: float, altitude: float) -> Losses:
        if altitude > 12000:
            raise ValueError("there is no air")
        return losses(input=input, size=size, altitude=altitude)

    text = HEAD + row("40 ft") + row("40 ft", input="90 kBtu/h")
    read = table_from_text(text, file="table.toml")
    high = replace(read, rows=(read.rows[0], replace(read.rows[1], altitude=(0.0, 13716.0))))
    sound, failed = implied_pressures(high, failing)
    assert sound.pressure and failed.pressure is None
    assert [(one.code, one.where.row, one.values["why"]) for one in failed.doubts] == [
        ("row-pressure-not-known", 2, "there is no air")
    ]


@pytest.mark.parametrize(("top", "found"), [
    ("15,000 ft", []), ("16,000 ft", ["row-above-any-house"]), ("11000 m", ["row-above-any-house"]),
])  # fmt: skip
def test_a_band_above_any_house(top: str, found: list[str]) -> None:
    """Read as it stands, and pointed at: a digit too many covers sites that the page does not."""
    assert [one.code for one in order_doubts(table(row("40 ft", band=("0 ft", top))))] == found


@pytest.mark.parametrize("band", [("0 ft", "45000 ft"), ("-5000 ft", "0 ft")])
def test_a_band_where_no_building_stands_is_refused(band):
    """Where there is no air pressure to reckon with (standard atmosphere, lowest layer), in one sentence."""
    with pytest.raises(InputError) as caught:
        table(row("40 ft", band=band))
    assert [str(problem) for problem in caught.value.problems if "no building stands at" in str(problem)]
