"""The benchmarks compare like with like, and their table says what it should. Nothing is timed here."""

from __future__ import annotations

import pytest

from tests.bench import pandapipes_chain
from tests.bench.bare_loop import bare_loop
from tests.bench.measure import Timed, Timing, measure_together
from tests.bench.outcome import Outcome, show
from tests.bench.solving import Chain, chains_of, inputs_of, net_of


@pytest.fixture(scope="module")
def chains() -> list[Chain]:
    """Both runs of the benchmark's job at both rates."""
    return chains_of(inputs_of(1)[0])


def test_bare_loop_does_the_same_work(chains: list[Chain]) -> None:
    """A loop that solved another problem would be no yardstick."""
    assert len(chains) == 4
    for chain in chains:
        assert bare_loop(chain.pieces, chain.stream) == pytest.approx(chain.pressure_drop, rel=1e-6)


def test_pandapipes_solves_the_same_chain(chains: list[Chain]) -> None:
    """Forty pieces in series by an independent network solver, same friction law and coefficients."""
    for chain in chains:
        net = net_of(chain)
        pandapipes_chain.solve(net)
        assert pandapipes_chain.pressure_drop(net) == pytest.approx(chain.pressure_drop, rel=1e-3)


def outcome(*, ours: float, yardstick: float, kind: str, target: float, wrong: str = "") -> Outcome:
    """An outcome of these two medians."""
    one, other = (Timing(least=value, median=value, tries=1) for value in (ours, yardstick))
    return Outcome(what="a", against="b", ours=one, yardstick=other, kind=kind, target=target, wrong=wrong)  # type: ignore[arg-type]


def test_targets() -> None:
    """At most: ours over the yardstick. At least: how many times as fast. Void: never met."""
    assert outcome(ours=3.0, yardstick=2.0, kind="at most", target=1.5).met
    assert not outcome(ours=3.1, yardstick=2.0, kind="at most", target=1.5).met
    assert outcome(ours=1.0, yardstick=50.0, kind="at least", target=50.0).met
    assert not outcome(ours=1.0, yardstick=49.0, kind="at least", target=50.0).met
    void = outcome(ours=1.0, yardstick=1.0, kind="told only", target=0.0, wrong="the answers differ")
    assert not void.met
    assert "FAIL" in show([void], {}) and "the answers differ" in show([void], {})


def test_turns_are_taken() -> None:
    """A slow spell of the machine falls on ours and on the yardstick alike; the first call of each is not counted."""
    calls: list[str] = []
    timings = measure_together([Timed(lambda: calls.append("a")), Timed(lambda: calls.append("b"), 2)], repeats=2)
    assert calls == [*"aabbb"] * 2
    assert all(timing.tries == 2 and timing.least <= timing.median for timing in timings)


@pytest.mark.parametrize(("kind", "yardstick", "kept", "slipped"), [
    ("at most", 1.0, None, False), ("at most", 1.0, 1.7, False), ("at most", 1.0, 1.5, True),
    ("at least", 100.0, 60.0, False), ("at least", 100.0, 63.0, True),
])  # fmt: skip
def test_a_ratio_that_slipped_is_seen(kind: str, yardstick: float, kept: float | None, slipped: bool) -> None:
    """Ours takes 2 s: twice a yardstick of 1 s, and 50 times as fast as one of 100 s. A quarter worse is a slip."""
    assert outcome(ours=2.0, yardstick=yardstick, kind=kind, target=50.0).slipped(kept) is slipped
