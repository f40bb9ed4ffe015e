"""The check-over, as text and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from ventsize.quantity import Dimension, System
from ventsize.report.text_parts import head, indented, sentences
from ventsize.report.wording import reason
from ventsize.studies.checkover import MET, NOT_MET, OPEN, CheckOver, Item, limit_words
from ventsize.studies.checkover.rules import GROUPS, STATUS_WORDS

SIGNS = {MET: "✓", NOT_MET: "✗", OPEN: "○"}
_TITLES = {NOT_MET: "Not met", OPEN: "Still to look at or measure", MET: "Met"}
_UNITS = {Dimension.LENGTH: "m", Dimension.SLOPE: "m_per_m", Dimension.TEMPERATURE: "K"}


def render(study: CheckOver, system: System) -> str:
    """The answer in lines of 80 columns."""
    return "\n".join(_lines(study, system))


def counts_of(items: Sequence[Item]) -> str:
    """How many are met, not met and open, as a phrase."""
    met, not_met, left = (sum(item.outcome == outcome for item in items) for outcome in (MET, NOT_MET, OPEN))
    return f"{met} met, {not_met} not met, {left} to do"


def group_of(item: Item) -> str:
    """What kind of thing it looks at."""
    return GROUPS[item.rule.group]


def _lines(study: CheckOver, system: System) -> Iterator[str]:
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
    yield from sentences("Cautions", study.cautions)
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


def as_object(study: CheckOver) -> dict[str, Any]:
    """The answer in SI units; keys end in their unit."""
    return {
        "verdict": study.verdict,
        "met": len(study.having(MET)),
        "not_met": len(study.having(NOT_MET)),
        "to_measure": len(study.having(OPEN)),
        "items": [item_object(item) for item in study.items],
        "left_out": list(study.left_out),
        "rules": list(study.files),
        "cautions": list(study.cautions),
    }


def item_object(item: Item) -> dict[str, Any]:
    """One item."""
    rule, tick = item.rule, item.tick
    made: dict[str, Any] = {
        "rule": rule.name,
        "title": rule.title,
        "group": rule.group,
        "at": item.place,
        "outcome": item.outcome,
        "by": item.by,
        "said": said_of(item, System.US),
        "ask": rule.ask,
        "source": rule.source,
        "edition": rule.edition,
        "local_example": rule.local,
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
    """What the job and a tick tell of a rule, with the reason of the check where it answers."""
    because = "" if item.because is None else reason(item.because, system, with_run=False)
    return ": ".join(part for part in (item.said, because) if part)
