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
from ventsize.quantity import System, show_pressure
from ventsize.studies.comparing.differences import differences
from ventsize.studies.comparing.parts import PIECES, Part, losses_of, parts
from ventsize.studies.profile import loss_along

MOST = 6
ALIKE = 1e-6  # of the loss; nearer than this two runs lose the same
WORTH_SAYING = 0.02  # of the largest share; less is left to the list


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """One of the jobs set side by side, the run compared at the rate compared.

    margin: length left by the table [m]. losses: by kind of piece [Pa]. points: loss still ahead along the pipe
    [m, Pa]. differences: in what it differs from the first. parts: what made its loss another than the first's.
    said: that in a sentence.
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
    differences: tuple[str, ...] = ()
    parts: tuple[Part, ...] = ()
    said: str = ""

    @property
    def together(self) -> float:
        """What all its parts make together [Pa]."""
        return math.fsum(part.pressure for part in self.parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Jobs side by side. run: the run of the first that is compared."""

    run: str
    compared: tuple[Compared, ...]
    cautions: tuple[str, ...]
    findings: tuple[Finding, ...]


def compare(
    jobs: Sequence[tuple[str, Inputs]], *, run: str | None = None, rate: str | None = None, system: System = System.US
) -> Comparison:
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
    rest = [_against(jobs, checks, runs, rates, number, system) for number in range(1, len(jobs))]
    return Comparison(run=base.run.name, compared=(first, *rest), cautions=_cautions(rates), findings=_findings(rates))


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
    system: System,
) -> Compared:
    (base_name, base), (name, other) = jobs[0], jobs[number]
    plain = _compared(name, checks[number], runs[number], rates[number])
    ends = {"run": runs[0].run.name, "other_run": runs[number].run.name}
    told = differences(base, other, **ends, system=system)
    shares = parts(base, other, **ends, before=rates[0], after=rates[number])
    before = rates[0].flow.pressure_drop
    said = _sentence(base_name, plain, before, told, shares, system)
    return replace(plain, differences=told, parts=shares, said=said)


def _sentence(
    base: str, other: Compared, before: float, told: tuple[str, ...], shares: tuple[Part, ...], system: System
) -> str:
    """What made the difference."""
    name, apart = other.name, other.pressure_drop - before
    if not told:
        return f"{name} is {base}: nothing differs."
    if not math.isfinite(apart):
        return f"{name} cannot be set beside {base}: a loss could not be computed."
    if abs(apart) <= ALIKE * max(before, other.pressure_drop):
        return f"{name} loses as much as {base}: {'; '.join(told)} makes no difference to the loss."
    more = "more" if apart > 0 else "less"
    times = f", {other.pressure_drop / before:.2f} times as much" if before > 0 else ""
    loses = f"{name} loses {show_pressure(abs(apart), system)} {more} than {base}{times}"
    if len(told) == len(shares) == 1 and shares[0].name != PIECES:
        return f"{loses}: all of it from {told[0]}."
    causes = [share for share in shares if abs(share.pressure) >= WORTH_SAYING * abs(shares[0].pressure)]
    return f"{loses}: {', '.join(_cause(share, system) for share in causes)}".rstrip(".") + "."


def _cause(part: Part, system: System) -> str:
    does = ("add" if part.pressure > 0 else "take off") if part.name == PIECES else _DOES[part.pressure > 0]
    said = f"{part.name} {does} {show_pressure(abs(part.pressure), system)}"
    pieces = sorted(part.by_piece, key=lambda pair: -abs(pair[1]))
    shown = [pair for pair in pieces if abs(pair[1]) >= WORTH_SAYING * abs(pieces[0][1]) and pair[1]]
    if part.name != PIECES or not shown:
        return said
    inside = [
        f"{name} {'+' if pressure > 0 else '−'}{show_pressure(abs(pressure), system)}" for name, pressure in shown
    ]
    return f"{said} ({', '.join(inside)})"


_DOES = {True: "adds", False: "takes off"}


def _cautions(rates: Sequence[RunRate]) -> tuple[str, ...]:
    said = ["what a change makes is the mean over every order in which the changes could be made; together they are "
            "the whole difference"]  # fmt: skip
    if len({rate.name for rate in rates}) > 1:
        said.append("the runs are compared at rates of different names: " + ", ".join(rate.name for rate in rates))
    return tuple(said)


def _findings(rates: Sequence[RunRate]) -> tuple[Finding, ...]:
    """What the methods of the losses say of themselves, each once."""
    pieces = {code: piece.piece.name for rate in rates for piece in rate.flow.pieces for code in piece.codes}
    return tuple(Finding(code, Where(), {"pieces": (name,)}) for code, name in pieces.items())


__all__ = ["MOST", "Compared", "Comparison", "Part", "compare"]
