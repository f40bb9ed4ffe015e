"""Limits of a page on how pipe lies, how much the pipes differ, and what runs in the cold."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.allowance.support import FOOT, HEAD, INCH, fitting, row, run, table
from ventsize.allowance.case import Site
from ventsize.allowance.counted import ColdPipe, Counted
from ventsize.allowance.exposed import exposed_allowed
from ventsize.allowance.limits import elbows_allowed, limits_kept
from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.reading import table_from_text
from ventsize.finding import Amount, Outcome, length


def limited(**limits: object) -> AllowanceTable:
    lines = "".join(f"{key} = {'true' if value is True else repr(value)}\n" for key, value in limits.items())
    return table(row("90 ft"), head=HEAD + "[limits]\n" + lines)


def lies(level: float = 0, rising: float = 0, unsaid: float = 0) -> Counted:
    """A laid-out run by how it lies, in feet."""
    return Counted(
        carries="flue gas", straight_by_size=run(level + rising + unsaid).straight_by_size, laid_out=True,
        level=level * FOOT, rising=rising * FOOT, unsaid=unsaid * FOOT,
    )  # fmt: skip


def only(outcomes: object) -> tuple[str, str, str]:
    found = list(outcomes)  # type: ignore[call-overload]
    assert len(found) == 1 and isinstance(found[0], Outcome)
    return found[0].state, found[0].verdict, found[0].because.code


@pytest.mark.parametrize(
    ("lying", "expected"),
    [
        (lies(level=40), ("met", "within", "level-within")),
        (lies(level=40 + 0.009 / 12), ("met", "within", "level-within")),  # a hundredth of an inch
        (lies(level=40 + 0.011 / 12), ("not met", "over", "level-over")),
        (lies(level=30, rising=100), ("met", "within", "level-within")),
        (lies(level=30, unsaid=10), ("met", "within", "level-within")),
        (lies(level=30, unsaid=11), ("not known", "incomplete", "level-not-said")),
        (lies(level=41, unsaid=11), ("not met", "over", "level-over")),
        (run(40), ("met", "within", "level-within")),  # counted
        (run(41), ("not known", "incomplete", "level-not-laid-out")),
    ],
)  # fmt: skip
def test_longest_level_pipe(lying: Counted, expected: tuple[str, str, str]) -> None:
    """The total of pipe that is not vertical; what is not said counts toward it, as a question."""
    assert only(limits_kept(limited(longest_level="40 ft"), [lying], Site(altitude=0.0))) == expected


def test_longest_rise() -> None:
    """The total of pipe going up, over all parts of a way."""
    read, site = limited(longest_rise="20 ft"), Site(altitude=0.0)
    assert only(limits_kept(read, [lies(rising=20, level=99)], site))[0] == "met"
    assert only(limits_kept(read, [lies(rising=15), lies(rising=6)], site)) == ("not met", "over", "rise-over")
    assert only(limits_kept(read, [lies(rising=15), run(6)], site))[0] == "not known"


def test_a_limit_names_the_run_where_there_is_one() -> None:
    """Of several runs together it names none; what is beyond is what the figures say."""
    read, site = limited(longest_level="40 ft"), Site(altitude=0.0)
    one = replace(lies(level=45), name="vent")
    for pipes, where in (([one], "vent"), ([one, replace(lies(level=5), name="rest")], None)):
        (outcome,) = limits_kept(read, pipes, site)
        amounts = {name: amount.value / FOOT for name, amount in outcome.because.values.items()}  # type: ignore[union-attr]
        level = 45 if where else 50
        assert outcome.because.where.run == where
        assert amounts == pytest.approx({"found": level, "most": 40, "unsaid": 0, "beyond": level - 40}, abs=1e-9)


def test_what_is_not_said_of_several_runs_adds_up() -> None:
    """30 ft lie level; 5 ft of a layout and 6 ft of a counted run may, too: 41 of 40."""
    (outcome,) = limits_kept(limited(longest_level="40 ft"), [lies(level=30, unsaid=5), run(6)], Site(altitude=0.0))
    unsaid = outcome.because.values["unsaid"]
    assert isinstance(unsaid, Amount) and unsaid.value == pytest.approx(11 * FOOT)
    assert outcome.state == "not known"


def test_a_limit_on_how_pipe_lies_is_for_the_pipe_of_each_gas() -> None:
    """40 ft for the vent and 40 for the air pipe, not for both together; the worse of the two is the answer."""
    read, site = limited(longest_level="40 ft"), Site(altitude=0.0)
    for level, state in ((40, "met"), (41, "not met")):
        air = replace(lies(level=level), carries="combustion air")
        for pipes in ([lies(level=30), air], [air, lies(level=30)]):
            assert only(limits_kept(read, pipes, site))[0] == state


@pytest.mark.parametrize(
    ("site", "expected"),
    [
        (Site(altitude=0.0, pipes="two", difference=20 * FOOT), ("met", "within", "difference-within")),
        (Site(altitude=0.0, pipes="two", difference=20.1 * FOOT), ("not met", "over", "difference-over")),
        (Site(altitude=0.0, pipes="one"), ("met", "within", "one-pipe")),
        (Site(altitude=0.0), ("not known", "incomplete", "other-pipe-not-known")),
        (Site(altitude=0.0, pipes="two"), ("not known", "incomplete", "other-pipe-not-known")),
        (Site(altitude=0.0, difference=10 * FOOT), ("not known", "incomplete", "other-pipe-not-known")),
    ],
)
def test_longest_difference(site: Site, expected: tuple[str, str, str]) -> None:
    """Between the straight lengths of vent and air; without an air pipe there is none."""
    (outcome,) = limits_kept(limited(longest_difference="20 ft"), [run(10)], site)
    assert only([outcome]) == expected
    if expected[0] == "not met":
        assert outcome.because.values["beyond"] == length(pytest.approx(0.1 * FOOT))


@pytest.mark.parametrize(
    ("vent", "air", "pipes", "code"),
    [
        ((3,), (3,), "two", "sizes-alike"), ((3,), (2,), "two", "sizes-differ"), ((2, 3), (3,), "two", "sizes-differ"),
        ((3,), (), "one", "one-pipe"), ((3,), (), None, "other-pipe-not-known"),
        ((3,), (), "two", "other-pipe-not-known"), ((), (3,), "two", "other-pipe-not-known"),
        ((3,), (3,), None, "other-pipe-not-known"),
    ],
)  # fmt: skip
def test_same_size(vent: tuple[int, ...], air: tuple[int, ...], pipes: str | None, code: str) -> None:
    """Vent and air of one size where the page asks for it."""
    sizes = {"flue gas": tuple(s * INCH for s in vent), "combustion air": tuple(s * INCH for s in air)}
    site = Site(altitude=0.0, pipes=pipes, sizes=sizes)  # type: ignore[arg-type]
    assert only(limits_kept(limited(same_size=True), [run(10)], site))[2] == code


def test_most_elbows() -> None:
    """Each of more than 30°, a 45 too, and an end that turns."""
    read = limited(most_elbows=3)
    three = run(10, fitting("elbow-45", 2), fitting("elbow-22", 9), fitting("terminal-elbow-down"))
    assert elbows_allowed(read, [three]).state == "met"
    assert elbows_allowed(read, [run(10, fitting("elbow-90-long")), three]).verdict == "over"


def cold(*pipes: tuple[float, float], unsaid: float = 0, size: float = 3, carries: str = "flue gas") -> Counted:
    """A run with so many feet in the cold, each with an insulation in inches."""
    parts = tuple(ColdPipe(size * INCH, f"{size} in", thick * INCH, feet * FOOT) for feet, thick in pipes)
    return Counted(
        carries=carries,
        straight_by_size=run(99).straight_by_size,
        cold=parts,
        cold_unsaid=unsaid * FOOT,  # type: ignore[arg-type]
    )


def exposed(*listed: tuple[str, str, str]) -> AllowanceTable:
    """Rows for 3 in pipe by temperature, insulation and length."""
    lines = [
        f'[[exposed]]\nsize = "3 in"\noutdoor = "{t}"\ninsulation = "{i}"\nallowable = "{a}"\n' for t, i, a in listed
    ]
    return (
        table(row("90 ft"), head=HEAD) if not lines else table_from_text(HEAD + row("90 ft") + "".join(lines), file="t")
    )


PAGE = exposed(
    ("20 degF", "0 in", "50 ft"), ("0 degF", "0 in", "30 ft"), ("0 degF", "1/2 in", "60 ft"),
    ("-20 degF", "1/2 in", "40 ft"), ("-20 degF", "1 in", "70 ft"),
)  # fmt: skip


def fahrenheit(degrees: float) -> float:
    return (degrees - 32) / 1.8 + 273.15


@pytest.mark.parametrize(
    ("pipe", "design", "expected"),
    [
        (cold((50, 0)), 20, ("met", "within", "exposed-within")),
        (cold((50.1, 0)), 20, ("not met", "over", "exposed-over")),
        (cold((50, 0)), 60, ("met", "within", "exposed-within")),  # a milder day: still the row for 20 °F
        (cold((31, 0)), 19, ("not met", "over", "exposed-over")),  # of those at or below 19 °F, the row for 0 °F
        (cold((30, 0.25)), 0, ("met", "within", "exposed-within")),  # 1/4 in is not 1/2 in: bare
        (cold((31, 0.25)), 0, ("not met", "over", "exposed-over")),
        (cold((60, 0.75)), 0, ("met", "within", "exposed-within")),  # the thickest listed not above 3/4 in
        (cold((10, 0)), -10, ("not met", "not covered", "exposed-not-in-table")),  # bare is not listed for -20 °F
        (cold((10, 2)), -20.1, ("not met", "not covered", "exposed-not-in-table")),  # colder than all
        (cold((10, 0), size=4), 20, ("not met", "not covered", "exposed-not-in-table")),
        (cold((20, 0), (10, 0.5)), 0, ("met", "within", "exposed-within")),  # all of it against the strictest
        (cold((20, 0), (11, 0.5)), 0, ("not met", "over", "exposed-over")),
        (cold((1, 0)), None, ("not known", "incomplete", "design-outdoor-missing")),
        (cold(), None, ("met", "within", "nothing-exposed")),
        (cold(unsaid=0.1), 20, ("not known", "incomplete", "surroundings-not-said")),
        (cold((99, 0), carries="combustion air"), 20, ("met", "within", "nothing-exposed")),
    ],
)  # fmt: skip
def test_pipe_in_the_cold(pipe: Counted, design: float | None, expected: tuple[str, str, str]) -> None:
    """By design temperature and insulation, never stretched beyond what is listed."""
    site = Site(altitude=0.0, design_outdoor=None if design is None else fahrenheit(design))
    assert only([exposed_allowed(PAGE, [pipe], site)]) == expected


def test_what_is_said_of_pipe_in_the_cold() -> None:
    """31 ft of 30; and the run of two that does not say what it runs through."""
    site = Site(altitude=0.0, design_outdoor=fahrenheit(0))
    over = exposed_allowed(PAGE, [cold((20, 0)), cold((11, 0))], site).because.values
    assert [over[name] for name in ("found", "allowed", "beyond")] == [
        length(pytest.approx(feet * FOOT)) for feet in (31, 30, 1)
    ]
    named = replace(cold((20, 0)), name="said"), replace(cold(unsaid=1), name="unsaid")
    assert exposed_allowed(PAGE, named, site).because.where.run == "unsaid"


def test_none_permitted_in_the_cold() -> None:
    """A foot is too much."""
    page = exposed(("0 degF", "0 in", "not permitted"))
    site = Site(altitude=0.0, design_outdoor=fahrenheit(10))
    assert only([exposed_allowed(page, [cold((1, 0))], site)])[2] == "exposed-over"
