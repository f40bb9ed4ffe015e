"""Up to six jobs side by side: in what they differ, what each loses and where, and what made the difference."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ventsize.check.inputs import Inputs
from ventsize.check.rate import RunRate
from ventsize.check.result import JobCheck, RunCheck
from ventsize.check.verdict import check
from ventsize.finding import Finding, Outcome, Verdict, Where
from ventsize.jobfile.document import nearest
from ventsize.jobfile.problems import InputError, Problem
from ventsize.studies.comparing.differences import differences
from ventsize.studies.comparing.parts import Part, losses_of, parts
from ventsize.studies.profile import loss_along

MOST = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """One of the jobs set side by side, the run compared at the rate compared.

    margin: length left by the table [m]. losses: by kind of piece [Pa]. points: loss still ahead along the pipe
    [m, Pa]. differences: in what it differs from the first. parts: what made its loss another than the first's.
    """

    name: str
    title: str
    verdict: Verdict
    decides: Outcome
    margin: float | None
    rate: str
    flow: float
    velocity: float
    reynolds: float
    pressure_drop: float
    pressure_drop_low: float
    pressure_drop_high: float
    equivalent_length: float | None
    budget_pressure: float | None
    straight_length: float
    losses: tuple[tuple[str, float], ...]
    points: tuple[tuple[float, float], ...]
    differences: tuple[Finding, ...] = ()
    parts: tuple[Part, ...] = ()

    @property
    def together(self) -> float:
        """What all its parts make together [Pa]."""
        return math.fsum(part.pressure for part in self.parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Jobs side by side. run: the run of the first that is compared."""

    run: str
    compared: tuple[Compared, ...]
    findings: tuple[Finding, ...]


def compare(jobs: Sequence[tuple[str, Inputs]], *, run: str | None = None, rate: str | None = None) -> Comparison:
    """Jobs side by side, each against the first.

    jobs: two to six, each with the name it goes by.
    run: of the first job, by name; where not given, the first that carries flue gas.
    rate: by name; where not given, that at which each run loses most.

    Raises InputError for fewer or more, for a name that is not there, and for a job without a run to compare.
    """
    if not 2 <= len(jobs) <= MOST:
        problem = f"{len(jobs)} job{'s' if len(jobs) != 1 else ''} to set side by side"
        raise InputError(Problem(jobs[0][1].file if jobs else "", "", problem, "two to six"))
    checks = [check(inputs) for _, inputs in jobs]
    base = _run_of(checks[0], jobs[0][1], run, None)
    runs = [base, *(_run_of(c, i, None, base) for c, (_, i) in zip(checks[1:], jobs[1:], strict=True))]
    rates = [_rate_of(found, inputs, rate) for found, (_, inputs) in zip(runs, jobs, strict=True)]
    first = _compared(jobs[0][0], checks[0], runs[0], rates[0])
    rest = [_against(jobs, checks, runs, rates, number) for number in range(1, len(jobs))]
    return Comparison(run=base.run.name, compared=(first, *rest), findings=_findings(rates))


def _run_of(found: JobCheck, inputs: Inputs, name: str | None, like: RunCheck | None) -> RunCheck:
    """The run to compare: by name, or like that of the first job."""
    names = [r.run.name for r in found.runs]
    if name is not None and name not in names:
        raise InputError(Problem(inputs.file, "", f"there is no run '{name}'", nearest(name, names)))
    if like is not None and like.run.name in names:
        name = like.run.name
    carries = like.run.carries if like is not None else "flue gas"
    chosen = [r for r in found.runs if r.run.name == name] or [r for r in found.runs if r.run.carries == carries]
    if not chosen and like is None:
        chosen = list(found.runs)
    if not chosen or (like is not None and name is None and len(chosen) > 1):
        problem = f"no run of it can be told to be the one to set beside '{like.run.name if like else ''}'"
        raise InputError(Problem(inputs.file, "", problem, "a run of the same name"))
    return chosen[0]


def _rate_of(found: RunCheck, inputs: Inputs, name: str | None) -> RunRate:
    if name is None:
        return found.worst
    at = next((rate for rate in found.rates if rate.name == name), None)
    if at is None:
        names = [rate.name for rate in found.rates]
        raise InputError(Problem(inputs.file, "", f"there is no rate '{name}'", nearest(name, names)))
    return at


def _compared(name: str, whole: JobCheck, found: RunCheck, at: RunRate) -> Compared:
    flow = at.flow
    first = flow.at(found.run.first_section)
    return Compared(
        name=name,
        title=whole.title,
        verdict=found.verdict,
        decides=found.decides,
        margin=found.margin,
        rate=at.name,
        flow=flow.stream.volume_flow,
        velocity=first.velocity,
        reynolds=first.reynolds,
        pressure_drop=flow.pressure_drop,
        pressure_drop_low=flow.pressure_drop_low,
        pressure_drop_high=flow.pressure_drop_high,
        equivalent_length=at.equivalent_length,
        budget_pressure=at.budget_pressure,
        straight_length=found.run.straight_length,
        losses=tuple(losses_of(at).items()),
        points=loss_along(at).points,
    )


def _against(
    jobs: Sequence[tuple[str, Inputs]],
    checks: Sequence[JobCheck],
    runs: Sequence[RunCheck],
    rates: Sequence[RunRate],
    number: int,
) -> Compared:
    (_, base), (name, other) = jobs[0], jobs[number]
    ends = {"run": runs[0].run.name, "other_run": runs[number].run.name}
    return replace(
        _compared(name, checks[number], runs[number], rates[number]),
        differences=differences(base, other, **ends),
        parts=parts(base, other, **ends, before=rates[0], after=rates[number]),
    )


def _findings(rates: Sequence[RunRate]) -> tuple[Finding, ...]:
    """What the methods of the losses say of themselves, each once."""
    pieces = {code: piece.piece.name for rate in rates for piece in rate.flow.pieces for code in piece.codes}
    return tuple(Finding(code, Where(), {"pieces": (name,)}) for code, name in pieces.items())


__all__ = ["MOST", "Compared", "Comparison", "Part", "compare"]
