"""What a sweep is about: one run of a job at one firing rate, and one fitting."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from ventsize.catalog.library import UnknownName
from ventsize.catalog.records import FittingRecord
from ventsize.check.inputs import Inputs, prepare
from ventsize.check.rate import RunRate
from ventsize.check.result import JobCheck, RunCheck
from ventsize.check.verdict import check
from ventsize.flow.fittings import local_loss
from ventsize.flow.pieces import section_flow
from ventsize.flow.stream import Stream
from ventsize.jobfile.document import nearest
from ventsize.jobfile.job import Job, Rate
from ventsize.jobfile.problems import InputError, Problem
from ventsize.run.model import Section
from ventsize.studies.options.choices import sizes_offered
from ventsize.studies.sweeps.model import Sweep

USUAL_ELBOW = "elbow-90-long"
FEW_SIZES = 4


@dataclass(frozen=True, slots=True)
class Worth:
    """The straight pipe of its own size that loses what one fitting does: nominal, by the lowest, the highest [m]."""

    nominal: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """A run of a job at a rate, and a fitting to speak of, solved.

    section: the pipe of the size that the run's allowance is for.
    """

    inputs: Inputs
    whole: JobCheck
    run: RunCheck
    rate: RunRate
    fitting: FittingRecord

    @property
    def job(self) -> Job:
        """The job as typed."""
        return self.inputs.job

    @property
    def section(self) -> Section:
        """The pipe that the run's lengths are given in."""
        return self.run.reference_section

    @property
    def stream(self) -> Stream:
        """The gas in the run at the rate."""
        return self.rate.flow.stream

    @property
    def input(self) -> float:
        """Input of the appliances that the run serves, at the rate [W]."""
        return self.input_at(self.rate)

    def input_at(self, rate: RunRate) -> float:
        """Input of the appliances that the run serves, at another rate [W]."""
        gases = {(a.name, r.name): r.plate for a in self.whole.appliances for r in a.rates}
        return math.fsum(gases.get((name, rate.fired.get(name) or ""), 0.0) for name in self.run.serves)

    def again(self, job: Job) -> Subject:
        """The same run, rate and fitting in a changed job. InputError where that cannot be."""
        inputs = prepare(job, file=self.inputs.file, tables=self.inputs.tables)
        return subject_of(inputs, run=self.run.run.name, rate=self.rate.name, fitting=self.fitting.name)

    def sweep(self, kind: str, **parts: Any) -> Sweep:
        """A sweep of this run, rate and fitting."""
        return Sweep(
            kind=kind,
            run=self.run.run.name,
            rate=self.rate.name,
            fitting=self.fitting.name,
            size=self.section.label,
            **parts,
        )

    def sections(self) -> tuple[Section, ...]:
        """The run's size, and those nearest to it of its table."""
        typed = next(run for run in self.job.runs if run.name == self.run.run.name)
        own = self.section
        found = {own.nominal: own}
        for nominal in sorted(sizes_offered(typed, self.inputs), key=lambda size: abs(size - own.nominal)):
            size = own.material.size(nominal)
            if size is not None and len(found) < FEW_SIZES:
                found.setdefault(size.nominal, Section(material=own.material, size=size))
        return tuple(found[nominal] for nominal in sorted(found))

    def by_table(self, name: str, section: Section) -> float | None:
        """What the run's table counts one fitting as [m]; None where it says nothing of it.

        In an elbow-count row it is what the first elbow takes off.
        """
        if self.run.table_file is None:
            return None
        stated = self.inputs.tables[self.run.table_file].deductions.get(name)
        length = None if stated is None else stated.at(section.nominal)
        if length is not None and stated is not None and stated.per_two:
            length /= 2
        answer = self.run.table
        if length is None and answer is not None and answer.rows and self._turns_square(name):
            entries = answer.rows[0].allowable_by_elbows or ()
            if len(entries) > 1 and not isinstance(entries[0], str) and not isinstance(entries[1], str):
                return entries[0] - entries[1] if section.nominal == self.section.nominal else None
        return length

    def worth(
        self, *, section: Section | None = None, stream: Stream | None = None, record: FittingRecord | None = None
    ) -> Worth:
        """The straight pipe of its own size that one fitting is worth, K D / f.

        section, stream, record: others than the subject's own.
        """
        section, record = section or self.section, record or self.fitting
        at = section_flow(section, stream or self.stream)
        loss = local_loss(
            record,
            bore=section.bore,
            reynolds=at.reynolds,
            friction_factor=at.friction_factor,
            roughness=section.roughness,
            plastic=section.plastic,
            leaving=self.run.run.carries == "flue gas" if record.kind in ("terminal", "entrance") else None,
        )
        each = at.dynamic_pressure / at.gradient
        return Worth(loss.k * each, loss.k_low * each, loss.k_high * each)

    def _turns_square(self, name: str) -> bool:
        record = self.inputs.catalog.fittings.get(name)
        return record is not None and record.kind == "elbow" and math.isclose(record.angle or 0.0, math.pi / 2)


def subject_of(
    inputs: Inputs,
    *,
    run: str | None = None,
    rate: str | None = None,
    fitting: str | None = None,
) -> Subject:
    """What to sweep.

    run: by name; where not given, the first that carries flue gas, or the first of all.
    rate: by name; where not given, the one at which the run loses most.
    fitting: by name; where not given, the run's first elbow, or a long-turn one.

    Raises InputError for a name that is not there, and where no gas moves.
    """
    whole = check(inputs)
    usual = next((r for r in whole.runs if r.run.carries == "flue gas"), whole.runs[0])
    found = usual if run is None else next((r for r in whole.runs if r.run.name == run), None)
    if found is None:
        names = [r.run.name for r in whole.runs]
        raise InputError(Problem(inputs.file, "", f"there is no run '{run}'", nearest(run or "", names)))
    at = found.worst if rate is None else next((r for r in found.rates if r.name == rate), None)
    if at is None:
        names = [r.name for r in found.rates]
        raise InputError(Problem(inputs.file, "", f"there is no rate '{rate}'", nearest(rate or "", names)))
    if not at.reference.gradient:
        place = f"run '{found.run.name}', {at.name}"
        raise InputError(Problem(inputs.file, place, "no gas moves there", "a rate at which it does"))
    own = next((p.name for p in found.run.pieces if p.kind == "elbow"), USUAL_ELBOW)
    try:
        record = inputs.catalog.fitting(fitting or own)
    except UnknownName as error:
        raise InputError(Problem(inputs.file, "", error.problem, error.expected)) from None
    if record.kind == "size change":
        raise InputError(Problem(inputs.file, "", f"{record.name} has no one size", "an elbow, a tee or an end"))
    return Subject(inputs=inputs, whole=whole, run=found, rate=at, fitting=record)


def scaled(job: Job, factor: float) -> Job:
    """The job with every input times a factor."""
    return with_rates(job, lambda rate: replace(rate, input=rate.input * factor))


def with_rates(job: Job, change: Callable[[Rate], Rate]) -> Job:
    """The job with every firing rate changed."""
    appliances = tuple(replace(a, rates=tuple(change(rate) for rate in a.rates)) for a in job.appliances)
    return replace(job, appliances=appliances)
