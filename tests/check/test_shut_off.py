"""What says to shut an appliance off, on both sides of each limit; the switch beside its setting. By hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from tests.check.jobs import checked, run
from tests.check.jobs import job as a_job
from ventsize.check.shut_off import (
    _typed,
    air_free,
    carbon_monoxide,
    in_air,
    in_another_unit,
    meant,
    reading_says,
)
from ventsize.check.switch import setting_of, stand, stand_finding
from ventsize.finding import Where, pressure
from ventsize.jobfile.reading import Reading

PPM = 1e-6


@pytest.mark.parametrize(("place", "kind", "value", "code"), [
    # 40 CFR 50.8: 9 ppm over eight hours, 35 over one
    ("room", "carbon_monoxide", 8.9 * PPM, None), ("room", "carbon_monoxide", 9 * PPM, "co-in-room"),
    ("room", "carbon_monoxide", 34.9 * PPM, "co-in-room"), ("room", "carbon_monoxide", 35 * PPM, "co-in-room-leave"),
    # 400 ppm air-free (ANSI Z21.47, from memory)
    ("collar", "carbon_monoxide", 400 * PPM, None), ("collar", "carbon_monoxide_air_free", 401 * PPM, "co-in-flue"),
    # half a percent less oxygen than 20.9, and what the analyser may be off, 0.3
    ("air pipe", "oxygen", 0.2015, None), ("air pipe", "oxygen", 0.2005, "flue-gas-in-inlet"),
    ("air pipe", "carbon_dioxide", 0.0083, None), ("air pipe", "carbon_dioxide", 0.00842, "flue-gas-in-inlet"),
    ("air pipe", "carbon_monoxide", 8.9 * PPM, None), ("air pipe", "carbon_monoxide", 9 * PPM, "flue-gas-in-inlet"),
    ("air pipe", "pressure", 9.0, None),
    ("collar", "oxygen", 0.015, None), ("collar", "oxygen", 0.0149, "oxygen-near-zero"),
    ("collar", "oxygen", 0.0, "oxygen-near-zero"), ("terminal", "oxygen", 0.01, "oxygen-near-zero"),
    ("after piece 2", "oxygen", 0.016, None),
    ("collar", "carbon_dioxide", 0.01, None),
])  # fmt: skip
def test_what_a_single_reading_says(place: str, kind: str, value: float, code: str | None) -> None:
    """At the limit of a room it says so; flue gas has to be above its own."""
    taken = Reading(place=place, rate="high", **{kind: value})  # type: ignore[arg-type]
    found = list(reading_says(job(taken), taken, value=value, accuracy=0.003))
    assert [(one.code, one.where.rate) for one in found] == ([(code, "high")] if code else [])


@pytest.mark.parametrize(("oxygen", "foul"), [(0.1945, False), (0.1935, True)])
def test_a_coarser_analyser_has_more_room(oxygen: float, foul: bool) -> None:
    """One point either way: 1.5 points less than fresh air."""
    taken = Reading(place="air pipe", oxygen=oxygen, accuracy="1 %"), Reading(place="air pipe", oxygen=0.1945)
    said = [list(_typed(job(*taken), [one], lambda _: None)) for one in taken]
    assert [bool(one) for one in said] == [foul, True]


@pytest.mark.parametrize("confirmed", [False, True])
@pytest.mark.parametrize(("oxygen", "unclear"), [(0.0, False), (0.0001, True), (0.00011, False), (0.0149, False)])
def test_oxygen_typed_in_another_unit_is_not_low(oxygen: float, unclear: bool, confirmed: bool) -> None:
    """An analyser shows tenths of a percent, or nothing; what is confirmed is taken as it stands."""
    taken = Reading(place="collar", oxygen=oxygen, confirmed=confirmed)
    assert in_another_unit(job(taken), taken) is (unclear and not confirmed)
    assert not in_another_unit(job(taken), Reading(place="air pipe", oxygen=oxygen, confirmed=confirmed))
    low = [one.code for one in reading_says(job(taken), taken, value=oxygen, accuracy=0.003)]
    assert low == ([] if unclear and not confirmed else ["oxygen-near-zero"])


@pytest.mark.parametrize(("typed", "as_meant"), [
    (0.0, 0.0), (0.9 * PPM, 0.9 * PPM), (0.05 * PPM, 500 * PPM), (0.05, 0.05), (0.06, 6 * PPM), (85 * PPM, 85 * PPM),
])  # fmt: skip
def test_monoxide_typed_in_another_unit(typed: float, as_meant: float) -> None:
    """Percent for ppm, and the other way round, where no analyser shows such a figure; confirmed, it stands."""
    taken = Reading(place="collar", carbon_monoxide=typed)
    assert meant(taken) == pytest.approx(as_meant)
    assert in_another_unit(job(taken), taken) is (typed != as_meant)
    sure = Reading(place="collar", carbon_monoxide=typed, confirmed=True)
    assert meant(sure) == typed and not in_another_unit(job(sure), sure)


@pytest.mark.parametrize(("place", "run", "air"), [
    ("air pipe", None, True), ("terminal", "air", True), ("j", None, True), ("terminal", "vent", False),
    ("collar", None, False),  # also of an appliance that is called so
])  # fmt: skip
def test_where_combustion_air_is_read(place: str, run: str | None, air: bool) -> None:
    """At the appliance, at its inlet, and where air pipes meet."""
    runs = [SimpleNamespace(name="vent", carries="flue gas", between=("furnace", "outdoors")),
            SimpleNamespace(name="air", carries="combustion air", between=("j", "outdoors")),
            SimpleNamespace(name="own", carries="combustion air", between=("collar", "j"))]  # fmt: skip
    inputs: Any = SimpleNamespace(job=SimpleNamespace(runs=runs))
    assert in_air(inputs, Reading(place=place, run=run, oxygen=0.2)) is air


def test_monoxide_without_the_air_added() -> None:
    """300 ppm at 6 % of oxygen are 300 x 20.9 / 14.9 = 420.8; of air alone it has no end, so a thousandth is left."""
    assert air_free(300 * PPM, 0.06) == pytest.approx(420.8 * PPM, rel=1e-4)
    assert air_free(PPM, 0.209) == pytest.approx(209 * PPM)


@pytest.mark.parametrize(("beside", "excess", "oxygen"), [
    ({}, None, 0.06), ({}, 0.5, 0.209 / 3 * 1.08), ({"rate": "high", "oxygen": 0.04}, None, 0.04),
    ({"rate": "low", "oxygen": 0.04}, None, 0.06),
    ({"rate": "high", "oxygen": 0.04, "before_repair": True}, None, 0.06),
    ({"rate": "high", "carbon_dioxide": 0.04}, None, 0.06), ({"rate": "high", "oxygen": 0.04, "run": "v"}, None, 0.06),
])  # fmt: skip
def test_the_oxygen_that_monoxide_is_taken_with(beside: dict[str, Any], excess: float | None, oxygen: float) -> None:
    """What was read beside it; else by the job's excess air, 20.9 e / (1 + e) in 8 % fewer dry products; else 6 %."""
    taken = Reading(place="collar", rate="high", carbon_monoxide=100 * PPM)
    others = [Reading(place="collar", **beside)] if beside else []
    inputs: Any = SimpleNamespace(job=SimpleNamespace(readings=[taken, *others]))
    value, assumed = carbon_monoxide(inputs, taken, lambda _: excess)
    assert value == pytest.approx(100 * PPM * 0.209 / (0.209 - oxygen))
    assert assumed == (None if beside and oxygen == 0.04 else pytest.approx(oxygen))
    for whole in (Reading(place="room", carbon_monoxide=PPM), Reading(place="collar", carbon_monoxide_air_free=PPM)):
        assert carbon_monoxide(inputs, whole, lambda _: excess) == (PPM, None)


def job(*readings: Reading, opens: float | None = None, inducer: Any = None, seen: str | None = None) -> Any:
    """Of one furnace whose switch opens so at high fire; the switch was seen closed at a rate."""
    rate = SimpleNamespace(name="high", switch_opens=opens)
    symptoms = [] if seen is None else [SimpleNamespace(what="switch closed", rate=seen)]
    furnace = SimpleNamespace(name="furnace", rates=[rate], inducer=inducer)
    return SimpleNamespace(job=SimpleNamespace(appliances=[furnace], runs=[], readings=readings, symptoms=symptoms))


@pytest.mark.parametrize(("place", "read", "state"), [
    ("collar", "140 degF", "met"), ("collar", "141 degF", "not met"), ("after piece 1", "141 degF", "not met"),
    ("after piece 3", "180 degF", "met"), ("after piece 3", "195 degF", "not met"), ("terminal", "180 degF", "met"),
])  # fmt: skip
def test_gas_read_hotter_than_the_pipe_it_is_in_may_have(place: str, read: str, state: str) -> None:
    """A foot of PVC, then CPVC: 140 and 194 degF (60 and 90 °C, as their records have it), whatever the job says of its
    gas."""
    data = a_job([{"pipe": "1 ft"}, {"fitting": "coupling"}, {"pipe": "9 ft", "material": "cpvc-40"}])
    result = checked({**data, "reading": [{"place": place, "rate": "high", "temperature": read}]})
    assert [one.state for one in result.conditions if one.condition == "not-shut-off"] == [state]


@pytest.mark.parametrize(("place", "second", "state"), [
    ("j", "flue gas", "not met"),  # where PVC and CPVC meet, PVC decides
    ("terminal", "flue gas", "met"), ("terminal", "combustion air", "met"),  # PVC that takes air in is no vent
])  # fmt: skip
def test_of_several_pipes_where_gas_was_read_the_one_that_bears_least_counts(
    place: str, second: str, state: str
) -> None:
    """150 degF: too hot for PVC, not for CPVC."""
    ends = ("furnace", "j", "outdoors") if second == "flue gas" else ("outdoors", "furnace", "outdoors")
    runs = [
        run("pvc", ends[0], ends[1], {"pipe": "3 ft"}, carries=second),
        run("cpvc", ends[1], ends[2], {"pipe": "3 ft"}, material="cpvc-40"),
    ]
    taken = {"place": place, "rate": "high", "temperature": "150 degF"}
    result = checked({**a_job(runs=runs), "reading": [taken]})
    assert [one.state for one in result.conditions if one.condition == "not-shut-off"] == [state]


@pytest.mark.parametrize("named", [{}, {"appliance": "furnace"}])
@pytest.mark.parametrize(("ppm", "state"), [(205, "met"), (215, "not met")])
def test_the_job_says_what_monoxide_is_diluted_with(ppm: int, state: str, named: dict[str, str]) -> None:
    """80 % of excess air leave 20.9 x 0.8 / 1.8 x 1.08 = 10.03 % of oxygen: 400 ppm air-free are 208 read."""
    taken = {"place": "collar", "rate": "high", "carbon_monoxide": f"{ppm} ppm", **named}
    result = checked({**a_job(excess_air=0.8), "reading": [taken]})
    assert [one.state for one in result.conditions if one.condition == "not-shut-off"] == [state]


@pytest.mark.parametrize(("again", "state"), [(True, "met"), (False, "not met")])
def test_a_reading_from_before_a_repair_stands_until_it_is_taken_again(again: bool, state: str) -> None:
    """The same quantity at the same spot; what else was read since is another matter."""
    spot = {"place": "collar", "rate": "high"}
    taken = [
        {**spot, "carbon_monoxide": "900 ppm", "before_repair": True}, {**spot, "oxygen": "6 %"},
        *([{**spot, "carbon_monoxide": "50 ppm"}] if again else []),
    ]  # fmt: skip
    result = checked({**a_job(), "reading": taken})
    assert [one.state for one in result.conditions if one.condition == "not-shut-off"] == [state]


@pytest.mark.parametrize(("pascals", "seen", "said"), [
    (204.0, "high", True), (205.0, "high", False), (204.0, "", True), (204.0, "low", False), (204.0, None, False),
])  # fmt: skip
def test_a_switch_that_is_closed_below_its_setting(pascals: float, seen: str | None, said: bool) -> None:
    """It opens at 200 Pa; the manometer shows 5 Pa with both hoses open."""
    taken = Reading(place="switch", rate="high", pressure=pascals), Reading(place="zero", pressure=5.0)
    found = list(_typed(job(*taken, opens=200.0, seen=seen), taken, lambda _: None))
    assert [one.code for one in found] == ["switch-closed-below-setting"] * said


@pytest.mark.parametrize(("opens", "stated", "example", "setting"), [
    (200.0, 150.0, None, 200.0), (None, 150.0, False, 150.0), (None, None, False, 100.0), (None, None, True, None),
    (None, None, None, None),
])  # fmt: skip
def test_where_a_switch_opens(
    opens: float | None, stated: float | None, example: bool | None, setting: float | None
) -> None:
    """The rate's own figure, what a reading states, that of an inducer that is no example."""
    inducer = None if example is None else SimpleNamespace(switch={"high": 100.0}, example=example)
    assert setting_of(job(opens=opens, inducer=inducer), "furnace", "high", stated) == setting
    assert setting_of(job(opens=opens, inducer=inducer), "furnace", "low", stated) == stated


@pytest.mark.parametrize(("pascals", "stands"), [(199.9, "below"), (200.0, "near"), (224.9, "near"), (225.0, "above")])
def test_how_a_pressure_stands_beside_the_setting(pascals: float, stands: str) -> None:
    """25 Pa, 0.10 in w.c., are the edge (common practice, from memory)."""
    assert stand(pascals, 200.0) == stands
    said = stand_finding(pascals, 200.0, Where())
    assert said.code == f"switch-{stands}-setting"
    figures = {"measured": pascals, "setting": 200.0, "above": pascals - 200.0, "usual_low": 25.0, "usual_high": 60.0}
    assert said.values == {name: pressure(value) for name, value in figures.items()}
