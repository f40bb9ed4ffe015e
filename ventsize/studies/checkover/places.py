"""Where a rule of the check-over is asked: the runs, appliances and materials of a job, and what holds there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ventsize.catalog.records import PipeRecord
from ventsize.check.inputs import Inputs
from ventsize.check.result import JobCheck, RunCheck
from ventsize.jobfile import job as typed
from ventsize.studies.checkover.rules import Rule

UPRIGHT = ("up", "down")


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """One place a rule is asked at.

    name: of the run, appliance or material; empty for the job as a whole.
    holds: the conditions that hold there. materials: of all its pipe. power: input of what it serves [W].
    """

    name: str
    holds: frozenset[str] = frozenset()
    materials: tuple[PipeRecord, ...] = ()
    power: float | None = None
    run: RunCheck | None = None
    appliance: typed.Appliance | None = None


def places_of(rule: Rule, inputs: Inputs, checked: JobCheck) -> tuple[Place, ...]:
    """Every place of a job where a rule is asked: those of its kind where its conditions hold."""
    return tuple(place for place in _places(rule.of, inputs, checked) if place.holds.issuperset(rule.where))


def _places(of: str, inputs: Inputs, checked: JobCheck) -> Iterator[Place]:
    if of == "job":
        yield Place(name="")
    elif of == "appliance":
        for appliance in inputs.job.appliances:
            yield _appliance_place(appliance, checked)
    elif of == "material":
        runs = [check.run for check in checked.runs]
        materials = {piece.section.material.name: piece.section.material for run in runs for piece in run.pieces}
        for material in materials.values():
            holds = frozenset({"cemented"} if "cement" in material.joined_by else ())
            yield Place(name=material.name, holds=holds, materials=(material,))
    else:
        for check in checked.runs:
            if _is_of(of, check):
                yield _run_place(check, inputs, checked)


def _is_of(of: str, check: RunCheck) -> bool:
    carries = check.run.carries
    if of == "run" or (of == "vent" and carries == "flue gas") or (of == "air pipe" and carries == "combustion air"):
        return True
    if typed.OUTDOORS not in (check.run.start, check.run.end):
        return False
    return of == "terminal" or (of == "vent terminal") == (carries == "flue gas") and of.endswith("terminal")


def air_pipe_of(appliance: str, checked: JobCheck) -> bool:
    """Whether an appliance has its air through a pipe."""
    return any(check.run.carries == "combustion air" and appliance in check.serves for check in checked.runs)


def _air(appliances: Sequence[str], checked: JobCheck) -> Iterator[str]:
    piped = [air_pipe_of(name, checked) for name in appliances]
    if all(piped):
        yield "two pipes"
    else:
        yield "air from the room"


def _appliance_place(appliance: typed.Appliance, checked: JobCheck) -> Place:
    holds = set(_air([appliance.name], checked))
    if appliance.inducer is None or appliance.inducer.adaptive:  # what is not said is asked
        holds.add("adaptive inducer")
    power = max(rate.input for rate in appliance.rates)
    return Place(name=appliance.name, holds=frozenset(holds), power=power, appliance=appliance)


def _run_place(check: RunCheck, inputs: Inputs, checked: JobCheck) -> Place:
    materials = {piece.section.material.name: piece.section.material for piece in check.run.pieces}
    holds = set(_air(check.serves, checked))
    if len(materials) > 1:
        holds.add("several materials")
    if any("cement" in material.joined_by for material in materials.values()):
        holds.add("cemented")
    if len(check.serves) > 1:
        holds.add("shared vent")
    run = next(run for run in inputs.job.runs if run.name == check.run.name)
    holds |= set(_ways(run))
    return Place(
        name=check.run.name,
        holds=frozenset(holds),
        materials=tuple(materials.values()),
        power=check.input,
        run=check,
    )


def _ways(run: typed.Run) -> Iterator[str]:
    """Which ways its pipes lie; a pipe that does not say may lie either way."""
    if run.pieces is None:
        yield from ("horizontal pipe", "upright pipe")
        return
    for piece in run.pieces:
        if isinstance(piece, typed.PipePiece):
            if piece.heading not in UPRIGHT:
                yield "horizontal pipe"
            if piece.heading in UPRIGHT or (piece.heading is None and piece.rise is None):
                yield "upright pipe"
