"""The check-over, as text and as an object for JSON."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

from ventsize.jobfile.ticks import Tick
from ventsize.quantity import Dimension, System, display_unit, display_value, show, show_length, with_unit
from ventsize.report.keys import Keys
from ventsize.report.text_parts import as_text, head, indented, sentences
from ventsize.report.wording import reason, say
from ventsize.studies.checkover import MET, NOT_MET, OPEN, CheckOver, Item
from ventsize.studies.checkover.rules import GROUPS, STATUS_WORDS, Rule

SIGNS = {MET: "✓", NOT_MET: "✗", OPEN: "○"}
_TITLES = {NOT_MET: "Not met", OPEN: "Still to look at or measure", MET: "Met"}
_HAIR = 1e-6  # of the last digit shown; what is beyond by less is rounding of the number
_LONG = 0.5  # m; limits from here on are measured in feet, shorter ones in inches
_DECIMALS = {Dimension.SLOPE: 3, Dimension.TEMPERATURE: 1}
_LENGTHS = {  # unit, its size [m], and how many decimals of it are shown
    (True, System.US): ("ft", 0.3048, 2),
    (True, System.SI): ("m", 1.0, 2),
    (False, System.US): ("in", 0.0254, 2),
    (False, System.SI): ("cm", 0.01, 1),
}
_UNITS = {Dimension.LENGTH: "m", Dimension.SLOPE: "m_per_m", Dimension.TEMPERATURE: "K"}


def counts_of(items: Sequence[Item]) -> str:
    """How many are met, not met and open, as a phrase."""
    met, not_met, left = (sum(item.outcome == outcome for item in items) for outcome in (MET, NOT_MET, OPEN))
    return f"{met} met, {not_met} not met, {left} to do"


def group_of(item: Item) -> str:
    """What kind of thing it looks at."""
    return GROUPS[item.rule.group]


@as_text
def render(study: CheckOver, system: System) -> Iterator[str]:
    """The answer in lines of 80 columns."""
    yield from head(f"Check-over: {study.verdict} ({counts_of(study.items)})")
    for outcome, title in _TITLES.items():
        items = study.having(outcome)
        if not items:
            continue
        yield ""
        yield title
        group = ""
        for item in items:
            if item.rule.group != group and outcome == OPEN:
                group = item.rule.group
                yield f"  {GROUPS[group]}"
            yield from _item(item, system)
    yield from sentences("Rules not asked (asked = false)", study.left_out)
    yield from sentences("Cautions", (say(caution, system) for caution in study.cautions))
    yield from sentences("Rules", [f"read from {', '.join(study.files)}; each names its source"])


def place_of(item: Item) -> str:
    """The title with its place, where it has one."""
    return f"{item.rule.heading}, {item.place}" if item.place else item.rule.heading


def _item(item: Item, system: System) -> Iterator[str]:
    limit = limit_words(item, system)
    first = f"{SIGNS[item.outcome]} {place_of(item)}{': ' + limit if limit else ''}"
    yield from indented(first, "  ", "    ", break_on_hyphens=False)
    if item.outcome == OPEN:
        yield from indented(f"{item.rule.ask} [{item.rule.name}]", "    ", break_on_hyphens=False)
    if said := said_of(item, system):
        yield from indented(said, "    ", break_on_hyphens=False)
    if item.outcome != MET or limit:
        yield from indented(item.rule.cited, "    ", break_on_hyphens=False)


def as_object(study: CheckOver, system: System) -> dict[str, Any]:
    """The answer in SI units; keys end in their unit."""
    return {
        "verdict": study.verdict,
        "met": len(study.having(MET)),
        "not_met": len(study.having(NOT_MET)),
        "to_measure": len(study.having(OPEN)),
        "items": [item_object(item, system) for item in study.items],
        "left_out": list(study.left_out),
        "rules": list(study.files),
        "cautions": [say(caution, system) for caution in study.cautions],
    }


_RULE = Keys(Rule, "rule:name title group ask source edition local_example:local")
_ITEM = Keys(Item, "at:place outcome by")


def item_object(item: Item, system: System) -> dict[str, Any]:
    """One item."""
    rule, tick = item.rule, item.tick
    made: dict[str, Any] = {
        **_RULE(rule),
        **_ITEM(item),
        "said": said_of(item, system),
        "status": STATUS_WORDS[rule.status],
        "checked": None if tick is None else tick.date.isoformat(),
        "note": "" if tick is None else tick.note,
    }
    if item.dimension is not None:
        unit = _UNITS[item.dimension]
        side = "greatest" if rule.greatest is not None or item.dimension is Dimension.TEMPERATURE else "least"
        made |= {f"value_{unit}": item.value, f"{side}_{unit}": item.limit}
    return made


def said_of(item: Item, system: System) -> str:
    """What the job and a tick say of a rule, with the reason of the check where it answers."""
    told = "; ".join(say(finding, system, place=False) for finding in item.told)
    because = "" if item.because is None else reason(item.because, system, with_run=False)
    job = ": ".join(filter(None, (told, because)))
    return "; ".join(filter(None, (job, _ticked(item, item.tick, system) if item.tick is not None else "")))


def _ticked(item: Item, tick: Tick, system: System) -> str:
    shown = tick.value or ""
    if shown and item.rule.dimension is not None and item.value is not None:
        shown = f"measured {measured(item.value, item, system)}"
        shown += ", which its limit does not allow" if item.refused else ""
    words = ", ".join(filter(None, (shown, tick.note))) or "looked at"
    otherwise = "; the job still says otherwise: change it where it is wrong" if item.contradicted else ""
    return f"{words} ({tick.date.isoformat()}){otherwise}"


def _shown(value: float, dimension: Dimension, system: System) -> str:
    return show_length(value, system) if dimension is Dimension.LENGTH else show(value, dimension, system)


def measured(value: float, item: Item, system: System) -> str:
    """A value in the unit its limit is stated in, so that the unit never changes between limit, figure and result."""
    dimension, limit = item.rule.dimension, item.limit
    assert dimension is not None
    if limit is None or dimension is not Dimension.LENGTH:
        return _shown(value, dimension, system)
    unit, size, decimals = _LENGTHS[limit >= _LONG, system]
    shown = f"{value / size:.{decimals}f}"
    return f"{shown.rstrip('0').rstrip('.') if '.' in shown else shown} {unit}"


def limit_words(item: Item, system: System) -> str:
    """The limit as a phrase; empty where there is none."""
    if item.limit is None or item.dimension is None:
        return ""
    if item.rule.told == "expansion":
        return f"to be looked at where it grows more than {_shown(item.limit, item.dimension, system)}"
    most = item.rule.greatest is not None or item.rule.told == "temperature"
    return f"{'no more than' if most else 'at least'} {_limit_shown(item, system, most=most)}"


def unit_meant(item: Item, system: System) -> str:
    """The unit of a bare number typed for a rule, which its limit is stated in too; empty where nothing is measured."""
    dimension = item.rule.dimension or item.dimension
    if dimension is None:
        return ""
    if dimension is not Dimension.LENGTH:
        return display_unit(dimension, system)
    long = item.limit is not None and item.limit >= _LONG
    return _LENGTHS[long, system][0]


def _limit_shown(item: Item, system: System, *, most: bool) -> str:
    """A limit in the unit that a bare number typed for it is read in, so rounded that what is shown meets it."""
    assert item.limit is not None and item.dimension is not None
    if item.dimension is Dimension.LENGTH:
        unit, size, decimals = _LENGTHS[item.limit >= _LONG, system]
        value = item.limit / size
    else:
        unit, decimals = display_unit(item.dimension, system), _DECIMALS[item.dimension]
        value = display_value(item.limit, item.dimension, system)
    steps = value * 10**decimals
    whole = math.floor(steps + _HAIR) if most else math.ceil(steps - _HAIR)
    shown = f"{whole / 10**decimals:.{decimals}f}"
    return f"{shown.rstrip('0').rstrip('.') if decimals else shown} {unit}"


def as_typed(item: Item, text: str, system: System) -> str:
    """What is typed for a rule, a bare number with the unit meant."""
    return with_unit(text, unit_meant(item, system))
