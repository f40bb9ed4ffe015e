"""The words for every finding, and the one place where units enter them.

`WORDS` has one entry for each code of `finding.codes.CODES`: a format string over the finding's values
("{pressure} is more than {seal:fine} of water holds"; after the colon a style of `quantity.show`), or a function of
those values where plurals or lists need one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from ventsize.finding import Amount, Finding, Value, Where
from ventsize.quantity import System, show
from ventsize.report.wording import check, field, flow, run, study, table

WORDS: dict[str, str | Callable[[Values], str]] = {
    **table.WORDS,
    **run.WORDS,
    **flow.WORDS,
    **check.WORDS,
    **study.WORDS,
    **field.WORDS,
}


@dataclass(frozen=True, slots=True)
class _Shown:
    """A value that formats itself: an amount in the chosen units, a list with "and", anything else as it is."""

    value: Value
    system: System

    def __format__(self, style: str) -> str:
        if isinstance(self.value, Amount):
            return show(self.value.value, self.value.dimension, self.system, style=style or None)
        if isinstance(self.value, tuple):
            return listed(self.value)
        return format(self.value, style)

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
    where = place_of(finding.where) if place else ""
    return f"{where}: {text}" if where else text


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
