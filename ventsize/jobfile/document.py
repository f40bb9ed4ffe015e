"""TOML documents read into typed records, every fault said in one sentence.

A record is a frozen dataclass made with `@record`. Its fields' annotations say what a file may hold
(`ventsize.jobfile.field_types`); pydantic does the validating, and this module turns what it finds into
`Problem`s that name the file, the place, the fault and what is expected.
"""

from __future__ import annotations

import copy
import dataclasses
import difflib
import math
import os
import tomllib
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from contextvars import ContextVar
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar, cast, dataclass_transform, get_type_hints

from pydantic import GetCoreSchemaHandler, TypeAdapter, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import CoreSchema, InitErrorDetails, PydanticCustomError, core_schema

from ventsize.jobfile.bounds import LARGEST_FILE, bounded, refuse_early
from ventsize.jobfile.field_types import Expected
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import Unusable

MOST_FAULTS = 200  # of one file that are put into words; of the others it is said how many there are
MOST_COUNTED = 2_000  # of those others; beyond it they are no longer looked for
MOST_COMPARED = 20_000  # names, in looking for what was meant by mistyped ones of one file
ALIKE_KEYS = 0.6  # keys are many and none of the user's making: only what is near was meant
_TEXT_FILE = "a TOML text file"

T = TypeVar("T")


class _Reading:
    """How much has been said of one file so far.

    faults: at least so many are in words. more: those besides. compared: names looked at for what was meant.
    """

    def __init__(self) -> None:
        self.faults = self.more = self.compared = 0


_reading: ContextVar[_Reading | None] = ContextVar("_reading", default=None)


@dataclass_transform(frozen_default=True, kw_only_default=True)
def record(cls: type[T]) -> type[T]:
    """A frozen, slotted, keyword-only dataclass that a TOML table is validated into.

    Unknown and missing keys are reported by name, with the nearest known key; or, where the record's ELSEWHERE has the
    key, with what it says: where such a key belongs.
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
    def check(value: Any, read: Callable[[Any], Any]) -> Any:
        if isinstance(value, cls):
            return read(value)
        reading = _reading.get() or _Reading()
        if reading.faults >= MOST_FAULTS:
            return _counted(value, cls, read, reading)
        try:
            return _checked(value, cls, read)
        except ValidationError as failure:
            reading.faults += failure.error_count()
            raise

    return core_schema.no_info_wrap_validator_function(check, fields)


def _checked(value: Any, cls: Any, read: Callable[[Any], Any]) -> Any:
    if not isinstance(value, Mapping):
        raise PydanticCustomError("not_a_table", "{found} is not a table of keys", {"found": _short(value)})
    known = known_keys(cls)
    if value.keys() <= known.keys() and all(key in value for key, (required, _) in known.items() if required):
        return read(value)
    raise ValidationError.from_exception_data(cls.__name__, list(_faults_of(value, cls, read)))


def _counted(value: Any, cls: Any, read: Callable[[Any], Any], reading: _Reading) -> Any:
    """The record; where it has faults they are counted rather than put into words, and stand for one."""
    if reading.more < MOST_COUNTED:
        known = known_keys(cls)
        table = value if isinstance(value, Mapping) else {}
        reading.more += sum(1 for key in table if key not in known)
        try:
            made = read({key: item for key, item in table.items() if key in known})
        except ValidationError as failure:
            reading.more += sum(1 for fault in failure.errors(include_url=False) if fault["type"] != _PASSED_OVER)
        else:
            if table.keys() <= known.keys():
                return made
    else:
        reading.more += 1
    raise PydanticCustomError(_PASSED_OVER, "it is one of many", {})


_PASSED_OVER = "passed_over"


@lru_cache
def known_keys(cls: Any) -> dict[str, tuple[bool, str]]:
    """Each key a record knows: whether it must be there, and what is expected of it."""
    hints = get_type_hints(cls, include_extras=True)
    known = {}
    for field in dataclasses.fields(cls):
        notes = getattr(hints[field.name], "__metadata__", ())
        alias = next((n.alias for n in notes if isinstance(n, FieldInfo) and n.alias), field.name)
        expected = next((n.text for n in reversed(notes) if isinstance(n, Expected)), "")  # the outermost
        required = field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING
        known[alias] = (required, expected)
    return known


def _faults_of(table: Mapping[str, Any], cls: Any, read: Callable[[Any], Any]) -> Iterable[InitErrorDetails]:
    """Everything wrong in a table whose keys are not as they should be: one slip does not hide the others.

    A mistyped key is read as the one that was meant, so that no fault follows from the slip itself.
    """
    known = known_keys(cls)
    elsewhere: Mapping[str, str] = getattr(cls, "ELSEWHERE", {})
    meant = {key: value for key, value in table.items() if key in known}
    for key in table:
        if key in known:
            continue
        near = "" if key in elsewhere else meant_name(key, known, alike=ALIKE_KEYS)
        near = "" if near in meant else near
        if near:
            meant[near] = table[key]
        expected = elsewhere.get(key) or nearest(key, known, alike=ALIKE_KEYS)
        yield _fault("unknown_key", f"unknown key {_short(key)}", expected, key, near)
    missing = [key for key, (required, _) in known.items() if required and key not in meant]
    for key in missing:
        yield _fault("missing_key", f"the key '{key}' is missing", known[key][1])
    try:
        read(meant)
    except ValidationError as failure:
        for fault in failure.errors(include_url=False):
            if fault["type"] != "missing" or fault["loc"] not in [(key,) for key in missing]:
                yield _again(fault)


def _fault(kind: Any, problem: str, expected: str, key: Any = None, meant: str = "") -> InitErrorDetails:
    told = PydanticCustomError(kind, "{problem}", {"problem": problem, "expected": expected, "meant": meant})
    return InitErrorDetails(type=told, loc=() if key is None else (str(key),), input=None)


def _again(fault: Any) -> InitErrorDetails:
    context = fault.get("ctx", {})
    own = fault["type"] in ("unknown_key", "missing_key", "not_a_table", _PASSED_OVER)
    kind = PydanticCustomError(fault["type"], "{told}", {**context, "told": fault["msg"]}) if own else fault["type"]
    return InitErrorDetails(type=kind, loc=fault["loc"], input=fault["input"], ctx=context)


def meant_name(name: str, known: Iterable[str], *, alike: float) -> str:
    """The known name that a mistyped one was meant to be; empty where none is as much alike, from 0 to 1."""
    names = sorted(map(str, known))
    reading = _reading.get() or _Reading()
    reading.compared += len(names)
    if reading.compared > MOST_COMPARED:
        return ""
    return next(iter(difflib.get_close_matches(str(name)[:80].lower(), names, n=1, cutoff=alike)), "")


def nearest(name: str, known: Iterable[str], *, alike: float = 0.5) -> str:
    """The known name nearest to a mistyped one, as the end of a sentence "expected …"."""
    names = sorted(set(map(str, known)))
    near = meant_name(name, names, alike=alike)
    if near:
        return f"perhaps '{near}'"
    listed = ", ".join(names[:12]) + (", …" if len(names) > 12 else "")
    return f"one of: {listed}" if names else "none here"


def read_bytes(path: Path, *, expected: str = _TEXT_FILE) -> bytes:
    """What a file holds, or an InputError that says why it cannot be read, and what is expected."""
    shown = str(path)
    try:
        if path.is_dir():
            raise InputError(Problem(shown, "", "it is a folder", expected))
        if not path.exists():
            raise InputError(Problem(shown, "", "there is no such file", expected))
        if not path.is_file():
            raise InputError(Problem(shown, "", "it is not an ordinary file", expected))
        with path.open("rb") as opened:  # what the system says of its size need not be so
            content = opened.read(LARGEST_FILE + 1)
            size = max(len(content), os.fstat(opened.fileno()).st_size)
        if size > LARGEST_FILE:
            limit = f"no more than {LARGEST_FILE // 1_000_000} MB"
            raise InputError(Problem(shown, "", f"it is {math.ceil(size / 1e5) / 10:g} MB large", limit))
        return content
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(Problem(shown, "", f"it cannot be read: {reason}", expected)) from None


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
    """The tables and values of a TOML text, every text plain; an InputError with the line where it is not TOML."""
    refuse_early(text, file=file)
    try:
        return bounded(tomllib.loads(text.replace("\r\n", "\n")), file=file)
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


def validate(
    data: Any,
    kind: type[T],
    *,
    file: str,
    place: str = "",
    beyond: Callable[[T], Iterable[Problem]] | None = None,
) -> T:
    """The record that a table describes.

    beyond: what is wrong between values that are each right by themselves.

    Raises InputError with one Problem for every fault found.
    """
    reading = _Reading()
    _reading.set(reading)
    try:
        found = cast(T, _adapter(cast(Hashable, kind)).validate_python(data))
    except ValidationError as failure:
        faults = [fault for fault in failure.errors(include_url=False) if fault["type"] != _PASSED_OVER]
        problems = [_problem(fault, data, file=file, place=place) for fault in faults]
        if beyond and not reading.more and all(fault["type"] == "unknown_key" for fault in faults):
            known = _as_meant({fault["loc"]: fault["ctx"]["meant"] for fault in faults}, data, kind)
            problems += () if known is None else beyond(known)
        raise InputError(problems, more=reading.more) from None
    problems = list(beyond(found)) if beyond else []
    if problems:
        raise InputError(problems)
    return found


def _as_meant(unknown: Mapping[tuple[int | str, ...], str], data: Any, kind: type[T]) -> T | None:
    """The record of a table with unknown keys, by place, read as the key meant or left out; None where it has none."""
    mended = copy.deepcopy(data)
    for location, meant in unknown.items():
        holder = mended
        for step in location[:-1]:
            # A step that is not in the data is the tag of a union.
            holder = holder[step] if isinstance(step, int) or step in holder else holder
            if not isinstance(holder, (dict, list)):  # a key named as a tag
                return None
        value = holder.pop(location[-1])
        if meant:
            holder[meant] = value
    try:
        return cast(T, _adapter(cast(Hashable, kind)).validate_python(mended))
    except ValidationError:
        return None


def _problem(fault: Any, data: Any, *, file: str, place: str) -> Problem:
    location = fault["loc"][:-1] if fault["type"] == "unknown_key" else fault["loc"]
    where = ", ".join(part for part in (place, place_of(location, data)) if part)
    path = tuple(step + 1 if isinstance(step, int) else step for step, _ in _steps(location, data))
    context = fault.get("ctx", {})
    if "problem" in context:
        return Problem(file, where, context["problem"], context["expected"], path)
    if fault["type"] == "value_error":
        error: Unusable = context["error"]
        return Problem(file, where, error.problem, error.expected, path)
    found = _short(fault["input"])
    if fault["type"] == "not_a_table":
        return Problem(file, where, f"{found} is not a table of keys", "a table such as { name = 'value' }", path)
    expected = _EXPECTED.get(fault["type"], "another value").format(**context)
    return Problem(file, where, f"{found} cannot be used here", expected, path)


_EXPECTED = {
    "string_type": "text in quotes",
    "tuple_type": "a list in square brackets",
    "dict_type": "a table such as {{ name = 2 }}",
    "literal_error": "{expected}",
    "missing": "one value more",
    "too_long": "no more than {max_length} values",
    "too_short": "{min_length} values or more",
    "int_type": "a whole number",
    "int_parsing": "a whole number",
    "int_from_float": "a whole number",
    "bool_type": "true or false",
    "bool_parsing": "true or false",
    "greater_than_equal": "{ge:,} or more",
    "less_than_equal": "no more than {le:,}",
}


def _short(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 40 else text[:37] + "…"


def place_of(location: tuple[int | str, ...], data: Any) -> str:
    """A path into a document in words: run 'vent', piece 3, size."""
    words: list[str] = []
    for step, found in _steps(location, data):
        if isinstance(step, int):
            name = found.get("name") if isinstance(found, Mapping) else None
            kind = words.pop() if words else "item"
            kind = "piece" if kind == "pieces" else kind
            words.append(f"{kind} '{name:.40}'" if isinstance(name, str) else f"{kind} {step + 1}")
        else:
            words.append(step)
    return ", ".join(words)


def _steps(location: tuple[int | str, ...], data: Any) -> Iterator[tuple[int | str, Any]]:
    """Each step of a path with what it leads to. One that is not in the data is the tag of a union: left out."""
    for step in location:
        if isinstance(step, int):
            data = data[step] if isinstance(data, (list, tuple)) and step < len(data) else None
            yield step, data
        elif isinstance(data, Mapping) and step in data:
            data = data[step]
            yield step, data
