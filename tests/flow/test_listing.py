"""A run loses the same whichever of its ends it is listed from."""

from __future__ import annotations

import pytest

from tests.check.jobs import Data, checked, job, pipe


@pytest.mark.parametrize("carries", ["flue gas", "combustion air"])
def test_a_change_of_size_goes_by_the_gas_not_by_the_list(carries: str) -> None:
    """3 in at the furnace, then 4 in: the vent's gas expands there and the air contracts, either way listed."""
    outward = [pipe(5, "up"), {"fitting": "increaser", "size": "4 in"}, pipe(12, "up"), {"fitting": "terminal-open"}]
    inward = [{"fitting": "terminal-open"}, pipe(12, "down"), {"fitting": "reducer", "size": "3 in"}, pipe(5, "down")]
    one = checked(job(outward, carries=carries)).runs[0].worst.flow
    other = checked(job(inward, carries=carries, between=["outdoors", "furnace"], size="4 in")).runs[0].worst.flow
    assert one.pressure_drop == pytest.approx(other.pressure_drop, rel=1e-9)
    ks = [piece.k for piece in one.pieces], [piece.k for piece in reversed(other.pieces)]
    assert ks[0] == pytest.approx(ks[1], rel=1e-9)


def test_into_the_larger_and_into_the_smaller_pipe_differ() -> None:
    """On the velocity in the 3 in pipe; were they alike, the way of the gas could not matter."""
    pieces = [pipe(5, "up"), {"fitting": "increaser", "size": "4 in"}, pipe(12, "up"), {"fitting": "terminal-open"}]
    vent, air = (checked(job(pieces, carries=gas)).runs[0].worst.flow for gas in ("flue gas", "combustion air"))
    assert abs(vent.pieces[1].k - air.pieces[1].k) > 0.02


@pytest.mark.parametrize("own", [0, 1])
def test_a_loss_given_in_the_job_is_of_one_piece_alone(own: int) -> None:
    """Of two elbows of one kind one has its own; the other has the kind's, whichever comes first."""
    elbows: list[Data] = [{"fitting": "elbow-90-long"}, {"fitting": "elbow-90-long"}]
    usual = checked(job([pipe(5), elbows[0], pipe(5), elbows[1], pipe(5)])).runs[0].worst.flow.pieces
    elbows[own] = {"fitting": "elbow-90-long", "k": 5.0}
    found = checked(job([pipe(5), elbows[0], pipe(5), elbows[1], pipe(5)])).runs[0].worst.flow.pieces
    ks = [found[1].k, found[3].k]
    assert ks[own] == 5.0
    assert ks[1 - own] == pytest.approx(usual[1].k, rel=1e-3)
