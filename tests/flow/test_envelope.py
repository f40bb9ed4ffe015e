"""Where the calculation ends: Mach number, loss against the absolute pressure, velocity."""

from __future__ import annotations

import pytest

from tests.check.jobs import TABLE, checked, job, pipe
from ventsize.flow.envelope import Envelope, envelope, speed_of_sound
from ventsize.flow.stream import Stream
from ventsize.gas.mixture import DRY_AIR


def of_job(input: str, *, feet: float = 20, size: str = "3 in") -> Envelope:
    """Of a straight vent at one input."""
    pieces = [{"pipe": f"{feet} ft", "heading": "up"}, {"fitting": "terminal-open"}]
    return envelope(checked(job(pieces, input=input, size=size)).runs[0].rates[0].flow)


@pytest.mark.parametrize(("kelvin", "speed"), [(288.15, 340.29), (273.15, 331.3), (293.15, 343.2)])
def test_speed_of_sound(kelvin: float, speed: float) -> None:
    """Air: 340.29 m/s at 15 °C, U.S. Standard Atmosphere 1976; 331.3 at 0 °C and 343.2 at 20 °C, handbooks (0.1 %)."""
    air = Stream(mass_flow=0.01, mixture=DRY_AIR, temperature=kelvin, pressure=101_325.0)
    assert speed_of_sound(air) == pytest.approx(speed, rel=1e-3)


def test_an_ordinary_vent_is_well_inside() -> None:
    """80 kBtu/h in 3 in pipe: by hand about 2.1 m/s, Mach 0.006, a loss of some 15 Pa of 99 kPa."""
    found = of_job("80 kBtu/h")
    assert found.holds and not found.fast
    assert found.velocity == pytest.approx(2.1, abs=0.2)
    assert found.mach == pytest.approx(found.velocity / 357.0, rel=0.02)
    assert found.loss < 5e-4


def test_velocity_and_mach_grow_with_the_input() -> None:
    """Fifty times the input is fifty times the velocity, 105 m/s, and Mach 0.3; ten times is over 15 m/s."""
    ordinary, fast, faster = (of_job(f"{80 * times} kBtu/h", feet=1) for times in (1, 10, 60))
    assert fast.velocity == pytest.approx(10 * ordinary.velocity, rel=0.02)
    assert fast.fast and fast.holds
    assert faster.too_fast and not faster.holds


@pytest.mark.parametrize(("share", "verdict"), [(0.98, "within"), (1.02, "incomplete")])
def test_gas_too_near_the_speed_of_sound_is_no_pass(share: float, verdict: str) -> None:
    """1 ft of pipe at 98 and 102 % of the input that gives Mach 0.3; it loses less than a tenth of the pressure."""
    at_limit = 80.0 * 0.3 / of_job("80 kBtu/h", feet=1).mach
    pieces = [{"pipe": "1 ft", "heading": "up"}, {"fitting": "terminal-open"}]
    table = {**TABLE, "row": [{"input": f"{share * at_limit} kBtu/h", "size": "3 in", "allowable": "90 ft"}]}
    found = checked(job(pieces, input=f"{share * at_limit} kBtu/h"), table)
    (outcome,) = [one for one in found.runs[0].outcomes if one.condition == "inside-envelope"]
    assert not envelope(found.runs[0].rates[0].flow).loses_too_much
    assert outcome.because.code == ("inside-envelope" if share < 1 else "too-fast")
    assert found.verdict == verdict


def test_a_loss_of_a_tenth_of_the_pressure_has_no_answer() -> None:
    """A long thin pipe: it loses more than 10 kPa long before the gas is near the speed of sound."""
    found = of_job("300 kBtu/h", feet=3000, size="2 in")
    assert found.loses_too_much and not found.too_fast and not found.holds


def test_at_the_limit_itself_it_holds() -> None:
    """Mach 0.3, a tenth of the pressure and 15 m/s are inside."""
    at_limit = Envelope(velocity=15.0, piece=0, mach=0.3, loss=0.1)
    assert at_limit.holds and not at_limit.fast
    assert not Envelope(velocity=15.0, piece=0, mach=0.3001, loss=0.0).holds
    assert not Envelope(velocity=15.0, piece=0, mach=0.1, loss=0.1001).holds
    assert Envelope(velocity=15.01, piece=0, mach=0.1, loss=0.0).fast


def test_the_fastest_piece_is_named_the_first_of_equals() -> None:
    """The narrow part of a vent, and the speed of sound in the gas as warm as it is there."""
    pieces = [pipe(10, "up"), {"fitting": "reducer", "size": "2 in"}, pipe(10, "up"), {"fitting": "terminal-open"}]
    flow = checked({**job(pieces), "cooling": True}).runs[0].rates[0].flow
    found = envelope(flow)
    assert found.piece == max(range(4), key=lambda number: flow.pieces[number].at.velocity) in (1, 2, 3)
    assert flow.cooling is not None
    assert found.mach == pytest.approx(found.velocity / speed_of_sound(flow.cooling.streams[found.piece]))
