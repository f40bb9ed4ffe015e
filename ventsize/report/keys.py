"""Records as objects for JSON: which fields of one, in which order, each called by its name and its SI unit."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Any

UNITS = ("m", "m2", "m3", "m3_s", "m_s", "s", "kg_s", "Pa", "K", "W")
"""What a key may end in, after a low line."""


class Keys:
    """The keys of one kind of record, as the contract has them.

    kind: of record. keys: in their order, spaces between; each names a field or property of the record, with the unit
    that it is in at its end (`length_m` is the field `length`). A key that is called otherwise names its field after a
    colon: `size:label`. Raises AttributeError at once where the record has no such field.
    """

    def __init__(self, kind: type, keys: str) -> None:
        self._fields = [(key.partition(":")[0], _field(kind, key)) for key in keys.split()]

    def __call__(self, record: Any) -> dict[str, Any]:
        """A record as an object."""
        return {key: _plain(getattr(record, field)) for key, field in self._fields}

    def each(self, records: Iterable[Any]) -> list[dict[str, Any]]:
        """Records as a list of objects."""
        return [self(record) for record in records]


def _field(kind: type, key: str) -> str:
    known = {*dir(kind), *getattr(kind, "__dataclass_fields__", ())}
    name, _, field = key.partition(":")
    bare = (name.removesuffix(f"_{unit}") for unit in UNITS)
    for candidate in (field,) if field else (name, *bare):
        if candidate in known:
            return candidate
    raise AttributeError(f"{kind.__name__} has no field for the key '{key}'")


def _plain(value: Any) -> Any:
    """Money as text, to the cent; a date as text; a tuple as a list."""
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, date):
        return value.isoformat()
    return list(value) if isinstance(value, tuple) else value


def keyed(pairs: Iterable[tuple[Any, float]], *keys: str) -> list[dict[str, Any]]:
    """Points of a line, or figures by name, as objects of two keys."""
    return [dict(zip(keys, pair, strict=True)) for pair in pairs]
