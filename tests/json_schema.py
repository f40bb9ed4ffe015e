"""A small validator of JSON Schema: the keywords that `ventsize schema` writes, and no others.

Written after the text of draft 2020-12 (core 10, validation 6), from memory; a keyword it does not know is an error.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator
from typing import Any

Schema = dict[str, Any]

TYPES: dict[str, tuple[type, ...]] = {
    "string": (str,), "boolean": (bool,), "integer": (int,), "number": (int, float), "null": (type(None),),
    "object": (dict,), "array": (list,),
}  # fmt: skip
SAYS_NOTHING = {"$schema", "$defs", "title", "description", "format"}


def faults(value: Any, schema: Schema, whole: Schema, place: str = "") -> Iterator[str]:
    """Where a value is not as the schema says."""
    for keyword, says in schema.items():
        if keyword not in SAYS_NOTHING:
            yield from RULES[keyword](value, says, schema, whole, place)


def _type(value: Any, says: str | list[str], _: Schema, __: Schema, place: str) -> Iterator[str]:
    names = [says] if isinstance(says, str) else says
    of = tuple(kind for name in names for kind in TYPES[name])
    if not isinstance(value, of) or (isinstance(value, bool) and "boolean" not in names):
        yield f"{place}: {value!r:.60} is not {says}"


def _reference(value: Any, says: str, _: Schema, whole: Schema, place: str) -> Iterator[str]:
    yield from faults(value, whole["$defs"][says.removeprefix("#/$defs/")], whole, place)


def _properties(value: Any, says: Schema, _: Schema, whole: Schema, place: str) -> Iterator[str]:
    for key in says.keys() & value if isinstance(value, dict) else ():
        yield from faults(value[key], says[key], whole, f"{place}/{key}")


def _others(value: Any, says: bool | Schema, schema: Schema, whole: Schema, place: str) -> Iterator[str]:
    for key in value.keys() - schema.get("properties", {}).keys() if isinstance(value, dict) else ():
        if says is False:
            yield f"{place}: unknown key {key}"
        elif isinstance(says, dict):
            yield from faults(value[key], says, whole, f"{place}/{key}")


def _required(value: Any, says: list[str], _: Schema, __: Schema, place: str) -> Iterator[str]:
    yield from (f"{place}: no {key}" for key in says if isinstance(value, dict) and key not in value)


def _first_items(value: Any, says: list[Schema], _: Schema, whole: Schema, place: str) -> Iterator[str]:
    for number, (item, schema) in enumerate(zip(value, says, strict=False) if isinstance(value, list) else ()):
        yield from faults(item, schema, whole, f"{place}/{number}")


def _items(value: Any, says: bool | Schema, schema: Schema, whole: Schema, place: str) -> Iterator[str]:
    listed = value[len(schema.get("prefixItems", ())) :] if isinstance(value, list) else []
    for number, item in enumerate(listed):
        yield from faults(item, says, whole, f"{place}/{number}") if isinstance(says, dict) else [f"{place}: too many"]


def _any_of(value: Any, says: list[Schema], _: Schema, whole: Schema, place: str) -> Iterator[str]:
    tried = [list(faults(value, schema, whole, place)) for schema in says]
    if all(tried):
        yield from (fault for each in tried for fault in each)


def _within(holds: Callable[[Any, Any], bool], of: tuple[type, ...]) -> Callable[..., Iterator[str]]:
    def rule(value: Any, says: Any, _: Schema, __: Schema, place: str) -> Iterator[str]:
        if isinstance(value, of) and not holds(value, says):
            yield f"{place}: {value!r:.60} against {says}"

    return rule


NUMBERS = (int, float)
RULES: dict[str, Callable[..., Iterator[str]]] = {
    "type": _type, "$ref": _reference, "properties": _properties, "additionalProperties": _others,
    "required": _required, "prefixItems": _first_items, "items": _items, "anyOf": _any_of,
    "enum": _within(lambda value, says: value in says, (object,)),
    "minimum": _within(lambda value, says: value >= says, NUMBERS),
    "maximum": _within(lambda value, says: value <= says, NUMBERS),
    "exclusiveMinimum": _within(lambda value, says: value > says, NUMBERS),
    "minItems": _within(lambda value, says: len(value) >= says, (list,)),
    "maxItems": _within(lambda value, says: len(value) <= says, (list,)),
}  # fmt: skip


def as_json(data: Any) -> Any:
    """TOML's data as JSON has them: dates as text."""
    if isinstance(data, dict):
        return {key: as_json(value) for key, value in data.items()}
    if isinstance(data, list):
        return [as_json(value) for value in data]
    return data.isoformat() if isinstance(data, datetime.date) else data
