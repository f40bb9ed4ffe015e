"""What a lesson may ask for, measured on a job: each by name, from the check's own results."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from ventsize.check.inputs import Inputs
from ventsize.finding import Outcome
from ventsize.flow.pieces import SectionFlow, section_flow
from ventsize.gas.components import gas
from ventsize.gas.flue import FlueGas
from ventsize.gas.mixture import molar_mass
from ventsize.jobfile.lesson import Measure
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import Dimension
from ventsize.studies.fan import FanPoint
from ventsize.studies.inducer import InducerRate, inducer_study
from ventsize.studies.sweeps.subject import Subject, subject_of

WATER = 1000.0  # [kg/m³]


@dataclass(frozen=True, slots=True)
class Asked:
    """A measure: its dimension, None for plain numbers, and what measures it [SI]; None where there is none."""

    dimension: Dimension | None
    of: Callable[[Subject], float | None]


def _first(subject: Subject) -> SectionFlow:
    return subject.rate.flow.at(subject.run.run.first_section)


def _share_of_fittings(subject: Subject) -> float | None:
    flow = subject.rate.flow
    pipe = math.fsum(p.pressure_drop for p in flow.pieces if p.piece.is_pipe)
    return 1.0 - pipe / flow.pressure_drop if flow.pressure_drop else None


def _inducer(subject: Subject) -> InducerRate:
    study = inducer_study(subject.inputs)
    return next(rate for rate in study.rates if rate.rate == subject.rate.name)


def _burning(point: FanPoint) -> float | None:
    return point.excess_air if point.burns else None


def _gas(subject: Subject) -> FlueGas:
    """The flue gas of the first appliance that the run serves, at the rate."""
    appliance = next(a for a in subject.whole.appliances if a.name in subject.run.serves)
    return next(r.gas for r in appliance.rates if r.name == subject.rate.fired.get(appliance.name))


def _water(found: FlueGas) -> float:
    """Water vapor from the flame [kg/s]."""
    share = found.uncondensed.fraction("water") * gas("water").molar_mass / molar_mass(found.uncondensed)
    return found.uncondensed_mass_flow * share


def _k(subject: Subject) -> float:
    at = section_flow(subject.section, subject.stream)
    return subject.worth().nominal / subject.section.bore * at.friction_factor


def _by_table(subject: Subject) -> float | None:
    return None if subject.run.table is None else subject.run.table.equivalent_length


MEASURES: Mapping[Measure, Asked] = {
    "pressure drop": Asked(Dimension.PRESSURE, lambda s: s.rate.flow.pressure_drop),
    "equivalent length": Asked(Dimension.LENGTH, lambda s: s.rate.equivalent_length),
    "worth of a fitting": Asked(Dimension.LENGTH, lambda s: s.worth().nominal),
    "velocity": Asked(Dimension.VELOCITY, lambda s: _first(s).velocity),
    "Reynolds number": Asked(None, lambda s: _first(s).reynolds),
    "friction factor": Asked(None, lambda s: _first(s).friction_factor),
    "flow": Asked(Dimension.VOLUME_FLOW, lambda s: s.rate.flow.stream.volume_flow),
    "share of the fittings": Asked(Dimension.FRACTION, _share_of_fittings),
    "draft": Asked(Dimension.PRESSURE, lambda s: s.rate.flow.draft),
    "length by the table": Asked(Dimension.LENGTH, _by_table),
    "length left by the table": Asked(Dimension.LENGTH, lambda s: s.run.margin),
    "share of top speed": Asked(Dimension.FRACTION, lambda s: _inducer(s).speed),
    "excess air at fixed speed": Asked(Dimension.FRACTION, lambda s: _burning(_inducer(s).fixed)),
    "bore": Asked(Dimension.LENGTH, lambda s: s.run.run.first_section.bore),
    "air pressure": Asked(Dimension.PRESSURE, lambda s: s.stream.pressure),
    "density": Asked(Dimension.DENSITY, lambda s: s.stream.density),
    "mass flow": Asked(Dimension.MASS_FLOW, lambda s: s.stream.mass_flow),
    "dew point": Asked(Dimension.TEMPERATURE, lambda s: _gas(s).dew_point),
    "flue gas temperature": Asked(Dimension.TEMPERATURE, lambda s: _gas(s).temperature),
    "condensate": Asked(Dimension.VOLUME_FLOW, lambda s: _gas(s).condensate / WATER),
    "water made": Asked(Dimension.VOLUME_FLOW, lambda s: _water(_gas(s)) / WATER),
    "loss coefficient": Asked(None, _k),
    "viscosity": Asked(Dimension.VISCOSITY, lambda s: s.stream.viscosity),
}
"""Every measure but the verdict, which is a word."""


def measured(
    inputs: Inputs,
    measure: Measure,
    *,
    run: str | None = None,
    rate: str | None = None,
    fitting: str | None = None,
) -> float:
    """A measure of a job [SI].

    run, rate, fitting: by name; the first vent, the rate at which it loses most, its first elbow.

    Raises InputError for a name that is not there, and where the job has no such figure.
    """
    found = subject_of(inputs, run=run, rate=rate, fitting=fitting)
    value = MEASURES[measure].of(found)
    if value is None or not math.isfinite(value):
        place = f"run '{found.run.run.name}', {found.rate.name}"
        raise InputError(Problem(inputs.file, place, f"it has no {measure}", "a job that has"))
    return value


def verdict_of(inputs: Inputs, *, run: str | None) -> Outcome:
    """The outcome that settles the verdict on a run."""
    return subject_of(inputs, run=run).run.decides


__all__ = ["MEASURES", "Asked", "measured", "verdict_of"]
