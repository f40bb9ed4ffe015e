"""The study of condensate, as text and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from ventsize.finding import Where
from ventsize.flow.cooling import Point as Place
from ventsize.quantity import (
    Dimension,
    System,
    display_unit,
    display_value,
    show_condensate,
    show_feet,
    show_length,
    show_pressure,
)
from ventsize.report.chart import Line, Point, line_chart
from ventsize.report.keys import Keys, keyed
from ventsize.report.text_parts import WIDTH, as_text, head, indented, sentences, table
from ventsize.report.wording import place_of, say_all
from ventsize.run.slope import LowSpot, PieceSlope, RunSlope
from ventsize.studies.condensate import Condensate, Filling, RateWater, TrapRate

CHART_HEIGHT = 10


def fall_chart(run: RunSlope, system: System, *, width: int, height: int) -> list[str]:
    """How a vent lies away from the appliance, a step for each pipe; low spots marked below."""
    if not run.pieces:
        return ["how this run lies is not known"]

    def point(distance: float, elevation: float) -> Point:
        x, y = (display_value(value, Dimension.LENGTH, system) for value in (distance, elevation))
        return x, y

    last = run.pieces[-1]
    lies = [point(p.distance, p.elevation) for p in run.pieces]
    lies.append(point(last.distance + last.length, last.elevation + last.rise))
    spots = [(display_value(spot.distance, Dimension.LENGTH, system), "▲") for spot in run.low_spots]
    unit = display_unit(Dimension.LENGTH, system)
    lines = [Line(name="vent", points=lies)]
    chart = line_chart(lines, width=width, height=height - 1, across=unit, up=f"height, {unit}", places=spots)
    marked = "   ▲ low spot" if spots else ""
    said = "from the appliance to the far end, drawn taller than it is"
    if not run.known:
        said = "away from the appliance, drawn taller; level where no rise is given"
    return [*chart, f"{said}{marked}"[:width]]


def water_in_short(points: Sequence[Place], lies: RunSlope | None, system: System) -> str:
    """How much water condenses along a run, from where on, and where it stands.

    points: along the gas's way. lies: how a vent falls; None for an air run.
    """
    if not points or points[-1].condensate <= 0.0:
        return "no water condenses"
    start = max((point.distance for point in points if point.condensate <= 0.0), default=0.0)
    place = f"from {show_feet(start, system)} on" if start else "from the start on"
    said = f"{show_condensate(points[-1].condensate, system)} of water condenses {place}"
    spots = [place_of(Where(piece=spot.piece)) for spot in (lies.low_spots if lies else ()) if not spot.drained]
    if spots:
        return f"{said}; it stands at {' and '.join(spots)}"
    if lies is None or not lies.known:
        return f"{said}; its way back is not known"
    if lies.runs_out:
        return f"{said}; it runs out at the far end"
    enough = all(piece.enough for piece in lies.pieces)
    return f"{said}; {'it runs back' if enough else 'a pipe falls too little to lead it back'}"


def figures(study: Condensate, system: System) -> Iterator[str]:
    """Water at each rate, how each pipe falls, the traps."""
    for rate in study.rates:
        parts = ", ".join(f"{name} {show_condensate(water, system)}" for name, water in (*rate.appliances, *rate.runs))
        said = f"{rate.rate}: {show_condensate(rate.total, system)} ({parts})"
        yield from indented(said, "  ", "    ")
    yield ""
    columns = (("pipe, away from the appliance", 30), ("length", 11), ("rises", 11), ("needs*", 11), ("", 12))
    rows = [
        (
            _pipe(p),
            show_length(p.length, system),
            show_length(p.rise, system) if p.known else "not given",
            show_length(p.needed, system),
            "TOO LITTLE" if p.enough is False else "",
        )
        for run in study.runs
        for p in run.pieces
    ]
    yield from table(columns, rows)
    yield "  * 1/4 in per foot, back to the appliance (common practice)"
    for trap in study.traps:
        seal = "not given" if trap.seal is None else show_length(trap.seal, system)
        needs = show_length(trap.seal_needed, system)
        pressure = show_pressure(max(trap.static_pressure, trap.without_draft), system)
        yield f"  trap at {_drain(trap)}, {trap.where.rate}: {pressure}, needs {needs}, has {seal}"
    if study.traps:
        yield "  (against the room where the job states its pressure, else still air outdoors)"
    for spot in study.fillings:
        what = "closed by water" if spot.spot.blocks else "full"
        text = f"low spot at {_pipe(spot.spot)}, {spot.rate}: {what} after {spot.time / 3600.0:.2g} h of firing"
        yield from indented(f"{text} at the soonest, if all the water of its run stays there", "  ", "    ")


def _pipe(at: PieceSlope | LowSpot) -> str:
    return place_of(Where(run=at.run, piece=at.piece))


def _drain(trap: TrapRate) -> str:
    return trap.where.appliance or f"drain at {place_of(replace(trap.where, rate=None))}"


@as_text
def render(study: Condensate, system: System) -> Iterator[str]:
    """The answer in lines of 80 columns."""
    yield from head("Condensate")
    yield from figures(study, system)
    for run in study.runs:
        if run.pieces:
            yield ""
            yield f"  {run.run}"
            yield from fall_chart(run, system, width=WIDTH, height=CHART_HEIGHT)
    yield from sentences("What to look at", say_all(study.findings, system))
    yield from sentences(
        "Cautions",
        (
            "the fall of 1/4 in per foot and the half inch of margin over the trap's seal are common practice, without "
            "a source; EN 14471 asks 3 degrees of plastic flues; the maker's instructions decide",
            *say_all(study.cautions, system),
        ),
    )


def as_object(study: Condensate, system: System) -> dict[str, Any]:
    """The answer in SI units; keys end in their unit."""
    return {
        "rates": [
            {
                **_RATE(rate),
                "appliances": keyed(rate.appliances, "name", "condensate_kg_s"),
                "runs": keyed(rate.runs, "name", "condensate_kg_s"),
            }
            for rate in study.rates
        ],
        "runs": [
            {
                **_RUN(run),
                "pieces": [{"place": _pipe(p), **_PIECE(p), "rise_m": p.rise if p.known else None} for p in run.pieces],
                "low_spots": [{"place": _pipe(s), **_LOW_SPOT(s)} for s in run.low_spots],
            }
            for run in study.runs
        ],
        "traps": [{"rate": t.where.rate, "place": _drain(t), **_TRAP(t)} for t in study.traps],
        "fillings": [{"place": _pipe(f.spot), **_FILLING(f), "closes_the_pipe": f.spot.blocks} for f in study.fillings],
        "findings": list(say_all(study.findings, system)),
        "cautions": list(say_all(study.cautions, system)),
    }


_RATE = Keys(RateWater, "rate total_kg_s joints_kg_s")
_RUN = Keys(RunSlope, "name:run slope_known:known rise_needed_m rise_present_m runs_out")
_PIECE = Keys(PieceSlope, "distance_m elevation_m length_m needed_m needed_at_3_degrees_m:needed_steeper enough")
_LOW_SPOT = Keys(LowSpot, "distance_m depth_m drained closes_the_pipe:blocks")
_TRAP = Keys(TrapRate, "static_pressure_Pa static_pressure_without_draft_Pa:without_draft seal_needed_m seal_m holds")
_FILLING = Keys(Filling, "rate time_s")
