"""The figures of the check-over's rules against where they come from, and growth of pipe against handbook figures.

From memory, and so marked in the rules themselves: the steps of direct-vent terminals, the slope of connectors.
"""

from __future__ import annotations

import math

import pytest

from tests.studies.support import again, scenario
from ventsize.jobfile.job import job_from_text
from ventsize.quantity import Dimension, parse
from ventsize.studies.checkover import check_over
from ventsize.studies.checkover.rules import read_rules

FOOT, INCH = 0.3048, 0.0254
RULES = read_rules().rules


@pytest.mark.parametrize(
    ("rule", "limit", "source"),
    [
        ("terminal-above-grade", 12 * INCH, "2018 IRC G2427.8"),
        ("terminal-above-forced-inlet", 3 * FOOT, "New York City Mechanical Code 804.2 (2)"),
        ("terminal-below-opening", 4 * FOOT, "New York City Mechanical Code 804.2 (3)"),
        ("terminal-beside-opening", 4 * FOOT, "New York City Mechanical Code 804.2 (3)"),
        ("terminal-above-opening", 1 * FOOT, "New York City Mechanical Code 804.2 (3)"),
        ("terminal-over-walkway", 7 * FOOT, "New York City Mechanical Code 804.2 (1)"),
        ("drain-slope", 0.25 / 12, "Chicago 18-29-704.1, as IPC 704.1, pipe up to 2 1/2 in"),
        ("slope-three-degrees", math.tan(math.radians(3)), "EN 14471"),
        ("slope", 0.25 / 12, "IFGC 503.10, from memory, and common practice"),
    ],
)
def test_limits_are_those_of_their_source(rule: str, limit: float, source: str) -> None:
    """Each as its source has it; `source` says which."""
    assert source
    assert RULES[rule].bound() == pytest.approx(limit, rel=1e-3)


@pytest.mark.parametrize("material", ["abs-40", "pvc-40", "cpvc-40"])
def test_supports_are_those_of_the_residential_code(material: str) -> None:
    """2018 IRC Table P2605.1: 4 ft along and 10 ft up, for ABS and for CPVC of 1 1/4 in and over; PVC by IPC 308.5."""
    assert RULES["support-horizontal"].bound(material=[material]) == pytest.approx(4 * FOOT)
    assert RULES["support-upright"].bound(material=[material]) == pytest.approx(10 * FOOT)


@pytest.mark.parametrize(("power", "inches"), [(10_000, 6), (10_001, 9), (50_000, 9), (80_000, 12), (150_000, 12)])
def test_direct_vent_steps(power: float, inches: float) -> None:
    """IRC Table G2427.8 (2018), from memory: 6, 9 and 12 in; above 150 000 Btu/h the listing decides."""
    rule = RULES["terminal-to-opening"]
    assert rule.status == "from memory"
    assert rule.bound(power=parse(f"{power} Btu/h", Dimension.POWER)) == pytest.approx(inches * INCH)
    assert rule.bound(power=parse("150,100 Btu/h", Dimension.POWER)) is None


GROWING = """
title = "Growing"
[site]
altitude = "0 ft"
outdoor = "10 degF"
[[appliance]]
name = "furnace"
fuel = "natural gas"
[[appliance.rate]]
name = "high"
input = "80 kBtu/h"
excess_air = 0.35
flue_temperature = "110 degF"
[[run]]
name = "vent"
carries = "flue gas"
between = ["furnace", "outdoors"]
size = "3 in"
material = "MATERIAL"
surroundings = "outdoors"
pieces = [{ pipe = "4 ft", heading = "up" }, { fitting = "elbow-90-long" }, { pipe = "10 ft", heading = "east" }]
"""


@pytest.mark.parametrize(("material", "growth"), [("pvc-40", 0.360), ("cpvc-40", 0.456), ("abs-40", 0.720)])
def test_growth_of_ten_feet_over_a_hundred_degrees(material: str, growth: float) -> None:
    """Handbook: 10 ft of PVC grow 0.360 in over 100 °F, of CPVC (38e-6/°F) 0.456 in, of ABS 0.72 in."""
    job = job_from_text(GROWING.replace("MATERIAL", material), file="job.toml")
    found = check_over(again(scenario("simple-pass"), job))
    item = next(item for item in found.items if item.rule.name == "expansion")
    assert item.value == pytest.approx(growth * INCH, rel=2e-3)
    assert item.outcome == "to measure"
