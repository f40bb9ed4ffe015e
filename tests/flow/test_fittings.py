"""Local losses: the band holds the nominal, more flow never loses less, and every way of asking is answered."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ventsize.catalog.library import load_catalog
from ventsize.catalog.methods import METHODS
from ventsize.catalog.records import FittingRecord, Loss
from ventsize.flow.correlations import CORRELATIONS, Situation
from ventsize.flow.fittings import LocalLoss, local_loss, local_loss_methods
from ventsize.flow.friction import LAMINAR_LIMIT, TURBULENT_LIMIT, friction_factor

FITTINGS = load_catalog(user=False).fittings
SMOOTH = 1.5e-6


def situations(record: FittingRecord, *, bore: float) -> Iterator[dict[str, Any]]:
    """Every way the gas can go through a fitting of this kind."""
    if record.kind == "size change":
        for ratio in (1.0, 1.05, 1.4, 2.5):
            yield {"other_bore": bore * ratio, "gas_expands": True}
            yield {"other_bore": bore * ratio, "gas_expands": False}
    elif record.kind in ("terminal", "entrance"):
        yield {"leaving": True}
        yield {"leaving": False}
    else:
        yield {}


def loss(
    record: FittingRecord, *, bore: float, reynolds: float, roughness: float = SMOOTH, plastic: bool = False, **way: Any
) -> LocalLoss:
    factor = friction_factor(reynolds=reynolds, relative_roughness=roughness / bore)
    given: dict[str, Any] = {"friction_factor": factor, "roughness": roughness, "plastic": plastic}
    return local_loss(record, bore=bore, reynolds=reynolds, **given, **way)


names = pytest.mark.parametrize("name", FITTINGS)
materials = pytest.mark.parametrize("plastic", [False, True])


@materials
@names
@given(
    bore=st.floats(0.035, 0.210), reynolds=st.floats(100, 5e5), roughness=st.sampled_from([0.0, SMOOTH, 1.5e-4, 2e-3])
)
def test_nominal_is_within_the_band(name: str, bore: float, reynolds: float, roughness: float, plastic: bool) -> None:
    """At every size, flow and roughness, and every value is a number that is not below zero."""
    for way in situations(FITTINGS[name], bore=bore):
        found = loss(FITTINGS[name], plastic=plastic, bore=bore, reynolds=reynolds, roughness=roughness, **way)
        assert 0 <= found.k_low <= found.k <= found.k_high < math.inf


@materials
@names
@pytest.mark.parametrize("roughness", [0.0, 2e-3])
def test_more_flow_never_loses_less(name: str, roughness: float, plastic: bool) -> None:
    """K Re² of nominal and band, over a fine grid and a hair on each side of every edge a method has."""
    bore = 0.0525
    grid = [100 * (5e5 / 100) ** (i / 800) for i in range(801)]
    for edge in (360, 810, LAMINAR_LIMIT, 2500, TURBULENT_LIMIT, 1e4):
        grid += [edge * (1 - 1e-7), edge, edge * (1 + 1e-7)]
    for way in situations(FITTINGS[name], bore=bore):
        last = (0.0, 0.0, 0.0)
        for reynolds in sorted(grid):
            found = loss(FITTINGS[name], plastic=plastic, bore=bore, reynolds=reynolds, roughness=roughness, **way)
            now = tuple(k * reynolds**2 for k in (found.k_low, found.k, found.k_high))
            assert all(n >= o * (1 - 1e-12) for n, o in zip(now, last, strict=True)), (way, reynolds)
            last = now


@materials
@names
def test_without_the_spread_the_nominal_is_the_same(name: str, plastic: bool) -> None:
    """The quick form changes nothing but the band."""
    for way in situations(FITTINGS[name], bore=0.0525):
        full = loss(FITTINGS[name], plastic=plastic, bore=0.0525, reynolds=1.2e4, **way)
        quick = loss(FITTINGS[name], plastic=plastic, bore=0.0525, reynolds=1.2e4, with_spread=False, **way)
        assert quick.k == full.k == quick.k_low == quick.k_high
        assert quick.method == full.method
        assert full.by_method[0][1] == pytest.approx(full.k)


@materials
@names
def test_says_where_it_comes_from(name: str, plastic: bool) -> None:
    """The method, or the words of the record where the coefficient is fixed."""
    for way in situations(FITTINGS[name], bore=0.0525):
        assert len(loss(FITTINGS[name], plastic=plastic, bore=0.0525, reynolds=2e4, **way).method) > 10


def test_names_of_methods_and_functions_agree() -> None:
    """The catalog checks names without loading the functions; both lists are one."""
    assert set(METHODS) == set(CORRELATIONS)


def test_gas_direction_decides_at_a_size_change() -> None:
    """An increaser walked with the gas widens it; walked against it, it narrows it."""
    way = {"bore": 0.0525, "reynolds": 2e4, "other_bore": 0.078}
    widens = loss(FITTINGS["increaser"], **way, gas_expands=True)
    narrows = loss(FITTINGS["increaser"], **way, gas_expands=False)
    assert widens.k != narrows.k
    assert widens.k == loss(FITTINGS["reducer"], **way, gas_expands=True).k


@materials
def test_no_step_is_no_loss(plastic: bool) -> None:
    """A change between materials of one bore loses nothing, by the nominal method."""
    for expands in (True, False):
        found = loss(
            FITTINGS["reducer"], plastic=plastic, bore=0.05, reynolds=2e4, other_bore=0.05, gas_expands=expands
        )
        assert found.k == pytest.approx(0.0, abs=1e-12)


@materials
def test_turned_down_end_is_elbow_and_end(plastic: bool) -> None:
    """The parts add up, nominal and band."""
    end = loss(FITTINGS["terminal-elbow-down"], plastic=plastic, bore=0.078, reynolds=2e4, leaving=True)
    elbow = loss(FITTINGS["elbow-90-short"], plastic=plastic, bore=0.078, reynolds=2e4)
    plain = loss(FITTINGS["terminal-open"], plastic=plastic, bore=0.078, reynolds=2e4, leaving=True)
    for value in ("k", "k_low", "k_high"):
        assert getattr(end, value) == pytest.approx(getattr(elbow, value) + getattr(plain, value))


@materials
def test_sharper_turns_lose_more(plastic: bool) -> None:
    """Long turn, short turn, mitre, in that order; 45° less than 90°."""
    at = {"bore": 0.078, "reynolds": 1.5e4}
    order = ["elbow-90-long", "elbow-90-short", "elbow-90-mitered"]
    values = [loss(FITTINGS[name], plastic=plastic, **at).k for name in order]
    assert values == sorted(values)
    for shape in ("short", "long", "mitered"):
        quarter = {"short": "elbow-45"}.get(shape, f"elbow-45-{shape}")
        assert (
            loss(FITTINGS[quarter], plastic=plastic, **at).k
            < loss(FITTINGS[f"elbow-90-{shape}"], plastic=plastic, **at).k
        )
    small = [loss(FITTINGS[f"elbow-{angle}"], plastic=plastic, **at).k for angle in ("15", "22", "30", "45")]
    assert small == sorted(small)


@pytest.mark.parametrize(
    ("reynolds", "codes"), [(3999, ("laminar-fitting",)), (4000, ("few-tests",)), (8000, ("few-tests",)), (1e4, ())]
)
def test_what_few_tests_reach_is_said(reynolds: float, codes: tuple[str, ...]) -> None:
    """Most tests of fittings were made above a Reynolds number of 10,000; below 4000 a loss is rough."""
    assert loss(FITTINGS["elbow-90-short"], bore=0.0525, reynolds=reynolds).codes == codes


def test_fixed_coefficient_is_taken_as_it_stands() -> None:
    """A record of the job's own with a k and no band."""
    record = FittingRecord(name="x", title="x", source="measured", kind="other", loss=Loss(k=0.9))
    found = loss(record, bore=0.0525, reynolds=2e4)
    assert (found.k_low, found.k, found.k_high) == (0.9, 0.9, 0.9)
    assert "measured" in found.method
    every = local_loss_methods(
        record, bore=0.0525, reynolds=2e4, friction_factor=0.026, roughness=SMOOTH, plastic=False
    )
    assert every == ()


def test_study_of_methods_shows_the_outliers_with_their_reason() -> None:
    """The nominal method first; what takes no part in the band says why."""
    every = local_loss_methods(
        FITTINGS["elbow-90-short"], bore=0.0525, reynolds=2e4, friction_factor=0.026, roughness=SMOOTH, plastic=False
    )
    assert every[0].nominal
    assert [method.nominal for method in every].count(True) == 1
    outside = {method.name: method.why_not for method in every if not method.in_spread}
    assert set(outside) == {"Miller bend", "Swamee bend"}
    assert all(outside.values())
    assert {METHODS[method.name].angle for method in every} >= {90.0}
    assert {METHODS[method.name].angle for method in every} <= {None, 90.0}
    band = loss(FITTINGS["elbow-90-short"], bore=0.0525, reynolds=2e4)
    assert {name for name, _ in band.by_method} == {method.name for method in every if method.in_spread}


@pytest.mark.parametrize(
    ("name", "missing"),
    [("terminal-open", "leaving"), ("increaser", "other_bore"), ("increaser", "gas_expands")],
)
def test_what_is_missing_is_named(name: str, missing: str) -> None:
    """A fitting that depends on the way of the gas is not computed for either at a guess."""
    way = {"other_bore": 0.078} if missing == "gas_expands" else {}
    with pytest.raises(ValueError, match=missing):
        loss(FITTINGS[name], bore=0.0525, reynolds=2e4, **way)


@pytest.mark.parametrize("change", [{"bore": 0.0}, {"reynolds": -1.0}])
def test_nonsense_is_refused(change: dict[str, float]) -> None:
    """A bore that is not above zero, a flow below zero: not divided by, and not taken."""
    given: dict[str, float] = {"bore": 0.0525, "reynolds": 2e4, "friction_factor": 0.026, "roughness": SMOOTH, **change}
    with pytest.raises(ValueError, match="zero"):
        local_loss(FITTINGS["elbow-90-short"], plastic=False, **given)


@pytest.mark.parametrize("reynolds", [500.0, 2040.0])
def test_a_laminar_stream_leaves_with_twice_its_mean_energy(reynolds: float) -> None:
    """Kinetic energy of a parabolic profile: twice that of the mean velocity, so one more than by a flat one."""
    found = loss(FITTINGS["terminal-open"], bore=0.0525, reynolds=reynolds, leaving=True)
    assert found.k_high == pytest.approx(found.k + 1.0)


def test_no_flow_is_finite() -> None:
    """K at rest is a number, so that the loss is zero."""
    assert math.isfinite(loss(FITTINGS["elbow-90-short"], bore=0.05, reynolds=0.0).k)


@pytest.mark.parametrize(("reynolds", "part"), [(1000.0, 1.0), (2040.0, 1.0), (4080.0, 0.25)])
@pytest.mark.parametrize("expands", [True, False])
def test_what_laminar_flow_may_lose_at_a_step(reynolds: float, part: float, expands: bool) -> None:
    """2 to 4 in: momentum balance of a parabolic stream, and Hooper's contraction at the Reynolds number upstream, both
    by hand; above Re 2040 with Re2 less of it. Or what the worst of the methods says."""
    found = loss(FITTINGS["reducer"], bore=0.05, other_bore=0.1, reynolds=reynolds, gas_expands=expands)
    laminar = 1.375 if expands else (1.2 + 160.0 / (min(reynolds, 2040.0) / 2.0)) * (1.0 - 0.25**2)
    assert found.k_high == pytest.approx(max(part * laminar, *(k for _, k in found.by_method)))


def test_ito_is_held_where_bends_turn_laminar() -> None:
    """Below Re 360 (r/d)2, 810 here, as at it; above it the loss falls with the flow."""
    at = Situation(
        bore=0.05, other_bore=0.05, angle=90.0, bend=1.5, tight_bend=1.5, reynolds=815.0, friction_factor=0.04,
        roughness=SMOOTH,
    )  # fmt: skip
    slow, edge, above, faster = (
        CORRELATIONS["Ito bend"](at._replace(reynolds=r)) for r in (400.0, 810.0, 815.0, 880.0)
    )
    assert slow == edge > above > faster
