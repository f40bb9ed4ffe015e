"""What has to be said of a job beside its verdict: each caution at its own limit, and not short of it."""

from __future__ import annotations

import math

import pytest

from tests.check.jobs import Data, checked, job, pipe
from tests.words import codes

END: Data = {"fitting": "terminal-open"}


def told(data: Data, code: str) -> bool:
    """Whether a finding of this code is among those of a job."""
    return code in codes(checked(data))


@pytest.mark.parametrize(("temperature", "said"), [("139 degF", False), ("141 degF", True)])
def test_gas_hotter_than_the_pipe_bears(temperature: str, said: bool) -> None:
    """PVC pipe bears 140 °F (its record; ASTM D2665 pipe is rated to it)."""
    assert told(job(flue_temperature=temperature), "gas-too-hot") is said


def test_the_hottest_rate_decides() -> None:
    """Low fire may well be the hotter one."""
    data = job(flue_temperature="110 degF")
    data["appliance"][0]["rate"].append(
        {"name": "low", "input": "50 kBtu/h", "excess_air": 0.5, "flue_temperature": "150 degF"}
    )
    assert told(data, "gas-too-hot")


@pytest.mark.parametrize(("heading", "said"), [("up", False), ("east", False), ("down", True)])
def test_draft_against_the_gas(heading: str, said: bool) -> None:
    """Warm gas led down into a cold day is held back; led up it is helped."""
    assert told(job([pipe(20, heading), END]), "draft-hinders") is said


@pytest.mark.parametrize("heading", ["up", "down"])
def test_the_length_by_calculation_holds_the_draft_against_the_gas(heading: str) -> None:
    """The two lengths by calculation in one answer differ by what the draft costs, and that is said with them."""
    data = job([pipe(20, heading), END])
    run = checked(data).runs[0]
    worst, told = run.worst, run.difference
    assert told is not None and worst.equivalent_length is not None
    by_calculation, draft = (told.values[name].value for name in ("by_calculation", "draft"))
    assert by_calculation - draft == pytest.approx(worst.equivalent_length, rel=1e-9)
    against = max(0.0, -worst.flow.draft) / (worst.flow.pressure_drop / worst.equivalent_length)
    assert draft == pytest.approx(against, abs=1e-9)
    assert (draft > 0.0) is (heading == "down")


@pytest.mark.parametrize(("collar", "said"), [("3 in", False), ("2 in", True)])
def test_a_collar_of_another_size(collar: str, said: bool) -> None:
    """The change of size at the collar is nobody's piece unless it is listed."""
    data = job()
    data["appliance"][0]["collar"] = collar
    assert told(data, "pipe-larger-than-collar") is said


@pytest.mark.parametrize(("length", "said"), [("200 ft", False), ("201 ft", True), ("1 in", False), ("0.9 in", True)])
def test_a_pipe_of_odd_length(length: str, said: bool) -> None:
    """Beyond 200 ft, or below an inch, it may be a slip of the finger."""
    assert told(job([{"pipe": length}, END]), "unusual-pipe") is said


@pytest.mark.parametrize(("rise", "said"), [(None, True), ("0 ft", False), ("5 ft", False)])
def test_draft_of_a_counted_run(rise: str | None, said: bool) -> None:
    """Nobody knows how far a counted run rises unless it says so."""
    data = job()
    del data["run"][0]["pieces"]
    data["run"][0] |= {"straight": "20 ft", "fittings": {"terminal-open": 1}} | ({"rise": rise} if rise else {})
    assert told(data, "rise-not-known") is said


# What pipes run through


def surroundings(place: str, **site: str) -> float:
    """The temperature around a pipe through this place [K]."""
    data = job([pipe(10, surroundings=place), END])
    data |= {"cooling": True, "site": data["site"] | {"outdoor": "0 degF", **site}}
    cooling = checked(data).runs[0].rates[0].flow.cooling
    assert cooling is not None
    (found,) = {point.surroundings for point in cooling.points}
    return found


@pytest.mark.parametrize(
    ("place", "fahrenheit"),
    [("attic", 25.0), ("crawlspace", 50.0), ("heated space", 68.0), ("outdoors", 0.0), ("-10 degF", -10.0)],
)
def test_each_place_has_its_own_temperature(place: str, fahrenheit: float) -> None:
    """As the site gives them; the scale of Fahrenheit by its definition."""
    found = surroundings(place, attic="25 degF", crawlspace="50 degF")
    assert found == pytest.approx((fahrenheit + 459.67) / 1.8)


@pytest.mark.parametrize("place", ["attic", "crawlspace"])
def test_a_place_of_unknown_temperature_is_as_cold_as_outdoors(place: str) -> None:
    """What is left out never warms a pipe."""
    assert surroundings(place) == pytest.approx(459.67 / 1.8)


def test_wind_cools_pipe_outdoors_and_no_other() -> None:
    """A gale takes more heat from a pipe out in it than still air, and none from one in the attic."""

    def heat(place: str, wind: str | None) -> float:
        data = job([pipe(20, surroundings=place), END])
        site = {"outdoor": "0 degF", "attic": "0 degF"} | ({"wind": wind} if wind else {})
        cooling = checked(data | {"cooling": True, "site": data["site"] | site}).runs[0].rates[0].flow.cooling
        assert cooling is not None
        return cooling.heat

    assert heat("outdoors", "20 mi/h") > 1.1 * heat("outdoors", None)
    assert heat("attic", "20 mi/h") == heat("attic", None)


# What of the air, the speed and the water has to be said


@pytest.mark.parametrize(("air", "piped", "said"), [
    ("room", False, "room-air-not-judged"), (None, False, "air-taken-as-from-room"), ("pipe", True, None),
])  # fmt: skip
def test_air_from_the_room(air: str | None, piped: bool, said: str | None) -> None:
    """Taken from the room by what the job says, or for want of a word."""
    data = job()
    if air:
        data["appliance"][0]["air"] = air
    if piped:
        data["run"].append({**data["run"][0], "name": "air", "carries": "combustion air", "pieces": [pipe(5), END]})
    both = {"room-air-not-judged", "air-taken-as-from-room"}
    assert codes(checked(data)) & both == ({said} if said else set())


@pytest.mark.parametrize(("share", "said"), [(0.99, False), (1.01, True)])
def test_the_fastest_gas_of_a_run_is_told(share: float, said: bool) -> None:
    """15 m/s in the narrower of two sizes: mass flow over density and area by hand, in proportion to the input."""
    pieces = [pipe(5), {"fitting": "reducer", "size": "2 in"}, pipe(5), {"fitting": "increaser", "size": "3 in"}, END]

    def at(kbtu: float) -> Data:
        return {**job(pieces, input=f"{kbtu!r} kBtu/h"), "cooling": False}

    flow = checked(at(80)).runs[0].rates[0].flow
    narrow = flow.pieces[2].piece.section
    speed = flow.stream.mass_flow / flow.stream.density / (math.pi * narrow.bore**2 / 4)
    assert told(at(80 * 15.0 / speed * share), "fast-gas") is said


def test_between_laminar_and_turbulent_the_range_is_told() -> None:
    """25 kBtu/h in 3 in: of two pipes, in which the gas cools, and an elbow, from the least to the most Reynolds."""
    data = job([pipe(20), {"fitting": "elbow-90-long"}, pipe(20), END], input="25 kBtu/h")
    found = checked({**data, "cooling": True})
    numbers = [piece.at.reynolds for piece in found.runs[0].rates[0].flow.pieces]
    assert all(2_300.0 < number < 4_000.0 for number in numbers) and len({round(number) for number in numbers}) > 1
    (said,) = [one for one in found.findings if one.code == "transition-flow"]
    assert (said.values["lowest"], said.values["highest"]) == (round(min(numbers)), round(max(numbers)))


@pytest.mark.parametrize(("rise", "drain", "said"), [
    ("-1 in", False, True), ("-1 in", True, False), ("-4 in", False, False), ("1 in", False, False),
])  # fmt: skip
def test_water_that_narrows_the_pipe(rise: str, drain: bool, said: bool) -> None:
    """A sag of an inch in 2 in pipe; drained there is none, and 4 in of it close the pipe, which is no remark."""
    pieces = [{"pipe": "5 ft", "rise": rise, "drain": drain}, {"pipe": "5 ft", "rise": "5 in"}, END]
    assert told(job(pieces, size="2 in"), "water-narrows-pipe") is said
