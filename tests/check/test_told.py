"""What has to be said of a job beside its verdict: each caution at its own limit, and not short of it."""

from __future__ import annotations

import math

import pytest

from tests.check.jobs import TABLE, Data, checked, job, pipe, two_furnaces
from tests.words import codes
from ventsize.finding import Amount, pressure, temperature

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

    def heat(place: str, wind: str | None, day: str = "0 degF") -> float:
        data = job([pipe(20, surroundings=place), END])
        site = {"outdoor": day, "attic": day} | ({"wind": wind} if wind else {})
        cooling = checked(data | {"cooling": True, "site": data["site"] | site}).runs[0].rates[0].flow.cooling
        assert cooling is not None
        return cooling.heat

    assert heat("outdoors", "20 mi/h") > 1.1 * heat("outdoors", None)
    assert heat("attic", "20 mi/h") == heat("attic", None)
    assert heat("attic", None, "105 degF") == heat("outdoors", None, "105 degF")  # where a breath of wind would show


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


@pytest.mark.parametrize(("pascals", "said"), [(0.049, False), (0.051, True)])
def test_draft_that_nobody_would_measure(pascals: float, said: bool) -> None:
    """A twentieth of a pascal against the gas: at one temperature draft is in proportion to the length."""

    def down(feet: float) -> Data:
        return {**job([pipe(feet, "down"), END]), "cooling": False}

    each = -checked(down(10)).runs[0].rates[0].flow.draft / 10
    assert told(down(pascals / each), "draft-hinders") is said


@pytest.mark.parametrize(("bore", "said"), [(3.2, False), (3.19, True), (5, False), (5.01, True), (4, False)])
def test_a_bore_that_is_not_quite_that_of_its_size(bore: float, said: bool) -> None:
    """Of 4 in pipe: from 0.8 to 1.25 of its name."""
    data = job(size="4 in", material="mine")
    size = {"nominal": "4 in", "outside": f"{bore + 0.4:g} in", "wall": "0.2 in", "bore": f"{bore} in"}
    data["pipe"] = [{"name": "mine", "source": "invented", "roughness": "0.0015 mm", "sizes": [size]}]
    assert told(data, "unusual-bore") is said


@pytest.mark.parametrize(("stated", "room", "said"), [
    ({}, None, "ends-not-counted"), ({}, "-3 Pa", "wind-not-counted"),
    ({"wind": "5 m/s", "wind_from": "north"}, None, "room-pressure-not-counted"),
    ({"wind": "5 m/s", "wind_from": "north"}, "-3 Pa", None), ({"wind": "5 m/s"}, "-3 Pa", "wind-not-counted"),
])  # fmt: skip
def test_wind_and_room_that_are_not_counted(stated: Data, room: str | None, said: str | None) -> None:
    """One note on what is not stated; wind from nowhere is none."""
    data = job(wall="north")
    data["site"] |= {**stated, **({"room_pressure": room} if room else {})}
    every = {"ends-not-counted", "wind-not-counted", "room-pressure-not-counted"}
    assert codes(checked(data)) & every == ({said} if said else set())


@pytest.mark.parametrize(("place", "wind", "said"), [
    ("outdoors", None, True), ("outdoors", "3 m/s", False), ("attic", None, False),
])  # fmt: skip
def test_still_air_around_pipe_outdoors_is_told(place: str, wind: str | None, said: bool) -> None:
    """What cools it more than anything is left out."""
    data = job([pipe(10, surroundings=place), END])
    data["site"] |= {"wind": wind} if wind else {}
    assert told(data, "still-air-assumed") is said


def test_pipe_that_says_nothing_is_in_a_heated_space_beside_one_that_does() -> None:
    """The first 10 ft in the attic at 0 degF, the next at the room's 68, whichever is listed first."""
    for order in (1, -1):
        pieces = [pipe(10, surroundings="attic"), pipe(10)][::order]
        data = job([*pieces, END])
        data["site"]["attic"] = "0 degF"
        cooling = checked({**data, "cooling": True}).runs[0].rates[0].flow.cooling
        assert cooling is not None
        around = [point.surroundings for point in cooling.points]
        met = list(dict.fromkeys(around))[::order]
        assert met == pytest.approx([459.67 / 1.8, (68 + 459.67) / 1.8])
        assert told(data, "heated-space-assumed")
        assert not told(job([pipe(10, surroundings="heated space"), END]), "heated-space-assumed")


@pytest.mark.parametrize("outdoor", ["30 degF", None])
@pytest.mark.parametrize(("humidity", "piped"), [(0.05, False), (0.0, False), (0.05, True)])
def test_what_a_site_leaves_out_is_told(outdoor: str | None, humidity: float, piped: bool) -> None:
    """The outdoor temperature always; that of the room where an appliance takes its air there, with water in it."""
    data = job()
    if piped:
        data["run"].append({**data["run"][0], "name": "air", "carries": "combustion air", "pieces": [pipe(5), END]})
    del data["site"]["indoor"], data["site"]["outdoor"]
    data["site"] |= {"relative_humidity": humidity, **({"outdoor": outdoor} if outdoor else {})}
    said = codes(checked(data))
    assert ("outdoor-assumed" in said) is (outdoor is None)
    assert ("room-air-as-outdoors" in said) is (humidity > 0.0 and not piped)


@pytest.mark.parametrize("order", [1, -1])
def test_what_holds_at_several_rates_is_told_of_the_worst(order: int) -> None:
    """Too fast at both: at high fire, in whichever order the rates are listed; notes on the calculation come last."""
    data = job(input="800 kBtu/h")
    high = data["appliance"][0]["rate"][0]
    data["appliance"][0]["rate"] = [high, {**high, "name": "low", "input": "700 kBtu/h"}][::order]
    found = checked(data)
    (fast,) = [one for one in found.findings if one.code == "fast-gas"]
    assert fast.where.rate == "high"
    order_of = [one.code for one in found.findings]
    assert order_of.index("air-taken-as-from-room") < order_of.index("cooling-followed")


@pytest.mark.parametrize(("allowable", "k", "said"), [
    ("45 ft", 0.05, "within-by-calculation"), ("55 ft", 0.05, None), ("55 ft", 3.0, "over-by-calculation"),
    ("45 ft", 3.0, None),
])  # fmt: skip
def test_where_table_and_calculation_disagree(allowable: str, k: float, said: str | None) -> None:
    """9 ft and eight elbows at 5 ft are 49 of 45 or 55 ft; by calculation next to nothing, or far more than that."""
    table = {**TABLE, "row": [{"input": "80 kBtu/h", "size": "3 in", "allowable": allowable}]}
    found = checked(job([pipe(9), *[{"fitting": "elbow-90-short", "k": k}] * 8, END]), table)
    both = [one for one in found.findings if one.code in ("within-by-calculation", "over-by-calculation")]
    assert [one.code for one in both] == ([said] if said else [])
    rate = found.runs[0].rates[0]
    for one in both:
        values = {name: value.value for name, value in one.values.items() if isinstance(value, Amount)}
        assert values == {"counted": rate.counted_pressure, "budget": rate.budget_pressure}


@pytest.mark.parametrize(("place", "indoor", "said"), [
    ("heated space", None, True), (None, None, True), ("heated space", "60 degF", False), ("attic", None, False),
])  # fmt: skip
def test_the_room_that_pipes_run_through_is_taken_as_heated(place: str | None, indoor: str | None, said: bool) -> None:
    """20 degC, where the site does not say."""
    data = job([pipe(10, **({"surroundings": place} if place else {})), END])
    del data["site"]["indoor"]
    data["site"] |= {"indoor": indoor} if indoor else {}
    found = [
        one.values["assumed"] for one in checked({**data, "cooling": True}).findings if one.code == "indoor-assumed"
    ]
    assert found == ([temperature(293.15)] if said else [])


def test_what_differs_in_a_name_is_told_of_each() -> None:
    """Two materials of which no limit is known are two things to look at; one that is there twice is one."""
    size = {"nominal": "3 in", "outside": "3.5 in", "wall": "0.2 in"}
    own = {"source": "invented", "roughness": "0.0015 mm", "sizes": [size]}
    data = {**job([pipe(5), pipe(5, material="other"), pipe(5), END], material="mine")}
    data["pipe"] = [{"name": name, **own} for name in ("mine", "other")]
    told_of = [one.values["material"] for one in checked(data).findings if one.code == "limit-not-known"]
    assert told_of == ["mine", "other"]


@pytest.mark.parametrize("piped", [0, 1, 2])
def test_one_of_two_appliances_that_takes_room_air_is_enough(piped: int) -> None:
    """Of the room nobody says how warm it is; in air of half its water that matters."""
    data = two_furnaces()
    for name in ("furnace", "other")[:piped]:
        data["run"].append({**data["run"][2], "name": f"air of {name}", "between": [name, "outdoors"]})
        data["run"][-1]["carries"] = "combustion air"
    del data["site"]["indoor"]
    data["site"]["relative_humidity"] = 0.5
    assert told(data, "room-air-as-outdoors") is (piped < 2)


def test_a_shared_vent_below_the_rooms_pressure_is_told_as_none() -> None:
    """50 Pa in the room: the vent stands below it, and what is told of its pressure is zero."""
    data = two_furnaces()
    data["site"]["room_pressure"] = "50 Pa"
    found = [one for one in checked(data).findings if one.code.startswith("shared-vent")]
    assert [(one.code, one.values["pressure"]) for one in found] == [("shared-vent", pressure(0.0))]


@pytest.mark.parametrize(("counted", "feet", "said"), [(False, 0.1, True), (False, 20, False), (True, 0.1, False)])
def test_elbows_that_stand_close_are_told_of_a_layout(counted: bool, feet: float, said: bool) -> None:
    """Of a counted run nobody knows how far apart they are."""
    bend: Data = {"fitting": "elbow-90-long"}
    data = job([pipe(5), bend, pipe(feet), bend, pipe(5), END])
    if counted:
        del data["run"][0]["pieces"]
        data["run"][0] |= {"straight": f"{feet} ft", "fittings": {"elbow-90-long": 2, "terminal-open": 1}}
    assert told(data, "elbows-close") is said
