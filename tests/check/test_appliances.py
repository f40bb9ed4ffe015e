"""What is asked and told of an appliance: its air, its vent, its trap, its collar; and flows that are no number."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import pytest

from tests.check.jobs import TABLE, Data, checked, job, pipe, run, two_furnaces
from ventsize.check.conditions import SolvedRun, flow_found, gas_below_limit
from ventsize.check.pressure_rows import _outcome
from ventsize.check.result import JobCheck
from ventsize.check.traps import worst_collar_pressure
from ventsize.finding import Amount, Where, pressure, temperature

END: Data = {"fitting": "terminal-open"}
KBTU_H = 1055.056 / 3.6  # W


def states(found: JobCheck, condition: str) -> dict[str | None, tuple[str, str]]:
    """State and reason of a condition, by appliance."""
    those = [one for one in found.conditions if one.condition == condition]
    return {one.because.where.appliance: (one.state, one.because.code) for one in those}


def told(found: JobCheck, code: str) -> list[dict[str, float | str | tuple[str, ...]]]:
    """The values of findings of a code, in SI."""
    those = [one.values.items() for one in found.findings if one.code == code]
    return [{name: value.value if isinstance(value, Amount) else value for name, value in one} for one in those]


def air_pipe(name: str = "furnace", **more: Any) -> Data:
    return run(f"air of {name}", name, "outdoors", pipe(5), END, carries="combustion air", **more)


@pytest.mark.parametrize(("air", "piped", "roomed", "counts", "state", "code"), [
    ("pipe", False, False, "each run", "not known", "air-run-missing"),
    ("pipe", False, True, "runs together", "not known", "air-run-missing"),
    ("pipe", True, False, "each run", "met", "air-by-pipe"), (None, True, False, "runs together", "met", "air-by-pipe"),
    ("room", True, False, "each run", "not known", "air-contradicts"),
    ("room", False, False, "runs together", "met", "air-from-room"),
    (None, False, False, "runs together", "not known", "air-not-said"),
    (None, False, True, "runs together", "not known", "air-not-said"),
    (None, False, True, "each run", "met", "air-from-room"),
    (None, False, False, "each run", "met", "air-taken-from-room"),
])  # fmt: skip
def test_where_the_air_comes_from(
    air: str | None, piped: bool, roomed: bool, counts: str, state: str, code: str
) -> None:
    """It has to be said where a table adds up vent and air, and must not contradict what is there."""
    data = job([pipe(10), END])
    data["appliance"][0] |= {"air": air} if air else {}
    data["run"] += [air_pipe()] if piped else []
    data |= {"room": [{"name": "basement", "volume": "6000 ft3", "appliances": ["furnace"]}]} if roomed else {}
    assert states(checked(data, {**TABLE, "counts": counts}), "air-known") == {"furnace": (state, code)}


@pytest.mark.parametrize("common", [True, False])
def test_each_appliance_is_asked_by_the_pages_of_its_own_vent(common: bool) -> None:
    """A page that adds up vent and air: of the vent that both share, or of the own vent of one."""
    data = two_furnaces()
    if common:
        for one in data["run"]:
            one["table"] = "sums.toml" if one["name"] == "v" else "table.toml"
    else:
        data["run"] = [run(f"v{name}", name, "outdoors", pipe(10), END) for name in ("furnace", "other")]
        data["run"][1]["table"] = "sums.toml"
        del data["joint"]
    found = states(checked(data, sums={**TABLE, "counts": "runs together"}), "air-known")
    taken, asked = ("met", "air-taken-from-room"), ("not known", "air-not-said")
    assert found == {"furnace": asked if common else taken, "other": asked}


@pytest.mark.parametrize(("carries", "expected"), [
    ("flue gas", ("met", "flue-gas-led-out")), ("combustion air", ("not known", "no-vent")),
])  # fmt: skip
def test_flue_gas_has_to_be_led_out(carries: str, expected: tuple[str, str]) -> None:
    """An air pipe leads none."""
    assert states(checked(job([pipe(10), END], carries=carries)), "flue-gas-led-out") == {"furnace": expected}


@pytest.mark.parametrize("seal", [None, "6 in"])
def test_a_trap_that_is_not_stated_is_told_what_it_needs(seal: str | None) -> None:
    """Water as deep as the pressure at the collar, and half an inch: by hand at 9.80665 Pa a millimeter."""
    data = job([pipe(60), END])
    data["appliance"][0] |= {"trap_seal": seal} if seal else {}
    found = checked(data)
    code = "trap-holds" if seal else "trap-not-stated"
    assert states(found, "trap-holds") == {"furnace": ("met", code)}
    worst = worst_collar_pressure(found.runs, "furnace")
    assert worst is not None and worst.highest > 0.0
    needed = [] if seal else [{"needed": pytest.approx(worst.highest / 9806.65 + 0.0127)}]
    assert told(found, "trap-seal-not-stated") == needed
    (of_trap,) = [one.because.values for one in found.conditions if one.condition == "trap-holds"]
    if seal:
        pressed = of_trap["pressure"]
        assert isinstance(pressed, Amount) and pressed.value == pytest.approx(worst.highest)


@pytest.mark.parametrize(("collar", "carries", "code"), [
    ("2 in", "flue gas", "pipe-larger-than-collar"), ("3 in", "flue gas", None),
    ("4 in", "flue gas", "pipe-smaller-than-collar"), ("2 in", "combustion air", None),
    ("4 in", "combustion air", "pipe-smaller-than-collar"),
])  # fmt: skip
@pytest.mark.parametrize("inward", [True, False])
def test_a_collar_and_the_pipe_at_it(collar: str, carries: str, code: str | None, inward: bool) -> None:
    """3 in at the furnace, 4 in further on, whichever way it is listed; air may come by a larger pipe unsaid."""
    pieces: list[Data] = [pipe(5), {"fitting": "increaser", "size": "4 in"}, pipe(5), END]
    vent = run("it", "furnace", "outdoors", *pieces, carries=carries)
    if inward:
        change = {"fitting": "reducer", "size": "3 in"}
        vent = run("it", "outdoors", "furnace", END, pipe(5), change, pipe(5), carries=carries, size="4 in")
    other = run("other", "furnace", "outdoors", pipe(5), END, size=collar)
    other["carries"] = "flue gas" if carries == "combustion air" else "combustion air"
    data = job(runs=[vent, other])
    data["appliance"][0]["collar"] = collar
    codes = ("pipe-smaller-than-collar", "pipe-larger-than-collar")
    assert [one.code for one in checked(data).findings if one.code in codes] == ([code] if code else [])


@pytest.mark.parametrize(("altitude", "left"), [("2000 ft", None), ("5000 ft", (0.8, 0.88))])
def test_what_an_appliance_gives_less_at_altitude(altitude: str, left: tuple[float, float] | None) -> None:
    """4 % for each of five thousand feet, or of the three above two; told, and counted nowhere. High fire is meant."""
    data = job([pipe(10), END], altitude=altitude)
    data["appliance"][0]["rate"].insert(0, {**data["appliance"][0]["rate"][0], "name": "low", "input": "50 kBtu/h"})
    found = told(checked(data), "derating-not-applied")
    assert len(found) == (left is not None)
    if left:
        figures = {"input": 80 * KBTU_H, "whole_altitude": left[0] * 80 * KBTU_H, "part_above": left[1] * 80 * KBTU_H}
        assert found[0] == pytest.approx({**figures, "altitude": 1524.0}, rel=1e-6)


@pytest.mark.parametrize("given", [True, False])
def test_what_a_job_leaves_to_be_assumed_is_told(given: bool) -> None:
    """No altitude; an attic of which only the outdoors is known; a loss of the job's own, named once."""
    elbow = {"fitting": "elbow-90-long", **({} if given else {"k": 0.5})}
    data = job([pipe(10, surroundings="attic"), elbow, pipe(5), elbow, END])
    if given:
        data["site"]["attic"] = "20 degF"
    else:
        del data["site"]["altitude"]
    found = checked({**data, "cooling": True})
    assert bool(told(found, "altitude-not-given")) is not given
    assert told(found, "loss-from-job") == ([] if given else [{"fittings": ("elbow-90-long",)}])
    assumed = [] if given else [{"space": "attic", "assumed": pytest.approx((30 + 459.67) / 1.8)}]
    assert told(found, "space-assumed") == assumed


@pytest.mark.parametrize("order", [1, -1])
def test_gas_too_hot_for_one_of_two_materials(order: int) -> None:
    """150 degF, in CPVC that bears it and PVC that does not, whichever comes first; of the idle no gas is hot."""
    pieces = [pipe(5, material="cpvc-40"), pipe(5)][::order]
    found = checked(job([*pieces, END], flue_temperature="150 degF"))
    values = [one.because.values for one in found.conditions if one.condition == "gas-below-limit"]
    assert (found.verdict, values[0]["material"]) == ("unsafe", "pvc-40")


@pytest.mark.parametrize("wrong", ["pressure_drop", "draft", "start_pressure", "end_pressure", None])
@pytest.mark.parametrize("value", [math.nan, math.inf])
def test_a_flow_of_which_one_figure_is_no_number(wrong: str | None, value: float) -> None:
    """At one rate of two."""
    figures = {"pressure_drop": 1.0, "draft": -1.0, "start_pressure": 0.0, "end_pressure": 0.0, "settled": True}
    flows: Any = [SimpleNamespace(**figures), SimpleNamespace(**{**figures, **({wrong: value} if wrong else {})})]
    one_run: Any = SimpleNamespace(name="vent")
    lost = [SimpleNamespace(**figures), SimpleNamespace(**{**figures, "settled": False})]
    for listed in (lost, lost[::-1]):
        assert flow_found(SolvedRun(one_run, tuple(listed), ())).because.code == "no-flow-found"  # type: ignore[arg-type]
    for listed in (flows, flows[::-1]):
        found = flow_found(SolvedRun(one_run, tuple(listed), ()))
        expected = ("not known", "no-pressure-found") if wrong else ("met", "flow-found")
        assert (found.state, found.because.code) == expected


@pytest.mark.parametrize(("drop", "high", "draft", "state"), [
    (99.9, 100.0, 50.0, "met"), (100.0, 100.0, 0.0, "met"), (100.1, 120.0, 0.0, "not met"),
    (90.0, 100.1, 0.0, "not known"), (90.0, 95.0, -5.0, "met"), (90.0, 96.0, -5.0, "not known"),
    (90.0, 95.0, -11.0, "not met"), (math.nan, 1.0, 0.0, "not known"), (1.0, math.inf, 0.0, "not known"),
])  # fmt: skip
def test_a_pressure_row_on_both_sides_of_its_limit(drop: float, high: float, draft: float, state: str) -> None:
    """100 Pa: the loss, draft on top of it where it hinders; of two runs of half each the sum."""
    half: Any = SimpleNamespace(draft=draft / 2, pressure_drop=drop / 2, pressure_drop_high=high / 2)
    rate: Any = SimpleNamespace(runs={"a": half, "b": half})
    runs: Any = [SimpleNamespace(name="a"), SimpleNamespace(name="b")]
    assert _outcome(runs, rate, 100.0, Where()).state == state


@pytest.mark.parametrize(("flowing", "hottest", "state"), [
    ((330.0, 320.0), 330.0, "met"), ((320.0, 341.0), 341.0, "not met"), ((), 0.0, "met"),
])  # fmt: skip
def test_gas_that_does_not_flow_is_not_hot(flowing: tuple[float, ...], hottest: float, state: str) -> None:
    """A limit of 340 K, and an appliance that is off at some rates, whose stream is kept at 400 K."""
    material = SimpleNamespace(name="mine", temperature_limit=340.0)
    pieces = [SimpleNamespace(section=SimpleNamespace(material=material))]
    streams = [(1.0, kelvin) for kelvin in flowing] + [(0.0, 400.0)]
    flows: Any = [SimpleNamespace(stream=SimpleNamespace(mass_flow=flow, temperature=at)) for flow, at in streams]
    one_run: Any = SimpleNamespace(name="vent", pieces=pieces)
    found = gas_below_limit(SolvedRun(one_run, tuple(flows), ()))
    assert (found.state, found.because.values["gas"]) == (state, temperature(hottest))


@pytest.mark.parametrize("seal", [None, "0.3 in", "6 in"])
def test_a_room_above_the_vent_asks_nothing_of_a_trap_but_its_margin(seal: str | None) -> None:
    """50 Pa in the room, and the vent stands below it: no pressure, and half an inch to spare."""
    data = job([pipe(10), END])
    data["site"]["room_pressure"] = "50 Pa"
    data["appliance"][0] |= {"trap_seal": seal} if seal else {}
    found = checked(data)
    assert told(found, "trap-seal-not-stated") == ([] if seal else [{"needed": pytest.approx(0.0127)}])
    (values,) = [one.because.values for one in found.conditions if one.condition == "trap-holds"]
    assert values.get("pressure") == (pressure(0.0) if seal else None)
    small = {"pressure": 0.0, "seal": 0.00762, "spare": 0.00762, "margin": 0.0127}
    assert told(found, "trap-margin-small") == ([pytest.approx(small)] if seal == "0.3 in" else [])
