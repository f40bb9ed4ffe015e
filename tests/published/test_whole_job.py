"""A whole job, from what is typed to the pressure, against figures worked out independently.

The references were computed outside this project with Cantera (properties of the wet flue gas), stoichiometry by
hand and Colebrook's equation as solved in the `fluids` package, for Schedule 40 bores of outside less twice the
minimum wall; the buoyancy from the ideal gas law with g = 9.80665 m/s².
"""

from __future__ import annotations

import pytest

from tests.check.jobs import Data, checked, job
from ventsize.check.rate import RunRate

SCHEDULE_40 = {"2 in": ("2.375 in", "2.067 in"), "3 in": ("3.500 in", "3.068 in")}


def methane(
    size: str, *, excess: float, celsius: float, kbtu: float = 100, pieces: list[Data] | None = None, outdoor: str = ""
) -> RunRate:
    """The only rate of a job that burns methane with dry air at sea level, in pipe of the largest bore; gas as it
    leaves the appliance all along, as the references have it."""
    outside, bore = SCHEDULE_40[size]
    data = job(
        [{"pipe": "100 ft"}, {"fitting": "terminal-open"}] if pieces is None else pieces,
        size=size,
        material="largest-bore",
        input=f"{kbtu} kBtu/h",
        excess_air=excess,
        flue_temperature=f"{celsius} degC",
        altitude="0 ft",
        outdoor=outdoor or "20 degC",
    )
    data |= {"cooling": False, "site": data["site"] | {"relative_humidity": 0.0}}
    data["appliance"][0]["fuel"] = "methane"
    data["pipe"] = [
        {
            "name": "largest-bore",
            "source": "ASTM D1785, outside less two minimum walls",
            "roughness": "0.0015 mm",
            "sizes": [{"nominal": size, "outside": outside, "bore": bore}],
        }
    ]
    return checked(data).runs[0].rates[0]


# (size, excess air, °C, reference ΔP of 100 ft of uncondensed gas [Pa], change by condensation [%])
ROWS = [
    ("2 in", 0.30, 60, 251.70, 0.0),
    ("2 in", 0.30, 50, 242.66, -4.3),
    ("2 in", 0.30, 40, 233.67, -11.2),
    ("3 in", 0.20, 40, 31.38, -12.7),
    ("3 in", 0.50, 60, 49.00, 0.0),
]


@pytest.mark.parametrize(("size", "excess", "celsius", "uncondensed", "change"), ROWS)
def test_pressure_of_a_hundred_feet(
    size: str, excess: float, celsius: float, uncondensed: float, change: float
) -> None:
    """Firing rate to pressure drop, dry and condensing, within 1 % (viscosities of two sources differ that much)."""
    rate = methane(size, excess=excess, celsius=celsius)
    assert rate.flow.pieces[0].pressure_drop == pytest.approx(uncondensed * (1 + change / 100), rel=0.01)


def test_reynolds_number_and_mass_flow_of_the_reference_case() -> None:
    """100 kBtu/h of methane, 30 % excess air, 60 °C in 2 in pipe: 98.10 lb/h, Re 16 390."""
    rate = methane("2 in", excess=0.30, celsius=60)
    assert rate.flow.stream.mass_flow == pytest.approx(98.10 * 0.45359237 / 3600, rel=0.005)
    assert rate.flow.pieces[0].at.reynolds == pytest.approx(16_390, rel=0.01)


@pytest.mark.parametrize(
    ("feet", "flue", "outdoor", "draft", "tolerance"),
    [
        (20, 140, 0, 21.40, 0.003),
        (30, 300, 60, 37.13, 0.003),
        # Below the dew point, by hand: vapour at saturation 11.67 kPa of 101.325, so M = 0.1152 × 18.015 + 0.8848 ×
        # 29.752 = 28.40; at 48.9 °C 1.0753 kg/m³ against 1.2922 outdoors; × 9.80665 × 6.096 m = 12.97 Pa. With all
        # its water left in it, the gas would give 13.91.
        (20, 120, 32, 12.97, 0.01),
    ],
)
def test_draft_of_a_rising_vent(feet: int, flue: float, outdoor: float, draft: float, tolerance: float) -> None:
    """Buoyancy of flue gas of molar mass 28.00 (methane, 30 % excess air), at 29.92 in Hg."""
    pieces = [{"pipe": f"{feet} ft", "heading": "up"}, {"fitting": "terminal-open"}]
    rate = methane("3 in", excess=0.30, celsius=(flue - 32) / 1.8, pieces=pieces, outdoor=f"{outdoor} degF")
    assert rate.flow.draft == pytest.approx(draft, rel=tolerance)


def test_the_exit_loss_and_the_velocity_pressure_cancel_at_the_collar() -> None:
    """A straight vent of one size: the manometer shows the friction alone (Bernoulli, exit K of 1)."""
    rate = methane("2 in", excess=0.30, celsius=60)
    assert rate.static_pressure_at_appliance == pytest.approx(rate.flow.pieces[0].pressure_drop, rel=1e-9)
    assert rate.flow.pieces[1].k == 1.0
