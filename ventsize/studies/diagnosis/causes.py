"""What could be wrong with a vent, each as a change of the model with one size to fit."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from ventsize.gas.constants import WATER_WEIGHT
from ventsize.jobfile.job import OUTDOORS
from ventsize.run.model import Run
from ventsize.studies.diagnosis.result import CauseKind, Form, Part, SizeKind
from ventsize.studies.diagnosis.swapping import Stretch, stretches, swap
from ventsize.studies.readings.model import Change, Model, Swap
from ventsize.studies.readings.narrow import narrow_k, puddle_k
from ventsize.studies.readings.places import AIR, ENDS, FLUE, ordered

# How large things may be, where a burner still runs and somebody would notice: judgement, no source.
OPEN = (0.25, 0.90)  # of the bore; a narrow place
PUDDLE = (0.40, 0.90)  # of the bore, deep; less costs little, gas drives more along
OPEN_ABOVE = 0.75  # of standing water, how much leaves the gas a way: a sag seldom fills to its top
CLOSED = (0.0025, 0.020)  # m of water, the difference of two levels; less would not be pushed aside, more blows through
TUBING = 0.12  # m, of water in a switch's tubing
HOLE = (0.10, 0.90)  # of the bore; a smaller one shows in no reading
SHARE_OF_PIPE = (0.03, 1.0)
ALL_OTHER = 0.5  # how likely a run is all of another size or material, beside some of its pipe: one marking shows it
LONGER = (0.10, 1.25)  # of all the run's straight pipe, that one of its pipes is longer
MOST_ELBOWS = 4.0  # more than the job says, of a kind it has
STEEP = 0.7  # of a pipe's length; one that rises more holds no water
RECIRCULATED = (0.01, 0.6)
INPUT, FLOW, WARMTH = (0.6, 1.5), (0.75, 1.35), (-20.0, 50.0)
ROOM, WIND = (-40.0, 15.0), (-60.0, 80.0)  # Pa


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """Something that may be wrong, of a size between two bounds.

    form: which way of its kind. part: where. change: the model's change at a size. large: a size at which it is well
    seen. size_kind, of: as in `CauseSize`. stretch: of wrong size; the size fitted is then the share of the pipe.
    likely: how likely beforehand beside the others of its kind [-].
    """

    kind: CauseKind
    form: Form
    part: Part
    change: Callable[[float], Change]
    bounds: tuple[float, float]
    large: float
    size_kind: SizeKind
    of: float | None = None
    stretch: Stretch | None = None
    likely: float = 1.0

    @property
    def run(self) -> str | None:
        """The run it is in; None for what is in no pipe."""
        return self.part.run

    @property
    def fixed(self) -> bool:
        """Whether there is nothing to fit."""
        return self.bounds[0] == self.bounds[1]


def suspects(model: Model) -> Iterator[Suspect]:
    """Everything that may be wrong with a job's vents, air pipes and appliance, and around the house."""
    runs = model.conditions.inputs.graph.runs.values()
    vents = [run for run in runs if run.carries == FLUE]
    for run in vents:
        yield from _narrow_vent(run)
        yield from _water(run)
        yield from _longer(run)
        yield from _wrong_sizes(run, model)
        yield from _leaks(run)
    for run in runs:
        if run.carries == AIR:
            yield from _narrow_air(run)
    yield from _switch()
    yield from _outside(two_pipe=any(run.carries == AIR for run in runs))
    if model.conditions.alone:
        yield from _appliance()
        if any(run.carries == AIR and OUTDOORS in (run.start, run.end) for run in runs):
            yield _recirculation()


def part_of(run: Run, first: int, last: int | None = None, *, whole: bool = False, behind: bool = False) -> Part:
    """Some pieces of a run, by their numbers among its `ordered` ones."""
    pieces = ordered(run)
    one, other = pieces[first], pieces[first if last is None else last]
    return Part(
        run=run.name,
        counted=run.counted,
        first=one.number,
        last=other.number,
        name=one.name,
        last_name=other.name,
        pipe=one.is_pipe,
        whole=whole,
        behind=behind,
    )


def _narrow(run: Run, number: int, kind: CauseKind, form: Form, *, at_end: bool = False) -> Suspect:
    bore = ordered(run)[number].section.bore

    def change(open_bore: float) -> Change:
        return Change(narrow=(((run.name, number), narrow_k(open_bore=open_bore, bore=bore, at_end=at_end)),))

    return Suspect(
        kind=kind,
        form=form,
        part=part_of(run, number),
        change=change,
        bounds=(OPEN[0] * bore, OPEN[1] * bore),
        large=0.5 * bore,
        size_kind="open bore",
        of=bore,
    )


def _narrow_vent(run: Run) -> Iterator[Suspect]:
    end = _outer_end(run)
    if end is not None:
        yield _narrow(run, end, "terminal", "terminal-blocked", at_end=True)
    for number in _where_it_narrows(run):
        yield _narrow(run, number, "inside", "narrowed-inside")


def _narrow_air(run: Run) -> Iterator[Suspect]:
    """At its ends, where leaves and frost lie, and wherever it may narrow between them."""
    for number in sorted({0, *_where_it_narrows(run), len(run.pieces) - 1}):
        yield _narrow(run, number, "air pipe", "air-restricted")


def _where_it_narrows(run: Run) -> list[int]:
    """Its elbows and tees; other fittings, then pipe, where it has none. Of a counted run one stands for all."""
    pieces = ordered(run)
    inner = [n for n, piece in enumerate(pieces) if not piece.is_pipe and piece.kind not in ENDS]
    elbows = [n for n in inner if pieces[n].kind in ("elbow", "tee")] or inner
    places = elbows or [n for n, piece in enumerate(pieces) if piece.is_pipe]
    return places[:1] if run.counted else places


def _outer_end(run: Run) -> int | None:
    """The number of the piece at a run's outdoor end."""
    if OUTDOORS not in (run.start, run.end):
        return None
    return 0 if run.start == OUTDOORS else len(run.pieces) - 1


def _water(run: Run) -> Iterator[Suspect]:
    """A puddle narrows a level pipe; a bore that water closes holds the difference of its two levels."""
    for number, piece in enumerate(ordered(run)):
        upright = piece.heading in ("up", "down") or abs(piece.rise) > STEEP * piece.length
        if not piece.is_pipe or piece.length == 0.0 or (upright and not run.counted):
            continue
        key, bore = (run.name, number), piece.section.bore

        def puddle(deep: float, key: tuple[str, int] = key, bore: float = bore) -> Change:
            return Change(narrow=((key, puddle_k(deep / bore)),))

        def closed(levels: float, key: tuple[str, int] = key) -> Change:
            return Change(closed=((key, WATER_WEIGHT * levels),))

        part = part_of(run, number)
        yield Suspect(
            kind="water", form="water-puddle", part=part, change=puddle, bounds=(PUDDLE[0] * bore, PUDDLE[1] * bore),
            large=0.75 * bore, size_kind="water", of=bore, likely=OPEN_ABOVE,
        )  # fmt: skip
        yield Suspect(
            kind="water", form="water-closed", part=part, change=closed, bounds=CLOSED,
            large=0.012, size_kind="water", likely=1.0 - OPEN_ABOVE,
        )  # fmt: skip


def _longer(run: Run) -> Iterator[Suspect]:
    """More feet in one of its pipes, or more elbows of a kind it has."""
    pieces = ordered(run)
    straight = math.fsum(piece.length for piece in pieces)
    elbows: set[str] = set()
    for number, piece in enumerate(pieces):
        key = (run.name, number)
        if piece.is_pipe and piece.length > 0.0:

            def more(length: float, key: tuple[str, int] = key, own: float = piece.length) -> Change:
                return Change(longer=((key, length / own),))

            bounds = (LONGER[0] * straight, LONGER[1] * straight)
            yield Suspect(
                kind="longer", form="longer-pipe", part=part_of(run, number), change=more, bounds=bounds,
                large=0.5 * straight, size_kind="length", of=straight,
            )  # fmt: skip
        elif piece.kind == "elbow" and (not run.counted or piece.name not in elbows):
            elbows.add(piece.name)

            def again(count: float, key: tuple[str, int] = key) -> Change:
                return Change(longer=((key, count),))

            yield Suspect(
                kind="longer", form="more-elbows", part=part_of(run, number), change=again, bounds=(0.5, MOST_ELBOWS),
                large=3.0, size_kind="count",
            )  # fmt: skip


def _wrong_sizes(run: Run, model: Model) -> Iterator[Suspect]:
    for stretch in stretches(run, tuple(model.conditions.inputs.catalog.pipes.values())):
        whole = stretch.part is None
        here, other = ordered(run)[stretch.first].before, stretch.section
        part = replace(
            part_of(run, stretch.first, stretch.last, whole=stretch.whole),
            size=other.label,
            material="" if other.material is here.material else other.material.title,
        )
        yield Suspect(
            kind="wrong size",
            form="other-pipe",
            part=part,
            change=_always(Change(swaps=_swaps(model, stretch))) if whole else _partly(model, stretch),
            bounds=(1.0, 1.0) if whole else SHARE_OF_PIPE,
            large=1.0,
            size_kind="bore",
            of=here.bore,
            stretch=stretch,
            likely=ALL_OTHER if stretch.whole else 1.0,
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
            form="leak",
            part=part_of(run, position - 1, behind=True),
            change=change,
            bounds=(HOLE[0] * bore, HOLE[1] * bore),
            large=0.4 * bore,
            size_kind="hole",
            of=bore,
        )


def _elsewhere(
    kind: CauseKind,
    form: Form,
    change: Callable[[float], Change],
    bounds: tuple[float, float],
    large: float,
    size: SizeKind,
) -> Suspect:
    """Something that is in no pipe."""
    return Suspect(kind=kind, form=form, part=Part(), change=change, bounds=bounds, large=large, size_kind=size)


def _recirculation() -> Suspect:
    return _elsewhere(
        "recirculation", "recirculation", lambda share: Change(recirculated=share), RECIRCULATED, 0.15, "share"
    )


def _switch() -> Iterator[Suspect]:
    yield _elsewhere("switch", "switch-tubing", lambda lost: Change(felt=1.0 - lost), (0.01, 0.99), 0.3, "share")
    for sign, form in _TUBING.items():
        yield _elsewhere("switch", form, _in_tubing(sign), (0.0005, TUBING), 0.02, "water")


_TUBING: dict[float, Form] = {1.0: "switch-water", -1.0: "switch-water-low-side"}


def _in_tubing(sign: float) -> Callable[[float], Change]:
    return lambda depth: Change(standing=sign * WATER_WEIGHT * depth)


def _outside(*, two_pipe: bool) -> Iterator[Suspect]:
    """A room off the pressure of the open air, and wind at an end: as much at every rate."""
    yield _elsewhere("room pressure", "room-pressure", lambda room: Change(room=room), ROOM, -15.0, "pressure")
    yield _elsewhere("wind", "wind-at-terminal", lambda wind: Change(at_vent=wind), WIND, 30.0, "pressure")
    if two_pipe:
        yield _elsewhere("wind", "wind-at-inlet", lambda wind: Change(at_air=wind), WIND, 30.0, "pressure")


def _appliance() -> Iterator[Suspect]:
    yield _elsewhere("input", "input", lambda share: Change(input=share), INPUT, 1.2, "share")
    yield _elsewhere("appliance", "flow", lambda share: Change(flow=share), FLOW, 1.2, "share")
    yield _elsewhere("appliance", "warmth", lambda warmth: Change(warmth=warmth), WARMTH, 30.0, "temperature")
