"""New data written into a TOML text: what did not change stays as it was typed, comments and all."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

from ventsize.jobfile.aligning import align
from ventsize.jobfile.history import same
from ventsize.jobfile.layout import Entry, Item, Key, Table, fields_of, items_of, layout_of, left_behind

# What a new file writes under headers; every other table is written in one line.
_HEADED = frozenset(
    (
        *("site", "uncertainty", "appliance", "rate", "run", "joint", "fitting", "pipe"),
        *("room", "other", "beside", "opening", "exhaust", "reading", "symptom", "checked", "visit"),
        *("lesson", "variant", "question"),
        *("deductions", "elbows_each", "row"),
    )
)
_ITEM_A_LINE = "pieces"
_LONGEST_LINE = 100
_LITERAL = re.compile(r"'[^'\x00-\x08\x0a-\x1f\x7f]*'")
_NOTHING = object()


class NotToml(ValueError):
    """Data that no TOML file can hold."""


def rewritten(text: str, data: Mapping[str, Any]) -> str:
    """The text with the data in it in place of what it held; a new text where it is empty.

    Reading the result gives the data exactly. A text laid out so that this would not come out is laid out afresh.
    Raises NotToml.
    """
    for start in dict.fromkeys((text, "")):
        try:
            if same(tomllib.loads(start), data):
                return start
            document = layout_of(start)
            if sorted(document.text().splitlines()) != sorted(start.splitlines()):  # tables may change their order
                continue
            _update(document, data)
            made = document.text() if start.strip() else document.text().lstrip("\n")
            if same(tomllib.loads(made), data):
                return made
        except (ValueError, TypeError, KeyError, IndexError, AttributeError, RecursionError):
            continue
    raise NotToml("it holds something that a TOML file cannot")


def _update(table: Table, data: Mapping[str, Any]) -> None:
    """Make a table, and those below it, say this data."""
    groups: dict[str, list[Table]] = {}
    for child in table.tables:
        groups.setdefault(child.path[-1], []).append(child)
    kept = {name: made for name, old in groups.items() if (made := _updated(old, data.get(name, _NOTHING)))}
    order = list(kept)
    previous = None
    in_lines = {entry.key[0] for entry in table.entries}
    for name, value in data.items():
        if name not in kept and name not in in_lines and (made := _headed((*table.path, name), value, table)):
            kept[name] = made
            order.insert(order.index(previous) + 1 if previous else 0, name)
        previous = name if name in kept else previous
    if kept != groups:
        _hand_over(table.tables, [child for name in order for child in kept[name]])
        table.tables = [child for name in order for child in kept[name]]
    loose = {name: value for name, value in data.items() if name not in kept}
    table.entries, left = _updated_entries(table.entries, loose)
    table.rest = left + table.rest
    if table.path and not table.header and (table.entries or not table.tables):
        table.header = f"[{_written_key(table.path)}]\n"


def _updated(old: list[Table], value: Any) -> list[Table]:
    """The tables of one name, made to say this value; none where they cannot."""
    many = old[0].many
    if isinstance(value, Mapping) and not many:
        _update(old[0], value)
        return old
    if not many or not _is_tables(value):
        return []
    held = [_held(table) for table in old]
    made = []
    for source, item in zip(align(held, value), value, strict=True):
        if source is None:
            blank = "\n" if old[0].before.startswith("\n") else ""
            made.append(_new_table(old[0].path, item, many=True, before=blank))
        else:
            _update(old[source], item)
            made.append(old[source])
    return made


def _headed(path: Key, value: Any, parent: Table) -> list[Table]:
    """New tables for a value that is written under headers; none for any other."""
    if path[-1] not in _HEADED or (len(path) > 1 and not parent.header):
        return []
    before = "\n" if len(path) == 1 else ""
    if isinstance(value, Mapping) and len(path) == 1:
        return [_new_table(path, value, many=False, before=before)]
    return [_new_table(path, item, many=True, before=before) for item in value] if _is_tables(value) else []


def _new_table(path: Key, data: Mapping[str, Any], *, many: bool, before: str) -> Table:
    name = _written_key(path)
    table = Table(path, many, f"[[{name}]]\n" if many else f"[{name}]\n", before)
    _update(table, data)
    return table


def _is_tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(item, Mapping) for item in value)


def _held(table: Table) -> Any:
    """The data that a table of the text holds."""
    data: Any = tomllib.loads(table.text())
    for name in table.path:
        data = data[name][-1] if isinstance(data[name], list) else data[name]
    return data


def _hand_over(old: list[Table], kept: list[Table]) -> None:
    """What stood above tables that go, and is not theirs alone, stays above the next one."""
    left = ""
    staying = {id(table) for table in kept}
    for table in old:
        if id(table) not in staying:
            left += left_behind(table.before)
        else:
            table.before, left = left + table.before, ""


def _updated_entries(entries: list[Entry], data: Mapping[str, Any]) -> tuple[list[Entry], str]:
    """Keys and values made to say this data, and the lines that are left of keys that went last."""
    kept: list[Entry] = []
    left = ""
    for entry in entries:
        value = _found(data, entry.key)
        if value is _NOTHING:
            left += left_behind(entry.before)
            continue
        entry.value = _updated_value(entry.value, value, entry.key[-1])
        entry.before, left = left + entry.before, ""
        kept.append(entry)
    indent = re.match(r"[ \t]*", kept[0].head) if kept else None
    _add_missing(kept, data, (), indent.group() if indent else "")
    return kept, left


def _found(data: Any, key: Key) -> Any:
    for name in key:
        if not isinstance(data, Mapping) or name not in data:
            return _NOTHING
        data = data[name]
    return data


def _add_missing(kept: list[Entry], data: Mapping[str, Any], above: Key, indent: str) -> None:
    """Add the keys that are not there yet, each after the one it follows in the data."""
    at = 0
    for name, value in data.items():
        key = (*above, name)
        if not any(entry.key[: len(key)] == key for entry in kept):
            kept.insert(at, Entry(key, f"{indent}{_written_key(key)} = ", _written(value, name)))
        elif isinstance(value, Mapping) and any(
            len(entry.key) > len(key) for entry in kept if entry.key[: len(key)] == key
        ):
            _add_missing(kept, value, key, indent)  # written with dotted keys
        at = 1 + max(place for place, entry in enumerate(kept) if entry.key[: len(key)] == key)


# Values


def _updated_value(old: str, value: Any, name: str) -> str:
    """A value in the words of the old one, as far as it is the same."""
    held = _value_of(old)
    if same(held, value):
        return old
    if isinstance(held, dict) and isinstance(value, Mapping) and value and held:
        fields, _ = _updated_entries(fields_of(old), value)
        pad = " " if old[1] == " " else ""
        return "{" + pad + ", ".join(f"{field.head.lstrip()}{field.value}" for field in fields) + pad + "}"
    if isinstance(held, list) and isinstance(value, list) and value:
        return _updated_list(old, held, value, name)
    return _written(value, name, like=old)


@lru_cache(maxsize=4096)
def _value_of(written: str) -> Any:
    """What a value says; it is compared, never changed."""
    return tomllib.loads(f"x = {written}")["x"]


def _updated_list(old: str, held: Sequence[Any], value: Sequence[Any], name: str) -> str:
    items = items_of(old)
    tail = items.pop().before if len(items) > len(held) else ""
    made = []
    for source, item in zip(align(held, value), value, strict=True):
        if source is None:
            made.append(Item(_written(item)))
        else:
            was = items[source]
            made.append(Item(_updated_value(was.value, item, ""), was.before, was.comment))
    if "\n" not in old and name != _ITEM_A_LINE:
        return "[" + ", ".join(item.value for item in made) + "]"
    indent = re.search(r"\n([ \t]+)\S", old)
    return _item_a_line(made, tail, indent.group(1) if indent else "  ", old[old.rfind("\n") + 1 : -1])


def _item_a_line(items: Sequence[Item], tail: str, indent: str, closing: str) -> str:
    lines = ["["]
    for item in items:
        lines += [indent + line if line else "" for line in item.before.splitlines()]
        lines.append(f"{indent}{item.value},{item.comment}")
    lines += [indent + line if line else "" for line in tail.splitlines()]
    return "\n".join([*lines, (closing if not closing.strip() else "") + "]"])


def _written(value: Any, name: str = "", *, like: str = "") -> str:
    """A value as TOML; on several lines only as the value of a key with a name.

    like: the text it replaces, whose quotes are kept.
    """
    if isinstance(value, Mapping):
        fields = ", ".join(f"{_written_key((key,))} = {_written(item)}" for key, item in value.items())
        return f"{{ {fields} }}" if fields else "{}"
    if isinstance(value, list):
        items = [_written(item) for item in value]
        line = "[" + ", ".join(items) + "]"
        if items and name and (name == _ITEM_A_LINE or len(line) > _LONGEST_LINE):
            return _item_a_line([Item(item) for item in items], "", "  ", "")
        return line
    if isinstance(value, str):
        return _written_text(value, like, several_lines=bool(name))
    import tomlkit

    return str(tomlkit.item(value).as_string())


def _written_text(value: str, like: str, *, several_lines: bool) -> str:
    import tomlkit

    choices = [f"'{value}'"] if _LITERAL.fullmatch(f"'{value}'") and re.match("'(?!'')", like) else []
    if several_lines and "\n" in value.strip("\n"):
        marks = tomlkit.string(value, multiline=True).as_string()
        choices.append('"""\n' + marks[3:].removeprefix("\n" if value[0] != "\n" else ""))
    for choice in choices:
        try:
            if tomllib.loads(f"x = {choice}")["x"] == value:
                return choice
        except tomllib.TOMLDecodeError:
            continue
    return tomlkit.string(value).as_string()


def _written_key(path: Key) -> str:
    import tomlkit

    return ".".join(tomlkit.key(name).as_string() for name in path)
