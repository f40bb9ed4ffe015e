"""What could explain readings, as text and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ventsize.finding import Finding
from ventsize.jobfile.reading import ROOM
from ventsize.quantity import Dimension, System, show, show_feet, show_fraction, show_pressure
from ventsize.report.keys import Keys
from ventsize.report.readings import (
    UNITS,
    finding_object,
    numbered,
    opened,
    opening,
    place_words,
    reading_object,
    readings_lines,
    value_text,
)
from ventsize.report.text_parts import as_text, indented, sentences
from ventsize.report.wording import reason, say
from ventsize.report.wording.causes import look, what, where
from ventsize.report.wording.field import KIND_NAMES
from ventsize.studies.diagnosis.result import Cause, CauseGroup, CauseSize, Diagnosis, NextReading, Noticed, Part, Two

MOST_GROUPS, MOST_PLACES = 3, 3
ENOUGH = 2.0  # standard deviations
HARDLY = 12.0  # of score beyond the best, from where a cause is only named
LETTERS = "abcdefghijklmnop"


@as_text
def render(found: Diagnosis, system: System) -> Iterator[str]:
    """The answer in lines of 80 columns."""
    yield from opened(found.readings, headline(found), system)
    yield from indented(reason_text(found, system), "  ")
    by_table = f"By the table: {found.by_table.verdict.upper()}. {reason(found.by_table.decides, system)}"
    yield from indented(by_table, "  ")
    first = first_cautions(found)
    for caution in first:
        yield from indented(f"{say(caution, system)}.", "  ! ", "    ")
    yield ""
    yield from readings_lines(found.readings, system)
    if found.outcome == "something is off" and found.groups:
        yield from _causes(found, system)
    elif found.plan:
        yield ""
        yield "  Readings that would tell more, in this order:"
        yield from _plan(found)
    yield from sentences("What these readings would have shown", (_noticed(one, system) for one in found.noticed))
    if found.outcome != "nothing to compare":
        unseen = (what(form, Part()) for _, form in found.unseen)
        yield from sentences("What these readings would not show", unseen)
    if found.outcome == "as it should be":
        yield from sentences("If it still gives trouble, look whether this is so, and mark it as seen", found.looks)
    yield from sentences("Assumed", (say(finding, system) for finding in found.readings.assumed))
    yield from sentences("Cautions", (say(one, system) for one in found.cautions if one not in first))


LEAKS = ("leak", "recirculation")


def first_cautions(found: Diagnosis) -> tuple[Finding, ...]:
    """Cautions that stand before the causes: flue gas that may be getting out, here or from another appliance."""
    named = [*(cause for group in _likely(found) for cause in group.causes), *(found.two.causes if found.two else ())]
    leaks = found.outcome == "something is off" and any(cause.kind in LEAKS for cause in named)
    return tuple(
        one for one in found.cautions if one.code == "room-may-spill" or (one.code == "vent-fault-kills" and leaks)
    )


def reason_text(found: Diagnosis, system: System) -> str:
    """Why the outcome is what it is, in sentences."""
    said = "; ".join(say(reason, system) for reason in found.reasons)
    return f"{said[0].upper()}{said[1:]}."


def headline(found: Diagnosis) -> str:
    """The outcome in a few words; readings as they should be are no pass where the length is a finding."""
    if found.outcome == "as it should be" and found.by_table.length_is_off:
        return f"READS AS IT SHOULD, BUT {found.by_table.verdict.upper()} BY THE TABLE"
    if found.outcome == "as it should be" and any(reading.at_the_edge for reading in found.readings.readings):
        return "AS IT SHOULD BE, BUT MARGINAL"
    return found.outcome.upper()


def _causes(found: Diagnosis, system: System) -> Iterator[str]:
    yield ""
    yield "What would explain them, the best first"
    if found.two is not None:
        yield from _two(found.two, system)
    likely = _likely(found)
    for number, group in enumerate(likely, start=1):
        yield from _group(number, group, system)
        against = found.against_next[found.groups.index(group) - 1] if number > 1 else None
        if against is not None:
            yield from indented(f"against 1: {next_text(against, system, '1', str(number))}", "      ", "        ")
    rest = [cause for group in found.groups if group not in likely for cause in group.causes]
    hardly = [what(cause.form, cause.part) for cause in rest if cause.dismissed]
    if hardly:
        yield from indented(f"Unlikely: {'; '.join(hardly)}.", "  ", "    ")
    for cause in (cause for cause in rest if not cause.dismissed):
        yield from indented(_not_dismissed(cause), "  ", "    ")
    if found.two_at_once and found.two is None:
        yield ""
        yield from indented(two_text(found), "  ", "    ")
    yield ""
    yield from indented(f"Next: {next_step(found)}", "  ", "    ")
    if found.looks:
        looks = f"What you look at and find right is marked as a symptom of the job: {'; '.join(found.looks)}."
        yield from indented(looks, "  ", "    ")
    if len(found.plan) > 1:
        yield "  Readings that tell these apart, in this order:"
        yield from _plan(found)


def _plan(found: Diagnosis) -> Iterator[str]:
    for step, reading in enumerate(found.plan, start=1):
        yield from indented(f"{step}. {asked_text(reading)}", "    ", "       ")


def _two(found: Two, system: System) -> Iterator[str]:
    """Two at once, before the single causes that leave a reading unexplained."""
    yield "  Two things at once explain more than any one of them:"
    for letter, cause in zip(LETTERS, found.causes, strict=False):
        yield from _cause(f"   {letter}. ", cause, system, alone=False)
    fits = (
        "together they explain every reading"
        if not found.misses
        else f"they leave {numbered(found.misses)} unexplained"
    )
    yield from indented(f"{fits}. Set right what you find first, then take all readings again", "     ")


def two_text(found: Diagnosis) -> str:
    """That one cause does not explain everything, in a sentence."""
    return (
        f"The best single cause leaves {numbered(found.two_at_once)} unexplained, and no two explain it better: three "
        "things may be at work. Set right what you find first, then take all readings again."
    )


def _not_dismissed(cause: Cause) -> str:
    return (
        f"Not to be dismissed: {what(cause.form, cause.part)}. The job has all straight pipe of '{cause.run}' in one "
        f"piece, so that which of it would be of another size could not be tried: {look(cause)}."
    )


def _likely(found: Diagnosis) -> list[CauseGroup]:
    """The groups that come into question."""
    least = min((cause.score for group in found.groups for cause in group.causes), default=0.0)
    best = [group for group in found.groups if min(cause.score for cause in group.causes) <= least + HARDLY]
    return best[:MOST_GROUPS]


def likely_text(found: Diagnosis) -> str:
    """What would explain readings that are off, in a sentence; that nothing does, where that is so."""
    if not found.groups:
        return "no cause that was looked at explains them."
    if found.two is not None:
        return f"two things at once: {'; and '.join(what(cause.form, cause.part) for cause in found.two.causes)}."
    causes = "; or just as likely ".join(what(cause.form, cause.part) for cause in found.groups[0].causes)
    return f"no one cause explains them all; nearest comes {causes}." if found.two_at_once else f"{causes}."


def asked_for(found: Diagnosis) -> tuple[NextReading, ...]:
    """The readings to take next, the first one first; none where a look is next."""
    if found.plan or not found.groups or found.outcome != "something is off":
        return found.plan
    told = [reading for reading in found.groups[0].next_readings if reading is not None]
    likely = _likely(found)
    others = [reading for group, reading in zip(found.groups[1:], found.against_next, strict=True) if group in likely]
    told = told or [reading for reading in others if reading is not None]
    return (max(told, key=lambda one: one.apart),) if told else ()


def next_step(found: Diagnosis) -> str:
    """What to do next, in a sentence: what costs but a look, then the reading that tells most, or to go and look."""
    off = found.outcome == "something is off"
    causes = found.groups[0].causes if off and found.groups else ()
    steps = [said for cause in causes if (said := look(cause))]
    asked = asked_for(found)
    if asked and asked[0].place == ROOM and any(cause.kind == "room pressure" and look(cause) for cause in causes):
        asked = asked[1:]  # the look at the room says to read it
    if asked:
        steps.append(f"read the {asked_text(asked[0])}")
    elif causes:
        closer = " again, closer, since it still explains the readings best" if causes[0].looked_for else ""
        at = where(causes[0].form, causes[0].part)
        steps.append(f"look there{closer} ({at}), set right what you find, and take the same readings again")
    elif found.outcome != "as it should be":
        steps.append("take the readings again")
    return f"{'; then '.join(steps)}." if steps else ""


def _group(number: int, group: CauseGroup, system: System) -> Iterator[str]:
    if len(group.causes) == 1:
        yield from _cause(f"{number}. ", group.causes[0], system)
        return
    yield f"  {number}. These readings cannot tell apart:"
    for letter, cause, told in zip(LETTERS, group.causes, (None, *group.next_readings), strict=False):
        yield from _cause(f"   {letter}. ", cause, system)
        if letter == "a":
            continue
        said = "no reading would tell it from a; look" if told is None else next_text(told, system, "a", letter)
        yield from indented(said, "        ", "          ")


def _cause(mark: str, cause: Cause, system: System, *, alone: bool = True) -> Iterator[str]:
    indent = " " * (len(mark) + 2)
    said = what(cause.form, cause.part)
    yield from indented(f"{mark}{said[0].upper()}{said[1:]}", "  ", indent)
    yield from indented(size_text(cause, system) + _adds(cause, system), indent)
    named = list(dict.fromkeys(where(form, part) for form, part in cause.parts))
    places = named[:MOST_PLACES]
    more = len(named) - len(places)
    also = f"; or {', or '.join(places[1:])}" if len(places) > 1 else ""
    several = f", and {more} more places" if more else ""
    yield from indented(f"where: {places[0]}{also}{several}", indent)
    if not alone:
        return
    if said := "looked for, and not found" if cause.looked_for else look(cause):
        yield from indented(said, indent)
    fits = "explains every reading" if not cause.misses else f"leaves {numbered(cause.misses)} unexplained"
    yield from indented(fits, indent)


def _adds(cause: Cause, system: System) -> str:
    if cause.extra is None or abs(cause.extra) < 0.05:
        return ""
    verb = "adds" if cause.extra > 0.0 else "takes"
    end = "to the pressure there" if cause.extra > 0.0 else "off the pressure there"
    return f"; {verb} up to {show_pressure(abs(cause.extra), system)} {end}"


_SIZES = {
    ("switch", "share"): "share of the pressure that does not arrive:",
    ("switch", "water"): "water in the tubing:",
    ("recirculation", "share"): "share of the air taken in that is flue gas:",
    ("appliance", "share"): "of what the job says:",
    ("input", "share"): "of the input the job says:",
    ("appliance", "temperature"): "warmer than the job says by",
    ("leak", "hole"): "as much as a round hole of",
    ("water", "water"): "water standing:",
    ("longer", "length"): "longer by",
    ("longer", "count"): "more of these fittings:",
    ("room pressure", "pressure"): "the room against outdoors:",
    ("wind", "pressure"): "pressure there:",
}


def size_text(cause: Cause, system: System) -> str:
    """How large a cause would be, with its range."""
    size = cause.size
    if size.kind == "bore":
        return f"bore {opening(size.value, system)} instead of {opening(size.of or size.value, system)}"
    if size.kind == "temperature" and size.value < 0.0:
        low, high = (show(-one, Dimension.TEMPERATURE_DIFFERENCE, system) for one in (size.high, size.low))
        amount = show(-size.value, Dimension.TEMPERATURE_DIFFERENCE, system)
        return f"cooler than the job says by {amount} ({low} to {high})"
    between = f"{_amount(size, size.low, system)} to {_amount(size, size.high, system)}"
    amount = _amount(size, size.value, system)
    if size.kind == "open bore":
        return f"bore left open: {amount} of {opening(size.of or size.value, system)} ({between})"
    return f"{_SIZES[cause.kind, size.kind]} {amount} ({between})"


def _noticed(noticed: Noticed, system: System) -> str:
    amount, said = opening(noticed.size.value, system), what(noticed.form, noticed.part)
    if noticed.size.kind == "open bore":
        return f"{said}: with {amount} of {opening(noticed.size.of or 0.0, system)} open, or less"
    return f"{said}: {amount} {'deep' if noticed.size.kind == 'water' else 'wide'}, or more"


def _amount(size: CauseSize, value: float, system: System) -> str:
    if size.kind == "share":
        return show_fraction(value)
    if size.kind == "temperature":
        return show(value, Dimension.TEMPERATURE_DIFFERENCE, system)
    if size.kind == "pressure":
        return show_pressure(value, system)
    if size.kind == "count":
        return f"{value:.1f}"
    if size.kind == "length":
        return show_feet(value, system)
    return opening(value, system)


def next_text(told: NextReading, system: System, here: str, there: str) -> str:
    """What to read, and what it would show either way."""
    values = (
        f"{value_text(told.kind, told.here, system)} if {here}, {value_text(told.kind, told.there, system)} if {there}"
    )
    weak = "" if told.apart >= ENOUGH else " (which may not settle it)"
    return f"read the {asked_text(told)}: {values}{weak}"


def asked_text(told: NextReading) -> str:
    """A reading to take, with its place and rate."""
    at = "" if told.place == ROOM else f", at {told.rate}"
    return f"{KIND_NAMES[told.kind]}, {place_words(told)}{at}"


def as_object(found: Diagnosis, system: System) -> dict[str, Any]:
    """The answer in SI units; keys end in their unit."""
    return {
        **_FOUND(found),
        "reason": reason_text(found, system),
        "reasons": [finding_object(reason, system) for reason in found.reasons],
        "by_table": {"verdict": found.by_table.verdict, "reason": reason(found.by_table.decides, system)},
        "readings": [reading_object(reading, system) for reading in found.readings.readings],
        "groups": [
            {
                "causes": [_cause_object(cause) for cause in group.causes],
                "next_readings": [None, *(_next_object(told) for told in group.next_readings)],
                "against_the_first": _next_object(against),
            }
            for group, against in zip(found.groups, (None, *found.against_next), strict=False)
        ],
        "two": None
        if found.two is None
        else {
            "causes": [_cause_object(cause) for cause in found.two.causes],
            "score": found.two.score,
            "leaves_unexplained": list(found.two.misses),
        },
        "plan": [_next_object(step) for step in found.plan],
        "would_not_show": [kind for kind, _ in found.unseen],
        "would_have_shown": [
            {"kind": one.kind, "what": what(one.form, one.part), "from_m": one.size.value, "of_m": one.size.of}
            for one in found.noticed
        ],
        "solved_anew": None
        if found.verified is None
        else {"shows": list(found.verified.shows), "off_in_accuracies": found.verified.off},
        "shut_off": [finding_object(finding, system) for finding in found.readings.stops],
        "symptoms": [finding_object(finding, system) for finding in found.readings.symptoms],
        "assumed": [say(finding, system) for finding in found.readings.assumed],
        "cautions": [say(finding, system) for finding in found.cautions],
    }


_FOUND = Keys(Diagnosis, "job:title outcome all_well worth_repeating:repeat chi_square chance two_at_once looks")
_CAUSE = Keys(
    Cause,
    "kind form run adds_Pa:extra chi_square score likelihood looked_for shows leaves_unexplained:misses",
)
_NEXT = Keys(NextReading, "place run rate kind apart_in_deviations:apart")
_SIZE_UNITS = {"share": "", "count": "", "temperature": "_K", "pressure": "_Pa"}


def _cause_object(cause: Cause) -> dict[str, Any]:
    size = cause.size
    end = _SIZE_UNITS.get(size.kind, "_m")
    return {
        **_CAUSE(cause),
        "what": what(cause.form, cause.part),
        "where": where(cause.form, cause.part),
        "piece": cause.part.first,
        "places": [where(form, part) for form, part in cause.parts],
        "size": {
            "kind": size.kind,
            f"value{end}": size.value,
            f"low{end}": size.low,
            f"high{end}": size.high,
            f"of{end}": size.of,
        },
        "look": look(cause),
        "not_to_be_dismissed": not cause.dismissed,
    }


def _next_object(told: NextReading | None) -> dict[str, Any] | None:
    if told is None:
        return None
    end = f"_{UNITS[told.kind]}" if UNITS[told.kind] else ""
    return {
        **_NEXT(told),
        "where": place_words(told),
        f"if_the_first{end}": told.here,
        f"if_this{end}": told.there,
    }
