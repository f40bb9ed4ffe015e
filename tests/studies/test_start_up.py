"""Start-up step by step: in order, by the same physics as the inducer study, and nothing burns that cannot."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from tests.studies.support import scenario
from ventsize.check.inputs import Inputs, prepare
from ventsize.cli import main
from ventsize.jobfile.lesson import Changed
from ventsize.studies.altering.altered import altered
from ventsize.studies.inducer import inducer_study
from ventsize.studies.start_up import start_up

LONG = scenario("long-run-adaptive")
FOOT = 0.3048


def codes(inputs: Inputs, learned_on: Inputs | None = None) -> list[str]:
    """Of the steps, in order."""
    return [moment.what.code for moment in start_up(inputs, learned_on=learned_on).moments]


def test_the_steps_and_what_is_learned() -> None:
    """Switch proved open, closed by air alone, then each rate learned as the study has it; a power cut clears it."""
    found = start_up(LONG)
    assert codes(LONG) == [
        "start-power-returns", "start-switch-proved-open", "start-switch-closes", "start-purge", "start-learns",
        "start-learns", "start-satisfied", "start-keeps", "start-power-cut",
    ]  # fmt: skip
    speeds = {rate.rate: rate.speed for rate in inducer_study(LONG).rates}
    assert dict(found.moments[-2].learned) == pytest.approx(speeds)
    assert found.moments[-1].learned == () == found.moments[0].learned
    assert [m.burning for m in found.moments] == [False] * 4 + [True] * 2 + [False] * 3
    assert all(m.excess_air is None for m in found.moments if not m.burning)


def test_cold_air_makes_the_same_drop_with_less_volume() -> None:
    """drop ~ flow² x density, by hand: volume in proportion to one over the root of the density."""
    found = start_up(LONG)
    purge, burns = found.moments[3], found.moments[4]
    assert purge.drop == pytest.approx(burns.drop)
    # M over T: half humid air at 68 °F; flue gas at 110 °F, 9 % water (saturated) and 91 % of 29.6 g/mol
    air, gas = 28.83 / 293.15, (0.09 * 18.0 + 0.91 * 29.6) / 316.48
    assert purge.flow / burns.flow == pytest.approx((gas / air) ** 0.5, rel=0.01)


def test_an_altered_vent_at_the_old_speed_starves_until_it_learns_again() -> None:
    """Seventy feet more: at the learned speed the switch opens, and after a power cut it holds at a higher one."""
    longer = altered(LONG, Changed(run="vent", straight=135 * FOOT))
    old, *rest = start_up(longer, learned_on=LONG).moments
    assert old.what.code == "fan-switch-opens" and not old.burning and old.excess_air is None
    assert rest[1].what.code == "start-power-returns"
    learned = next(m for m in rest if m.what.code == "start-learns")
    assert learned.speed > old.speed and learned.burning


def test_a_vent_beyond_its_top_speed_never_lights() -> None:
    """The sequence ends where the switch does not close."""
    assert codes(altered(LONG, Changed(run="vent", straight=400 * FOOT)))[-1] == "start-switch-stays-open"


def test_a_fixed_speed_has_nothing_to_learn() -> None:
    """Two speeds: each rate at its own; no step of learning, none of a power cut."""
    fan = replace(LONG.job.appliances[0].inducer, adaptive=False, speeds={"high": 0.95, "low": 0.7})  # type: ignore[type-var]
    fixed = replace(LONG.job, appliances=(replace(LONG.job.appliances[0], inducer=fan),))
    found = start_up(prepare(fixed, file="job", tables=LONG.tables))
    assert [m.speed for m in found.moments if m.burning] == [0.95, 0.7]
    assert not any(m.learned for m in found.moments) and found.moments[-1].what.code == "start-satisfied"


def test_the_verb(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Text of 80 columns, and JSON."""
    job = str(root / "scenarios" / "long-run-adaptive.toml")
    assert main(["inducer", job, "--start-up"]) == 0
    assert max(map(len, capsys.readouterr().out.splitlines())) <= 80
    assert main(["inducer", job, "--learned-on", job, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["moments"][0]["code"] == "start-old-speed"
