"""Elbows close together: when adding their losses is safe, and when not."""

from __future__ import annotations

from typing import Any

import pytest

from tests.check.jobs import Data, checked, job
from ventsize.finding import Amount, Finding, Value
from ventsize.run.close_elbows import OUT_OF_PLANE, Z_SHAPE

# SMACNA table 14-10, after Idelchik, two mitered 90s, from memory: K of the pair at 1.6 to 2 diameters as a Z and in
# different planes, and far apart.
PAIR_AS_Z, PAIR_IN_TWO_PLANES, PAIR_FAR_APART = 4.2, 3.4, 2.3


def found(elbow: str, *, between: str, ways: tuple[str, str, str], second: str = "") -> dict[str, Finding]:
    """The findings of a vent with two elbows, by code."""
    pieces: list[Data] = [
        {"pipe": "5 ft", "heading": ways[0]},
        {"fitting": elbow},
        {"pipe": between, "heading": ways[1]},
        {"fitting": second or elbow},
        {"pipe": "10 ft", "heading": ways[2]},
        {"fitting": "terminal-open"},
    ]
    findings = checked(job(pieces)).findings
    return {one.code: one for one in findings if one.code in ("elbows-close", "hard-elbows-close")}


@pytest.mark.parametrize(
    ("ways", "most"),
    [
        (("up", "east", "up"), PAIR_AS_Z / PAIR_FAR_APART),
        (("up", "east", "north"), PAIR_IN_TWO_PLANES / PAIR_FAR_APART),
        (("up", "east", "down"), None),
    ],
)
def test_two_mitered_elbows(ways: tuple[str, str, str], most: float | None) -> None:
    """A doubt for a Z and for two planes, with the table's factor; none for a U. The piece is the second elbow."""
    hard = found("elbow-90-mitered", between="6 in", ways=ways).get("hard-elbows-close")
    assert (hard is not None) is (most is not None)
    if hard is not None and most is not None:
        assert hard.severity == "doubt" and hard.where.piece == 4
        factor, between = hard.values["most"], hard.values["between"]
        assert isinstance(factor, Amount) and isinstance(between, Amount)
        assert factor.value == pytest.approx(most, rel=0.02)
        assert between.value == pytest.approx(0.1524)


def test_the_factors_are_those_of_the_table() -> None:
    """1.83 and 1.48, rounded."""
    assert pytest.approx(PAIR_AS_Z / PAIR_FAR_APART, rel=0.02) == Z_SHAPE
    assert pytest.approx(PAIR_IN_TWO_PLANES / PAIR_FAR_APART, rel=0.02) == OUT_OF_PLANE


@pytest.mark.parametrize("elbow", ["elbow-90-long", "elbow-90-short", "elbow-90-drain", "elbow-45-mitered"])
def test_smooth_elbows_are_a_note(elbow: str) -> None:
    """Adding them is on the safe side; a turn of 45° is no hard one."""
    ways = ("up", "up", "up") if "45" in elbow else ("up", "east", "up")
    codes = found(elbow, between="6 in", ways=ways)
    assert set(codes) == {"elbows-close"}
    assert codes["elbows-close"].severity == "note" and codes["elbows-close"].values["elbows"] == 2


@pytest.mark.parametrize(("between", "codes"), [("9.1 in", 2), ("9.4 in", 1), ("12.1 in", 1), ("12.4 in", 0)])
def test_how_near_is_near(between: str, codes: int) -> None:
    """In 3 in pipe, of 3.068 in: a doubt up to 3 bores, 9.2 in; a note up to 4, 12.3 in."""
    assert len(found("elbow-90-mitered", between=between, ways=("up", "east", "up"))) == codes


def elbows(*between: Data, **last: Any) -> list[Value]:
    """How many elbows are near each other in a vent of two long-turn ones, with these pieces between them."""
    long = {"fitting": "elbow-90-long"}
    findings = checked(job([{"pipe": "5 ft"}, long, *between, {**long, **last}, {"pipe": "9 ft"}])).findings
    return [one.values["elbows"] for one in findings if one.code == "elbows-close"]


def test_a_coupling_between_two_elbows_is_pipe() -> None:
    """It is no elbow itself, and ends nothing."""
    pipe = {"pipe": "3 in"}
    assert elbows(pipe, {"fitting": "coupling"}, pipe) == [2]


def test_another_size_between_two_elbows_ends_their_nearness() -> None:
    """The stream behind a size change is another."""
    assert elbows({"pipe": "3 in"}, {"fitting": "reducer", "size": "2 in"}, {"pipe": "1 in"}) == []


def test_a_plain_end_is_no_elbow() -> None:
    """An elbow just before an open end stands alone."""
    data = job([{"pipe": "5 ft"}, {"fitting": "elbow-90-long"}, {"pipe": "3 in"}, {"fitting": "terminal-open"}])
    assert "elbows-close" not in {one.code for one in checked(data).findings}


@pytest.mark.parametrize("unknown", [0, 2])
def test_where_a_heading_is_not_known_the_worst_is_taken(unknown: int) -> None:
    """As if it were a Z, though the other end would make it a U."""
    ways: list[Data] = [{"heading": way} for way in ("up", "east", "down")]
    ways[unknown] = {}
    pieces: list[Data] = [
        {"pipe": "5 ft", **ways[0]}, {"fitting": "elbow-90-mitered"}, {"pipe": "6 in", **ways[1]},
        {"fitting": "elbow-90-mitered"}, {"pipe": "9 ft", **ways[2]},
    ]  # fmt: skip
    (most,) = (one.values["most"] for one in checked(job(pieces)).findings if one.code == "hard-elbows-close")
    assert isinstance(most, Amount) and most.value == Z_SHAPE


def test_one_hard_elbow_is_not_two() -> None:
    """A mitered elbow before a long-turn one is a note."""
    assert set(found("elbow-90-mitered", between="6 in", ways=("up", "east", "up"), second="elbow-90-long")) == {
        "elbows-close"
    }


def test_a_vent_within_its_table_stays_within() -> None:
    """A doubt is no verdict: the table decides."""
    pieces: list[Data] = [
        {"pipe": "5 ft"}, {"fitting": "elbow-90-mitered", "table_length": "5 ft"}, {"pipe": "6 in"},
        {"fitting": "elbow-90-mitered", "table_length": "5 ft"}, {"pipe": "10 ft"}, {"fitting": "terminal-open"},
    ]  # fmt: skip
    result = checked(job(pieces))
    assert "hard-elbows-close" in {finding.code for finding in result.findings}
    assert result.verdict == "within"


def test_nobody_knows_where_the_elbows_of_a_counted_run_are() -> None:
    """Two of them in 9 ft may be close or not: nothing is said."""
    data = job([])
    del data["run"][0]["pieces"]
    data["run"][0] |= {"straight": "9 ft", "fittings": {"elbow-90-mitered": 2}}
    assert not {finding.code for finding in checked(data).findings} & {"elbows-close", "hard-elbows-close"}
