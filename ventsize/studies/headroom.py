"""Headroom: what is left of a run's allowance, in length and in fittings, and the chart it is read from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from ventsize.allowance.elbows import elbows_of
from ventsize.check.counting import counted
from ventsize.check.inputs import Inputs
from ventsize.check.result import RunCheck
from ventsize.check.variants import Variants
from ventsize.finding import Outcome, Verdict
from ventsize.jobfile.job import Run
from ventsize.studies.altering import changes
from ventsize.studies.options.choices import sizes_offered

MOST_ELBOWS = 12  # on the chart, unless the run itself has more
MOST_MORE = 50  # fittings more that are tried


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """How many more of one fitting would still leave the run within."""

    fitting: str
    more: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """Straight pipe allowed with so many elbows [m]: by the table, and by calculation at the allowance pressure.

    None where the table permits none, does not cover it, or nothing is left.
    """

    elbows: int
    by_table: float | None
    by_calculation: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One size's allowed straight length against the number of elbows. size: [m]."""

    size: float
    label: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Headroom:
    """What is left for one run.

    left: of the table's allowance [m], negative where over. left_by_calculation: straight pipe that the pressure
    left would carry, at the rate that leaves the least [m].
    elbow: the elbow that the chart counts. straight, elbows: where this run stands on it [m], [-].
    """

    run: str
    verdict: Verdict
    decides: Outcome
    left: float | None
    left_by_calculation: float | None
    rooms: tuple[Room, ...]
    elbow: str
    straight: float
    elbows: int
    lines: tuple[Line, ...]


def headroom(inputs: Inputs, *, elbow: str | None = None) -> Iterator[Headroom]:
    """Every run's headroom, run by run.

    elbow: the fitting that the chart counts; without it the run's own most common 90° elbow, or the long one.
    """
    variants = Variants(inputs)
    for checked in variants.judge({}).runs:
        run = next(run for run in inputs.job.runs if run.name == checked.run.name)
        yield _headroom(inputs, variants, run, checked, elbow)


def _headroom(inputs: Inputs, variants: Variants, run: Run, checked: RunCheck, elbow: str | None) -> Headroom:
    names = [p.name for p in checked.run.pieces if changes.is_right_angle(p.name, inputs.catalog)]
    counts = elbow or max(dict.fromkeys(names), key=names.count, default="elbow-90-long")
    turns = _turns(inputs, checked, names)
    return Headroom(
        run=run.name,
        verdict=checked.verdict,
        decides=checked.decides,
        left=checked.margin,
        left_by_calculation=_least_spare(checked),
        rooms=tuple(_rooms(inputs, variants, run, checked)),
        elbow=counts,
        straight=checked.run.straight_length,
        elbows=turns,
        lines=tuple(_lines(inputs, variants, run, counts, max(MOST_ELBOWS, turns))),
    )


def _least_spare(checked: RunCheck) -> float | None:
    spare = [rate.spare_length for rate in checked.rates]
    known = [length for length in spare if length is not None]
    return min(known) if known and len(known) == len(spare) else None


def _turns(inputs: Inputs, checked: RunCheck, right_angles: list[str]) -> int:
    """Where the run stands on the chart: its elbows as an elbow-count row counts them, else its 90° ones."""
    table = checked.table
    if table is not None and table.elbows is not None and checked.table_file is not None:
        own = counted(checked.run, outward=inputs.graph.leads_out(checked.run))
        return elbows_of(inputs.tables[checked.table_file], own)
    return len(right_angles)


def _rooms(inputs: Inputs, variants: Variants, run: Run, checked: RunCheck) -> Iterator[Room]:
    """Each kind of elbow, and how many more of it would fit."""
    if checked.verdict != "within":
        return
    own = [piece.name for piece in checked.run.pieces if piece.kind == "elbow"]
    for name in dict.fromkeys([*own, "elbow-90-long", "elbow-90-short", "elbow-45"]):
        if name not in inputs.catalog.fittings:
            continue
        more = 0
        while more < MOST_MORE:
            judged = variants.judge({run.name: changes.with_more(run, {name: more + 1})}).run(run.name)
            if judged is None or judged.verdict != "within":
                break
            more += 1
        if more or _counts(variants, run, name):
            yield Room(fitting=name, more=more)


def _counts(variants: Variants, run: Run, name: str) -> bool:
    """Whether the table can say anything of one more: it is over with it, not short of an entry."""
    judged = variants.judge({run.name: changes.with_more(run, {name: 1})}).run(run.name)
    return judged is not None and judged.verdict == "over"


def _lines(inputs: Inputs, variants: Variants, run: Run, elbow: str, most: int) -> Iterator[Line]:
    for size in sizes_offered(run, inputs):
        made = inputs.catalog.pipe(run.material).size(size)
        points = tuple(_point(inputs, variants, run, size, elbow, count) for count in range(most + 1))
        yield Line(size=size, label=made.label if made else "", points=points)


def _point(inputs: Inputs, variants: Variants, run: Run, size: float, elbow: str, count: int) -> Point:
    """A run of this size with no straight pipe, so many elbows, and its own other fittings: what is left is pipe."""
    fittings = {name: n for name, n in _others(inputs, run).items() if n}
    if count:
        fittings[elbow] = fittings.get(elbow, 0) + count
    bare = replace(run, size=size, pieces=None, straight=0.0, rise=0.0, fittings=fittings)
    checked = variants.judge({run.name: bare}).run(run.name)
    if checked is None or checked.table is None or checked.table.equivalent_length is None:
        return Point(elbows=count, by_table=None, by_calculation=None)
    return Point(elbows=count, by_table=_positive(checked.margin), by_calculation=_positive(_least_spare(checked)))


def _others(inputs: Inputs, run: Run) -> dict[str, int]:
    """A run's fittings that are neither elbows nor changes of size."""
    counts: dict[str, int] = dict(run.fittings or {})
    for piece in run.pieces or ():
        name = getattr(piece, "fitting", None)
        if name is not None:
            counts[name] = counts.get(name, 0) + 1
    kinds = {name: inputs.catalog.fittings[name].kind for name in counts}
    return {name: count for name, count in counts.items() if kinds[name] not in ("elbow", "size change")}


def _positive(length: float | None) -> float | None:
    return None if length is None or length < 0.0 else length
