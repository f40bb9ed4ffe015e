"""The fan's affinity laws, worked by hand: flow with speed, head with its square (any fan handbook)."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from scipy.interpolate import PchipInterpolator
from scipy.optimize import ridder

from ventsize.check.inputs import Inputs, prepare
from ventsize.check.verdict import check
from ventsize.jobfile.job import job_from_text
from ventsize.studies.fan_curve import curve_through
from ventsize.studies.inducer import inducer_study

STRAIGHT = [(flow / 100.0, 500.0 - 5.0 * flow) for flow in (0.0, 10.0, 25.0, 50.0, 100.0)]
"""H = 500 - 500 q with q in m³/s: PCHIP through points of a straight line is the line."""


def test_share_of_speed_on_a_straight_curve() -> None:
    """head = s²(500 - 500 q/s) = 500 s² - 500 q s. For q = 0.2 and head 40: 500 s² - 100 s - 40 = 0.

    s = (100 + sqrt(10 000 + 80 000)) / 1000 = 0.4, by hand.
    """
    assert curve_through(STRAIGHT).speed_for(flow=0.2, head=40.0) == pytest.approx(0.4, rel=1e-9)


@pytest.mark.parametrize("share", [0.3, 0.6, 1.0, 1.4])
def test_any_point_of_the_curve_moves_by_the_laws(share: float) -> None:
    """A point (q, h) at top speed stands at (s q, s² h) at a share s of it."""
    curve = curve_through([(0.0, 550.0), (0.005, 510.0), (0.01, 400.0), (0.015, 210.0), (0.018, 0.0)])
    for flow in (0.004, 0.0085, 0.013):
        head = curve.head(flow)
        assert curve.speed_for(flow=share * flow, head=share**2 * head) == pytest.approx(share, rel=1e-9)


@pytest.mark.parametrize("share", [0.4, 1.0, 1.5])
def test_a_slower_curve_is_the_laws_of_the_straight_one(share: float) -> None:
    """H_s(q) = s²(500 - 500 q/s) = 500 s² - 500 q s, from no flow to s m³/s, by hand; its own points lie on it."""
    slower = curve_through(STRAIGHT).at_speed(share)
    assert (slower.least, slower.most) == pytest.approx((0.0, share))
    for flow, head in (*slower.drawn(), *slower.points):
        assert head == pytest.approx(500.0 * share**2 - 500.0 * flow * share, abs=1e-9)


def test_the_curve_passes_its_points_and_never_rises_between() -> None:
    """Monotone cubics (Fritsch and Carlson): no wiggle that would make a second operating point."""
    points = [(0.0, 550.0), (0.005, 549.0), (0.006, 300.0), (0.015, 210.0), (0.018, 0.0)]
    curve = curve_through(points)
    assert [curve.head(flow) for flow, _ in points] == pytest.approx([head for _, head in points])
    heads = [curve.head(0.018 * i / 200) for i in range(201)]
    assert all(later <= earlier + 1e-9 for earlier, later in zip(heads, heads[1:], strict=False))


def test_no_share_of_speed_meets_what_lies_beyond_the_curve() -> None:
    """A curve typed in from 0.2 to 0.5 m³/s says nothing of a head lower than its right end gives."""
    curve = curve_through([(0.2, 400.0), (0.3, 350.0), (0.5, 250.0)])
    assert curve.speed_for(flow=0.5, head=10.0) is None
    assert curve.speed_for(flow=0.2, head=50_000.0) is None


@pytest.mark.parametrize(
    ("points", "said"),
    [
        ([(0.0, 100.0), (1.0, 50.0)], "three or more"),
        ([(0.0, 100.0), (1.0, 120.0), (2.0, 50.0)], "the head rises"),
        ([(0.0, 100.0), (1.0, 90.0), (1.0, 50.0)], "the same flow"),
    ],
)
def test_what_is_no_curve_is_refused(points: list[tuple[float, float]], said: str) -> None:
    """One sentence says what is wrong."""
    with pytest.raises(ValueError, match=said):
        curve_through(points)


# Operating points against another root-finder: scipy's, on laws written out here


JOB = """
[[appliance]]
name = "furnace"
fuel = "methane"
[appliance.inducer]
source = "Invented for tests"
adaptive = {adaptive}
switch = {{ high = "180 Pa" }}
burner = {{ high = "60 Pa" }}
curve = [["0 m3/h", "560 Pa"], ["15 m3/h", "520 Pa"], ["32 m3/h", "400 Pa"], ["52 m3/h", "210 Pa"], ["66 m3/h", "0 Pa"]]
{more}
[[appliance.rate]]
name = "high"
input = "24 kW"
excess_air = 0.35
flue_temperature = "45 degC"
[[run]]
name = "vent"
carries = "flue gas"
between = ["furnace", "outdoors"]
size = "2 in"
material = "pvc-40"
pieces = [{{ pipe = "{length} m" }}, {{ fitting = "elbow-90-long", k = 0.4 }}, {{ fitting = "terminal-open", k = 1.0 }}]
"""


def vent_loss(inputs: Inputs, excess_air: float) -> tuple[float, float, float]:
    """Mass flow [kg/s], density [kg/m³] and loss [Pa] of the vent by the check of that job."""
    high = replace(inputs.job.appliances[0].rates[0], excess_air=excess_air)
    job = replace(inputs.job, appliances=(replace(inputs.job.appliances[0], rates=(high,)),))
    flow = check(prepare(job, file="job")).runs[0].rates[0].flow
    return flow.stream.mass_flow, flow.stream.density, flow.pressure_drop


@pytest.mark.parametrize(
    ("more", "altitude", "length", "speed", "test_density", "static"),
    [
        ("", "0 ft", 10, 1.0, None, False),
        ("speeds = { high = '92 %' }", "0 ft", 10, 0.92, None, False),
        ("curve_density = '1.2 kg/m3'", "0 ft", 10, 1.0, 1.2, False),
        ("curve_density = '1.2 kg/m3'", "5000 ft", 6, 1.0, 1.2, False),
        ("curve_density = '1.2 kg/m3'\ncurve_pressure = 'static'", "2000 ft", 14, 1.0, 1.2, True),
    ],
)
def test_where_fan_and_vent_meet_as_by_another_root_finder(
    more: str, altitude: str, length: int, speed: float, test_density: float | None, static: bool
) -> None:
    """By Ridders' method (scipy) on s² H(q/s) ρ/ρ_test = vent + (180 + 60) Pa (m/m0)² ρ0/ρ: within 0.2 %."""
    inputs = job(JOB.format(adaptive="false", more=more, length=length), altitude)
    points = STATIC_AS_TOTAL if static else CURVE
    law = PchipInterpolator(*zip(*points, strict=True))
    mass, density, _ = vent_loss(inputs, 0.35)

    def surplus(excess_air: float) -> float:
        flow, here, loss = vent_loss(inputs, excess_air)
        head = speed**2 * float(law(flow / here / speed)) * (here / test_density if test_density else 1.0)
        return head - loss - 240.0 * (flow / mass) ** 2 * density / here

    expected = ridder(surplus, 0.0, 2.0, xtol=1e-10)
    found = inducer_study(inputs).rates[0].fixed
    flow, here, _ = vent_loss(inputs, expected)
    assert 1.0 + (found.excess_air or 0.0) == pytest.approx(1.0 + expected, rel=0.002)
    assert found.flow == pytest.approx(flow / here, rel=0.002)
    assert found.exchanger_drop == pytest.approx(180.0 * (flow / mass) ** 2 * density / here, rel=0.002)


@pytest.mark.parametrize(("altitude", "length"), [("0 ft", 5), ("0 ft", 12), ("5000 ft", 8), ("9000 ft", 4)])
def test_the_speed_that_holds_as_by_another_root_finder(altitude: str, length: int) -> None:
    """180 + 60 Pa and the vent's loss at the job's own flow; s by Ridders' method: within 0.2 %."""
    inputs = job(JOB.format(adaptive="true", more="curve_density = '1.2 kg/m3'", length=length), altitude)
    law = PchipInterpolator(*zip(*CURVE, strict=True))
    mass, density, loss = vent_loss(inputs, 0.35)
    least = mass / density / CURVE[-1][0]
    expected = ridder(
        lambda s: s**2 * float(law(mass / density / s)) * density / 1.2 - loss - 240.0, least * 1.000001, 3.0
    )
    assert inducer_study(inputs).rates[0].speed == pytest.approx(expected, rel=0.002)


@pytest.mark.parametrize(("holds", "air"), [("mass flow", 0.35), ("pressure", None)])
def test_altitude_thins_the_air_of_one_that_holds_its_pressure(holds: str, air: float | None) -> None:
    """Figures that hold at sea level, at 5,000 ft: the drop ~ m²/ρ, so m falls with the root of the density.

    By hand: p/p0 = 0.8321 (U.S. Standard Atmosphere at 1,524 m), m/m0 = 0.9122; of the flue gas of methane at 35 %
    excess air the air is 1.35 x 17.19 parts in 1.35 x 17.19 + 1 by mass (17.19: stoichiometric air of methane). At
    62 °C, above its dew point, so that no water leaves it.
    """
    text = JOB.format(adaptive="true", more=f"operating_altitude = '0 ft'\nholds = '{holds}'", length=3)
    text = text.replace('"45 degC"', '"62 degC"')
    found = inducer_study(job(text, "5000 ft")).rates[0].excess_air
    if air is None:
        flue = 1.35 * 17.19 + 1.0
        air = (flue * 0.8321**0.5 - 1.0) / 17.19 - 1.0
    assert found == pytest.approx(air, abs=0.005)


def test_where_the_switch_opens_is_apart_from_what_it_feels() -> None:
    """The same vent and fan: a switch that opens at 150 Pa holds where one that opens at 190 Pa does not."""
    states = []
    for opens in ("150 Pa", "190 Pa"):
        text = JOB.format(adaptive="false", more="speeds = { high = '96 %' }", length=14)
        text = text.replace('name = "high"', f'name = "high"\nswitch_opens = "{opens}"')
        states.append(inducer_study(job(text, "0 ft")).rates[0].point)
    assert 150.0 < (states[0].exchanger_drop or 0.0) < 190.0
    assert states[0].burns and states[1].why is not None and states[1].why.code == "fan-switch-opens"


CURVE = [(0.0, 560.0), (15 / 3600, 520.0), (32 / 3600, 400.0), (52 / 3600, 210.0), (66 / 3600, 0.0)]
BORE = 0.0525018  # m, 2 in schedule 40, ASTM D1785
STATIC_AS_TOTAL = [(q, head + 0.5 * 1.2 * (q / (math.pi / 4 * BORE**2)) ** 2) for q, head in CURVE]
"""Static pressure and ½ρv² at an outlet of the collar's bore, with the air the curve was taken with."""


def job(text: str, altitude: str) -> Inputs:
    """The job above at an altitude, its gas at one temperature."""
    site = f'title = "fan"\ncooling = false\n[site]\naltitude = "{altitude}"\noutdoor = "5 degC"\nindoor = "20 degC"\n'
    return prepare(job_from_text(site + text, file="job"), file="job")
