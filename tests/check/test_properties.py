"""What must hold of every run, whatever it is: properties, checked on many jobs made at random."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.check.jobs import Data, checked, drop, job

SIZES = ("1 1/2 in", "2 in", "2 1/2 in", "3 in", "4 in", "6 in")
ELBOWS = ("elbow-90-long", "elbow-90-short", "elbow-90-mitered", "elbow-45", "tee-through", "coupling")

lengths = st.integers(min_value=1, max_value=1200).map(lambda inches: inches / 12)
inputs = st.integers(min_value=8, max_value=200)


@st.composite
def runs(draw: Any) -> list[Data]:
    """Pipes and fittings of one size, with a terminal."""
    pieces: list[Data] = []
    for _ in range(draw(st.integers(1, 5))):
        pieces.append({"pipe": f"{draw(lengths):.6f} ft"})
        pieces.append({"fitting": draw(st.sampled_from(ELBOWS))})
    return [*pieces, {"fitting": "terminal-open"}]


def no_less(one: float, other: float) -> bool:
    return other >= one * (1 - 1e-12)


@given(pieces=runs(), size=st.sampled_from(SIZES), kbtu=inputs, more=lengths)
def test_longer_never_loses_less(pieces: list[Data], size: str, kbtu: int, more: float) -> None:
    """A foot more is never a foot less."""
    short = job(pieces, size=size, input=f"{kbtu} kBtu/h")
    long = job([{"pipe": f"{more:.6f} ft"}, *pieces], size=size, input=f"{kbtu} kBtu/h")
    assert no_less(drop(short), drop(long))


@given(pieces=runs(), kbtu=inputs, wide=st.integers(1, len(SIZES) - 1))
def test_narrower_never_loses_less(pieces: list[Data], kbtu: int, wide: int) -> None:
    """The next smaller pipe never loses less."""
    wider = job(pieces, size=SIZES[wide], input=f"{kbtu} kBtu/h")
    narrower = job(pieces, size=SIZES[wide - 1], input=f"{kbtu} kBtu/h")
    assert no_less(drop(wider), drop(narrower))


@given(pieces=runs(), kbtu=inputs, smooth=st.floats(0, 0.5), rougher=st.floats(0, 1.0))
def test_rougher_never_loses_less(pieces: list[Data], kbtu: int, smooth: float, rougher: float) -> None:
    """Roughness never helps."""

    def of(roughness: float) -> float:
        size = {"nominal": "3 in", "outside": "3.5 in", "wall": "0.229 in", "bore": "3.042 in"}
        data = job(pieces, input=f"{kbtu} kBtu/h", material="trial")
        data["pipe"] = [
            {"name": "trial", "source": "Invented for tests", "roughness": f"{roughness:.9f} mm", "sizes": [size]}
        ]
        return drop(data)

    assert no_less(of(smooth), of(smooth + rougher))


@given(pieces=runs(), size=st.sampled_from(SIZES), kbtu=inputs, fitting=st.sampled_from(ELBOWS))
def test_one_more_fitting_never_loses_less(pieces: list[Data], size: str, kbtu: int, fitting: str) -> None:
    """A fitting never gives pressure back."""
    more = [{"fitting": fitting}, *pieces]
    rate = f"{kbtu} kBtu/h"
    assert no_less(drop(job(pieces, size=size, input=rate)), drop(job(more, size=size, input=rate)))


@given(pieces=runs(), size=st.sampled_from(SIZES), kbtu=inputs, more=st.floats(0, 50))
def test_more_input_never_loses_less(pieces: list[Data], size: str, kbtu: int, more: float) -> None:
    """Across laminar, transition and turbulent flow, more gas never loses less pressure."""
    low = job(pieces, size=size, input=f"{kbtu} kBtu/h")
    high = job(pieces, size=size, input=f"{kbtu + more:.6f} kBtu/h")
    assert no_less(drop(low), drop(high))


@given(feet=st.integers(1, 100), inches=st.integers(0, 11), kbtu=inputs, size=st.sampled_from(SIZES))
def test_the_same_job_in_si_and_in_us_units(feet: int, inches: int, kbtu: int, size: str) -> None:
    """Units are only how things are typed: to 1e-9 the same result."""
    metres = (feet * 12 + inches) * 0.0254
    watts = kbtu * 1000 * 1055.056 / 3600
    us = job(
        [{"pipe": f"{feet} ft {inches} in"}, {"fitting": "elbow-90-long"}, {"fitting": "terminal-open"}],
        size=size,
        input=f"{kbtu} kBtu/h",
        flue_temperature="122 degF",
        altitude="1000 ft",
        outdoor="14 degF",
    )
    si = job(
        [{"pipe": f"{metres!r} m"}, {"fitting": "elbow-90-long"}, {"fitting": "terminal-open"}],
        size=size,
        input=f"{watts!r} W",
        flue_temperature="50 degC",
        altitude="304.8 m",
        outdoor="-10 degC",
    )
    one, other = checked(us), checked(si)
    assert one.verdict == other.verdict
    for a, b in zip(one.runs[0].rates, other.runs[0].rates, strict=True):
        assert b.flow.pressure_drop == pytest.approx(a.flow.pressure_drop, rel=1e-9)
        assert b.equivalent_length == pytest.approx(a.equivalent_length, rel=1e-9)


@given(pieces=runs(), size=st.sampled_from(SIZES), kbtu=inputs, share=st.floats(0.01, 0.99))
def test_splitting_a_pipe_changes_nothing(pieces: list[Data], size: str, kbtu: int, share: float) -> None:
    """Two pipes end to end are one pipe."""
    whole = float(pieces[0]["pipe"].split()[0])
    cut = [{"pipe": f"{whole * share!r} ft"}, {"pipe": f"{whole * (1 - share)!r} ft"}, *pieces[1:]]
    one, other = (job(p, size=size, input=f"{kbtu} kBtu/h") for p in (pieces, cut))
    assert drop(other) == pytest.approx(drop(one), rel=3e-3)  # each pipe is figured at its own mean: second order
    plain = {"cooling": False}
    assert drop(other | plain) == pytest.approx(drop(one | plain), rel=1e-9)


@given(pieces=runs(), order=st.randoms(use_true_random=False), kbtu=inputs)
def test_reordering_pieces_of_one_size_changes_only_places(pieces: list[Data], order: Any, kbtu: int) -> None:
    """At one temperature the sum does not mind the order; each kind of piece loses what it lost."""
    inner = pieces[:-1]
    order.shuffle(inner)
    rate = f"{kbtu} kBtu/h"
    one, other = (
        checked(job(p, input=rate) | {"cooling": False}).runs[0].rates[0].flow for p in (pieces, [*inner, pieces[-1]])
    )
    assert other.pressure_drop == pytest.approx(one.pressure_drop, rel=1e-9)
    assert sorted(p.pressure_drop for p in other.pieces) == pytest.approx(sorted(p.pressure_drop for p in one.pieces))


@given(
    pieces=runs(),
    kbtu=st.one_of(st.integers(8, 79), st.integers(81, 200), st.just(80)),
    size=st.sampled_from(SIZES),
    altitude=st.integers(-900, 12000),
)
def test_outside_its_table_no_job_is_within(pieces: list[Data], kbtu: int, size: str, altitude: int) -> None:
    """The table has 80 kBtu/h, 2, 3 and 4 in, sea level to 4500 ft: nothing beyond is acceptable."""
    result = checked(job(pieces, size=size, input=f"{kbtu} kBtu/h", altitude=f"{altitude} ft"))
    covered = kbtu == 80 and size in ("2 in", "3 in", "4 in") and 0 <= altitude <= 4500
    deducted = all(p.get("fitting") not in ("elbow-90-mitered", "tee-through") for p in pieces)
    if not (covered and deducted):
        assert result.verdict != "within"


@given(pieces=runs(), size=st.sampled_from(SIZES), kbtu=inputs)
def test_the_nominal_loss_lies_in_its_band(pieces: list[Data], size: str, kbtu: int) -> None:
    """low ≤ nominal ≤ high, for the run and for every piece."""
    flow = checked(job(pieces, size=size, input=f"{kbtu} kBtu/h")).runs[0].rates[0].flow
    assert flow.pressure_drop_low <= flow.pressure_drop <= flow.pressure_drop_high
    assert all(p.k_low <= p.k <= p.k_high for p in flow.pieces)
