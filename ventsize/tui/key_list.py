"""The list of every key: its action, its place, and the name by which it is given another; keys stand on screens."""

from __future__ import annotations

import pkgutil
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from typing import Any

import ventsize.tui
from ventsize.tui.keys import KeysInTurn

PLACES = {
    "app": "everywhere", "job": "job", "start": "first screen", "jobs": "jobs of a folder",
    "count": "quick check", "table": "allowance table",
    "tables": "list of tables", "list": "lists", "grid": "grids", "field": "fields", "choice": "fields with choices",
    "picker": "lists of choices", "line": "a line asked for", "file": "choosing a file", "settings": "settings",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Bound:
    """name: by which the settings know the action. keys: as shipped, with commas. label: what it does."""

    name: str
    keys: str
    label: str
    owner: str

    @property
    def place(self) -> str:
        """Where it holds, in words."""
        kind = self.name.partition(".")[0]
        return PLACES.get(kind, kind)


@cache
def every_key() -> tuple[Bound, ...]:
    """Every action with a key, by place and name. Loads every screen."""
    for module in pkgutil.walk_packages(ventsize.tui.__path__, "ventsize.tui."):
        import_module(module.name)
    found = {bound.name: bound for cls in _classes() for bound in _own(cls)}
    order = list(PLACES.values())
    ranked = [(order.index(b.place) if b.place in order else len(order), b.place, b.name, b) for b in found.values()]
    return tuple(bound for *_, bound in sorted(ranked, key=lambda entry: entry[:3]))


def _classes() -> Iterator[type[Any]]:
    from textual.dom import DOMNode

    seen: set[type[Any]] = set()
    left: list[type[Any]] = [DOMNode, KeysInTurn]
    while left:
        cls = left.pop()
        left += [sub for sub in cls.__subclasses__() if sub not in seen]
        if cls not in seen and cls.__module__.startswith("ventsize."):
            yield cls
        seen.add(cls)


def _own(cls: type[Any]) -> Iterator[Bound]:
    """The bindings a class brings itself."""
    for binding in cls.__dict__.get("BINDINGS", ()):
        name = getattr(binding, "id", None)
        if name is not None:
            yield Bound(name, binding.key, binding.description or binding.action, cls.__name__)


def clashes(keys: dict[str, str]) -> list[str]:
    """What of somebody's own keys does not go together, a sentence each."""
    known = {bound.name: bound for bound in every_key()}
    said = [f"keys: there is no action '{name}'" for name in keys if name not in known]
    taken: dict[tuple[str, str], list[str]] = {}
    for bound in every_key():
        for key in keys.get(bound.name, bound.keys).split(","):
            taken.setdefault((bound.owner, key.strip()), []).append(bound.name)
    for (_, key), names in taken.items():
        if len(names) > 1 and any(name in keys for name in names):
            said.append(f"keys: '{key}' is given to {' and '.join(names)}; only one of them has it")
    return said
