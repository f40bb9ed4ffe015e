"""What must hold for any table and any run: no pass outside the rows, and no pass gained by adding anything."""

from __future__ import annotations

import tomllib
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from tests.allowance.support import EXAMPLE, FOOT, HEAD, INCH, KBTU_H, fitting, row, run, table
from ventsize.allowance.case import Site
from ventsize.allowance.counted import Counted
from ventsize.allowance.lookup import look_up
from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.reading import table_from_data, table_from_text
from ventsize.jobfile.problems import InputError

SIZES = (2, 3, 4)
INPUTS = (60, 80, 100)
BANDS = ((0, 2000), (2000, 4500), (5000, 7000))
NAMES = ("elbow-90-long", "elbow-45", "elbow-22", "tee-branch", "terminal-screened", "coupling")
DEDUCTIONS = 'elbow-90-long = "3 ft"\nelbow-45 = "1.5 ft"\nelbow-22 = "1 ft"\nterminal-screened = "2 ft"'

CASES = tuple((size, kbtu, band) for size in SIZES for kbtu in INPUTS for band in BANDS)
ROW_KINDS = st.one_of(
    st.integers(1, 120).map(lambda length: f"{length} ft"),
    st.lists(st.integers(1, 120), min_size=1, max_size=5).map(
        lambda given: [f"{length} ft" for length in sorted(given, reverse=True)] + ["not permitted"]
    ),
)


@st.composite
def tables(draw: st.DrawFn) -> AllowanceTable:
    """Rows of either kind for all cases but a few; deductions or none."""
    gaps = draw(st.sets(st.sampled_from(CASES), max_size=8))
    rows = [
        row(draw(ROW_KINDS), size=f"{size} in", input=f"{kbtu} kBtu/h", band=(f"{low} ft", f"{high} ft"))
        for size, kbtu, (low, high) in CASES
        if (size, kbtu, (low, high)) not in gaps
    ]
    return table(*rows, deductions=draw(st.sampled_from(("", DEDUCTIONS))))


@st.composite
def runs(draw: st.DrawFn) -> Counted:
    """Some feet of one or two sizes, now and then of one that no table here has, with a few fittings."""
    known = st.sampled_from(SIZES)
    sizes = draw(st.lists(st.one_of(known, known, known, st.just(5)), min_size=1, max_size=2, unique=True))
    names = draw(st.dictionaries(st.sampled_from(NAMES), st.integers(0, 3), max_size=3))
    pieces = [fitting(name, count, size=draw(st.sampled_from(sizes))) for name, count in names.items()]
    return run({size: draw(st.floats(0, 110)) for size in sizes}, *pieces)


inputs = st.one_of(st.sampled_from(INPUTS), st.floats(60, 100), st.floats(40, 120))
altitudes = st.one_of(st.sampled_from((0, 2000, 4500, 5000, 7000)), st.floats(0, 4500), st.floats(-500, 8000))


def verdict(read: AllowanceTable, counted: Counted, kbtu: float, altitude: float) -> str:
    return look_up(read, input=kbtu * KBTU_H, site=Site(altitude=altitude * FOOT), counted=[counted]).verdict


@given(tables(), runs(), inputs, altitudes)
def test_never_within_outside_the_rows(read, counted, kbtu, altitude):
    """A pass needs, for every size of the run, rows of its altitude at the input or on both sides of it."""
    if verdict(read, counted, kbtu, altitude) != "within":
        return
    for size in counted.sizes:
        at_hand = [
            one.input / KBTU_H
            for one in read.rows
            if abs(one.size - size) < 1e-6 and one.altitude[0] - 1e-3 <= altitude * FOOT <= one.altitude[1] + 1e-3
        ]
        assert at_hand
        assert min(at_hand) <= kbtu * (1 + 1e-6) and max(at_hand) >= kbtu * (1 - 1e-6)


@given(tables(), runs(), inputs, altitudes, st.floats(0, 50))
def test_more_pipe_never_makes_a_pass_of_a_run_too_long(read, counted, kbtu, altitude, more):
    """Pipe only ever uses allowance up."""
    before = verdict(read, counted, kbtu, altitude)
    first, *others = counted.straight_by_size
    longer = replace(counted, straight_by_size=(replace(first, length=first.length + more * FOOT), *others))
    assert verdict(read, longer, kbtu, altitude) != "within" or before in ("within", "short")


@given(tables(), runs(), inputs, altitudes, st.sampled_from(NAMES))
def test_one_fitting_more_never_makes_a_pass_of_a_run_too_long(read, counted, kbtu, altitude, name):
    """Fittings only ever use allowance up. (A missing terminal is the one thing a fitting can complete.)"""
    before = verdict(read, counted, kbtu, altitude)
    size = counted.sizes[0] / INCH
    added = replace(counted, fittings=(*counted.fittings, fitting(name, size=size)))
    after = verdict(read, added, kbtu, altitude)
    assert after not in ("within", "short") or before not in ("over", "not covered")


@given(tables(), runs(), inputs, altitudes)
def test_a_fitting_the_table_lacks_never_passes(read, counted, kbtu, altitude):
    """Nothing is guessed for a fitting that no rule covers; in an elbow-count row it costs nothing by rule."""
    if any(one.counts_elbows for one in read.rows):
        return
    added = replace(counted, fittings=(*counted.fittings, fitting("silencer", size=counted.sizes[0] / INCH)))
    assert verdict(read, added, kbtu, altitude) in ("incomplete", "not covered")


def _places(node: object, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """Every place of a document."""
    steps = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    return [path, *(place for step, below in steps for place in _places(below, (*path, step)))]


junk = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8), st.just("9**9 ft")),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=5), inner, max_size=3)),
    max_leaves=5,
)


@given(st.sampled_from(_places(tomllib.loads(EXAMPLE))[1:]), junk)
def test_damage_anywhere_is_a_sentence_or_a_table(place, value):
    """Whatever stands at any place of a table file, it is read or refused in words, on one line each."""
    document = tomllib.loads(EXAMPLE)
    holder = document
    for step in place[:-1]:
        holder = holder[step]
    holder[place[-1]] = value
    try:
        table_from_data(document, file="table.toml")
    except InputError as refused:
        assert all("\n" not in str(problem) and len(str(problem)) < 400 for problem in refused.problems)


METRIC_ROWS = tuple(
    (size, kbtu, band, allows)
    for size, kbtu, band, allows in (
        (3, 60, (0, 2000), 70),
        (3, 100, (0, 2000), 40),
        (2, 60, (0, 2000), 30),
        (2, 100, (0, 2000), 14),
        (3, 80, (2000, 4500), 50),
    )
)


def _in_feet() -> AllowanceTable:
    rows = [
        row(f"{allows} ft", size=f"{size} in", input=f"{kbtu} kBtu/h", band=(f"{low} ft", f"{high} ft"))
        for size, kbtu, (low, high), allows in METRIC_ROWS
    ]
    return table(*rows, deductions='elbow-90-long = "3 ft"\nelbow-45 = { "2 in" = "1 ft", "3 in" = "2 ft" }')


def _in_metres() -> AllowanceTable:
    rows = [
        row(
            f"{allows * FOOT!r} m",
            size=f"{size * 25.4!r} mm",
            input=f"{kbtu * KBTU_H / 1000!r} kW",
            band=(f"{low * FOOT!r} m", f"{high * FOOT!r} m"),
        )
        for size, kbtu, (low, high), allows in METRIC_ROWS
    ]
    lengths = f'{{ "50.8 mm" = "{FOOT!r} m", "76.2 mm" = "{2 * FOOT!r} m" }}'
    deductions = f'elbow-90-long = "{3 * FOOT!r} m"\nelbow-45 = {lengths}'
    return table_from_text(HEAD + f"[deductions]\n{deductions}\n" + "\n".join(rows), file="table.toml")


IN_FEET, IN_METRES = _in_feet(), _in_metres()


@given(runs(), st.sampled_from((60, 70, 80, 100)), st.sampled_from((0, 1000, 2000, 4500)))
def test_one_table_in_two_systems_of_units(counted, kbtu, altitude):
    """The same table typed in feet and in metres gives the same answer, to 1e-9."""
    asked = {"input": kbtu * KBTU_H, "site": Site(altitude=altitude * FOOT), "counted": [counted]}
    one, other = look_up(IN_FEET, **asked), look_up(IN_METRES, **asked)
    assert one.verdict == other.verdict
    for figure in ("straight_length", "equivalent_length", "allowable_length", "used", "budget_length"):
        first, second = getattr(one, figure), getattr(other, figure)
        assert first == second or abs(first - second) <= 1e-9 * abs(first)
