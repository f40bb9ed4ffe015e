"""Nine in ten truths lie in the range that a check gives: truths drawn otherwise, by code that shares nothing with it.

The seed, the distributions and the jobs were settled before the first count.
"""

from __future__ import annotations

import math
import random
from pathlib import Path

import pytest

from ventsize.check.inputs import read_inputs
from ventsize.check.verdict import check
from ventsize.flow.rate_flow import RunFlow

TRUTHS, SEED = 1_000, 20261129
JOBS = [("old-two-inch-run", "vent"), ("simple-pass", "air"), ("two-sizes", "vent"), ("second-visit", "vent"),
        ("over-by-table-within-by-calculation", "vent"), ("counted-run", "vent"), ("trips-on-the-vent", "air"),
        ("long-run-adaptive", "vent")]  # fmt: skip


def haaland(reynolds: float, relative: float) -> float:
    """Friction by Haaland's formula, within 1.5 % of Colebrook's."""
    return float((-1.8 * math.log10((relative / 3.7) ** 1.11 + 6.9 / reynolds)) ** -2)


def bell(chance: random.Random, below: float, above: float) -> float:
    """A normal error with the standard deviation of an even one of that reach, below as likely as above."""
    error = abs(chance.gauss(0.0, 1.0)) / math.sqrt(3.0)
    return error * above if chance.random() < 0.5 else -error * below


def triangle(chance: random.Random, reach: float) -> float:
    """A triangular error with the standard deviation of an even one of that reach."""
    return chance.triangular(-1.0, 1.0, 0.0) * reach * math.sqrt(2.0)


def truth(flow: RunFlow, chance: random.Random, *, excess_air: float, fuel_share: float, flue: bool) -> float:
    """What a run really loses [Pa]. fuel_share: of the flue gas's mass that does not come with the air [-]."""
    fired = 1.0 + triangle(chance, 0.05)
    more_air = (1.0 + excess_air + triangle(chance, 0.05)) / (1.0 + excess_air)
    flow_share = fired * ((1.0 - fuel_share) * more_air + fuel_share)
    condensing = 0.011 if flue else 0.0
    warmer = math.exp(condensing * bell(chance, 3.0, 3.0))
    law = 1.0 + bell(chance, 0.05, 0.05)
    rough = 0.046e-3 * chance.random() if chance.random() < 0.5 else 1.5e-6
    kinds: dict[str, float] = {}
    bores: dict[float, float] = {}
    lost = 0.0
    for piece in flow.pieces:
        section = piece.piece.section
        size = section.size
        if section.nominal not in bores:
            middle = chance.gauss(0.0, (size.bore_most - size.bore_least) / math.sqrt(12.0))
            bores[section.nominal] = (size.bore_least + size.bore_most) / 2.0 + middle
        bore = bores[section.nominal]
        dynamic = piece.at.dynamic_pressure * flow_share**2 * (section.bore / bore) ** 4
        if piece.piece.is_pipe:
            reynolds = piece.at.reynolds * flow_share * section.bore / bore
            length = piece.piece.length * (1.0 + triangle(chance, 0.03)) + triangle(chance, 0.0127)
            bias = piece.at.friction_factor / haaland(piece.at.reynolds, section.roughness / section.bore)
            lost += law * bias * haaland(reynolds, max(rough, 1e-9) / bore) * length / bore * dynamic
        else:
            name = piece.piece.name
            place = kinds.setdefault(name, bell(chance, 1.0, 1.0))
            reach = piece.k_high - piece.k if place > 0.0 else piece.k - piece.k_low
            lost += (piece.k + place * reach) * dynamic
            if flow.run.counted and name.startswith("elbow-90") and (name, 0) not in bores:
                bores[(name, 0)] = 0.0  # type: ignore[index]
                lost += chance.choice((-1, *[0] * 18, 1)) * piece.k * dynamic
    return lost * warmer


@pytest.mark.parametrize(("scenario", "run"), JOBS)
def test_nine_in_ten_truths(root: Path, scenario: str, run: str) -> None:
    """Of a thousand at the highest rate, 87 to 93 % lie between low and high."""
    checked = check(read_inputs(root / "scenarios" / f"{scenario}.toml"))
    flow = next(one for one in checked.runs if one.run.name == run).rates[0].flow
    gas = checked.appliances[0].rates[0].gas
    flue = flow.run.carries == "flue gas"
    fuel = 1.0 - gas.air_mass_flow / gas.uncondensed_mass_flow if flue else 0.0
    chance = random.Random(SEED)
    inside = sum(
        flow.pressure_drop_low
        <= truth(flow, chance, excess_air=gas.excess_air, fuel_share=fuel, flue=flue)
        <= flow.pressure_drop_high
        for _ in range(TRUTHS)
    )
    assert 0.87 <= inside / TRUTHS <= 0.93, inside
