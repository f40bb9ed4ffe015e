"""The model of doubt: ranges against textbook cases, and what it counts as one cause."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.stats import norm

from tests.flow.grids import FITTING, SECTIONS, stream
from ventsize.check.appliances import CONDENSING, DRY, _doubts
from ventsize.check.inputs import read_inputs
from ventsize.check.verdict import check
from ventsize.flow.doubt import (
    RECTANGLE,
    Doubts,
    Ranges,
    Term,
    bore_change,
    deviation,
    flow_power,
    most_turning,
    range_of,
    regime_shares,
    roughness_shares,
    run_terms,
    share_within,
)
from ventsize.flow.friction import friction_factor
from ventsize.flow.meeting import LegLoss
from ventsize.flow.pieces import SectionFlow
from ventsize.flow.rate_flow import Firing, RunFlow
from ventsize.flow.solve import solve
from ventsize.gas.flue import FlueGas, flue_gas
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.graph import VentGraph
from ventsize.run.model import Piece, Run, Section

NOTHING = Ranges(
    length=0.0, tape=0.0, input=0.0, excess_air=0.0, flue_temperature=0.0,
    friction=False, bore=False, count=False, fittings=False,
)  # fmt: skip


def vent(root: Path, scenario: str = "old-two-inch-run", rate: int = 0) -> RunFlow:
    """The vent of a shipped job."""
    runs = check(read_inputs(root / "scenarios" / f"{scenario}.toml"), cooling=False).runs
    return next(run for run in runs if run.run.name == "vent").rates[rate].flow


def flowing(reynolds: float, factor: float) -> SectionFlow:
    """A stream in a pipe, by what friction goes by."""
    return SectionFlow(
        velocity=1.0, reynolds=reynolds, friction_factor=factor, gradient=1.0, dynamic_pressure=1.0, regime=""
    )


def widths(flow: RunFlow, ranges: Ranges) -> tuple[float, float]:
    """How far the range of a run reaches below and above, with some doubts only [Pa]."""
    return range_of(run_terms(flow, replace(flow.doubts, ranges=ranges)))


@pytest.mark.parametrize(("share", "part"), [(0.9, 0.9), (0.95, 0.95), (0.5, 0.5)])
def test_one_even_range(share: float, part: float) -> None:
    """Of an even range of ± a the middle share lies within that share of a, of one to one side only as much there."""
    assert range_of([Term("input", 2.0, 2.0)], share=share) == pytest.approx((2.0 * part, 2.0 * part), rel=1e-3)
    assert range_of([Term("input", 2.0, 0.0)], share=share) == pytest.approx((2.0 * part, 0.0), rel=1e-3, abs=1e-3)
    assert range_of([Term("input", 0.0, 2.0)], share=share) == pytest.approx((0.0, 2.0 * part), rel=1e-3, abs=1e-3)


def test_nine_in_ten_of_nothing() -> None:
    """A check's range holds 90 %; without anything in doubt it has no width."""
    assert range_of([Term("input", 2.0, 2.0)]) == pytest.approx((1.8, 1.8), rel=1e-3)
    assert range_of([]) == pytest.approx((0.0, 0.0), abs=1e-9)


def test_four_even_ranges() -> None:
    """JCGM 101:2008, table 3: four rectangular inputs of unit variance: u 2.0, 95 % within ± 3.88."""
    terms = [Term("input", RECTANGLE, RECTANGLE)] * 4
    assert math.sqrt(sum(deviation(t.below, t.above) ** 2 for t in terms)) == pytest.approx(2.0)
    assert range_of(terms, share=0.95) == pytest.approx((3.88, 3.88), rel=0.01)


@pytest.mark.parametrize(("room", "share"), [(-3.0, 0.0), (-1.0, 0.25), (0.0, 0.5), (1.0, 0.75), (3.0, 1.0)])
def test_share_within_an_even_range(room: float, share: float) -> None:
    """Of an even range of ± 2 the share below follows in proportion; with nothing in doubt it is all or nothing."""
    for unit in (1.0, 0.01):
        assert share_within([Term("fittings", 2.0 * unit, 2.0 * unit)], room * unit) == pytest.approx(share)
    assert share_within([], room) == (1.0 if room >= 0.0 else 0.0)


def test_share_and_range_are_one(root: Path) -> None:
    """Five in a hundred lie below the low end of a run's range, and five above the high end."""
    flow = vent(root)
    low, high = flow.layout_range
    assert flow.share_within(low) == pytest.approx(0.05, abs=0.002)
    assert flow.share_within(high) == pytest.approx(0.95, abs=0.002)


def test_errors_of_one_cause_add_up() -> None:
    """GUM 5.2.2: ten resistors calibrated against one, u 100 mΩ each, are 1 Ω in series, not 0.32 Ω. As here: one term
    of ten parts is ten times one; ten terms are the root of ten."""
    one = Term("fittings", 0.1 * RECTANGLE, 0.1 * RECTANGLE)
    together = Term("fittings", 10 * one.below, 10 * one.above)
    assert deviation(together.below, together.above) == pytest.approx(1.0)
    assert math.sqrt(10) * deviation(one.below, one.above) == pytest.approx(0.316, abs=0.001)


def test_five_elbows_worked_by_hand() -> None:
    """q 30 Pa, f L/D 4.0 (u 2 %), five elbows K 0.40, u 0.08 each, of one kind: 180 Pa, u = 12.24 Pa (GUM 5.2.2)."""
    terms = [
        Term("friction", 0.02 * 120 * RECTANGLE, 0.02 * 120 * RECTANGLE),
        Term("fittings", 5 * 0.08 * 30 * RECTANGLE, 5 * 0.08 * 30 * RECTANGLE),
    ]
    assert math.sqrt(sum(deviation(t.below, t.above) ** 2 for t in terms)) == pytest.approx(12.24, abs=0.01)


def test_eight_short_elbows() -> None:
    """Eight elbows K 0.65 in a band of 0.38 to 0.82 at 7.9 Pa, 32.6 Pa besides: 58 to 83 Pa by kind; with input ± 5 %,
    wall (u 3.5 %) and friction (u 3 %) 57 to 85. From a Monte Carlo of another hand, whose run is put together again
    from its results: 2 Pa."""
    kind = Term("fittings", 8 * 7.9 * 0.27, 8 * 7.9 * 0.17)
    nominal = 32.6 + 8 * 7.9 * 0.65
    low, high = range_of([kind])
    assert (nominal - low, nominal + high) == pytest.approx((58.0, 83.0), abs=1.0)
    fired, wall, friction = 0.1 * nominal, 0.035 * RECTANGLE * nominal, 0.03 * RECTANGLE * 25.0
    low, high = range_of([kind, *(Term("bore", one, one) for one in (fired, wall, friction))])
    assert (nominal - low, nominal + high) == pytest.approx((57.0, 85.0), abs=2.0)


MIDDLES = (np.arange(400) + 0.5) / 400
# Below and above [Pa] of the widest cause and of the others: even, lopsided, one-sided, one far wider, many alike.
MIXED = [
    [(3.0, 5.0), (1.0, 2.0), (2.5, 0.5)],
    [(0.0, 6.0), (0.0, 2.0)],
    [(6.0, 0.0), (2.0, 0.0), (0.0, 1.0)],
    [(10.0, 4.0), (1e-12, 0.0)],
    [(1.0, 0.5)] * 12,
    [(0.5, 1.0)] * 12,
]


@pytest.mark.parametrize("parts", MIXED)
def test_ranges_by_sampling_of_lopsided_causes(parts: list[tuple[float, float]]) -> None:
    """The truth lies below as likely as above the nominal, evenly on either side: fine grids of each cause, whose mean
    and deviation numpy works out; the widest as it is, blurred by a normal distribution of the others (scipy's)."""
    terms = [Term("bore", *part) for part in parts]
    grids = [np.concatenate([-below * MIDDLES, above * MIDDLES]) for below, above in parts]
    mean, deviates = (
        sum(float(grid.mean()) for grid in grids[1:]),
        math.hypot(*(float(grid.std()) for grid in grids[1:])),
    )

    def below(room: float) -> float:
        return float(norm.cdf((room - mean - grids[0]) / max(deviates, 1e-9)).mean())

    for room in (-4.0, -1.0, 0.0, 0.7, 3.0):
        assert share_within(terms[::-1], room) == pytest.approx(below(room), abs=1e-3)
    low, high = range_of(terms[::-1], share=0.8)
    assert min(low, high) >= 0.0
    assert low == 0.0 or below(-low) == pytest.approx(0.1, abs=2e-3)
    assert high == 0.0 or below(high) == pytest.approx(0.9, abs=2e-3)


@pytest.mark.parametrize(("reynolds", "rough"), [(800.0, 0.0), (3e3, 0.0), (1.5e4, 2e-5), (1e5, 0.02), (1e6, 0.04)])
def test_power_of_the_flow_is_the_slope_of_friction(reynolds: float, rough: float) -> None:
    """By differences of f Re2 itself, which the loss of a pipe goes with."""

    def loss(at: float) -> float:
        return friction_factor(reynolds=at, relative_roughness=rough) * at**2

    slope = math.log(loss(reynolds * 1.001) / loss(reynolds / 1.001)) / (2.0 * math.log(1.001))
    found = flow_power(flowing(reynolds, friction_factor(reynolds=reynolds, relative_roughness=rough)))
    assert found == pytest.approx(slope, abs=1e-4)


def test_no_doubt_no_range(root: Path) -> None:
    """With nothing in doubt low and high are the nominal."""
    assert widths(vent(root), NOTHING) == pytest.approx((0.0, 0.0), abs=1e-9)


@pytest.mark.parametrize("scenario", ["old-two-inch-run", "counted-run", "two-sizes", "low-fire-near-transition"])
def test_nominal_is_inside(root: Path, scenario: str) -> None:
    """At every rate; and the range is no wider than all that may be wrong, added up."""
    for rate in (0, 1):
        flow = vent(root, scenario, rate)
        assert 0.0 < flow.pressure_drop_low < flow.pressure_drop < flow.pressure_drop_high
        terms = run_terms(flow, flow.doubts)
        assert flow.pressure_drop_high - flow.pressure_drop < sum(term.above for term in terms)
        assert flow.pressure_drop - flow.pressure_drop_low < sum(term.below for term in terms)


def test_elbows_of_one_kind_are_one_cause(root: Path) -> None:
    """All short elbows in one term, as far as all their bands reach together."""
    flow = vent(root)
    elbows = [piece for piece in flow.pieces if piece.piece.name == "elbow-90-short"]
    assert len(elbows) > 2
    (term,) = [t for t in run_terms(flow, Doubts(ranges=replace(NOTHING, fittings=True))) if t.below > 1.0]
    assert term.above == pytest.approx(sum(p.pressure_drop_high - p.pressure_drop for p in elbows))


def test_input_goes_with_the_flow(root: Path) -> None:
    """± 5 % of the firing rate moves a turbulent loss by 1.75 to 2 times as much; 90 % of an even range are shown."""
    flow = vent(root)
    low, high = widths(flow, replace(NOTHING, input=0.05))
    for off in (low, high):
        assert 1.75 * 0.045 * 0.93 < off / flow.pressure_drop < 2.0 * 0.045 * 1.07


# ASTM D1785 walls and outside diameters: change of the loss in straight pipe from the widest to the narrowest bore, and
# its standard uncertainty, in percent; by hand, loss as the bore to the -4.75.
WALLS = [("1 1/2 in", 7.4, 8.2, 4.5), ("2 in", 5.8, 6.3, 3.5), ("3 in", 5.1, 5.5, 3.0), ("4 in", 4.3, 4.5, 2.5),
         ("6 in", 3.4, 3.6, 2.0)]  # fmt: skip


@pytest.mark.parametrize(("label", "less", "more", "deviates"), WALLS)
def test_tolerance_of_the_wall(root: Path, label: str, less: float, more: float, deviates: float) -> None:
    """Against the figures by hand, which stand on the middle of the bores; the average bore is up to 0.3 % off it."""
    inputs = read_inputs(root / "scenarios" / "simple-pass.toml")
    (size,) = [size for size in inputs.catalog.pipe("pvc-40").sizes if size.label == label]
    below = -bore_change(size.bore / size.bore_most, 4.75, 100.0)
    above = bore_change(size.bore / size.bore_least, 4.75, 100.0)
    assert (below, above) == pytest.approx((less, more), abs=1.0)
    assert deviation(below, above) == pytest.approx(deviates, abs=0.6)


# ASHRAE Fundamentals 2021, ch. 21, table 1, PVC pipe 0.009 to 0.046 mm (Swim 1982): ratio of the friction factor at
# 0.0457 mm to that at 0.0015 mm; by hand from Colebrook's equation.
ROUGH = [(2.067, 5e3, 1.025), (2.067, 1.5e4, 1.055), (2.067, 3e4, 1.090), (3.068, 5e3, 1.017), (3.068, 1.5e4, 1.038),
         (3.068, 3e4, 1.062), (4.026, 5e3, 1.013), (4.026, 1.5e4, 1.029), (4.026, 3e4, 1.048)]  # fmt: skip


@pytest.mark.parametrize(("inches", "reynolds", "ratio"), ROUGH)
def test_rougher_plastic(inches: float, reynolds: float, ratio: float) -> None:
    """Up to 9 % more friction in a small fast vent, 0.2 %."""
    bore = inches * 0.0254
    smooth, rough = (friction_factor(reynolds=reynolds, relative_roughness=e / bore) for e in (1.5e-6, 45.7e-6))
    assert rough / smooth == pytest.approx(ratio, abs=0.002)


# EPANET 2.2 (through wntr), 3 in pipe, 1.5 µm: friction factor by the cubic of Dunlop between laminar and turbulent.
DUNLOP = [(2100, 0.03063), (2500, 0.02914), (3000, 0.03308), (3500, 0.03863)]


@pytest.mark.parametrize(("reynolds", "factor"), DUNLOP)
def test_between_laminar_and_turbulent(reynolds: float, factor: float) -> None:
    """The low end of friction follows the cubic within a tenth, the nominal stays Colebrook's."""
    f = friction_factor(reynolds=reynolds, relative_roughness=1.5e-6 / 0.0779)
    less, more = regime_shares(flowing(reynolds, f))
    assert f * (1.0 - less) == pytest.approx(factor, rel=0.1)
    assert more == 0.0


@pytest.mark.parametrize(
    ("reynolds", "factor", "less", "more"),
    [
        (1990, 64 / 1990, 0.0, 0.0491 / (64 / 1990) - 1.0), (2039, 64 / 2039, 0.0, 0.0491 / (64 / 2039) - 1.0),
        (1836, 64 / 1836, 0.0, 0.0491 / (64 / 1836) - 1.0), (1835, 64 / 1835, 0.0, 0.0),
        (2040, 0.0491, 1.0 - 64 / 2040 / 0.0491, 0.0), (3020, 0.0435, 0.5 * (1.0 - 64 / 3020 / 0.0435), 0.0),
        (3900, 0.0402, 0.05102 * (1.0 - 64 / 3900 / 0.0402), 0.0), (4000, 0.0399, 0.0, 0.0),
    ],
)  # fmt: skip
def test_turbulence_comes_and_goes(reynolds: float, factor: float, less: float, more: float) -> None:
    """By hand: at Re 2040 all of the way to 64/Re, half of it in the middle, none at 4000; from a tenth below 2040 up
    to Colebrook's 0.0491 there, smooth."""
    assert regime_shares(flowing(reynolds, factor)) == pytest.approx((less, more), rel=0.01, abs=1e-9)


@pytest.mark.parametrize(
    ("warm", "cold", "percent"),
    [(60.0, 50.0, 251.70 / (242.66 * 0.957)), (50.0, 40.0, 242.66 * 0.957 / (233.67 * 0.888))],
)
def test_the_temperature_of_the_gas(warm: float, cold: float, percent: float) -> None:
    """Methane, 30 % excess air, 100 kBtu/h in 2 in: 251.70 Pa a hundred feet at 60 °C, 242.66 less 4.3 % for water at
    50, 233.67 less 11.2 % at 40 (Cantera and Colebrook, checked elsewhere). The slope taken, within half of it."""
    slope = math.log(percent) / (warm - cold)
    nearest = min((DRY, CONDENSING), key=lambda taken: abs(taken - slope))
    assert nearest == CONDENSING and nearest == pytest.approx(slope, rel=0.5)
    assert math.log(251.70 / 242.66) / 10.0 == pytest.approx(DRY, rel=0.05)


def test_gases_together_are_in_doubt_as_the_one_in_most_doubt() -> None:
    """Methane at 30 and 100 % excess air, 17.24 kg of air to a kilogram of it (stoichiometry by hand).

    The air goes with 1/1.3 of it; the flue gas with that, less the share of the fuel in it. One that condenses is
    enough for the steeper law of temperature.
    """

    def gas(excess: float, temperature: float) -> FlueGas:
        methane = {"methane": 1.0}
        return flue_gas(
            mole_fractions=methane, input=1e4, excess_air=excess, flue_temperature=temperature, pressure=101325.0
        )

    lean, rich = gas(1.0, 450.0), gas(0.3, 450.0)
    for gases in ([lean, rich], [rich, lean]):
        flue, air = _doubts(gases, Ranges())
        assert air.per_air == pytest.approx(1 / 1.3)
        assert flue.per_air == pytest.approx(17.24 / (1.3 * 17.24 + 1.0), rel=1e-3)
        assert flue.per_kelvin == DRY
    assert _doubts([lean], Ranges())[1].per_air == pytest.approx(0.5)
    assert _doubts([rich, gas(0.3, 310.0)], Ranges())[0].per_kelvin == CONDENSING


LENGTHS = 3.0, 0.4
BORES = 0.0515, 0.0520, 0.0530  # least, nominal, most [m]
ROUGHNESS = 2e-6, 1e-5, 6e-5


def trial(
    *, flow: float = 0.012, bore: float = BORES[1], rough: float = ROUGHNESS[1], lengths: tuple[float, ...] = LENGTHS,
    counted: bool = False, ranges: Ranges = NOTHING,
) -> RunFlow:  # fmt: skip
    """Two pipes, two elbows and a tee whose coefficients are stated, with the flow given [kg/s]."""
    size = replace(SECTIONS["2 in"].size, bore=bore, bore_least=BORES[0], bore_most=BORES[2])
    material = replace(
        SECTIONS["2 in"].material, roughness=rough, roughness_least=ROUGHNESS[0], roughness_most=ROUGHNESS[2]
    )
    own = Section(material=material, size=size)
    pieces = [Piece(name="pipe", place="", before=own, after=own, length=length) for length in lengths]
    for kind, k in (("elbow", 0.5), ("elbow", 0.9), ("tee", 2.0)):
        pieces.append(Piece(name=kind, place="", before=own, after=own, fitting=replace(FITTING, kind=kind), k=k))
    run = Run(
        name="v", carries="flue gas", start="n1", end=OUTDOORS, pieces=tuple(pieces), counted=counted, rise_known=True
    )
    graph = VentGraph(runs={"v": run}, junctions={}, appliances=("n1",))
    doubts = Doubts(ranges=ranges, per_air=0.7, per_kelvin=0.004)
    return solve(graph, replace(FIRED, flue={"n1": stream(flow)}, flue_doubts=doubts)).runs["v"]


JOINT_LOSS: dict[str, Any] = dict.fromkeys(("joint", "fitting", "section", "at", "k", "method"))
FIRED = Firing(name="", rates={"n1": "on"}, flue={}, air={}, outdoors=stream(0.0))
MOVED = [
    ({"input": 0.05}, [{"flow": 0.012 * 0.95}], [{"flow": 0.012 * 1.05}]),
    ({"excess_air": 0.1}, [{"flow": 0.012 * 0.93}], [{"flow": 0.012 * 1.07}]),
    ({"bore": True}, [{"bore": BORES[2]}], [{"bore": BORES[0]}]),
    ({"length": 0.02}, [{"lengths": (2.94, 0.4)}, {"lengths": (3.0, 0.392)}],
     [{"lengths": (3.06, 0.4)}, {"lengths": (3.0, 0.408)}]),
    ({"length": 0.02, "tape": 0.02}, [{"lengths": (2.92, 0.4)}, {"lengths": (3.0, 0.372)}],
     [{"lengths": (3.08, 0.4)}, {"lengths": (3.0, 0.428)}]),
    ({"tape": 0.02}, [{"lengths": (2.98, 0.4)}, {"lengths": (3.0, 0.38)}],
     [{"lengths": (3.02, 0.4)}, {"lengths": (3.0, 0.42)}]),
]  # fmt: skip


@pytest.mark.parametrize(("doubted", "easier", "harder"), MOVED, ids=lambda case: "")
def test_what_is_in_doubt_moves_the_loss_as_the_solver_has_it(
    doubted: dict[str, float], easier: list[dict[str, Any]], harder: list[dict[str, Any]]
) -> None:
    """The run solved again with its flow, bore or lengths at either end; two lengths as the root of squares."""
    flow = trial(ranges=replace(NOTHING, **doubted))
    found = run_terms(flow, flow.doubts)
    for sides, side in ((easier, "below"), (harder, "above")):
        moved = math.hypot(*(trial(**changed).pressure_drop - flow.pressure_drop for changed in sides))
        assert math.fsum(getattr(term, side) for term in found) == pytest.approx(moved, rel=0.01), side


@pytest.mark.parametrize("mass_flow", [0.012, 0.0024, 0.0015, 0.0005])
def test_friction_in_doubt_by_hand(mass_flow: float) -> None:
    """Turbulent, in between and laminar: roughness as the solver has it at either end; the law 5 % of the pipes' loss
    and what the regime leaves open."""
    flow = trial(flow=mass_flow, ranges=replace(NOTHING, friction=True))
    law, rough = sorted((t for t in run_terms(flow, flow.doubts) if t.cause == "friction"), key=lambda t: -t.below)
    less, more = (trial(flow=mass_flow, rough=rough).pressure_drop - flow.pressure_drop for rough in ROUGHNESS[::2])
    assert (rough.below, rough.above) == pytest.approx((-less, more), rel=1e-3, abs=1e-9)
    pipes = math.fsum(piece.pressure_drop for piece in flow.pieces[:2])
    laminar, turbulent = regime_shares(flow.pieces[0].at)
    assert (law.below, law.above) == pytest.approx(((0.05 + laminar) * pipes, (0.05 + turbulent) * pipes))


def test_gas_joints_and_count_by_hand() -> None:
    """The gas 4 per mille a kelvin of all, by 3 K; joints a third and more of what they lose or gain; in a counted run
    one elbow in ten, the worst. With more than all of the input in doubt, all of the loss is."""
    flow = trial(ranges=replace(NOTHING, friction=True, flue_temperature=3.0, count=True, input=1.2), counted=True)
    flow = replace(flow, junctions=tuple(LegLoss(**JOINT_LOSS, pressure_drop=drop) for drop in (-3.0, 5.0)))
    found = {term.cause: (term.below, term.above) for term in run_terms(flow, flow.doubts)}
    assert found["flue gas temperature"] == pytest.approx((0.012 * flow.pressure_drop,) * 2)
    assert found["joints"] == pytest.approx((0.35 * 8.0,) * 2)
    assert found["count"] == pytest.approx((math.sqrt(0.3) * 0.9 * flow.pieces[0].at.dynamic_pressure,) * 2)
    assert found["input"][0] == pytest.approx(flow.pressure_drop)
    laid_out = trial(ranges=flow.doubts.ranges)
    assert all(term.cause != "count" for term in run_terms(laid_out, flow.doubts))
    assert roughness_shares(flowing(2040.0, 0.0491), flow.run.pieces[0].before)[1] > 0.01
    assert most_turning([]) == 0.0


def test_a_run_in_which_nothing_flows_is_in_no_doubt() -> None:
    """An idle appliance's pipe: no friction to be more or less of, and no loss to be off."""
    assert roughness_shares(flowing(0.0, 0.0), trial(flow=0.012).pieces[0].piece.before) == (0.0, 0.0)
    assert regime_shares(flowing(0.0, 0.0)) == (0.0, 0.0)
