"""What each question of a job comes to, in a few words: for a list of the questions, where there is a line for each."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from ventsize.check.result import JobCheck
from ventsize.quantity import Dimension, System, show, show_feet, show_pressure
from ventsize.report.checkover import counts_of
from ventsize.report.diagnosis import headline, likely_text, next_step, reason_text
from ventsize.report.inducer import speed_words
from ventsize.report.money import total_words
from ventsize.report.uncertainty import inside_words
from ventsize.report.wording import verdict_in_words
from ventsize.studies.diagnosis.result import Diagnosis


def at_once(check: JobCheck, readings: int, system: System) -> dict[str, str]:
    """What needs no study, by question; readings: how many the job has."""
    taken = f"{readings} readings taken" if readings else "no readings yet"
    said = {"report": verdict_in_words(check.verdict, len(check.doubted)), "field": taken}
    if check.runs:
        most = max(check.runs, key=lambda run: run.worst.flow.pressure_drop)
        said["working"] = (
            f"{show_pressure(most.worst.flow.pressure_drop, system)}, {most.run.name} at {most.worst.name}"
        )
        vents = [run.worst.flow.cooling for run in check.runs if run.run.carries == "flue gas"]
        ends = [cooling.outlet.temperature for cooling in vents if cooling is not None]
        if ends:
            said["along"] = f"gas {show(min(ends), Dimension.TEMPERATURE, system)} at its end"
    margins = [run.margin for run in check.runs if run.margin is not None]
    if margins:
        said["headroom"] = f"{show_feet(abs(min(margins)), system)} {'left' if min(margins) >= 0.0 else 'too long'}"
    return said


def in_short(question: str, study: Any, system: System) -> str:
    """A study's answer in a few words; study: what that question's screen shows."""
    return SHORT[question](study, system)


def diagnosed(found: Diagnosis, system: System) -> list[str]:
    """The outcome with what would explain it, and what to do next: a paragraph each."""
    off = found.outcome == "something is off"
    why = likely_text(found) if off else reason_text(found, system)
    step = next_step(found)
    return [f"{headline(found)}: {why[0].upper()}{why[1:]}", *([f"Next: {step}"] if step else [])]


def _repairs(answers: Any, _system: System) -> str:
    over = any(answer.verdict == "over" for answer in answers)
    count = sum(len(answer.repairs if over else answer.savings) for answer in answers)
    changes = f"{count} change{'s' * (count != 1)}"
    return f"{changes} would bring it within" if over else f"{changes} would save something"


def _takeoff(study: Any, _system: System) -> str:
    taken, cost = study
    pieces = f"{sum(item.quantity for item in taken.items)} parts" if cost is None else total_words(cost)
    return pieces if taken.complete else f"{pieces}; not complete"


def _inducer(study: Any, _system: System) -> str:
    if study is None:
        return "none described"
    most = max(study.rates, key=lambda rate: rate.speed or 0.0)
    return f"{speed_words(most)} of top speed at {most.rate}"


def _room_air(study: Any, _system: System) -> str:
    return "no room described" if study is None else "; ".join(f"{room.name}: {room.verdict}" for room in study.rooms)


def _visits(visits: Any, _system: System) -> str:
    return f"{len(visits)} kept, the last of {visits[-1].date.isoformat()}" if visits else "no visit kept yet"


def _uncertainty(study: Any, _system: System) -> str:
    known = [run for run in study.runs if run.inside is not None]
    return inside_words(min(known or study.runs, key=lambda run: run.inside or 0.0))


SHORT: Mapping[str, Callable[[Any, System], str]] = {
    "checkover": lambda study, _: counts_of(study.items),
    "diagnose": lambda found, _: "no readings yet" if found is None else headline(found).lower(),
    "inducer": _inducer,
    "options": lambda found, _: f"{found.within:,} of {found.looked_at:,} within",
    "repairs": _repairs,
    "roomair": _room_air,
    "takeoff": _takeoff,
    "uncertainty": _uncertainty,
    "visit": _visits,
}
