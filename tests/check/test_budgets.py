"""The maker's permission as pressure, by hand: of shares, of combinations of elbows, of free fittings, of a material.

Everything at one temperature, so that a foot of pipe loses what its neighbor does.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.check.jobs import TABLE, Data, checked, job, pipe, run
from ventsize.check.rate import RunRate

FOOT = 0.3048
END: Data = {"fitting": "terminal-open"}
WIDER: Data = {"fitting": "increaser", "size": "4 in"}


def rate(data: Data, *rows: Data, **page: Any) -> RunRate:
    """The first run at its only rate, by rows for 80 kBtu/h and a page without altitudes."""
    table = {**TABLE, "row": [{"input": "80 kBtu/h", "size": "3 in", **row} for row in rows], **page}
    return checked({**data, "cooling": False}, table).runs[0].rates[0]


def own_elbow(name: str, k: float, angle: str = "90 deg") -> Data:
    """An elbow of the job's own with a loss that nobody has to work out."""
    loss = {"k": k, "k_low": k, "k_high": k}
    return {"name": name, "kind": "elbow", "angle": angle, "title": name, "source": "Invented", "loss": loss}


@pytest.mark.parametrize("half", [1.0, 2.0])
def test_two_sizes_may_lose_what_they_would_at_their_shares(half: float) -> None:
    """30 of 90 ft in 3 in and 40 of 120 in 4 in: all the permission is used with each pipe 1.5 times as long.

    Of a material of which a foot counts as two, 15 and 20 ft: again 1.5 times as long. What the increaser and the
    open end lose comes on top, since the page counts them as nothing.
    """
    page: Data = {"mixed_sizes": "shares", "deductions": {"increaser": "0 ft", "terminal-open": "0 ft"}}
    rows = {"allowable": "90 ft"}, {"size": "4 in", "allowable": "120 ft"}
    counts_as = {"pvc-40": half} if half > 1.0 else {"cpvc-40": 3.0}
    found = rate(job([pipe(30 / half), WIDER, pipe(40 / half), END]), *rows, counts_as=counts_as, **page)
    first, wider, second, end = (piece.pressure_drop for piece in found.flow.pieces)
    assert found.budget_pressure == pytest.approx(1.5 * (first + second) + wider + end)
    assert found.within_allowance is True


def test_a_size_that_permits_nothing_leaves_no_budget() -> None:
    """4 in is not for this page, however the other size is used; and with no pipe at all nothing is divided."""
    page: Data = {"mixed_sizes": "shares", "deductions": {"increaser": "0 ft", "terminal-open": "0 ft"}}
    for feet, allowable in ((30, "not permitted"), (0, "120 ft")):
        for order in (1, -1):
            rows = [{"allowable": "90 ft"}, {"size": "4 in", "allowable": allowable}][::order]
            found = rate(job([pipe(feet), WIDER, pipe(feet), END]), *rows, **page)
            assert found.budget_pressure is None and found.within_allowance is None


@pytest.mark.parametrize(("elbows", "k"), [
    ([("mine", 2.0, "90 deg")], 2.0),
    ([("mine", 2.0, "90 deg"), ("other", 3.0, "90 deg")], 2.0),
    ([("other", 3.0, "90 deg"), ("mine", 2.0, "90 deg")], 2.0),
    ([("mine", 2.0, "90 deg"), ("half", 0.1, "45 deg")], 2.0),
])  # fmt: skip
def test_a_combination_has_the_elbows_of_the_run(elbows: list[tuple[str, float, str]], k: float) -> None:
    """60 ft with none, one or two elbows: two of the run's own right angles lose most, of two kinds the lesser one.

    The open end loses its velocity pressure, K = 1.
    """
    pieces = [piece for name, _, _ in elbows for piece in (pipe(5), {"fitting": name})]
    data = {**job([*pieces, pipe(5), END]), "fitting": [own_elbow(*one) for one in elbows]}
    found = rate(data, {"allowable_by_elbows": ["60 ft"] * 3}, deductions={})
    expected = 60 * FOOT * found.gradient + (2 * k + 1.0) * found.reference.dynamic_pressure
    assert found.budget_pressure == pytest.approx(expected)


def test_a_run_without_elbows_has_long_ones_in_its_budget() -> None:
    """Two long elbows in 60 ft, as the program itself figures them in a run that has them, the open end at K = 1."""
    rows = {"allowable_by_elbows": ["60 ft"] * 3}
    bend: Data = {"fitting": "elbow-90-long"}
    two = rate(job([pipe(5), bend, pipe(5), bend, END]), rows, deductions={})
    none = rate(job([pipe(5), END]), rows, deductions={})
    lost = sum(piece.pressure_drop for piece in two.flow.pieces if piece.piece.name == "elbow-90-long")
    assert none.budget_pressure == pytest.approx(60 * FOOT * none.gradient + lost + none.reference.dynamic_pressure)
    assert two.budget_pressure == pytest.approx(none.budget_pressure)


@pytest.mark.parametrize("free", [0, 1, 2])
def test_elbows_that_are_included_are_in_the_budget(free: int) -> None:
    """Of two elbows none, one or both cost nothing: so many of what they lose come to 50 ft of pipe, with the end."""
    bend: Data = {"fitting": "elbow-90-long"}
    found = rate(job([pipe(5), bend, pipe(5), bend, END]), {"allowable": "50 ft", "elbows_included": free})
    bends = [piece.pressure_drop for piece in found.flow.pieces if piece.piece.name == "elbow-90-long"]
    expected = 50 * FOOT * found.gradient + free * bends[0] + found.flow.pieces[-1].pressure_drop
    assert found.budget_pressure == pytest.approx(expected)
    assert found.allowance_pressure == pytest.approx(50 * FOOT * found.gradient)
    assert found.spare_length is not None and found.budget_pressure is not None
    assert found.spare_length * found.gradient == pytest.approx(found.budget_pressure - found.counted_pressure)


@pytest.mark.parametrize(("air", "inside"), [(44.0, True), (46.0, False)])
def test_two_runs_together_have_one_budget(air: float, inside: bool) -> None:
    """45 ft of vent and 44 or 46 of air pipe of one 90 ft, each foot at its own gas, and free ends on top of it."""
    runs = [run("vent", "furnace", "outdoors", pipe(45), END), run("air", "furnace", "outdoors", pipe(air), END)]
    runs[1]["carries"] = "combustion air"
    found = rate(job(runs=runs), {"allowable": "90 ft"}, counts="runs together")
    assert found.within_allowance is inside


def test_how_sure_a_run_is_inside_goes_by_what_is_left_beside_draft() -> None:
    """Warm gas led down into the cold: a pressure row that just holds loss and draft is as likely kept as not."""
    vent = job([pipe(40, "down"), END], outdoor="-20 degF")
    counted = rate(vent, {"allowable_pressure": "1 in w.c."})
    assert -counted.flow.draft > 0.5 * counted.flow.pressure_drop
    just = rate(vent, {"allowable_pressure": f"{counted.counted_pressure!r} Pa"})
    assert just.share_inside == pytest.approx(0.5, abs=0.1) and just.within_allowance is True
    assert counted.share_inside == pytest.approx(1.0)


@pytest.mark.parametrize("kbtu", [80, 2])
def test_the_pieces_share_out_the_loss_however_small(kbtu: float) -> None:
    """Their shares add up to one, each as its loss is of the whole; as do their lengths to the run's."""
    found = rate(job([pipe(3), {"fitting": "elbow-90-long"}, END], input=f"{kbtu} kBtu/h"), {"allowable": "50 ft"})
    assert (found.flow.pressure_drop > 0.1) is (kbtu == 80)
    lost = [piece.pressure_drop / found.flow.pressure_drop for piece in found.flow.pieces]
    assert found.piece_shares == pytest.approx(lost)
    assert sum(length or 0.0 for length in found.piece_lengths) == pytest.approx(found.equivalent_length)


@pytest.mark.parametrize("feet", [0.2, 30.0])
def test_pipe_of_the_rows_size_is_as_long_as_it_is(feet: float) -> None:
    """Also where the gas cools on its way, and be it only a stub before the pipe gets wider."""
    data = job([pipe(feet), WIDER, pipe(60), END], flue_temperature="135 degF")
    found = checked({**data, "cooling": True}).runs[0].rates[0]
    assert found.reference.dynamic_pressure > 0.0 and checked(data).runs[0].reference_section.label == "3 in"
    assert found.piece_lengths[0] == pytest.approx(feet * FOOT)


def test_a_run_at_its_limit_made_as_the_table_has_it_is_inside() -> None:
    """50 ft of 50 and the open end that the page counts as nothing: what it loses is what it may lose (contract)."""
    found = rate(job([pipe(50), END]), {"allowable": "50 ft"})
    assert found.budget_pressure == pytest.approx(found.counted_pressure)
    assert found.within_allowance is True
    assert rate(job([pipe(50.1), END]), {"allowable": "50 ft"}).within_allowance is False


def test_each_of_two_pipes_has_its_own_elbows_in_the_budget() -> None:
    """Counted together, and the air pipe's elbows at K = 3 in place of 1: its budget is two times two heads more."""

    def budgets(k: float) -> list[RunRate]:
        pieces = [pipe(5), {"fitting": "mine"}, pipe(5), END]
        runs = [run("vent", "furnace", "outdoors", *pieces), run("air", "furnace", "outdoors", *pieces)]
        runs[1] |= {"carries": "combustion air", "pieces": [*pieces[:1], {"fitting": "other"}, *pieces[2:]]}
        data = {**job(runs=runs), "fitting": [own_elbow("mine", 2.0), own_elbow("other", k)], "cooling": False}
        row = {"input": "80 kBtu/h", "size": "3 in", "allowable_by_elbows": ["60 ft"] * 3}
        return [
            one.rates[0]
            for one in checked(data, {**TABLE, "deductions": {}, "row": [row], "counts": "runs together"}).runs
        ]

    (vent, air), (same_vent, more) = budgets(1.0), budgets(3.0)
    assert same_vent.budget_pressure == pytest.approx(vent.budget_pressure)
    assert air.budget_pressure is not None and more.budget_pressure is not None
    assert more.budget_pressure - air.budget_pressure == pytest.approx(2 * 2.0 * air.reference.dynamic_pressure)


@pytest.mark.parametrize(("end", "free"), [("0 ft", 1), ("1 ft", 0)])
def test_a_material_that_counts_double_has_half_the_budget(end: str, free: int) -> None:
    """60 ft are 30 ft of it; the open end comes on top only where the page counts it as nothing."""
    page: Data = {"deductions": {"terminal-open": end}, "counts_as": {"pvc-40": 2.0}}
    found = rate(job([pipe(10), END]), {"allowable": "60 ft"}, **page)
    lost = free * found.flow.pieces[-1].pressure_drop
    assert found.budget_pressure == pytest.approx(30 * FOOT * found.gradient + lost)


def test_shares_of_two_pipes_of_one_size_each_have_no_budget() -> None:
    """3 in for the vent and 2 in for the air pipe, counted together: no pipe of one is in the other's run."""
    runs = [run(name, "furnace", "outdoors", pipe(10), END) for name in ("vent", "air")]
    runs[1] |= {"carries": "combustion air", "size": "2 in"}
    rows = {"allowable": "90 ft"}, {"size": "2 in", "allowable": "60 ft"}
    assert rate(job(runs=runs), *rows, mixed_sizes="shares", counts="runs together").budget_pressure is None


def test_a_tee_that_turns_the_gas_is_no_elbow_of_the_run() -> None:
    """The combinations of a run without an elbow have long ones, whatever else in it turns."""
    tee: Data = {"fitting": "tee-branch", "k": 0.01}
    rows = {"allowable_by_elbows": ["60 ft"] * 3}
    plain, turned = (rate(job([pipe(5), *some, END]), rows, deductions={}) for some in ([], [tee]))
    assert turned.budget_pressure == pytest.approx(plain.budget_pressure)
