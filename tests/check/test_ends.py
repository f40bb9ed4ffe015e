"""Wind and room pressure where a job states them: what a manometer shows, idle collars, traps, and what stays."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import pytest

from tests.check.jobs import Data, checked, job, two_furnaces
from ventsize.check.collars import IdleCollar, idle_collars
from ventsize.check.ends import boundary
from ventsize.check.result import JobCheck
from ventsize.check.traps import worst_collar_pressure
from ventsize.check.wind_and_stack import Nearly, nearly
from ventsize.gas.constants import WATER_WEIGHT
from ventsize.gas.mixture import DRY_AIR
from ventsize.jobfile.job import job_from_data

AIR = 101_325.0 * 0.0289652 / 8.314462618  # kg·K/m³ at sea level; these jobs stand at sea level with dry air


def at_sea(data: Data, *, walls: str | None = None, **site: Any) -> JobCheck:
    """The check of a job with these keys in its site, every outdoor end on one wall."""
    data["site"].update({"altitude": "0 ft", "relative_humidity": 0.0, **site})
    for run in data["run"]:
        if walls and "outdoors" in run["between"]:
            run["wall"] = walls
    return checked(data)


def rate(found: JobCheck) -> Any:
    """The first run at the first rate."""
    return found.runs[0].rates[0]


def test_a_manometer_reads_against_the_room() -> None:
    """8 Pa below outdoors in the room: the gauge shows 8 Pa more, and nothing else changes."""
    plain, sucked = at_sea(job()), at_sea(job(), room_pressure="-8 Pa")
    assert rate(plain).static_pressure_to_room is None
    shown = rate(sucked).static_pressure_to_room
    assert shown == pytest.approx(rate(plain).static_pressure_at_appliance + 8.0)
    assert rate(sucked).static_pressure_at_appliance == rate(plain).static_pressure_at_appliance
    assert rate(sucked).flow.pressure_drop == rate(plain).flow.pressure_drop
    assert sucked.verdict == plain.verdict


def test_a_stack_is_figured_from_its_height_and_both_temperatures() -> None:
    """4 m below the neutral level, 20 °C in and -20 °C out: 7.46 Pa by ASHRAE's equation, worked by hand.

    Without an indoor temperature there is no stack to figure; a stated pressure goes before it.
    """
    cold = {"stack_height": "4 m", "outdoor": "-20 degC"}
    found = rate(at_sea(job(), indoor="20 degC", **cold))
    assert found.flow.room == pytest.approx(-AIR * 9.80665 * 4.0 * (1 / 253.15 - 1 / 293.15), rel=1e-3)
    assert found.flow.room == pytest.approx(-7.46, abs=0.02)
    data = job()
    del data["site"]["indoor"]
    assert rate(at_sea(data, **cold)).flow.room is None
    stated = rate(at_sea(job(), indoor="20 degC", room_pressure="-3 Pa", **cold))
    assert stated.flow.room == pytest.approx(-3.0)


@pytest.mark.parametrize(("wall", "coefficient"), [("north", 0.603), ("south", -0.364), ("east", -0.443)])
def test_wind_at_the_end(wall: str, coefficient: float) -> None:
    """10 m/s from the north at 0 °C: the whole vent stands higher by Cp rho U²/2, by hand; its loss is as it was."""
    calm = rate(at_sea(job(), outdoor="0 degC"))
    windy = rate(at_sea(job(), walls=wall, outdoor="0 degC", wind="10 m/s", wind_from="north"))
    raised = windy.flow.static_pressure("furnace") - calm.flow.static_pressure("furnace")
    assert raised == pytest.approx(coefficient * 0.5 * AIR / 273.15 * 100.0, abs=0.05)
    assert windy.static_pressure_at_appliance == pytest.approx(calm.static_pressure_at_appliance)
    assert windy.flow.pressure_drop == pytest.approx(calm.flow.pressure_drop)


def test_still_air_and_a_mild_day_are_seen_behind_wind_and_frost() -> None:
    """With wind stated, what the pressures would be without it, and without the help of draft besides, is as in the job
    that states none."""
    data = job([{"pipe": "20 ft", "heading": "up"}, {"fitting": "terminal-open"}])
    calm, windy = (
        rate(at_sea(deepcopy(data), walls="north", outdoor="0 degC", **wind)).flow
        for wind in ({}, {"wind": "10 m/s", "wind_from": "north"})
    )
    assert calm.draft > 1.0
    for helped in (True, False):
        still = calm.total_pressure("furnace", helped=helped)
        assert windy.total_pressure("furnace", helped=helped, calm=True) == pytest.approx(still)
        assert windy.total_pressure("furnace", helped=helped) != pytest.approx(still)
    assert calm.total_pressure("furnace", helped=False) == pytest.approx(calm.pressure_drop)


def test_wind_counts_only_where_it_is_stated() -> None:
    """Wind without the side it comes from, or an end on no wall, changes no pressure."""
    calm = rate(at_sea(job()))
    for walls, site in (("north", {"wind": "10 m/s"}), (None, {"wind": "10 m/s", "wind_from": "north"})):
        found = rate(at_sea(job(), walls=walls, **site))
        assert found.flow.static_pressure("furnace") == calm.flow.static_pressure("furnace")


def test_the_trap_and_an_idle_collar_stand_between_wind_and_room() -> None:
    """Wind on the end and suction in the room both push flue gas into an appliance that is off, and at its trap."""
    calm = at_sea(two_furnaces(heading="up"))
    pushed = at_sea(two_furnaces(heading="up"), walls="west", wind="8 m/s", wind_from="west", room_pressure="-4 Pa")
    before, after = ({c.appliance: c for c in idle_collars(one.runs)} for one in (calm, pushed))
    wind = 0.603 * 0.5 * AIR / (272.039) * 64.0
    assert after["other"].pressure - before["other"].pressure == pytest.approx(4.0 + wind, abs=0.05)
    traps = [worst_collar_pressure(one.runs, "furnace") for one in (calm, pushed)]
    assert traps[0] is not None and traps[1] is not None
    assert traps[1].highest - traps[0].highest == pytest.approx(4.0 + wind, abs=0.05)


def test_two_openings_on_two_walls_divide_the_flow_otherwise() -> None:
    """With one opening to windward and one in the lee more gas leaves by the lee; in still air both are alike."""
    data = two_furnaces()
    second = {**data["run"][2], "name": "w", "pieces": [dict(p) for p in data["run"][2]["pieces"]]}
    data["run"].append(second)
    data["joint"] = []
    calm = at_sea(data)
    flows = {run.run.name: run.rates[0].flow for run in calm.runs}
    assert flows["v"].stream.mass_flow == pytest.approx(flows["w"].stream.mass_flow)
    data["run"][2]["wall"], second["wall"] = "north", "south"
    windy = {run.run.name: run.rates[0].flow for run in at_sea(data, wind="3 m/s", wind_from="north").runs}
    assert windy["w"].stream.mass_flow > 1.1 * windy["v"].stream.mass_flow
    assert windy["v"].total_pressure("J", calm=True) == pytest.approx(flows["v"].total_pressure("J"), abs=1e-6)


def test_little_wind_that_would_empty_a_trap_is_told() -> None:
    """A seal that holds the vent with 5 Pa to spare: by hand 3.5 m/s against the wall, at 0.603 rho U²/2.

    With 100 Pa to spare nothing is told, nor where the job states wind, wall and room.
    """
    standing = worst_collar_pressure(at_sea(job()).runs, "furnace")
    assert standing is not None

    def told(spare: float, **site: Any) -> tuple[Nearly, ...]:
        data = job()
        data["appliance"][0]["trap_seal"] = f"{(standing.highest + spare) / WATER_WEIGHT * 1e3:.5f} mm"
        found = at_sea(data, walls="north", **site)
        read = job_from_data(data, file="test.toml")
        around = boundary(read, air=DRY_AIR, outdoor=272.039, pressure=101_325.0)
        answers = nearly(read, found.runs, around, density=AIR / 272.039)
        assert [one.code for one in found.findings if "little" in one.code] == ["little-wind-at-trap"] * len(answers)
        return answers

    (one,) = told(5.0)
    assert (one.appliance, one.what, one.rate) == ("furnace", "trap", "high")
    assert one.pressure == pytest.approx(5.0, abs=0.02)
    assert one.wind == pytest.approx((5.0 / (0.603 * 0.5 * AIR / 272.039)) ** 0.5, rel=5e-3)
    assert told(100.0) == () and len(told(0.05)) == 1
    assert len(told(5.0, wind="0.1 m/s", wind_from="north")) == len(told(5.0, room_pressure="0 Pa")) == 1
    assert told(5.0, wind="0.1 m/s", wind_from="north", room_pressure="0 Pa") == ()


@pytest.mark.parametrize(("pressure", "wind", "little"), [
    (10.0, 99.0, True), (10.1, 99.0, False), (99.0, 10.0, True), (99.0, 10.1, False), (99.0, 99.0, False),
])  # fmt: skip
def test_how_little_is_told(pressure: float, wind: float, little: bool) -> None:
    """10 m/s, or 10 Pa: common practice, no source."""
    one = Nearly(appliance="furnace", what="trap", rate="high", pressure=pressure, wind=wind)
    assert one.little is little


@pytest.mark.parametrize(
    ("pressure", "told"), [(-5.0, True), (-0.01, True), (0.0, True), (0.05, False), (-99.0, False)]
)
def test_little_wind_at_an_idle_collar(pressure: float, told: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    """A collar that is drawn at by so little that wind pushes it back; one under pressure is judged, not told."""
    collar = IdleCollar(appliance="b", run="v", rate="a high", pressure=pressure, without_draft=pressure)
    monkeypatch.setattr("ventsize.check.wind_and_stack.idle_collars", lambda runs: (collar,))
    read = job_from_data(job(), file="test.toml")
    around = boundary(read, air=DRY_AIR, outdoor=272.039, pressure=101_325.0)
    found = nearly(read, (), around, density=1.29)
    assert [(one.what, one.pressure) for one in found] == ([("idle collar", -pressure)] if told else [])
