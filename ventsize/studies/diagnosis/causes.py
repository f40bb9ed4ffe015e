"""What could be wrong with a vent, each as a change of the model with one size to fit."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from ventsize.gas.constants import WATER_WEIGHT
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.model import Run
from ventsize.studies.diagnosis.result import CauseKind, SizeKind
from ventsize.studies.diagnosis.swapping import Stretch, stretches, swap
from ventsize.studies.readings.model import Change, Model, Swap
from ventsize.studies.readings.narrow import narrow_k
from ventsize.studies.readings.places import AIR, ENDS, FLUE, ordered

OPEN = (0.12, 0.97)  # of the bore; a narrow place
DEEPEST, SHALLOWEST = 0.30, 0.0005  # m, of water standing in a vent
TUBING = 0.12  # m, of water in a switch's tubing
SMALLEST_HOLE, LARGEST_HOLE = 0.003, 0.9  # m, and of the bore
SHARE_OF_PIPE = (0.03, 1.0)
STEEP = 0.7  # of a pipe's length; one that rises more holds no water
RECIRCULATED = (0.01, 0.6)
INPUT, FLOW, WARMTH = (0.6, 1.5), (0.75, 1.35), (-20.0, 50.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """Something that may be wrong, of a size between two bounds.

    change: the model's change at a size. large: a size at which it is well seen. size_kind, of: as in `CauseSize`.
    where: in words. stretch: of wrong size; the size fitted is then the share of the pipe, if any.
    """

    kind: CauseKind
    what: str
    where: str
    run: str | None
    change: Callable[[float], Change]
    bounds: tuple[float, float]
    large: float
    size_kind: SizeKind
    of: float | None = None
    stretch: Stretch | None = None

    @property
    def fixed(self) -> bool:
        """Whether there is nothing to fit."""
        return self.bounds[0] == self.bounds[1]


def suspects(model: Model) -> Iterator[Suspect]:
    """Everything that may be wrong with a job's vents, air pipes and appliance."""
    runs = model.conditions.inputs.graph.runs.values()
    vents = [run for run in runs if run.carries == FLUE]
    for run in vents:
        yield from _narrow_vent(run)
        yield from _water(run)
        yield from _wrong_sizes(run, model)
        yield from _leaks(run)
    for run in runs:
        if run.carries == AIR:
            yield from _narrow_air(run)
    yield from _switch()
    if model.conditions.alone:
        yield from _appliance()
        if any(run.carries == AIR and OUTDOORS in (run.start, run.end) for run in runs):
            yield _recirculation()


def named(run: Run, number: int) -> str:
    """A piece in words."""
    piece = ordered(run)[number]
    if run.counted:
        return f"{'a pipe' if piece.is_pipe else piece.name} of '{run.name}'"
    return f"{piece.place.removeprefix(f'run {run.name!r}, ')} of '{run.name}' ({piece.name})"


def _narrow(run: Run, number: int, kind: CauseKind, what: str, *, at_end: bool = False) -> Suspect:
    bore = ordered(run)[number].section.bore

    def change(open_bore: float) -> Change:
        return Change(narrow=((run.name, number), narrow_k(open_bore=open_bore, bore=bore, at_end=at_end)))

    return Suspect(
        kind=kind,
        what=what,
        where=named(run, number),
        run=run.name,
        change=change,
        bounds=(OPEN[0] * bore, OPEN[1] * bore),
        large=0.5 * bore,
        size_kind="open bore",
        of=bore,
    )


def _narrow_vent(run: Run) -> Iterator[Suspect]:
    pieces = ordered(run)
    end = _outer_end(run)
    if end is not None:
        yield _narrow(run, end, "terminal", f"the terminal of '{run.name}' is partly blocked", at_end=True)
    inner = [n for n, piece in enumerate(pieces) if not piece.is_pipe and piece.kind not in ENDS]
    elbows = [n for n in inner if pieces[n].kind in ("elbow", "tee")] or inner
    for number in elbows or [n for n, piece in enumerate(pieces) if piece.is_pipe]:
        if run.counted and number != (elbows or [0])[0]:
            continue
        yield _narrow(run, number, "inside", f"something narrows '{run.name}' inside")


def _narrow_air(run: Run) -> Iterator[Suspect]:
    what = f"the air pipe '{run.name}' is restricted, not the vent"
    numbers = {0, len(run.pieces) - 1}
    end = _outer_end(run)
    if end is not None:
        numbers.add(end)
    for number in sorted(numbers):
        yield _narrow(run, number, "air pipe", what)


def _outer_end(run: Run) -> int | None:
    """The number of the piece at a run's outdoor end."""
    if OUTDOORS not in (run.start, run.end):
        return None
    return 0 if run.start == OUTDOORS else len(run.pieces) - 1


def _water(run: Run) -> Iterator[Suspect]:
    for number, piece in enumerate(ordered(run)):
        upright = piece.heading in ("up", "down") or abs(piece.rise) > STEEP * piece.length
        if not piece.is_pipe or piece.length == 0.0 or (upright and not run.counted):
            continue

        def change(depth: float, number: int = number) -> Change:
            return Change(water=((run.name, number), WATER_WEIGHT * depth))

        yield Suspect(
            kind="water",
            what=f"water stands in a low spot of '{run.name}'",
            where=named(run, number),
            run=run.name,
            change=change,
            bounds=(SHALLOWEST, DEEPEST),
            large=0.012,
            size_kind="water",
        )


def _wrong_sizes(run: Run, model: Model) -> Iterator[Suspect]:
    for stretch in stretches(run, tuple(model.conditions.inputs.catalog.pipes.values())):
        whole = stretch.part is None
        yield Suspect(
            kind="wrong size",
            what=f"{'all' if stretch.whole else 'part'} of '{run.name}' is other pipe than the job says",
            where=_stretch_named(run, stretch),
            run=run.name,
            change=_always(Change(swaps=_swaps(model, stretch))) if whole else _partly(model, stretch),
            bounds=(1.0, 1.0) if whole else SHARE_OF_PIPE,
            large=1.0,
            size_kind="bore",
            of=ordered(run)[stretch.first].before.bore,
            stretch=stretch,
        )


def _swaps(model: Model, stretch: Stretch) -> tuple[Swap, ...]:
    return tuple(swap(case, stretch) for case in model.cases)


def _partly(model: Model, stretch: Stretch) -> Callable[[float], Change]:
    """A part of a pipe in another size: its loss goes with its length, that of the steps at its ends does not."""
    steps, whole = (_swaps(model, replace(stretch, part=part)) for part in (0.0, 1.0))

    def change(part: float) -> Change:
        mixed = (
            Swap(ratio=none.ratio + part * (all_.ratio - none.ratio), steps=none.steps, dynamic=none.dynamic)
            for none, all_ in zip(steps, whole, strict=True)
        )
        return Change(swaps=tuple(mixed))

    return change


def _stretch_named(run: Run, stretch: Stretch) -> str:
    here = ordered(run)[stretch.first].before
    other = stretch.section
    size = f"in {other.label}" if other.material is here.material else f"in {other.label} {other.material.title}"
    if stretch.whole:
        return f"all of '{run.name}' {size}, fittings and all"
    if run.counted:
        return f"the straight pipe of '{run.name}' {size}"
    first, last = named(run, stretch.first), named(run, stretch.last)
    if stretch.first == stretch.last:
        return f"{first} {size}"
    return f"{first.split(' of ')[0]} to {last} {size}"


def _always(change: Change) -> Callable[[float], Change]:
    return lambda _: change


def _leaks(run: Run) -> Iterator[Suspect]:
    pieces = ordered(run)
    outer = _outer_end(run)
    behind = range(1, len(pieces)) if not run.counted else (len(pieces) // 2 or 1,)
    for position in behind:
        if outer is not None and position == (1 if outer == 0 else len(pieces) - 1) and len(pieces) > 2:
            continue  # at the terminal itself it is no leak
        bore = pieces[position - 1].after.bore

        def change(hole: float, position: int = position) -> Change:
            return Change(hole=(run.name, position, math.pi * hole**2 / 4.0))

        yield Suspect(
            kind="leak",
            what=f"flue gas leaves '{run.name}' before its terminal",
            where=f"somewhere along '{run.name}'" if run.counted else f"behind {named(run, position - 1)}",
            run=run.name,
            change=change,
            bounds=(SMALLEST_HOLE, LARGEST_HOLE * bore),
            large=0.4 * bore,
            size_kind="hole",
            of=bore,
        )


def _recirculation() -> Suspect:
    return Suspect(
        kind="recirculation",
        what="flue gas gets back into the air inlet",
        where="between terminal and inlet",
        run=None,
        change=lambda share: Change(recirculated=share),
        bounds=RECIRCULATED,
        large=0.15,
        size_kind="share",
    )


def _switch() -> Iterator[Suspect]:
    what = "the pressure switch's tubing or ports, not the pipe"
    yield Suspect(
        kind="switch",
        what=what,
        where="tubing or ports that leak or are partly plugged",
        run=None,
        change=lambda lost: Change(felt=1.0 - lost),
        bounds=(0.01, 0.99),
        large=0.3,
        size_kind="share",
    )
    for sign, where in ((1.0, "water in the tubing"), (-1.0, "water in the tubing of the low side")):
        yield Suspect(
            kind="switch",
            what=what,
            where=where,
            run=None,
            change=_in_tubing(sign),
            bounds=(0.0005, TUBING),
            large=0.02,
            size_kind="water",
        )


def _in_tubing(sign: float) -> Callable[[float], Change]:
    return lambda depth: Change(standing=sign * WATER_WEIGHT * depth)


def _appliance() -> Iterator[Suspect]:
    what = "the appliance does not run as the job says (the pipe may be right)"
    forms: tuple[tuple[str, Callable[[float], Change], tuple[float, float], float, SizeKind], ...] = (
        ("its input (gas pressure, orifice)", lambda share: Change(input=share), INPUT, 1.2, "share"),
        ("how much gas it moves (inducer, air setting)", lambda share: Change(flow=share), FLOW, 1.2, "share"),
        ("its flue gas temperature (what it heats)", lambda warmth: Change(warmth=warmth), WARMTH, 30.0, "temperature"),
    )
    for where, change, bounds, large, size_kind in forms:
        yield Suspect(
            kind="appliance",
            what=what,
            where=where,
            run=None,
            change=change,
            bounds=bounds,
            large=large,
            size_kind=size_kind,
        )
