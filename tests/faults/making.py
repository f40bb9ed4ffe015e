"""Invented jobs: sizes, materials, rates, one pipe or two, laid out or counted, an inducer described or not."""

from __future__ import annotations

from random import Random
from typing import Any

from ventsize.check.inputs import Inputs, prepare
from ventsize.check.verdict import check
from ventsize.jobfile.job import job_from_data

Data = dict[str, Any]
BTU_H = 0.29307107
MATERIALS = ("pvc-40", "cpvc-40", "abs-40")
SIZES = ("1 1/2 in", "2 in", "2 1/2 in", "3 in", "4 in")
LEAST, MOST = 20.0, 260.0  # Pa at the collar, and of suction in an air pipe: what such appliances work against
TURNS = {"up": ("north", "east", "south", "west"), "north": ("east", "west", "up"), "south": ("east", "west", "up"),
         "east": ("north", "south", "up"), "west": ("north", "south", "up")}  # fmt: skip


def a_job(chance: Random) -> tuple[Inputs, Data]:
    """A job whose vent is loaded as such vents are, and its data."""
    while True:
        data = _data(chance)
        inputs = prepare(job_from_data(data, file="job"), file="job")
        loads = [run.rates[0].static_pressure_at_appliance or 0.0 for run in check(inputs, cooling=False).runs]
        if LEAST <= loads[0] <= MOST and all(load >= -MOST for load in loads[1:]):
            break
    kind = chance.choices(("none", "adaptive", "fixed"), (0.45, 0.35, 0.2))[0]
    if kind != "none":
        data["appliance"][0]["inducer"] = _inducer(chance, inputs, adaptive=kind == "adaptive")
        for rate in data["appliance"][0]["rate"]:
            held = float(data["appliance"][0]["inducer"]["switch"][rate["name"]].split()[0])
            rate["switch_opens"] = f"{held - chance.uniform(25.0, 60.0):.1f} Pa"
        inputs = prepare(job_from_data(data, file="job"), file="job")
    return inputs, data


def _data(chance: Random) -> Data:
    high = chance.uniform(40.0, 130.0)
    rates = [("high", high, 0.0)]
    rates += [("low", high * chance.uniform(0.45, 0.7), 0.1)] if chance.random() < 0.85 else []
    air = chance.uniform(0.25, 0.5)
    material = chance.choice(MATERIALS)
    runs = [_run(chance, "vent", "flue gas", material)]
    if chance.random() < 0.6:
        runs.append(_run(chance, "air", "combustion air", material))
    return {
        "title": "Invented",
        "site": {
            "altitude": f"{chance.uniform(0.0, 6000.0):.0f} ft",
            "outdoor": f"{chance.uniform(-5.0, 60.0):.0f} degF",
            "indoor": "68 degF",
        },
        "appliance": [
            {
                "name": "furnace",
                "fuel": chance.choice(("natural gas", "natural gas", "propane")),
                "rate": [
                    {
                        "name": name,
                        "input": f"{input:.0f} kBtu/h",
                        "excess_air": round(air + more, 3),
                        "flue_temperature": f"{chance.uniform(95.0, 130.0):.0f} degF",
                    }
                    for name, input, more in rates
                ],
            }
        ],
        "run": runs,
    }


def _run(chance: Random, name: str, carries: str, material: str) -> Data:
    run = {
        "name": name,
        "carries": carries,
        "between": ["furnace", "outdoors"],
        "size": chance.choice(SIZES),
        "material": material,
    }
    elbows = chance.randint(1, 6)
    kinds = ["elbow-90-long", "elbow-90-short", "elbow-45"]
    end = chance.choice(("terminal-open", "terminal-open", "terminal-elbow-down", "terminal-screened"))
    if chance.random() < 0.25:
        counts: dict[str, int] = {}
        for _ in range(elbows):
            kind = chance.choice(kinds)
            counts[kind] = counts.get(kind, 0) + 1
        return {**run, "straight": f"{chance.uniform(8.0, 90.0):.1f} ft", "fittings": {**counts, end: 1},
                "rise": f"{chance.uniform(0.0, 8.0):.1f} ft"}  # fmt: skip
    heading = "up"
    pieces: list[Data] = []
    for number in range(elbows + 1):
        length = chance.uniform(1.0, 12.0) if heading == "up" else chance.uniform(1.0, 25.0)
        pieces.append({"pipe": f"{length:.1f} ft", "heading": heading})
        if number < elbows:
            pieces.append({"fitting": chance.choice(kinds[:2])})
            heading = chance.choice(TURNS[heading])
    return {**run, "pieces": [*pieces, {"fitting": end}]}


def _inducer(chance: Random, inputs: Inputs, *, adaptive: bool) -> Data:
    """A fan whose curve gives what this vent needs: just so at one speed, or with something to spare."""
    checked = check(inputs, cooling=False)
    rate = checked.runs[0].rates[0]
    flow = rate.flow.stream.volume_flow
    heads = [abs(run.rates[0].static_pressure_at_appliance or 0.0) for run in checked.runs]
    switch = chance.uniform(160.0, 300.0)
    needed = switch + sum(heads)
    given = needed * (chance.uniform(1.1, 2.0) if adaptive else chance.uniform(0.95, 1.1))
    most = flow * chance.uniform(1.5, 2.2)
    shut_off = given / (1.0 - (flow / most) ** 2)
    points = [[f"{most * s * 3600:.4f} m³/h", f"{shut_off * (1.0 - s * s):.3f} Pa"] for s in (0, 0.2, 0.4, 0.6, 0.8, 1)]
    names = [rate["name"] for rate in _rates(inputs)]
    settings = dict(zip(names, (switch, switch * chance.uniform(0.45, 0.55)), strict=False))
    return {
        "source": "Invented",
        "example": False,
        "adaptive": adaptive,
        "curve": points,
        "switch": {name: f"{value:.1f} Pa" for name, value in settings.items()},
    }


def _rates(inputs: Inputs) -> list[Data]:
    return [{"name": rate.name} for rate in inputs.job.appliances[0].rates]
