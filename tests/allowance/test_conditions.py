"""What a page can say beyond lengths, each rule worked by hand on both sides of its limit."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.allowance.support import FOOT, HEAD, INCH, KBTU_H, fitting, row, run, table
from ventsize.allowance.altitude import must_be_confirmed, share_left
from ventsize.allowance.case import RowCase
from ventsize.allowance.charging import charges_of, cost_of_one
from ventsize.allowance.counted import Counted, CountedFitting
from ventsize.allowance.elbows import elbows_of
from ventsize.allowance.model import AllowanceTable, AltitudeFactor, Deduction
from ventsize.allowance.names import unknown_names
from ventsize.allowance.reading import table_from_text
from ventsize.allowance.row_choice import choose
from ventsize.allowance.shares import SizeShare
from ventsize.finding import Where, power


def case(
    pipes: str | None = "one",
    ends: tuple[str, ...] | None = ("terminal-open",),
    materials: tuple[str, ...] = ("pvc-40",),
    other: tuple[float, ...] | None = (),
    carries: str = "flue gas",
) -> RowCase:
    """The case of a run; `other` are sizes of the other pipe in inches."""
    sizes = None if other is None else tuple(size * INCH for size in other)
    return RowCase(carries=carries, pipes=pipes, ends=ends, materials=frozenset(materials), other_sizes=sizes)  # type: ignore[arg-type]


def rows(*parts: str) -> AllowanceTable:
    """A table of rows of 80 kBtu/h and 3 in, numbered as given; each part is what the row says it holds for."""
    return table_from_text(
        HEAD + "".join(part if part.startswith("[[") else row("90 ft") + part + "\n" for part in parts), file="t"
    )


def chosen(
    read: AllowanceTable, asked: RowCase, *, size: float = 3, kbtu: float = 80, feet: float = 1000
) -> tuple[int, ...] | tuple[str, str]:
    """Numbers of the rows chosen, or the state and code of the refusal."""
    found = choose(read, asked, size=size * INCH, label=f"{size} in", input=kbtu * KBTU_H, altitude=feet * FOOT)
    if found.refused is None:
        return tuple(one.number for one in found.rows)
    return found.refused.state, found.refused.because.code


BY_PIPES = rows('pipes = "one"', 'pipes = "two"', 'pipes = "two"\nends = ["wall-kit"]')


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        (case("one"), (1,)),
        (case("two", other=None), (2,)),
        (case("two", ("wall-kit",), other=None), (3,)),  # names more
        (case("one", ("wall-kit",)), (1,)),
        (case(None), ("not known", "case-not-said")),
        (case("both"), ("not met", "no-row-for-case")),
        (case("two", None, other=None), ("not known", "case-not-said")),
        (case("one", None), ("not known", "case-not-said")),  # any row that names ends asks for the end
    ],
)  # fmt: skip
def test_one_pipe_or_two(asked: RowCase, expected: object) -> None:
    """The row that holds, the one that names more before the one that names less; what is not said is asked."""
    assert chosen(BY_PIPES, asked) == expected


@pytest.mark.parametrize(("asked", "unknown"), [(case(None), ("pipes",)), (case("two", None, other=None), ("ends",))])
def test_what_the_job_does_not_say_is_named(asked: RowCase, unknown: tuple[str, ...]) -> None:
    """And nothing else."""
    refused = choose(BY_PIPES, asked, size=3 * INCH, label="3 in", input=80 * KBTU_H, altitude=0.0).refused
    assert refused is not None and refused.because.values["unknown"] == unknown


def test_an_elbow_and_a_joint_make_no_pair() -> None:
    """An odd 45 of a run and a wye's 45 between two runs are two whole elbows; two of one run are one."""
    read = rows(row(["90 ft", "80 ft"]))
    own = fitting("elbow-45")
    joint = replace(own, where=Where(joint="wye"))
    assert elbows_of(read, run(10, own, joint)) == 2
    assert elbows_of(read, run(10, replace(own, count=2))) == elbows_of(read, run(10, replace(joint, count=2))) == 1


def test_materials_are_all_of_the_run() -> None:
    """One length of another material and the row does not hold."""
    read = rows('materials = ["pvc-40", "cpvc-40"]')
    assert chosen(read, case(materials=("pvc-40", "cpvc-40"))) == (1,)
    assert chosen(read, case(materials=("pvc-40", "abs-40"))) == ("not met", "no-row-for-case")


def test_pairs_of_sizes() -> None:
    """A vent goes by `size` and its air pipe by `air_size`; the air pipe goes by `air_size`, its vent by `size`."""
    read = rows(
        row("60 ft", size="2 in") + 'air_size = "3 in"\n', row("50 ft", size="2 in") + 'air_size = "2 in"\n',
        row("90 ft"),
    )  # fmt: skip
    vent = {"pipes": "two", "carries": "flue gas"}
    assert chosen(read, case(other=(3,), **vent), size=2) == (1,)
    assert chosen(read, case(other=(2,), **vent), size=2) == (2,)
    assert chosen(read, case(other=(4,), **vent), size=2) == ("not met", "no-row-for-case")
    assert chosen(read, case(other=(2, 3), **vent), size=2) == ("not met", "no-row-for-case")
    assert chosen(read, case(other=None, **vent), size=2) == ("not known", "case-not-said")
    assert chosen(read, case("one"), size=2) == ("not met", "no-row-for-case")
    air = {"pipes": "two", "carries": "combustion air"}
    assert chosen(read, case(other=(2,), **air), size=3) == (1,)  # names its pair: before the row for 3 in
    assert chosen(read, case(other=(3,), **air), size=3) == (3,)
    assert chosen(read, case(other=(3,), **air), size=2) == ("not met", "no-row-for-case")


def test_an_end_not_said_is_asked_for_by_any_row_of_the_size_and_altitude() -> None:
    """Conditions come first, then the input; a row of another size or altitude asks for nothing."""
    other = 'ends = ["wall-kit"]\nmaterials = ["abs-40"]'
    assert chosen(rows(other, 'materials = ["pvc-40"]'), case(ends=None)) == ("not known", "case-not-said")
    apart = (row("50 ft"), row("60 ft", input="100 kBtu/h") + other)
    assert chosen(rows(*apart), case(ends=None)) == ("not known", "case-not-said")
    high = row("60 ft", band=("9000 ft", "9500 ft")) + other
    assert chosen(rows(row("50 ft"), high), case(ends=None)) == (1,)


def test_a_pair_of_sizes_holds_for_no_vent_of_appliances_of_both_kinds() -> None:
    """One appliance has an air pipe of 3 in, the other takes its air from the room."""
    paired = rows('air_size = "3 in"')
    assert chosen(paired, case("two", other=(3,))) == (1,)
    assert chosen(paired, case("both", other=(3,))) == ("not met", "no-row-for-case")


def test_conditions_before_input() -> None:
    """Rows of exactly this input that do not hold are never answered by their neighbors."""
    parts = [row("60 ft", input="60 kBtu/h"), row("50 ft") + 'pipes = "two"\n', row("30 ft", input="100 kBtu/h")]
    read = rows(*parts)
    assert chosen(read, case("one")) == ("not met", "no-row-for-case")
    assert chosen(read, case("two", other=None)) == (2,)
    assert chosen(read, case("one"), kbtu=70) == (1, 3)  # the row between holds for two pipes
    assert chosen(read, case("two", other=None), kbtu=70) == (1, 2)
    assert chosen(read, case(None), kbtu=70) == ("not known", "case-not-said")
    assert chosen(read, case(None), kbtu=60) == (1,)
    assert chosen(rows(parts[0], row("50 ft"), parts[2] + 'pipes = "two"\n'), case(None), kbtu=70) == (1, 2)
    assert chosen(read, case("one"), kbtu=101) == ("not met", "input-not-in-table")
    beyond = choose(read, case("one"), size=3 * INCH, label="", input=101 * KBTU_H, altitude=0.0).refused
    assert beyond is not None and beyond.because.values["nearest"] == power(pytest.approx(100 * KBTU_H))
    low = row("60 ft", input="60 kBtu/h", band=("0 ft", "9000 ft")), row("50 ft"), row(
        "30 ft", input="100 kBtu/h", band=("0 ft", "9000 ft"))  # fmt: skip
    assert chosen(rows(*low), case(), feet=6000) == ("not met", "input-elsewhere-in-table")
    assert chosen(rows(*low), case(), feet=6000, kbtu=70) == (1, 3)


def test_a_row_without_a_band_holds_everywhere() -> None:
    """At any altitude; whether the page still holds there is another question."""
    bare = '[[row]]\ninput = "80 kBtu/h"\nsize = "3 in"\nallowable = "90 ft"\n'
    read = rows(bare)
    assert [chosen(read, case(), feet=feet) for feet in (-100, 0, 9000)] == [(1,)] * 3
    assert [must_be_confirmed(read, read.rows[0], feet * FOOT) for feet in (2000, 2000.1)] == [False, True]


@pytest.mark.parametrize(
    ("feet", "left"),
    [
        (0, 1.0), (2000, 1.0), (2000.1, 0.96), (3000, 0.96), (3000.1, 0.92), (4500, 0.88), (27000, 0.0), (30000, 0.0),
    ],
)  # fmt: skip
def test_factor_of_altitude(feet: float, left: float) -> None:
    """4 % for each 1,000 ft begun above 2,000: at 4,500 ft three steps, 88 %."""
    factor = AltitudeFactor(above=2000 * FOOT, per=1000 * FOOT, less=0.04)
    assert share_left(factor, feet * FOOT) == pytest.approx(left)


def walked(*names: str, size: float = 3) -> Counted:
    """A laid-out run of elbows in this order from the appliance."""
    fittings: dict[str, CountedFitting] = {}
    for place, name in enumerate(names):
        one = fitting(name, size=size)
        before = fittings.get(name)
        order = (*(before.order if before else ()), place)
        fittings[name] = CountedFitting(
            name=one.name,
            kind=one.kind,
            sizes=one.sizes,
            angle_degrees=one.angle_degrees,
            count=len(order),
            order=order,
        )
    return Counted(
        carries="flue gas",
        straight_by_size=run(10).straight_by_size,
        fittings=tuple(fittings.values()),
        laid_out=True,
        reaches_outdoors=False,
    )


INCLUDED = table(
    row("90 ft") + "elbows_included = 2\n",
    deductions='elbow-90-long = "3 ft"\nelbow-90-short = "5 ft"\nelbow-45 = "2 ft"\nterminal-elbow-down = "4 ft"',
    elbows_each="elbow-90-mitered = 2",
)


@pytest.mark.parametrize(
    ("elbows", "feet"),
    [
        ((), 0),
        (("elbow-90-short", "elbow-90-short"), 0),
        (("elbow-90-short", "elbow-90-long", "elbow-90-long"), 3),  # the first two
        (("elbow-90-long", "elbow-90-long", "elbow-90-short"), 5),
        (("elbow-45", "elbow-45", "elbow-90-short", "elbow-90-long"), 3),  # two 45s are one 90
        (("elbow-45", "elbow-90-short", "elbow-90-long"), 3),  # an odd 45 is a whole one
        (("elbow-45", "elbow-90-short", "elbow-45", "elbow-90-long"), 3),  # 45 + 45 are one, and one 90
        (("elbow-90-mitered", "elbow-90-long"), 3),  # counts as two
        (("elbow-90-long", "terminal-elbow-down"), 4),  # an end is no elbow that the page includes
    ],
)
def test_the_first_elbows_along_the_run_are_included(elbows: tuple[str, ...], feet: float) -> None:
    """From the appliance, as long as they count no more than two 90s."""
    charges = charges_of(INCLUDED.rows[0], INCLUDED, [walked(*elbows)], ())
    assert not charges.missing
    assert charges.total == pytest.approx(feet * FOOT)


def test_in_a_counted_run_the_cheapest_are_included() -> None:
    """Nobody knows which come first: 5 + 3 + 3 less the two of 3; a 45 of 2 ft counts first: 5 + 3."""
    counted = run(10, fitting("elbow-90-short"), fitting("elbow-90-long", 2), outdoors=False)
    assert charges_of(INCLUDED.rows[0], INCLUDED, [counted], ()).total == pytest.approx(5 * FOOT)
    more = run(10, fitting("elbow-90-short"), fitting("elbow-90-long", 2), fitting("elbow-45"), outdoors=False)
    charges = charges_of(INCLUDED.rows[0], INCLUDED, [more], ())
    assert charges.total == pytest.approx(8 * FOOT)
    assert charges.free == {"elbow-45": 1, "elbow-90-long": 1}


def test_of_elbows_that_cost_alike_the_whole_ones_are_included() -> None:
    """Two 90s and two 22½s of 3 ft (0.9144 m) each, two included: the 90s, so that 6 ft are left and not 3."""
    costs = {"elbow-90-short": 3 * FOOT, "elbow-22": 0.9144}  # apart by a rounding, as these two are written
    page = replace(INCLUDED, deductions={name: Deduction(length=length) for name, length in costs.items()})
    eighths = fitting("elbow-22", 2)
    for fittings in ((fitting("elbow-90-short", 2), eighths), (eighths, fitting("elbow-90-short", 2))):
        charges = charges_of(page.rows[0], page, [run(10, *fittings, outdoors=False)], ())
        assert charges.total == pytest.approx(6 * FOOT)


def test_an_included_elbow_needs_no_deduction() -> None:
    """Only those beyond the number cost, and only they need a figure."""
    bare = table(row("90 ft") + "elbows_included = 2\n")
    assert not charges_of(bare.rows[0], bare, [walked("elbow-90-long", "elbow-90-long")], ()).missing
    missing = charges_of(bare.rows[0], bare, [walked(*["elbow-90-long"] * 3)], ()).missing
    assert [finding.code for finding in missing] == ["no-deduction"]


def test_parts_of_a_way_share_the_included_elbows() -> None:
    """Two elbows in the first part use them up; the third stands in the second."""
    parts = [walked("elbow-90-long", "elbow-90-long"), walked("elbow-90-short")]
    assert charges_of(INCLUDED.rows[0], INCLUDED, parts, ()).total == pytest.approx(5 * FOOT)


@pytest.mark.parametrize(("count", "feet"), [(0, 0), (1, 3), (2, 3), (3, 6), (4, 6), (5, 9)])
def test_each_begun_pair_costs(count: int, feet: float) -> None:
    """ "Add 3 ft per pair of 45s": one 45 is a pair begun."""
    paired = table(row("90 ft"), deductions="elbow-45 = { per_two = '3 ft' }")
    assert charges_of(paired.rows[0], paired, [run(10, fitting("elbow-45", count))], ()).total == pytest.approx(
        feet * FOOT
    )


def test_pairs_are_counted_run_by_run() -> None:
    """One 45 in the vent and one in the air pipe begin a pair each."""
    paired = table(
        row("90 ft"), deductions="elbow-45 = { per_two = '3 ft' }", head=HEAD.replace("each run", "runs together")
    )
    both = [run(10, fitting("elbow-45")), run(10, fitting("elbow-45"), carries="combustion air")]
    assert charges_of(paired.rows[0], paired, both, ()).total == pytest.approx(6 * FOOT)


def test_what_one_of_a_fitting_takes() -> None:
    """By the job, else by the page: of a pair half, of two sizes the larger figure; None where neither says."""
    by_size = 'increaser = { "3 in" = "1 ft", "4 in" = "2 ft" }'
    read = table(row("90 ft"), deductions=f'elbow-45 = {{ per_two = "3 ft" }}\nelbow-90-long = "4 ft"\n{by_size}')
    asked = {
        fitting("elbow-45"): 1.5, fitting("elbow-45", override=0): 0, fitting("elbow-90-long"): 4,
        fitting("increaser", to=4): 2, fitting("increaser", to=2): None, fitting("coupling"): None,
    }  # fmt: skip
    for one, feet in asked.items():
        assert cost_of_one(read, one) == (None if feet is None else pytest.approx(feet * FOOT))
    assert read.deductions["increaser"].largest == pytest.approx(2 * FOOT)


@pytest.mark.parametrize("name", ["elbow-45", "elbow-90-long", "coupling"])
@pytest.mark.parametrize(("figure", "free"), [("0 ft", True), ("1 in", False)])
def test_what_takes_nothing_is_free(name: str, figure: str, free: bool) -> None:
    """So that what it loses is part of the permission; an inch is a length."""
    value = f'{{ per_two = "{figure}" }}' if name == "elbow-45" else f'"{figure}"'
    read = table(row("90 ft"), deductions=f"{name} = {value}")
    found = charges_of(read.rows[0], read, [run(10, fitting(name, 2))], ())
    assert (found.free == {name: 2}) is free and bool(found.charges) is not free


@pytest.mark.parametrize(("plain", "feet"), [(True, 0), (False, 3)])
def test_a_pair_of_elbows_that_a_row_counts_costs_where_no_other_row_can_be_meant(plain: bool, feet: float) -> None:
    """Two 45s are an elbow of the row; 3 ft for the pair are on top of it only if every row counts elbows."""
    rows = [row(["90 ft", "80 ft"]), *([row("60 ft", size="2 in")] if plain else [])]
    read = table(*rows, deductions="elbow-45 = { per_two = '3 ft' }")
    charged = charges_of(read.rows[0], read, [run(10, fitting("elbow-45", 2))], ()).total
    assert charged == pytest.approx(feet * FOOT)


@pytest.mark.parametrize(("kind", "asked"), [("terminal", ("kit",)), ("entrance", ("kit",)), ("other", None)])
def test_an_end_of_the_pages_own_has_to_be_listed(kind: str, asked: tuple[str, ...] | None) -> None:
    """Of vent and air pipe the one that lists none; a silencer of the page's is no end."""
    own = f'[[fitting]]\nname = "kit"\nkind = "{kind}"\n'
    read = table(row("90 ft"), own, deductions='kit = "4 ft"', head=HEAD.replace("each run", "runs together"))
    ended = replace(run(5, replace(fitting("terminal-open"), name="kit")), name="vent")
    missing = charges_of(read.rows[0], read, [ended, replace(run(5, carries="combustion air"), name="air")], ()).missing
    said = [(one.code, one.where.run, one.values["charged"]) for one in missing]
    assert said == ([("end-not-listed", "air", asked)] if asked else [])


def lined(feet: float, material: str) -> Counted:
    pipe = run(feet).straight_by_size[0]
    return Counted(carries="flue gas", straight_by_size=(type(pipe)(pipe.size, pipe.label, pipe.length, material),))


def test_a_foot_of_liner_counts_as_two() -> None:
    """10 ft of liner add 10 ft beyond themselves; PVC nothing."""
    head = HEAD + "[counts_as]\nflexible-liner-corrugated = 2.0\n"
    read = table(row("90 ft"), head=head)
    assert charges_of(read.rows[0], read, [lined(10, "flexible-liner-corrugated")], ()).total == pytest.approx(
        10 * FOOT
    )
    assert charges_of(read.rows[0], read, [lined(10, "pvc-40")], ()).total == 0


# Elbow-count rows

COUNTS = table(
    row(["65 ft", "60 ft"]) + "first_elbows = 1\n", deductions='terminal-screened = "4 ft"\ntee-through = "6 ft"'
)


def test_other_fittings_cost_nothing_in_an_elbow_count_row() -> None:
    """Only what the table deducts by name is added: 6 for the tee, 4 for the screen."""
    asked = run(
        10,
        fitting("tee-through"),
        fitting("silencer"),
        fitting("increaser", size=2, to=3),
        fitting("terminal-screened"),
    )
    charges = charges_of(COUNTS.rows[0], COUNTS, [asked], ())
    assert not charges.missing and charges.total == pytest.approx(10 * FOOT)
    assert elbows_of(COUNTS, asked) == 0


@pytest.mark.parametrize("name", ["terminal-open", "entrance-open", "terminal-elbow-down"])
def test_an_end_without_a_word_in_an_elbow_count_row(name: str) -> None:
    """Where the page deducts for some end, it has to say what each costs; where it deducts for none, none costs."""
    missing = charges_of(COUNTS.rows[0], COUNTS, [run(10, fitting(name))], ()).missing
    assert [finding.code for finding in missing] == ["no-deduction"]
    bare = table(row(["65 ft", "60 ft"]), deductions='coupling = "0 ft"')
    assert not charges_of(bare.rows[0], bare, [run(10, fitting(name))], ()).missing


def test_an_implied_end_is_charged_in_every_kind_of_row() -> None:
    """A plain open end is there though nobody lists it."""
    end = fitting("terminal-open")
    implied = CountedFitting(name=end.name, kind=end.kind, sizes=end.sizes, implied=True)
    deducted = 'terminal-open = "4 ft"'
    for kind in (row("90 ft"), row(["65 ft", "60 ft"])):
        read = table(kind, deductions=deducted)
        assert charges_of(read.rows[0], read, [run(10, implied)], ()).total == pytest.approx(4 * FOOT)


def test_names_that_nothing_explains() -> None:
    """Of fittings and materials, with the nearest known name; the page's own fittings are known."""
    text = (
        HEAD + '[deductions]\nelbow-90-lng = "3 ft"\nwall-kit = "4 ft"\n[counts_as]\nflexible-linr = 2\n'
        + row("90 ft") + 'ends = ["wall-kit", "roof-kit"]\nmaterials = ["pvc-4"]\n'
        + '[[fitting]]\nname = "wall-kit"\nkind = "terminal"\n'
    )  # fmt: skip
    found = list(
        unknown_names(
            table_from_text(text, file="t"),
            fittings=("elbow-90-long", "terminal-open"),
            materials=("pvc-40", "flexible-liner"),
        )
    )
    assert [(one.place, one.kind, one.name) for one in found] == [
        ("deductions", "fitting", "elbow-90-lng"), ("counts_as", "material", "flexible-linr"),
        ("row 1, ends", "fitting", "roof-kit"), ("row 1, materials", "material", "pvc-4"),
    ]  # fmt: skip
    assert "elbow-90-long" in found[0].expected and "flexible-liner" in found[1].expected


def test_a_size_that_is_not_permitted_is_no_share_of_nothing() -> None:
    """A reducer at the end of a run brings in a size of 0 ft: where its row permits none, all is over."""
    row = INCLUDED.rows[0]
    assert SizeShare(row, 0.0, None).used == math.inf
    assert SizeShare(row, 0.0, 2.0).used == 0.0 and SizeShare(row, 1.0, 2.0).used == 0.5
