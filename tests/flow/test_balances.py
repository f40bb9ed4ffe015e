"""Energy and water over whole jobs with cooling on: what goes in comes out, at every rate of every scenario."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from tests.flow.test_cooling import carried, liquid, water_in
from ventsize.check.inputs import read_inputs
from ventsize.check.rate import RunRate
from ventsize.check.result import JobCheck
from ventsize.check.verdict import check
from ventsize.flow.network import node_of
from ventsize.flow.rate_flow import RunFlow
from ventsize.flow.stream import Stream
from ventsize.jobfile.job import OUTDOORS
from ventsize.jobfile.problems import InputError
from ventsize.studies.condensate import condensate

SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"), key=lambda path: path.name)
NEAR = 1e-6


def cooled(path: Path) -> JobCheck:
    """A scenario with its gas cooling, whatever it says itself."""
    try:
        return check(read_inputs(path), cooling=True)
    except InputError as error:  # a scenario that shows bad input is none of these
        pytest.skip(str(error))


def ends(flow: RunFlow) -> tuple[str, str, Stream, Stream]:
    """(joint entered from, joint left to, stream entering, stream leaving) of a run with flow."""
    found = flow.cooling
    assert found is not None
    run = flow.run
    first, last = (run.start, run.end) if flow.forward else (run.end, run.start)
    return first, last, found.inlet, found.outlet


def at_rate(checked: JobCheck, number: int) -> list[RunRate]:
    """Every run with flow at one rate."""
    return [run.rates[number] for run in checked.runs if run.rates[number].flow.stream.mass_flow > 0.0]


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.stem)
def test_energy_closes_over_the_whole_job(path: Path) -> None:
    """Heat in with the gases = heat through the walls + heat out with gases and water, at every rate, to 1e-6.

    The sum goes over all runs and all joints: what arrives at a joint leaves it as gas and as the mist that falls
    out there, at the temperature the streams have come to.
    """
    checked = cooled(path)
    for number in range(len(checked.runs[0].rates)):
        flows = [rate.flow for rate in at_rate(checked, number)]
        into: dict[object, list[Stream]] = {}
        out_of: dict[object, list[Stream]] = {}
        given = 0.0
        for flow in flows:
            first, last, inlet, outlet = ends(flow)
            found = flow.cooling
            assert found is not None
            out_of.setdefault((flow.run.carries, node_of(flow.run, first)), []).append(inlet)
            into.setdefault((flow.run.carries, node_of(flow.run, last)), []).append(outlet)
            given += found.heat + found.condensate * liquid(outlet.temperature)
        sources = [n for n in out_of if n not in into]
        sinks = [n for n in into if n not in out_of]
        for joint in set(into) & set(out_of):
            arriving, leaving = into[joint], out_of[joint]
            mist = math.fsum(s.mass_flow for s in arriving) - math.fsum(s.mass_flow for s in leaving)
            assert mist >= -1e-12 * math.fsum(s.mass_flow for s in arriving)
            given += mist * liquid(leaving[0].temperature)
        taken = math.fsum(carried(s) for n in sources for s in out_of[n])
        out = math.fsum(carried(s) for n in sinks for s in into[n])
        scale = max(abs(taken), abs(out), abs(given))
        assert abs(taken - out - given) <= NEAR * scale, checked.runs[0].rates[number].name


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.stem)
def test_water_and_all_else_close_over_the_whole_job(path: Path) -> None:
    """What enters as fuel and air leaves as gas at the ends and as condensate, at every rate and combination.

    Water by itself, and all that is not water by itself; where streams meet and mist forms, that is counted too.
    """
    checked = cooled(path)
    gases = {a.name: {rate.name: rate.gas for rate in a.rates} for a in checked.appliances}
    waters = condensate(read_inputs(path)).rates
    vented = {j for run in checked.runs if run.run.carries == "flue gas" for j in (run.run.start, run.run.end)}
    for number, rate in enumerate(checked.runs[0].rates):
        on = [gases[a][r] for a, r in rate.fired.items() if r is not None and a in vented]
        flows = [r.flow for r in at_rate(checked, number) if r.flow.run.carries == "flue gas"]
        last = [outlet for _, end, _, outlet in map(ends, flows) if end == OUTDOORS]
        drawn = [inlet for start, _, inlet, _ in map(ends, flows) if start == OUTDOORS]
        entered = math.fsum(gas.fuel_mass_flow + gas.air_mass_flow for gas in on)
        entered += math.fsum(stream.mass_flow for stream in drawn)
        left = math.fsum(stream.mass_flow for stream in last)
        assert left + waters[number].total == pytest.approx(entered, rel=NEAR)
        water = math.fsum(
            gas.uncondensed_mass_flow * gas.uncondensed.fraction("water") * 0.01801528 / _mass(gas.uncondensed)
            for gas in on
        ) + math.fsum(map(water_in, drawn))
        assert math.fsum(map(water_in, last)) + waters[number].total == pytest.approx(water, rel=NEAR)


def _mass(mixture: object) -> float:
    from ventsize.gas.mixture import Mixture, molar_mass

    assert isinstance(mixture, Mixture)
    return molar_mass(mixture)
