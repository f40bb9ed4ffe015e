"""TOML documents read into typed records, every fault said in one sentence.

A record is a frozen dataclass made with `@record`. Its fields' annotations say what a file may hold
(`ventsize.jobfile.fields`); pydantic does the validating, and this module turns what it finds into
`Problem`s that name the file, the place, the fault and what is expected.
"""

from __future__ import annotations

import dataclasses
import difflib
import tomllib
from collections.abc import Hashable, Iterable, Mapping
from contextvars import ContextVar
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar, cast, dataclass_transform, get_type_hints

from pydantic import GetCoreSchemaHandler, TypeAdapter, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from ventsize.jobfile.fields import Expected
from ventsize.jobfile.problems import InputError, Problem

LARGEST_FILE = 4_000_000  # bytes; a job of several thousand pieces is well under one million
_TEXT_FILE = "a TOML text file"

T = TypeVar("T")


@dataclass_transform(frozen_default=True, kw_only_default=True)
def record(cls: type[T]) -> type[T]:
    """A frozen, slotted, keyword-only dataclass that a TOML table is validated into.

    Unknown and missing keys are reported by name, with the nearest known key.
    """
    return _made(cls, _schema)


@dataclass_transform(frozen_default=True, kw_only_default=True)
def rare_record(cls: type[T]) -> type[T]:
    """A record of a table that most files do not have.

    Its schema is built when the first such table comes: a check does not wait for those it will not meet.
    """
    return _made(cls, _schema_when_met)


def _made(cls: type[T], schema: Any) -> type[T]:
    made: Any = dataclasses.dataclass(frozen=True, slots=True, kw_only=True)(cls)
    made.__get_pydantic_core_schema__ = classmethod(schema)
    return cast(type[T], made)


def _schema(cls: Any, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
    return _with_key_check(cls, handler(source))


def _schema_when_met(cls: Any, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
    return _schema(cls, source, handler) if _being_built.get() is cls else _when_met(cls)


_being_built: ContextVar[Any] = ContextVar("_being_built", default=None)


@lru_cache
def _adapter(kind: Any) -> TypeAdapter[Any]:
    token = _being_built.set(kind)
    try:
        return TypeAdapter(kind)
    finally:
        _being_built.reset(token)


def _when_met(cls: Any) -> CoreSchema:
    def met(value: Any) -> Any:
        return value if isinstance(value, cls) else _adapter(cls).validate_python(value)

    return core_schema.no_info_plain_validator_function(met)


def _with_key_check(cls: Any, fields: CoreSchema) -> CoreSchema:
    def check(value: Any) -> Any:
        if isinstance(value, cls):
            return value
        if not isinstance(value, Mapping):
            raise PydanticCustomError("not_a_table", "{found} is not a table of keys", {"found": _short(value)})
        _check_keys(value, known_keys(cls))
        return value

    return core_schema.no_info_before_validator_function(check, fields)


@lru_cache
def known_keys(cls: Any) -> dict[str, tuple[bool, str]]:
    """Each key a record knows: whether it must be there, and what is expected of it."""
    hints = get_type_hints(cls, include_extras=True)
    known = {}
    for field in dataclasses.fields(cls):
        notes = getattr(hints[field.name], "__metadata__", ())
        alias = next((n.alias for n in notes if isinstance(n, FieldInfo) and n.alias), field.name)
        expected = next((n.text for n in notes if isinstance(n, Expected)), "")
        required = field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING
        known[alias] = (required, expected)
    return known


def _check_keys(table: Mapping[str, Any], known: Mapping[str, tuple[bool, str]]) -> None:
    for key in table:
        if key not in known:
            raise PydanticCustomError(
                "unknown_key",
                "{problem}",
                {"problem": f"unknown key {_short(key)}", "expected": nearest(key, known)},
            )
    for key, (required, expected) in known.items():
        if required and key not in table:
            raise PydanticCustomError(
                "missing_key", "{problem}", {"problem": f"the key '{key}' is missing", "expected": expected}
            )


def nearest(name: str, known: Iterable[str]) -> str:
    """The known name nearest to a mistyped one, as the end of a sentence "expected …"."""
    names = sorted(set(map(str, known)))
    close = difflib.get_close_matches(str(name)[:80].lower(), names, n=1, cutoff=0.5)
    if close:
        return f"perhaps '{close[0]}'"
    listed = ", ".join(names[:12]) + (", …" if len(names) > 12 else "")
    return f"one of: {listed}" if names else "none here"


def read_bytes(path: Path) -> bytes:
    """What a file holds, or an InputError that says why it cannot be read."""
    shown = str(path)
    try:
        if path.is_dir():
            raise InputError(Problem(shown, "", "it is a folder", _TEXT_FILE))
        if not path.exists():
            raise InputError(Problem(shown, "", "there is no such file", _TEXT_FILE))
        if not path.is_file():
            raise InputError(Problem(shown, "", "it is not an ordinary file", _TEXT_FILE))
        size = path.stat().st_size
        if size > LARGEST_FILE:
            limit = f"no more than {LARGEST_FILE // 1_000_000} MB"
            raise InputError(Problem(shown, "", f"it is {size / 1e6:.0f} MB large", limit))
        return path.read_bytes()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(Problem(shown, "", f"it cannot be read: {reason}", _TEXT_FILE)) from None


def decoded(content: bytes, *, file: str) -> str:
    """The text of a file, or an InputError where it is none."""
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(Problem(file, "", "it is not UTF-8 text", _TEXT_FILE)) from None


def read_text(path: Path) -> str:
    """`decoded` of `read_bytes`."""
    return decoded(read_bytes(path), file=str(path))


def parse_toml(text: str, *, file: str) -> dict[str, Any]:
    """The tables and values of a TOML text; an InputError with the line where it is not TOML."""
    try:
        return tomllib.loads(text.replace("\r\n", "\n"))
    except tomllib.TOMLDecodeError as error:
        raise InputError(Problem(file, "", f"it is not TOML: {error}", "a key and a value on each line")) from None
    except RecursionError:
        raise InputError(Problem(file, "", "it is nested too deeply", "the layout of a job or table file")) from None
    except ValueError:  # tomllib lets some numbers and dates through to int() and date()
        raise InputError(
            Problem(file, "", "a number or a date in it cannot be read", "numbers that fit a job")
        ) from None


def read_toml(path: Path) -> dict[str, Any]:
    """`parse_toml` of `read_text`."""
    return parse_toml(read_text(path), file=str(path))


def validate(data: Any, kind: type[T], *, file: str, place: str = "") -> T:
    """The record that a table describes.

    Raises InputError with one Problem for every fault found.
    """
    try:
        return cast(T, _adapter(cast(Hashable, kind)).validate_python(data))
    except ValidationError as failure:
        faults = failure.errors(include_url=False)
        raise InputError(_problem(fault, data, file=file, place=place) for fault in faults) from None


def _problem(fault: Any, data: Any, *, file: str, place: str) -> Problem:
    where = ", ".join(part for part in (place, place_of(fault["loc"], data)) if part)
    context = fault.get("ctx", {})
    if "problem" in context:
        return Problem(file, where, context["problem"], context["expected"])
    if fault["type"] == "value_error":
        problem, _, expected = str(context["error"]).partition("; expected ")
        return Problem(file, where, problem, expected)
    found = _short(fault["input"])
    if fault["type"] == "not_a_table":
        return Problem(file, where, f"{found} is not a table of keys", "a table such as { name = 'value' }")
    told = _EXPECTED.get(fault["type"])
    expected = told.format(**context) if told else fault["msg"].removeprefix("Input should be ")
    return Problem(file, where, f"{found} cannot be used here", expected)


_EXPECTED = {
    "string_type": "text in quotes",
    "tuple_type": "a list in square brackets",
    "dict_type": "a table such as {{ name = 2 }}",
    "missing": "one value more",
    "too_long": "no more than {max_length} values",
    "int_type": "a whole number",
    "greater_than_equal": "{ge:,} or more",
    "less_than_equal": "no more than {le:,}",
}


def _short(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 40 else text[:37] + "…"


def place_of(location: tuple[int | str, ...], data: Any) -> str:
    """A path into a document in words: run 'vent', piece 3, size."""
    words: list[str] = []
    for step in location:
        if isinstance(step, int):
            data = data[step] if isinstance(data, (list, tuple)) and step < len(data) else None
            name = data.get("name") if isinstance(data, Mapping) else None
            kind = words.pop() if words else "item"
            kind = "piece" if kind == "pieces" else kind
            words.append(f"{kind} '{name:.40}'" if isinstance(name, str) else f"{kind} {step + 1}")
        elif isinstance(data, Mapping) and step in data:
            data = data[step]
            words.append(str(step))
        # A step that is not in the data is the tag of a union, not part of the file.
    return ", ".join(words)
