"""The words for every finding, and the one place where units enter them.

`WORDS` has one entry for each code of `finding.codes.CODES`: a format string over the finding's values
("{pressure} is more than {seal:fine} of water holds"; after the colon a style of `quantity.show`, or what stands
between the items of a list), or a function of those values where plurals need one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ventsize.finding import Amount, Finding, Outcome, Value, Where
from ventsize.quantity import System, show
from ventsize.report.wording import appliance, check, checkover, field, flow, page, room, run, study, sweeps, table
from ventsize.report.wording.check import ALWAYS

if TYPE_CHECKING:
    from ventsize.check.result import JobCheck

WORDS: dict[str, str | Callable[[Values], str]] = {
    **table.WORDS,
    **page.WORDS,
    **run.WORDS,
    **flow.WORDS,
    **check.WORDS,
    **study.WORDS,
    **appliance.WORDS,
    **field.WORDS,
    **sweeps.WORDS,
    **checkover.WORDS,
    **room.WORDS,
}


@dataclass(frozen=True, slots=True)
class _Shown:
    """A value that formats itself: an amount in the chosen units, anything else as it is.

    A list goes with "and", or with what its style says between its items.
    """

    value: Value
    system: System

    def __format__(self, style: str) -> str:
        if isinstance(self.value, Amount):
            return show(self.value.value, self.value.dimension, self.system, style=style or None)
        if isinstance(self.value, tuple):
            return f"{style} ".join(self.value) if style else listed(self.value)
        return self.value if isinstance(self.value, str) else format(self.value, style)

    def __str__(self) -> str:
        return format(self)


class Values(Mapping[str, _Shown]):
    """A finding's values as they are shown; `raw` has them as they are."""

    def __init__(self, finding: Finding, system: System) -> None:
        self.raw = finding.values
        self.where = finding.where
        self.system = system

    def __getitem__(self, name: str) -> _Shown:
        return _Shown(self.raw[name], self.system)

    def __iter__(self) -> Iterator[str]:
        return iter(self.raw)

    def __len__(self) -> int:
        return len(self.raw)


def say(finding: Finding, system: System, *, place: bool = True) -> str:
    """A finding in words, in the chosen units; place: whether it begins with the place it is about."""
    words = WORDS[finding.code]
    values = Values(finding, system)
    text = words.format_map(values) if isinstance(words, str) else words(values)
    text = text.replace("w.c..", "w.c.")  # the unit's own point ends the sentence
    where = place_of(finding.where) if place else ""
    return f"{where}: {text}" if where else text


def say_all(findings: Iterable[Finding], system: System, *, place: bool = True) -> tuple[str, ...]:
    """Findings in words; those that say the same of several places once, with all the places (see `say`)."""
    places: dict[str, list[Where]] = {}
    for finding in findings:
        places.setdefault(say(finding, system, place=False), []).append(finding.where if place else Where())
    return tuple(f"{where}: {text}" if (where := _places(found)) else text for text, found in places.items())


def _places(found: list[Where]) -> str:
    """Several places in words: those of one kind together, as in "runs 'vent' and 'air', high"."""
    if len(found) == 1:
        return place_of(found[0])
    rates = {where.rate for where in found}
    runs = [where.run for where in found]
    only_runs = all(replace(where, run=None, rate=None) == Where() for where in found)
    if len(rates) == 1 and None not in runs and only_runs:
        named = listed(f"'{run}'" for run in runs)
        return f"runs {named}" + (f", {found[0].rate}" if found[0].rate else "")
    return listed(dict.fromkeys(place_of(where) for where in found))


def cautions_of(checked: JobCheck, system: System) -> tuple[str, ...]:
    """Every caution that goes with a result, each once: those of this job first, then what always holds."""
    return (*say_all(checked.findings, system), *ALWAYS)


def verdict_in_words(verdict: str, doubts: int) -> str:
    """`within`, or `within, 1 doubt`: a pass that is not plain says so wherever it stands."""
    return f"within, {doubts} doubt{'s' * (doubts != 1)}" if verdict == "within" and doubts else verdict


def derated(check: JobCheck, system: System) -> Iterator[str]:
    """What the code makes of each input at the altitude of the site, where it asks for less."""
    for finding in check.findings:
        if finding.code == "derating-not-applied":
            text = "at {altitude:altitude} the code asks for {whole_altitude} to {part_above}"
            named = f" of {finding.where.appliance}" if len(check.appliances) > 1 else ""
            yield text.format_map(Values(finding, system)) + named


def reason(outcome: Outcome, system: System, *, with_run: bool = True) -> str:
    """The evidence of an outcome in words; with_run: whether it begins with the run it is for."""
    where = outcome.because.where
    shown = place_of(replace(where, table=None, row=None, run=where.run if with_run else None))
    text = say(outcome.because, system, place=False)
    text += "" if text.endswith(".") else "."
    return f"{shown}: {text}" if shown else text


def place_of(where: Where) -> str:
    """A place in words: run 'vent', high, piece 3."""
    parts = [
        f"table '{where.table}'" if where.table else "",
        f"row {where.row}" if where.row else "",
        f"appliance '{where.appliance}'" if where.appliance else "",
        f"runs {' + '.join(where.way)}" if where.way else f"run '{where.run}'" if where.run else "",
        f"joint '{where.joint}'" if where.joint else "",
        where.rate or "",
        f"piece {where.piece}" if where.piece else "",
    ]
    return ", ".join(part for part in parts if part)


def listed(names: Iterable[str], word: str = "and") -> str:
    """a, b and c."""
    items = list(names)
    return f"{', '.join(items[:-1])} {word} {items[-1]}" if len(items) > 1 else "".join(items)
