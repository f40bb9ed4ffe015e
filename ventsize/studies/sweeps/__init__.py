"""Sweeps: one thing of a job changed and the rest held, as lines or bars with what to notice in them."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ventsize.check.inputs import Inputs
from ventsize.jobfile.document import nearest
from ventsize.jobfile.problems import InputError, Problem
from ventsize.studies.sweeps import deductions, elbows, runs
from ventsize.studies.sweeps.model import Axis, Bar, Here, Series, Sweep
from ventsize.studies.sweeps.subject import Subject, subject_of

KINDS: Mapping[str, Callable[[Subject], Sweep]] = {
    "elbow-by-rate": elbows.elbow_by_rate,
    "elbow-by-size": elbows.elbow_by_size,
    "elbow-by-temperature": elbows.elbow_by_temperature,
    "elbow-by-method": elbows.elbow_by_method,
    "table-and-calculation": deductions.table_and_calculation,
    "drop-by-flow": runs.drop_by_flow,
    "length-by-elbows": runs.length_by_elbows,
    "drop-by-altitude": runs.drop_by_altitude,
    "laminar-turbulent": runs.laminar_turbulent,
}
"""Every sweep by name, and what works it out."""


def sweep(
    kind: str,
    inputs: Inputs,
    *,
    run: str | None = None,
    rate: str | None = None,
    fitting: str | None = None,
) -> Sweep:
    """One sweep of a job.

    run, rate, fitting: by name; where not given, the first run that carries flue gas, the rate at which it loses
        most, and its first elbow.

    Raises InputError for a name that is not there, and where the job has nothing for the sweep.
    """
    if kind not in KINDS:
        raise InputError(Problem(inputs.file, "", f"there is no sweep '{kind}'", nearest(kind, KINDS)))
    return KINDS[kind](subject_of(inputs, run=run, rate=rate, fitting=fitting))


__all__ = ["KINDS", "Axis", "Bar", "Here", "Series", "Sweep", "sweep"]
