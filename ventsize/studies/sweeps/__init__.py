"""Sweeps: one thing of a job changed and the rest held, as lines or bars with what to notice in them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from ventsize.check.inputs import Inputs
from ventsize.jobfile.document import nearest
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import System
from ventsize.studies.sweeps import deductions, elbows, runs
from ventsize.studies.sweeps.model import Axis, Bar, Here, Series, Sweep
from ventsize.studies.sweeps.subject import Subject, subject_of


@dataclass(frozen=True, slots=True)
class Kind:
    """A sweep as a list shows it: its name, what it is, and what works it out."""

    name: str
    title: str
    sweep: Callable[[Subject], Sweep]


KINDS: Mapping[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("elbow-by-rate", "one elbow as feet of pipe, by firing rate", elbows.elbow_by_rate),
        Kind("elbow-by-size", "one elbow as feet of pipe, by size", elbows.elbow_by_size),
        Kind("elbow-by-temperature", "one elbow as feet of pipe, by gas temperature", elbows.elbow_by_temperature),
        Kind("elbow-by-method", "the same elbow by every published method", elbows.elbow_by_method),
        Kind("table-and-calculation", "each fitting by the table and by calculation", deductions.table_and_calculation),
        Kind("drop-by-flow", "pressure drop by flow: why low fire is easy", runs.drop_by_flow),
        Kind("length-by-elbows", "length left by number of elbows, at a fixed budget", runs.length_by_elbows),
        Kind("drop-by-altitude", "pressure drop by altitude", runs.drop_by_altitude),
        Kind("laminar-turbulent", "friction between laminar and turbulent flow", runs.laminar_turbulent),
    )
}
"""Every sweep by name."""


def sweep(
    kind: str,
    inputs: Inputs,
    *,
    run: str | None = None,
    rate: str | None = None,
    fitting: str | None = None,
    system: System = System.US,
) -> Sweep:
    """One sweep of a job.

    run, rate, fitting: by name; where not given, the first run that carries flue gas, the rate at which it loses
        most, and its first elbow.

    Raises InputError for a name that is not there, and where the job has nothing for the sweep.
    """
    if kind not in KINDS:
        raise InputError(Problem(inputs.file, "", f"there is no sweep '{kind}'", nearest(kind, KINDS)))
    return KINDS[kind].sweep(subject_of(inputs, run=run, rate=rate, fitting=fitting, system=system))


__all__ = ["KINDS", "Axis", "Bar", "Here", "Kind", "Series", "Sweep", "sweep"]
