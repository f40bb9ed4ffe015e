"""Cooling along a run: its balances, its steps, and what it does where gas condenses or warms."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from tests.check.jobs import checked, job, pipe
from tests.flow.grids import FITTING
from tests.words import codes
from ventsize.catalog.library import load_catalog
from ventsize.check.inputs import Inputs, prepare, read_inputs
from ventsize.check.result import JobCheck
from ventsize.check.verdict import check
from ventsize.flow.cooling import UNSAID, Climate, CoolingWalk, RunCooling, cool_run, wall_of
from ventsize.flow.heat import Around
from ventsize.flow.stream import Stream
from ventsize.flow.stretch import TOLERANCE
from ventsize.gas.flue import FlueGas, flue_gas
from ventsize.gas.mixture import enthalpy, heat_capacity, mixture_of, molar_mass
from ventsize.gas.water import latent_heat
from ventsize.jobfile.job import Insulation, job_from_text
from ventsize.jobfile.problems import InputError
from ventsize.run.model import Piece, Run, Section

SCENARIOS = Path(__file__).parents[2] / "scenarios"
PRESSURE = 101_325.0


def methane(*, excess_air: float, temperature: float) -> FlueGas:
    """Flue gas of 100 kBtu/h of methane."""
    return flue_gas(
        mole_fractions={"methane": 1.0},
        input=29_307.1,
        excess_air=excess_air,
        flue_temperature=temperature,
        pressure=PRESSURE,
    )


def straight(length: float, *, pieces: int = 1, cover: Insulation | None = None) -> Run:
    """A 3 in run of pipe and nothing else."""
    material = load_catalog().pipe("pvc-40")
    size = material.size(3 * 0.0254)
    assert size is not None
    section = Section(material=material, size=size)
    pipe = Piece(name="pipe", place="pipe", before=section, after=section, length=length / pieces, insulation=cover)
    return Run(
        name="vent",
        carries="flue gas",
        start="furnace",
        end="outdoors",
        pieces=(pipe,) * pieces,
        counted=False,
        rise_known=True,
    )


def inlet_of(gas: FlueGas) -> Stream:
    """The flue gas as it leaves the appliance."""
    return Stream(mass_flow=gas.flue_mass_flow, mixture=gas.mixture, temperature=gas.temperature, pressure=gas.pressure)


def still_air(temperature: float) -> Climate:
    """The same around all pipe."""
    return Climate(around={UNSAID: Around(temperature=temperature, pressure=PRESSURE)})


def cooled(
    gas: FlueGas,
    *,
    length: float,
    around: float,
    pieces: int = 1,
    tolerance: float = TOLERANCE,
    insulation: float = 0.0,
    conductivity: float = 0.04,
) -> RunCooling:
    """A straight 3 in run in still air at one temperature [K]."""
    cover = Insulation(thickness=insulation, conductivity=conductivity) if insulation else None
    run = straight(length, pieces=pieces, cover=cover)
    return cool_run(run, stream=inlet_of(gas), forward=True, climate=still_air(around), tolerance=tolerance)


def test_dry_gas_follows_the_heat_exchanger_solution() -> None:
    """With one conductance and no condensation the end temperature is that of effectiveness and NTU.

    T = T_around + (T_in - T_around) exp(-NTU), one stream of constant temperature: any heat transfer textbook.
    Insulation of 2 in at 0.001 W/(m·K) leaves the films, a few tenths of a m·K/W, no part in the 122 of
    ln(190.5/88.9)/(2 pi 0.001) that stand against the heat; the wall's own is 0.13. A run of 6,000 m has an NTU
    near one. The gas's heat capacity moves by 0.3 % over the range.
    """
    gas = methane(excess_air=3.0, temperature=350.0)
    found = cooled(gas, length=6_000.0, around=310.0, insulation=0.0508, conductivity=0.001)
    films = 1.0 / (math.pi * 0.0779 * 20.0) + 1.0 / (math.pi * 0.1905 * 9.0)  # roughly: a third of a percent in all
    resistance = math.log(0.1905 / 0.0889) / (2 * math.pi * 0.001) + 0.13 + films
    capacity = gas.flue_mass_flow * heat_capacity(gas.mixture, temperature=335.0)
    expected = 310.0 + 40.0 * math.exp(-6_000.0 / resistance / capacity)
    assert found.condensate == 0.0
    assert found.outlet.temperature == pytest.approx(expected, abs=0.1)


def test_condensing_gas_cools_several_times_more_slowly() -> None:
    """The latent heat given off below the dew point is what keeps a condensing vent warm."""
    dew = methane(excess_air=0.3, temperature=350.0).dew_point
    wet = cooled(methane(excess_air=0.3, temperature=dew), length=3.0, around=290.0)
    dry = cooled(methane(excess_air=8.0, temperature=dew), length=3.0, around=290.0)
    per_flow = wet.inlet.mass_flow / dry.inlet.mass_flow
    ratio = (dew - dry.outlet.temperature) / (dew - wet.outlet.temperature) / per_flow
    assert dry.condensate == 0.0
    assert ratio > 3.0


@pytest.mark.parametrize("around", [250.0, 293.15, 320.0])
def test_heat_and_water_balance(around: float) -> None:
    """What passes the wall is what the gas, with its condensate, has lost; the water that left is not in the gas."""
    gas = methane(excess_air=0.3, temperature=325.0)
    found = cooled(gas, length=25.0, around=around, pieces=5)
    lost = carried(found.inlet) - carried(found.outlet) - found.condensate * liquid(found.outlet.temperature)
    assert found.heat == pytest.approx(lost, rel=1e-6)
    assert math.fsum(found.piece_heat) == pytest.approx(found.heat, rel=1e-9)
    assert found.outlet.mass_flow + found.condensate == pytest.approx(found.inlet.mass_flow, rel=1e-9)
    assert math.fsum(found.piece_condensate) == pytest.approx(found.condensate, rel=1e-9, abs=1e-15)
    assert (found.outlet.temperature < 325.0) is (around < 325.0)


def test_a_walk_follows_its_own_gas() -> None:
    """What was followed of another stream is not taken for this one's."""
    run, climate = straight(10.0), still_air(280.0)
    stream = inlet_of(methane(excess_air=0.3, temperature=330.0))
    known = cool_run(run, stream=stream, forward=True, climate=climate)
    for entering, taken in ((stream, True), (replace(stream, temperature=320.0), False)):
        walk = CoolingWalk(run, stream=entering, forward=True, outside_density=1.2, climate=climate, cooling=known)
        assert walk.cooling.inlet == entering
        assert (walk.cooling is known) is taken


def test_what_is_known_around_a_pipe_is_taken_before_what_is_asked_elsewhere() -> None:
    """A place with a temperature of its own, and one without."""
    cold, warm = Around(temperature=260.0, pressure=PRESSURE), Around(temperature=300.0, pressure=PRESSURE)
    climate = Climate(around={"attic": cold}, elsewhere=lambda piece: warm)
    (pipe,) = straight(1.0).pieces
    assert [climate.of(replace(pipe, surroundings=where)) for where in ("attic", "crawlspace")] == [cold, warm]


def test_finer_steps_change_nothing_that_matters() -> None:
    """The steps are small enough: far more of them move the end of a long cold run by less than 0.02 K."""
    gas = methane(excess_air=0.3, temperature=316.0)
    usual, fine = (cooled(gas, length=30.0, around=250.0, tolerance=t).outlet.temperature for t in (TOLERANCE, 1e-8))
    assert usual == pytest.approx(fine, abs=0.02)


def test_pipes_in_one_piece_or_many_cool_alike() -> None:
    """Where a pipe is cut changes no temperature, and every piece's mean lies on the way."""
    gas = methane(excess_air=0.3, temperature=330.0)
    whole, cut = cooled(gas, length=24.0, around=270.0), cooled(gas, length=24.0, around=270.0, pieces=12)
    assert cut.outlet.temperature == pytest.approx(whole.outlet.temperature, abs=1e-6)
    means = [stream.temperature for stream in cut.streams]
    assert means == sorted(means, reverse=True)
    assert math.fsum(means) / 12 == pytest.approx(whole.streams[0].temperature, abs=0.01)
    at_cuts = [p.temperature for p in cut.points if p.distance == pytest.approx(12.0)]
    assert at_cuts == pytest.approx([p.temperature for p in whole.points if p.distance == 12.0] * 2, abs=1e-6)


@pytest.mark.parametrize("forward", [True, False])
def test_fittings_between_pipes_change_nothing_in_the_cooling(forward: bool) -> None:
    """Elbows before, between and after two pipes, and one of another pipe's insulation: the gas of each is that which
    stands there, and what enters and leaves a run goes by the way of the gas."""
    plain = cooled(methane(excess_air=0.3, temperature=330.0), length=8.0, around=270.0, pieces=2)
    (pipe, _), inlet = plain.walked[0].pipes, plain.inlet
    assert pipe[0] == 0
    material = load_catalog().pipe("pvc-40")
    size = material.size(3 * 0.0254)
    assert size is not None
    section = Section(material=material, size=size)
    straight = Piece(name="pipe", place="", before=section, after=section, length=4.0)
    elbow = Piece(name="elbow", place="", before=section, after=section, fitting=FITTING, k=0.5)
    covered = replace(straight, insulation=Insulation(thickness=0.3, conductivity=1e-4))
    pieces = (elbow, straight, elbow, straight, elbow, elbow, covered, elbow)
    ends = ("furnace", "outdoors") if forward else ("outdoors", "furnace")
    run = Run(
        name="vent", carries="flue gas", start=ends[0], end=ends[1], pieces=pieces if forward else pieces[::-1],
        counted=False, rise_known=True,
    )  # fmt: skip
    climate = Climate(around={UNSAID: Around(temperature=270.0, pressure=PRESSURE)})
    walk = CoolingWalk(run, stream=inlet, forward=forward, outside_density=1.3, climate=climate)
    found = walk.cooling
    streams = found.streams if forward else found.streams[::-1]
    warm = [stream.temperature for stream in streams]
    assert warm[0] == inlet.temperature and warm[1] == pytest.approx(plain.streams[0].temperature, abs=1e-6)
    assert warm[3] == pytest.approx(plain.streams[1].temperature, abs=1e-6)
    between = plain.points[8].temperature  # a point every half meter
    assert warm[2] == pytest.approx(between, abs=0.05)
    assert warm[4:] == pytest.approx([plain.outlet.temperature] * 4, abs=0.02)
    assert found.heat == pytest.approx(plain.heat, rel=1e-3) and found.forward is forward
    heats, waters = (each if forward else each[::-1] for each in (found.piece_heat, found.piece_condensate))
    assert [heats[n] for n in (0, 2, 4, 5, 7)] == [waters[n] for n in (0, 2, 4, 5, 7)] == [0.0] * 5
    assert (heats[1], heats[3]) == pytest.approx(plain.piece_heat, rel=1e-6)
    assert (waters[1], waters[3]) == pytest.approx(plain.piece_condensate, rel=1e-6)
    for joint, stream in (("furnace", inlet), ("outdoors", found.outlet)):
        assert walk.at_joint(joint).velocity == pytest.approx(stream.mass_flow / (stream.density * section.area))
    places = [point.distance for point in found.points]
    assert places == sorted(places) and places[-1] == pytest.approx(12.0)
    assert {point.piece for point in found.points} == ({1, 3, 6} if forward else {6, 4, 1})
    assert max(b - a for a, b in zip(places, places[1:], strict=False)) <= 0.5


def test_insulation_keeps_the_wall_warm() -> None:
    """More insulation, warmer gas and warmer inside wall: always in this order."""
    gas = methane(excess_air=0.3, temperature=316.0)
    ends = [cooled(gas, length=20.0, around=250.0, insulation=0.0127 * n).points[-1] for n in range(4)]
    assert [p.temperature for p in ends] == sorted(p.temperature for p in ends)
    assert [p.inside_wall for p in ends] == sorted(p.inside_wall for p in ends)


def test_gas_that_falls_far_below_its_dew_point_in_one_step_is_followed() -> None:
    """Hot gas in a long cold pipe: a trial without mist, which would be colder than any gas, is no reason to refuse."""
    found = cooled(methane(excess_air=0.3, temperature=388.0), length=61.0, around=246.0)
    assert 246.0 < found.outlet.temperature < 260.0 and found.condensate > 0.9 * water_in(found.inlet)


def test_walls_by_what_the_job_says() -> None:
    """Insulation lies around the outside; a sleeve that does not say what it is counts as glass fiber, 0.04 W/(m·K),
    pipe whose record has no conductivity as plastic, 0.17."""
    material = replace(load_catalog().pipe("pvc-40"), conductivity=None)
    size = material.size(3 * 0.0254)
    assert size is not None
    section = Section(material=material, size=size)
    piece = Piece(name="pipe", place="", before=section, after=section, insulation=Insulation(thickness=0.0127))
    wall, bare = wall_of(piece), wall_of(replace(piece, insulation=None))
    assert (wall.bore, wall.outside, wall.conductivity) == (size.bore, size.outside, 0.17)
    assert (wall.insulated, wall.insulation_conductivity) == pytest.approx((0.0889 + 0.0254, 0.04))
    assert bare.insulated == bare.outside
    other = wall_of(replace(piece, insulation=Insulation(thickness=0.0127, conductivity=0.03)))
    assert other.insulation_conductivity == 0.03


def carried(stream: Stream) -> float:
    """Enthalpy in a flow of gas against 25 °C, its water as vapour [W]."""
    return stream.mass_flow * enthalpy(stream.mixture, temperature=stream.temperature)


def liquid(temperature: float) -> float:
    """Enthalpy of water against vapour of 25 °C [J/kg]."""
    return enthalpy(mixture_of({"water": 1.0}), temperature=temperature) - latent_heat(
        temperature=max(temperature, 273.16)
    )


def water_in(stream: Stream) -> float:
    """Water vapour in a flow [kg/s]."""
    return stream.mass_flow / molar_mass(stream.mixture) * stream.mixture.fraction("water") * 0.01801528


def test_gas_cools_unless_the_job_says_otherwise() -> None:
    """Cooling is the default; `cooling = false` in the job keeps one temperature in each run, and says so."""
    inputs = read_inputs(SCENARIOS / "simple-pass.toml")
    cools, plain = check(inputs), check(replace(inputs, job=replace(inputs.job, cooling=False)))
    assert cools.cooling
    assert all(rate.flow.cooling for run in cools.runs for rate in run.rates)
    assert not plain.cooling
    assert "one-temperature" in codes(plain)
    assert "one-temperature" not in codes(cools)


def test_a_vent_cools_and_an_air_pipe_warms() -> None:
    """In a heated space the vent loses a little less for it; a cold air pipe loses more, by up to 15 % as a rule."""
    inputs = read_inputs(SCENARIOS / "simple-pass.toml")
    cools, plain = ({run.run.name: run.rates[0].flow for run in check(inputs, cooling=c).runs} for c in (True, False))
    assert cools["vent"].pressure_drop < plain["vent"].pressure_drop
    assert 1.03 < cools["air"].pressure_drop / plain["air"].pressure_drop < 1.15


def test_unknown_surroundings_are_refused_in_one_sentence() -> None:
    """A word that names no place is not taken for a warm room."""
    text = (
        (SCENARIOS / "simple-pass.toml")
        .read_text()
        .replace('pipe = "18 ft", heading = "east"', 'pipe = "18 ft", heading = "east", surroundings = "atic"')
    )
    inputs = prepare(job_from_text(text, file="job.toml"), file="job.toml")
    with pytest.raises(InputError, match="perhaps 'attic'"):
        check(inputs, cooling=True)


def test_a_missing_attic_temperature_is_said_and_taken_as_outdoors() -> None:
    """Nothing that is left out makes the result look better."""
    text = (SCENARIOS / "attic-in-the-cold.toml").read_text().replace('attic = "-5 degF"\n', "")
    checked = check(prepare(job_from_text(text, file="job.toml"), file="job.toml"))
    assert "space-assumed" in codes(checked)


ATTIC = """
title = "Two ways up"
cooling = true
[site]
altitude = "300 ft"
outdoor = "0 degF"
indoor = "68 degF"
attic = "5 degF"
[[appliance]]
name = "boiler"
fuel = "natural gas"
[[appliance.rate]]
name = "high"
input = "150 kBtu/h"
excess_air = 0.3
flue_temperature = "120 degF"
[[appliance.rate]]
name = "low"
input = "40 kBtu/h"
excess_air = 0.4
flue_temperature = "105 degF"
"""
WAY = """
[[run]]
name = "{name}"
carries = "flue gas"
between = ["{start}", "{end}"]
size = "3 in"
material = "pvc-40"
surroundings = "{around}"
pieces = [{{ pipe = "{length} ft", heading = "up" }}]
"""


def two_ways(ends: tuple[str, str]) -> Inputs:
    """Two pipes side by side, one in a heated space and one in a cold attic."""
    text = ATTIC + WAY.format(name="collar", start="boiler", end="part", around="heated space", length=3)
    text += WAY.format(name="warm", start="part", end=ends[0], around="heated space", length=25)
    text += WAY.format(name="cold", start="part", end=ends[1], around="attic", length=25)
    if "join" in ends:
        text += WAY.format(name="roof", start="join", end="outdoors", around="attic", length=4)
    return prepare(job_from_text(text, file="job.toml"), file="job.toml")


@cache
def two_ways_checked(ends: tuple[str, str]) -> JobCheck:
    """Their check: it takes seconds to settle, and more than one test looks at it."""
    return check(two_ways(ends))


@pytest.mark.parametrize("ends", [("join", "join"), ("outdoors", "outdoors"), ("join", "outdoors")])
def test_loops_and_several_openings_settle_with_cooling(ends: tuple[str, str]) -> None:
    """One pipe warm and one cold, joined again or not: flow, gas, water and heat agree with each other.

    At low fire the draft of the warm pipe pulls gas, or air, down the cold one, which is hard on any solver.
    """
    checked = two_ways_checked(ends)
    for number in range(2):
        flows = [run.rates[number].flow for run in checked.runs]
        assert all(flow.settled for flow in flows)
        for joint in {"part", *ends} - {"outdoors"}:
            came, gone = [], []
            for flow in flows:
                way = flow.cooling
                assert way is not None
                last = flow.run.end if flow.forward else flow.run.start
                first = flow.run.start if flow.forward else flow.run.end
                came += [way.outlet] if last == joint else []
                gone += [way.inlet] if first == joint else []
            mist = math.fsum(s.mass_flow for s in came) - math.fsum(s.mass_flow for s in gone)
            assert mist >= -1e-9 * math.fsum(s.mass_flow for s in came)
            heat = math.fsum(map(carried, came)) - math.fsum(map(carried, gone))
            scale = sum(abs(carried(s)) for s in came)
            assert heat == pytest.approx(mist * liquid(gone[0].temperature), abs=1e-6 * scale)
        if ends[0] == ends[1]:
            warm, cold = (flow for flow in flows if flow.run.name in ("warm", "cold"))
            lost = [(f.pressure_drop - f.draft) * (1 if f.forward else -1) for f in (warm, cold)]
            assert lost[0] == pytest.approx(lost[1], rel=1e-6, abs=1e-7)


def test_gas_that_goes_round_is_said() -> None:
    """Up the warm pipe and down the cold one: a layout to think over, and never within."""
    checked = two_ways_checked(("join", "join"))
    assert "gas-circulates" in codes(checked)
    assert checked.verdict != "within"
    assert "outdoor-air-enters-vent" in codes(two_ways_checked(("outdoors", "outdoors")))


@pytest.mark.parametrize("kbtu", [105, 109, 112, 113])
def test_a_last_step_that_rounds_short_is_the_last(kbtu: int) -> None:
    """Four inputs at which the last step ended a rounding before the end of the pipe, and none came after it."""
    pieces = [pipe(6.083333), pipe(18.666667), pipe(21.833333), {"fitting": "terminal-open"}]
    data = job(pieces, input=f"{kbtu} kBtu/h", material="trial")
    size = {"nominal": "3 in", "outside": "3.5 in", "wall": "0.229 in", "bore": "3.042 in"}
    data["pipe"] = [{"name": "trial", "source": "Invented for tests", "roughness": "0 mm", "sizes": [size]}]
    flow = checked(data).runs[0].rates[0].flow
    assert flow.cooling is not None and flow.cooling.streams[-1].temperature < flow.cooling.streams[0].temperature
