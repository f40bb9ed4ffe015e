"""One line of a working: a formula, what is put into it and what comes out, in SI, and the units to show it in."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum, auto
from functools import cache
from typing import NamedTuple

from ventsize.check.rate import RunRate
from ventsize.check.result import JobCheck, RunCheck
from ventsize.finding import Finding
from ventsize.quantity import Dimension, System
from ventsize.quantity.convert import scale


class Kind(Enum):
    """What a number of a working measures."""

    NUMBER = auto()
    POWER = auto()
    HEAT_PER_MOLE = auto()
    MOLE_FLOW = auto()
    MASS_FLOW = auto()
    MOLAR_MASS = auto()
    GAS_CONSTANT = auto()
    TEMPERATURE = auto()
    ABSOLUTE_PRESSURE = auto()
    DENSITY = auto()
    VISCOSITY = auto()
    BORE = auto()
    AREA = auto()
    VELOCITY = auto()
    PRESSURE = auto()
    GRADIENT = auto()
    LENGTH = auto()
    ACCELERATION = auto()


class Unit(NamedTuple):
    """A unit by its label, and what one of it is in SI."""

    label: str
    factor: float


_SI = {
    Kind.NUMBER: "",
    Kind.POWER: "W",
    Kind.HEAT_PER_MOLE: "J/mol",
    Kind.MOLE_FLOW: "mol/s",
    Kind.MASS_FLOW: "kg/s",
    Kind.MOLAR_MASS: "kg/mol",
    Kind.GAS_CONSTANT: "J/(mol·K)",
    Kind.TEMPERATURE: "K",
    Kind.ABSOLUTE_PRESSURE: "Pa",
    Kind.DENSITY: "kg/m³",
    Kind.VISCOSITY: "Pa·s",
    Kind.BORE: "m",
    Kind.AREA: "m²",
    Kind.VELOCITY: "m/s",
    Kind.PRESSURE: "Pa",
    Kind.GRADIENT: "Pa/m",
    Kind.LENGTH: "m",
    Kind.ACCELERATION: "m/s²",
}


@cache
def _us() -> dict[Kind, Unit]:
    def size(unit: str, dimension: Dimension) -> float:
        return scale(unit, dimension).factor

    pound, foot, inch = size("pound", Dimension.MASS), size("foot", Dimension.LENGTH), size("inch", Dimension.LENGTH)
    hour = size("pound", Dimension.MASS) / size("pound/hour", Dimension.MASS_FLOW)
    btu, psi = size("btu", Dimension.ENERGY), size("psi", Dimension.PRESSURE)
    rankine = size("degree_Rankine", Dimension.TEMPERATURE)
    water = size("inch_of_water", Dimension.PRESSURE)
    pound_mole = pound / 1e-3  # as many moles as a pound holds grams
    return {
        Kind.NUMBER: Unit("", 1.0),
        Kind.POWER: Unit("Btu/h", btu / hour),
        Kind.HEAT_PER_MOLE: Unit("Btu/lbmol", btu / pound_mole),
        Kind.MOLE_FLOW: Unit("lbmol/h", pound_mole / hour),
        Kind.MASS_FLOW: Unit("lb/h", pound / hour),
        Kind.MOLAR_MASS: Unit("lb/lbmol", pound / pound_mole),
        Kind.GAS_CONSTANT: Unit("psi·ft³/(lbmol·°R)", psi * foot**3 / (pound_mole * rankine)),
        Kind.TEMPERATURE: Unit("°R", rankine),
        Kind.ABSOLUTE_PRESSURE: Unit("psi", psi),
        Kind.DENSITY: Unit("lb/ft³", pound / foot**3),
        Kind.VISCOSITY: Unit("lb/(ft·h)", pound / (foot * hour)),
        Kind.BORE: Unit("in", inch),
        Kind.AREA: Unit("ft²", foot**2),
        Kind.VELOCITY: Unit("ft/min", size("foot/minute", Dimension.VELOCITY)),
        Kind.PRESSURE: Unit("in w.c.", water),
        Kind.GRADIENT: Unit("in w.c./ft", water / foot),
        Kind.LENGTH: Unit("ft", foot),
        Kind.ACCELERATION: Unit("ft/s²", foot),
    }


def unit_of(kind: Kind, system: System) -> Unit:
    """The unit that numbers of a kind are shown in. Those of SI are coherent: no formula needs a factor."""
    return _us()[kind] if system is System.US else Unit(_SI[kind], 1.0)


@dataclass(frozen=True, slots=True)
class Given:
    """A number put into a formula, in SI. source: where it comes from; empty for the result of an earlier step."""

    name: str
    symbol: str
    value: float
    kind: Kind = Kind.NUMBER
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line: symbol = formula = value.

    template: the formula, with {0}, {1}, ... for the inputs; * and / between them, ^ for powers.
    powers: of each input, where the units of the result are not those of the formula; empty where they are,
        as in a sum of like things or a formula of plain numbers.
    value: what the calculation has, not what the formula would give [SI].
    """

    name: str
    symbol: str
    template: str
    inputs: tuple[Given, ...]
    value: float
    kind: Kind
    source: str
    powers: tuple[float, ...] = ()

    def factor(self, system: System) -> float:
        """What the formula is multiplied by, so that the units come out [-]."""
        if not self.powers:
            return 1.0
        factors = (
            unit_of(given.kind, system).factor ** power for given, power in zip(self.inputs, self.powers, strict=True)
        )
        return float(math.prod(factors)) / unit_of(self.kind, system).factor

    @property
    def result(self) -> Given:
        """The result, to be put into a later step."""
        return Given(self.name, self.symbol, self.value, self.kind)


def sum_of(name: str, symbol: str, parts: Sequence[Given], *, value: float, kind: Kind, source: str) -> Step:
    """A sum of like things."""
    template = " + ".join(f"{{{number}}}" for number in range(len(parts)))
    return Step(name=name, symbol=symbol, template=template, inputs=tuple(parts), value=value, kind=kind, source=source)


def weighted(
    name: str, symbol: str, parts: Sequence[tuple[Given, Given]], *, value: float, kind: Kind, source: str
) -> Step:
    """A sum of products of two."""
    template = " + ".join(f"{{{2 * number}}} * {{{2 * number + 1}}}" for number in range(len(parts)))
    inputs = tuple(given for pair in parts for given in pair)
    return Step(name=name, symbol=symbol, template=template, inputs=inputs, value=value, kind=kind, source=source)


@dataclass(frozen=True, slots=True, kw_only=True)
class Conclusion:
    """What the figures of a run come to: the check of the job, of the run, and at the rate."""

    check: JobCheck
    run: RunCheck
    rate: RunRate


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """How the figures of a run, or of one of its pieces, come about at a firing rate.

    steps: in the order in which they follow from each other.
    conclusion: what they come to; None for a single piece.
    remarks: what is not worked out here, and why.
    findings: what the check says of its own figures, other runs left out.
    """

    title: str
    steps: tuple[Step, ...]
    conclusion: Conclusion | None
    remarks: tuple[str, ...]
    findings: tuple[Finding, ...]
