"""Visits and what changed between two of them, as text and as objects for JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from ventsize.jobfile.differences import Difference
from ventsize.jobfile.reading import Kind, Reading
from ventsize.jobfile.ticks import Tick
from ventsize.jobfile.visits import Visit
from ventsize.quantity import System, show_feet
from ventsize.report.differences import difference_words
from ventsize.report.keys import Keys
from ventsize.report.readings import UNITS, value_text
from ventsize.report.text_parts import as_text, head, indented, sentences, table
from ventsize.report.wording import reason
from ventsize.report.wording.field import KIND_NAMES
from ventsize.studies.visits import GONE, NEW, MarginChange, ReadingChange, TickChange, VisitChanges


@as_text
def render(
    visits: Sequence[Visit], changes: VisitChanges | None, system: System, *, missing: Sequence[str]
) -> Iterator[str]:
    """The visits to a job, and what is different now; missing: photos that are not beside the job."""
    yield from head(f"Visits: {len(visits) or 'none yet'}")
    columns = (("date", 18), ("verdict", 14), ("readings", 10), ("met", 6), ("not met", 10), ("to do", 8))
    if visits:
        yield from table(columns, [_row(visit) for visit in visits])
    if changes is None and visits:
        yield ""
        yield "  There is no earlier visit to compare this one with."
    if changes is not None:
        yield ""
        yield from changes_lines(changes, system)
    yield from sentences("Photos that are not beside the job", missing)


def words_of(system: System) -> dict[str, Any]:
    """The words that `visit_now` keeps: why the verdict is what it is, and lengths."""
    return {"reason": lambda decides: reason(decides, system), "length": lambda length: show_feet(length, system)}


def _row(visit: Visit) -> tuple[str, ...]:
    met = "-" if visit.met is None else str(visit.met)
    return visit.named, visit.verdict, str(len(visit.readings)), met, str(len(visit.not_met)), str(visit.to_do)


def changes_lines(changes: VisitChanges, system: System) -> Iterator[str]:
    """What is different, by subject."""
    was, now = changes.was, changes.now
    yield from head(f"Since {was.named}: " + ("nothing has changed" if changes.nothing else "what changed"))
    same = "the same" if was.verdict == now.verdict else f"was {was.verdict}"
    yield from indented(f"verdict: {now.verdict} ({same}); {now.reason}", "  ", "    ")
    for margin in changes.margins:
        yield f"  left of the allowance, {margin.run}: {margin.now or 'no figure'} (was {margin.was or 'no figure'})"
    if changes.readings:
        yield ""
        columns = (("reading", 30), ("then", 15), ("now", 15), ("", 14))
        yield from table(columns, [_reading_row(reading, system) for reading in changes.readings])
    yield from sentences("Newly not met", changes.not_met)
    yield from sentences("No longer among what is not met", changes.met_again)
    yield from sentences("Ticked off", [tick_words(tick) for tick in changes.ticks])
    yield from sentences("The job", map(difference_words, changes.job))
    yield from sentences("Note then", [was.note] if was.note else [])


def _reading_row(change: ReadingChange, system: System) -> tuple[str, ...]:
    def cell(reading: Reading | None) -> str:
        return "-" if reading is None else value_text(reading.kind, reading.value, system)

    return _named(change.place, change.rate, change.kind), cell(change.was), cell(change.now), change.verdict


def _named(place: str, rate: str, kind: Kind) -> str:
    return ", ".join(filter(None, (place, rate, KIND_NAMES[kind])))


def tick_words(change: TickChange) -> str:
    """One rule's tick, then and now."""
    at = f" at {change.at}" if change.at else ""
    return f"{change.rule}{at}: {_tick(change.was)} -> {_tick(change.now)}"


def _tick(tick: Tick | None) -> str:
    if tick is None:
        return "not ticked off"
    met = {True: "met", False: "not met", None: ""}[tick.met]
    return ", ".join(filter(None, (tick.value, met, tick.note, tick.date.isoformat())))


def visit_lines(visit: Visit, system: System, *, missing: Sequence[str]) -> Iterator[str]:
    """One visit by itself."""
    yield from head(f"Visit of {visit.named}" + (f", by {visit.by}" if visit.by else ""))
    yield from indented(f"verdict: {visit.verdict}; {visit.reason}", "  ", "    ")
    for run, margin in visit.margins.items():
        yield f"  left of the allowance, {run}: {margin}"
    yield from sentences("Note", [visit.note] if visit.note else [])
    readings = [f"{_named(r.place, r.rate, r.kind)}: {value_text(r.kind, r.value, system)}" for r in visit.readings]
    yield from sentences("Readings", readings)
    yield from sentences("Ticked off", [f"{t.rule}{' at ' + t.at if t.at else ''}: {_tick(t)}" for t in visit.checked])
    yield from sentences("Not met", visit.not_met)
    yield from sentences("Still to look at", [f"{visit.to_do} rules"] if visit.to_do else [])
    yield from sentences("Photos", [f"{name}{' (not beside the job)' * (name in missing)}" for name in visit.photos])


def visit_object(visit: Visit, *, missing: Sequence[str] = ()) -> dict[str, Any]:
    """One visit in SI units; keys end in their unit."""
    return {
        **_VISIT(visit),
        "readings": [
            {**_READING(reading), _with_unit(reading.kind, reading.kind): reading.value} for reading in visit.readings
        ],
        "checked": _TICK.each(visit.checked),
        "photos_missing": list(missing),
    }


_VISIT = Keys(Visit, "date time by note verdict reason margins not_met met to_do photos")
_READING = Keys(Reading, "place rate run when")
_TICK = Keys(Tick, "rule at value met note date")
_MARGIN = Keys(MarginChange, "run was now")
_DIFFERENCE = Keys(Difference, "place was now moved")


def _with_unit(key: str, kind: Kind) -> str:
    """A key of a reading, with the unit of its kind at its end."""
    return f"{key}_{UNITS[kind]}" if UNITS[kind] else key


def _tick_object(tick: Tick | None) -> dict[str, Any] | None:
    return None if tick is None else _TICK(tick)


def changes_object(changes: VisitChanges) -> dict[str, Any]:
    """What is different."""
    return {
        "since": changes.was.date.isoformat(),
        "nothing": changes.nothing,
        "verdict": {"was": changes.was.verdict, "now": changes.now.verdict},
        "margins": _MARGIN.each(changes.margins),
        "readings": [_reading_change_object(reading) for reading in changes.readings],
        "newly_not_met": list(changes.not_met),
        "no_longer_not_met": list(changes.met_again),
        "ticks": [
            {"rule": t.rule, "at": t.at, "was": _tick_object(t.was), "now": _tick_object(t.now)} for t in changes.ticks
        ],
        "job": _DIFFERENCE.each(changes.job),
    }


def _reading_change_object(change: ReadingChange) -> dict[str, Any]:
    return {
        "place": change.place,
        "rate": change.rate,
        "kind": change.kind,
        _with_unit("was", change.kind): None if change.verdict == NEW or change.was is None else change.was.value,
        _with_unit("now", change.kind): None if change.verdict == GONE or change.now is None else change.now.value,
        _with_unit("change", change.kind): change.change,
        "verdict": change.verdict,
    }
