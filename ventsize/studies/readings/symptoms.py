"""What is seen or heard at an appliance, and the causes it points to or speaks against.

No source gives odds for these. A symptom is what the trade takes it for, and only tips the scale between causes that
the readings leave open. What was looked at and is right speaks plainly against a cause, but a look can miss.
"""

from __future__ import annotations

from collections.abc import Sequence

from ventsize.check.inputs import Inputs
from ventsize.finding import Finding, Where
from ventsize.jobfile.symptom import Seen, Symptom
from ventsize.studies.readings.result import ReadingFound

TIPS = 2.0  # of score, which is evidence worth no more than a bare mention

MISSED = 6.0  # of score: a look misses what is there once in twenty times (no source)

POINTS_TO: dict[Symptom, tuple[str, ...]] = {
    "switch open": ("switch", "terminal", "inside", "air pipe", "water"),
    "switch closed": (),
    "switch chatters": ("water", "switch", "wind"),
    "trips now and then": ("wind", "water", "switch"),
    "trips before ignition": ("switch", "air pipe", "terminal", "inside"),
    "trips after ignition": ("recirculation", "terminal", "inside"),
    "trips at the change to high fire": ("terminal", "inside", "longer", "wrong size"),
    "trips when warm": ("water", "recirculation"),
    "trips in wind": ("wind", "recirculation"),
    "flame goes out": ("recirculation", "air pipe", "wind"),
    "rumbles or howls": ("recirculation", "input", "air pipe"),
    "gurgles": ("water",),
    "loud after a power cut": ("terminal", "inside", "air pipe", "longer"),
    "flue gas in the room": ("leak", "terminal", "inside"),
    "carbon monoxide alarm sounds": ("leak", "recirculation"),
}
FOUND_RIGHT: dict[Symptom, str] = {
    "length and fittings are right": "longer",
    "pipe size is right": "wrong size",
    "no water in the vent": "water",
    "vent is clear inside": "inside",
    "terminal is clear": "terminal",
    "air pipe is clear": "air pipe",
    "no joint leaks": "leak",
    "switch tubing is clear": "switch",
    "room pressure is right": "room pressure",
    "no wind at the ends": "wind",
    "gas input is right": "input",
    "no flue gas at the inlet": "recirculation",
    "exchanger and inducer are clean": "appliance",
}
"""What was looked at and is right, and the cause it speaks against."""


def code_of(what: Symptom) -> str:
    """The code of a symptom's finding."""
    return f"seen-{what.replace(' ', '-')}"


def points_to(symptoms: Sequence[Seen]) -> frozenset[str]:
    """The kinds of causes that symptoms point to."""
    return frozenset(kind for seen in symptoms for kind in POINTS_TO.get(seen.what, ()))


def looked_for(symptoms: Sequence[Seen]) -> frozenset[str]:
    """The kinds of causes that somebody has looked for, and not found."""
    return frozenset(FOUND_RIGHT[seen.what] for seen in symptoms if seen.what in FOUND_RIGHT)


def symptoms_found(inputs: Inputs, found: Sequence[ReadingFound]) -> tuple[Finding, ...]:
    """Each symptom of a job as a finding, and where the switch's state contradicts the pressure read across it."""
    said = []
    for seen in inputs.job.symptoms:
        where = Where(appliance=seen.appliance, rate=seen.rate or None)
        across = _across(found, seen)
        if across is not None and seen.what == "switch open" and across.verdict == "expected":
            said.append(Finding("switch-open-above-setting", where))
        else:
            said.append(Finding(code_of(seen.what), where))
    return tuple(said)


def _across(found: Sequence[ReadingFound], seen: Seen) -> ReadingFound | None:
    """The reading across the switch at a symptom's rate."""
    wanted = [one for one in found if one.setting is not None and one.verdict != "doubtful"]
    return next((one for one in wanted if seen.rate in ("", one.rate)), None)


def bridged(inputs: Inputs, found: Sequence[ReadingFound]) -> tuple[Finding, ...]:
    """A switch seen closed with less across it than its setting: stuck or bridged."""
    for seen in inputs.job.symptoms:
        across = _across(found, seen)
        if seen.what == "switch closed" and across is not None and across.verdict == "low":
            return (Finding("switch-closed-below-setting", Where(appliance=seen.appliance, rate=across.rate)),)
    return ()
