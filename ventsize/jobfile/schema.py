"""JSON Schema (draft 2020-12) of what a record reads or an answer holds, made from its own fields."""

from __future__ import annotations

import dataclasses
import datetime
import types
from collections.abc import Mapping
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints, is_typeddict

from pydantic.fields import FieldInfo

from ventsize.jobfile.document import known_keys
from ventsize.jobfile.field_types import Expected, NotNegative, Positive

Schema = dict[str, Any]

_SIMPLE: dict[Any, Schema] = {
    str: {"type": "string"},
    bool: {"type": "boolean"},
    int: {"type": "integer"},
    float: {"type": "number"},
    type(None): {"type": "null"},
    datetime.date: {"type": "string", "format": "date"},
    Any: {},
}
_BOUNDS = {"ge": "minimum", "le": "maximum", "max_length": "maxItems"}


def schema_of(kind: Any, *, title: str, entries: Mapping[str, Any] | None = None) -> Schema:
    """Return the schema of a record, or of a TypedDict.

    entries: what keys of the record hold whose tables its own layer leaves unread.
    """
    writer = _Writer(kind, entries or {})
    top = writer.of(kind)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": title, **top, "$defs": writer.defined}


class _Writer:
    """Schemas by the name of their class, each written once."""

    def __init__(self, top: Any, entries: Mapping[str, Any]) -> None:
        self.top, self.entries = top, entries
        self.defined: dict[str, Schema] = {}
        self.named: dict[str, Any] = {}

    def of(self, hint: Any) -> Schema:
        notes = getattr(hint, "__metadata__", ())
        bare = hint.__origin__ if notes else hint
        stands_for = next((note for note in notes if isinstance(note, type)), None)
        written = [note.written for note in notes if isinstance(note, Expected) and note.written]
        expected = [note.text for note in notes if isinstance(note, Expected)]
        made = _types(written[0]) if written else self._of_bare(stands_for or bare)
        if expected:
            made["description"] = expected[-1]
        return made if made.get("type") == "string" else made | _bounds(notes)

    def _of_bare(self, hint: Any) -> Schema:
        if hint in _SIMPLE:
            return dict(_SIMPLE[hint])
        if is_typeddict(hint) or dataclasses.is_dataclass(hint):
            return self._reference(hint)
        origin, inside = get_origin(hint), get_args(hint)
        if origin is Literal:
            return {"enum": list(inside)}
        if origin in (Union, types.UnionType):
            return _any_of([self.of(one) for one in inside])
        if origin is dict:
            return {"type": "object", "additionalProperties": self.of(inside[1])}
        if origin is list or (origin is tuple and inside[1:] == (...,)):
            return {"type": "array", "items": self.of(inside[0])}
        if origin is tuple:
            size = len(inside)
            items = [self.of(one) for one in inside]
            return {"type": "array", "prefixItems": items, "items": False, "minItems": size, "maxItems": size}
        raise TypeError(f"no schema for {hint!r}")

    def _reference(self, kind: Any) -> Schema:
        name = kind.__name__.lstrip("_")
        if self.named.setdefault(name, kind) is not kind:
            raise TypeError(f"two classes are named {name}")
        if name not in self.defined:
            self.defined[name] = {}
            self.defined[name] = self._of_typed_dict(kind) if is_typeddict(kind) else self._of_record(kind)
        return {"$ref": f"#/$defs/{name}"}

    def _of_typed_dict(self, kind: Any) -> Schema:
        hints = get_type_hints(kind, include_extras=True)
        return _object(kind, {key: self.of(hint) for key, hint in hints.items()}, sorted(kind.__required_keys__))

    def _of_record(self, kind: Any) -> Schema:
        hints = get_type_hints(kind, include_extras=True)
        keys = known_keys(kind)
        unread = self.entries if kind is self.top else {}
        properties = {
            key: self.of(unread.get(key, _given(hints[field.name])))
            for field, key in zip(dataclasses.fields(kind), keys, strict=True)
        }
        return _object(kind, properties, [key for key, (required, _) in keys.items() if required])


def _object(kind: Any, properties: Mapping[str, Schema], required: list[str]) -> Schema:
    told = {"description": " ".join(kind.__doc__.split("\n\n")[0].split())} if kind.__doc__ else {}
    return {"type": "object", **told, "properties": properties, "required": required, "additionalProperties": False}


def _given(hint: Any) -> Any:
    """The type of a key where it is there: a file has no null."""
    if get_origin(hint) is Annotated:
        inside, *notes = get_args(hint)
        return Annotated[(_given(inside), *notes)]
    if get_origin(hint) in (Union, types.UnionType):
        left = tuple(one for one in get_args(hint) if one is not type(None))
        return Union[left]  # noqa: UP007 the members are known only here
    return hint


def _types(names: tuple[str, ...]) -> Schema:
    return {"type": names[0] if len(names) == 1 else list(names)}


def _any_of(members: list[Schema]) -> Schema:
    return members[0] if len(members) == 1 else {"anyOf": members}


def _bounds(notes: tuple[Any, ...]) -> Schema:
    found: Schema = {}
    for note in notes:
        if note is Positive:
            found["exclusiveMinimum"] = 0
        elif note is NotNegative:
            found["minimum"] = 0
        elif isinstance(note, FieldInfo):
            limits = ((word, getattr(limit, key, None)) for limit in note.metadata for key, word in _BOUNDS.items())
            found |= {word: value for word, value in limits if value is not None}
    return found
