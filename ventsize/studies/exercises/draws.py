"""What chance gives an exercise: an appliance, a vent and an allowance table, all invented, checked as any job is.

Numbers are round ones in the units of the class. What is not met in practice is drawn again.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from random import Random
from typing import Any, NamedTuple

from ventsize.allowance.reading import table_from_data
from ventsize.catalog.library import load_catalog
from ventsize.check.inputs import Inputs, prepare
from ventsize.check.rate import RunRate
from ventsize.check.result import RunCheck
from ventsize.check.variants import Variants
from ventsize.jobfile.job import job_from_data
from ventsize.quantity import Dimension, System, parse

TABLE = "class table"
FILE = "exercise"
Data = dict[str, Any]

# What one meets in practice in a vent or air pipe; outside, an exercise teaches the wrong feel.
SLOWEST, FASTEST = 0.6, 10.0  # [m/s]
LEAST_LOSS, MOST_LOSS = 0.5, 500.0  # of a run [Pa]
SURELY_LAMINAR, SURELY_TURBULENT = 1900.0, 4200.0  # between them the friction factor is anybody's guess
LEAST_REYNOLDS, MOST_REYNOLDS = 800.0, 60_000.0
SLOWEST_LAMINAR, LEAST_LAMINAR = 0.2, 0.01  # of a small appliance turned down on a large pipe [m/s], [Pa]


class ClassUnits(NamedTuple):
    """Units, pipe and usual figures of a class."""

    material: str
    sizes: tuple[str, ...]
    inputs: tuple[str, ...]
    small: tuple[str, ...]
    altitudes: tuple[int, ...]
    altitude_unit: str
    flue: tuple[str, ...]
    outdoor: tuple[str, ...]
    indoor: str
    length_unit: str
    lengths: tuple[float, ...]
    elbow_long: tuple[float, ...]
    elbow_short: tuple[float, ...]
    allowable: tuple[float, ...]


_US = ClassUnits(
    material="pvc-40",
    sizes=("2 in", "2 1/2 in", "3 in", "4 in"),
    inputs=tuple(f"{size} kBtu/h" for size in range(40, 125, 5)),
    small=("4 kBtu/h", "5 kBtu/h", "6 kBtu/h", "7 kBtu/h"),
    altitudes=tuple(range(0, 7500, 500)),
    altitude_unit="ft",
    flue=tuple(f"{degrees} degF" for degrees in range(95, 135, 5)),
    outdoor=tuple(f"{degrees} degF" for degrees in range(-10, 65, 5)),
    indoor="70 degF",
    length_unit="ft",
    lengths=(2, 3, 4, 5, 6, 7.5, 8, 9, 10, 12, 14, 15, 16, 18, 20, 22, 24),
    elbow_long=(2, 2.5, 3, 3.5, 4, 4.5),
    elbow_short=(5, 5.5, 6, 6.5, 7, 8),
    allowable=tuple(float(feet) for feet in range(30, 105, 5)),
)
_SI = ClassUnits(
    material="pp-metric",
    sizes=("60 mm", "80 mm", "100 mm", "110 mm"),
    inputs=tuple(f"{size} kW" for size in range(12, 36)),
    small=("1.2 kW", "1.5 kW", "1.8 kW", "2 kW"),
    altitudes=tuple(range(0, 2250, 150)),
    altitude_unit="m",
    flue=tuple(f"{degrees} degC" for degrees in range(35, 60, 5)),
    outdoor=tuple(f"{degrees} degC" for degrees in range(-20, 20, 5)),
    indoor="20 degC",
    length_unit="m",
    lengths=(0.5, 0.8, 1, 1.2, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 7),
    elbow_long=(0.6, 0.7, 0.8, 0.9, 1.0, 1.2),
    elbow_short=(1.4, 1.5, 1.6, 1.8, 2.0, 2.2),
    allowable=tuple(float(meters) for meters in range(8, 34)),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """An invented job, and its vent as checked."""

    data: Data
    inputs: Inputs
    run: RunCheck

    def rate(self, name: str) -> RunRate:
        """The vent at a firing rate."""
        return next(rate for rate in self.run.rates if rate.name == name)


class Draws:
    """Chance, in the units of a class. turn: whose turn it is, so that neighbors draw different answers."""

    def __init__(self, seed: str, units: System, *, turn: int = 0) -> None:
        self._turn = turn
        self.random = Random(seed)
        self.units = units
        self.usual = _US if units is System.US else _SI

    def one_of(self, things: tuple[Any, ...]) -> Any:
        """One of them."""
        return self.random.choice(things)

    def once(self, what: str, things: tuple[Any, ...]) -> Any:
        """The next of them for each student, however often the rest is drawn again: what is seldom met comes as well.

        what: what it decides; where of the things the first student begins depends on it.
        """
        return things[(self._turn + Random(what).randrange(len(things))) % len(things)]

    @property
    def fuels(self) -> dict[str, Mapping[str, float]]:
        """What each fuel is made of, by mole."""
        return {name: record.mole_fractions for name, record in load_catalog(user=False).fuels.items()}

    def power(self) -> float:
        """An input [W]."""
        return parse(self.one_of(self.usual.inputs), Dimension.POWER)

    def sizes(self, number: int) -> list[tuple[str, float]]:
        """So many sizes that follow each other, the smallest first: label and bore [m]."""
        material = load_catalog(user=False).pipes[self.usual.material]
        first = self.random.randint(0, len(self.usual.sizes) - number)
        sizes = [material.size(parse(one, Dimension.LENGTH)) for one in self.usual.sizes[first : first + number]]
        return [(size.label, size.bore) for size in sizes if size is not None]

    def length_of(self, least: float, most: float) -> float:
        """A round length between two [m]."""
        unit = 0.3048 if self.units is System.US else 1.0
        return self.random.randint(math.ceil(least / unit), int(most / unit)) * unit

    def length(self, value: float | None = None) -> str:
        """A length as it is typed; of pipe, where none is given."""
        return f"{self.one_of(self.usual.lengths) if value is None else value:g} {self.usual.length_unit}"

    def altitude(self, value: float) -> str:
        """An altitude as it is typed."""
        return f"{value:g} {self.usual.altitude_unit}"

    def layout(self, *, elbows: int, kinds: tuple[str, ...] = ("elbow-90-long", "elbow-90-short")) -> list[Data]:
        """A vent that goes up and then about at right angles, out through an open end."""
        heading = "up"
        pieces: list[Data] = [{"pipe": self.length(), "heading": heading}]
        for _ in range(elbows):
            square = {
                "up": ("north", "east", "south", "west"),
                "north": ("up", "east", "west"),
                "south": ("up", "east", "west"),
                "east": ("up", "north", "south"),
                "west": ("up", "north", "south"),
            }[heading]
            heading = self.one_of(square)
            pieces += [{"fitting": self.one_of(kinds)}, {"pipe": self.length(), "heading": heading}]
        if heading == "up":  # an open end points outdoors, not into the rain
            pieces += [{"fitting": self.one_of(kinds)}, {"pipe": self.length(), "heading": "east"}]
        return [*pieces, {"fitting": "terminal-open"}]

    def job(self, pieces: list[Data], **changed: Any) -> Data:
        """A job of one appliance and one vent. `changed` goes into its rate, site or run by key."""
        usual = self.usual
        rate: Data = {
            "name": "high",
            "input": self.one_of(usual.inputs),
            "excess_air": self.one_of((0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.6)),
            "flue_temperature": self.one_of(usual.flue),
        }
        site: Data = {
            "altitude": self.altitude(self.one_of(usual.altitudes)),
            "outdoor": self.one_of(usual.outdoor),
            "indoor": usual.indoor,
        }
        vent: Data = {
            "name": "vent",
            "carries": "flue gas",
            "between": ["furnace", "outdoors"],
            "size": self.one_of(usual.sizes),
            "material": usual.material,
            "pieces": pieces,
        }
        fuel = changed.pop("fuel", None) or self.one_of(("natural gas", "natural gas", "propane"))
        low = changed.pop("low", None)
        for key, value in changed.items():
            (rate if key in rate else site if key in site else vent)[key] = value
        rates = [rate] if low is None else [rate, {**rate, "name": "low", **low}]
        return {
            "title": "Exercise",
            "site": site,
            "appliance": [{"name": "furnace", "fuel": fuel, "rate": rates}],
            "run": [vent],
        }

    def solve(self, data: Data, table: Data | None = None, *, laminar: bool = False) -> Drawn:
        """The job as checked. laminar: whether its flow is laminar. Raises DrawAgain."""
        tables = {TABLE: table_from_data(table, file=TABLE)} if table else {}
        if table:
            data = {**data, "run": [{**data["run"][0], "table": TABLE}]}
        job = replace(job_from_data(data, file=FILE), cooling=False)
        inputs = prepare(job, file=FILE, tables=tables)
        drawn = Drawn(data=data, inputs=inputs, run=Variants(inputs).judge({}).runs[0])
        for rate in drawn.run.rates:
            _meet_practice(rate, laminar=laminar)
        return drawn


class DrawAgain(Exception):
    """What chance gave is not met in practice, or makes no good exercise."""


def _meet_practice(rate: RunRate, *, laminar: bool) -> None:
    """Velocity, Reynolds number and pressure are such as one meets, and friction is not anybody's guess."""
    flow = rate.flow
    slowest, least = (SLOWEST_LAMINAR, LEAST_LAMINAR) if laminar else (SLOWEST, LEAST_LOSS)
    low, high = (LEAST_REYNOLDS, SURELY_LAMINAR) if laminar else (SURELY_TURBULENT, MOST_REYNOLDS)
    if not flow.settled or not least <= flow.pressure_drop <= MOST_LOSS:
        raise DrawAgain
    for solved in flow.pieces:
        if not low <= solved.at.reynolds <= high or not slowest <= solved.at.velocity <= FASTEST:
            raise DrawAgain
