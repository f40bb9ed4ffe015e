"""A TOML text taken apart into tables, keys and items with the comments that belong to each, and put together again.

Comments directly above a key, a header or an item belong to it and travel with it; so does one behind it on the same
line. The parts keep what was typed, character by character: `layout_of(text).text()` is the text. (tomlkit keeps
comments as well, but those above a header as part of the table before, and those in a list out of reach.)
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

_TOKEN = re.compile(
    r'(?P<string>"""(?:\\.|[^\\])*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\')'
    r"|(?P<comment>\#[^\n]*)|(?P<newline>\n)|(?P<space>[ \t]+)|(?P<mark>[\[\]{},=])|(?P<word>[^\s\[\]{},=#\"']+)",
    re.DOTALL,
)
Key = tuple[str, ...]
_Token = tuple[str, str]  # kind and text


@dataclass(slots=True)
class Entry:
    """A key and its value, in a table or an inline table: `before` + `head` + `value` + `after`.

    before: blank lines and comments above; head: the key up to the value; after: to the end of the line.
    """

    key: Key
    head: str
    value: str
    before: str = ""
    after: str = "\n"


@dataclass(slots=True)
class Item:
    """An item of a list: comments above, the value, a comment behind."""

    value: str
    before: str = ""
    comment: str = ""


@dataclass(slots=True)
class Table:
    """A table under a header, with the tables below it. The document itself has no header.

    many: whether it is one of several, under [[name]]. rest: comments and blank lines after its last key.
    """

    path: Key = ()
    many: bool = False
    header: str = ""
    before: str = ""
    entries: list[Entry] = field(default_factory=list)
    rest: str = ""
    tables: list[Table] = field(default_factory=list)

    def text(self) -> str:
        """The table and those below it as TOML."""
        lines = [f"{entry.before}{entry.head}{entry.value}{entry.after}" for entry in self.entries]
        return "".join([self.before, self.header, *lines, self.rest, *(table.text() for table in self.tables)])


def layout_of(text: str) -> Table:
    """The parts of a text that is known to be TOML."""
    document = current = Table()
    waiting = ""
    for line in _logical_lines(text if text.endswith("\n") or not text else text + "\n"):
        kind, first = next((token for token in line if token[0] != "space"), ("newline", ""))
        written = "".join(part for _, part in line)
        if kind in ("newline", "comment"):
            waiting += written
        elif first == "[":
            current.rest, before = split_comments(waiting)
            current = _table_at(document, written, before)
            waiting = ""
        else:
            current.entries.append(_entry(line, waiting))
            waiting = ""
    current.rest = waiting
    return document


def split_comments(waiting: str) -> tuple[str, str]:
    """What stands between two parts: what belongs to the first, and what belongs to the second.

    Lines up to the first blank one end the first part.
    """
    lines = waiting.splitlines(keepends=True)
    blank = next((n for n, line in enumerate(lines) if not line.strip()), 0)
    return "".join(lines[:blank]), "".join(lines[blank:])


def left_behind(before: str) -> str:
    """What stays of the lines above a part when the part goes: all but the comments directly above it."""
    lines = before.splitlines(keepends=True)
    while lines and lines[-1].strip():
        lines.pop()
    while lines and not lines[-1].strip():
        lines.pop()
    return "".join(lines)


def items_of(value: str) -> list[Item]:
    """The items of a list as typed; comments after the last one are an item without value."""
    items: list[Item] = []
    before = comment = gap = later = ""
    parts: list[str] = []
    fresh = behind = False  # nothing on this line yet; the comma of the last item is on this line
    for kind, part, depth in _with_depth(tokens(value[1:-1])):
        if kind == "newline" and not depth:
            before += "\n" if fresh and not parts else ""
            fresh, behind = True, False
            continue
        if kind == "space" and not depth:
            gap = part
            parts += [part] if parts else []
            continue
        alone, fresh = fresh, False
        if kind == "comment" and not depth:
            if parts and alone:
                later += f"{part}\n"
            elif parts:
                comment += f"  {part}"
            elif behind:
                items[-1].comment = gap + part
            else:
                before += f"{part}\n"
        elif part == "," and not depth:
            items.append(Item("".join(parts).strip(), before, comment))
            before, later, comment, parts, behind, gap = later, "", "", [], True, "  "
        else:
            parts.append(part)
    if parts:
        items.append(Item("".join(parts).strip(), before, comment))
        before = later
    return [*items, Item("", before)] if before.strip() else items


def fields_of(value: str) -> list[Entry]:
    """The keys and values of an inline table as typed."""
    found: list[Entry] = []
    field_tokens: list[_Token] = []
    for kind, part, depth in _with_depth([*tokens(value[1:-1]), ("mark", ",")]):
        if part != "," or depth:
            field_tokens.append((kind, part))
        elif any(token[0] != "space" for token in field_tokens):
            found.append(_entry(field_tokens, ""))
            field_tokens = []
    return found


def tokens(text: str) -> Iterator[_Token]:
    """The words and marks of a TOML text, each with its kind."""
    return ((match.lastgroup or "", match.group()) for match in _TOKEN.finditer(text))


def _with_depth(tokens: Iterable[_Token]) -> Iterator[tuple[str, str, int]]:
    """Each token with how many brackets stand around it; a bracket counts as inside itself."""
    depth = 0
    for kind, part in tokens:
        opens, closes = kind == "mark" and part in "[{", kind == "mark" and part in "]}"
        depth += opens
        yield kind, part, depth
        depth -= closes


def _logical_lines(text: str) -> Iterator[list[_Token]]:
    """The tokens of each line, where a list or a text over several lines is one."""
    line: list[_Token] = []
    for kind, part, depth in _with_depth(tokens(text)):
        line.append((kind, part))
        if kind == "newline" and not depth:
            yield line
            line = []
    if line:
        yield line


def _entry(line: list[_Token], before: str) -> Entry:
    start = line.index(("mark", "=")) + 1
    key = "".join(part for _, part in line[: start - 1])
    while line[start][0] == "space":
        start += 1
    end = len(line)
    while line[end - 1][0] in ("space", "comment", "newline"):
        end -= 1
    head, value, after = ("".join(part for _, part in some) for some in (line[:start], line[start:end], line[end:]))
    return Entry(_key_of(key.strip()), head, value, before, after)


@lru_cache(maxsize=1024)
def _key_of(written: str) -> Key:
    return _path(tomllib.loads(f"{written} = 0"))


@lru_cache(maxsize=1024)
def _header_of(written: str) -> Key:
    return _path(tomllib.loads(written))


def _path(data: Any) -> Key:
    """The names on the way into data that holds one thing only."""
    path: Key = ()
    while isinstance(data, (dict, list)) and data:
        if isinstance(data, dict):
            (name,) = data
            path, data = (*path, name), data[name]
        else:
            data = data[0]
    return path


def _table_at(document: Table, header: str, before: str) -> Table:
    """The table that a header opens, put where it belongs."""
    path = _header_of(header)
    many = header.lstrip().startswith("[[")
    parent = document
    for depth, name in enumerate(path[:-1], start=1):
        there = [table for table in parent.tables if table.path[-1] == name]
        if not there:
            there = [Table(path[:depth])]
            parent.tables += there
        parent = there[-1]
    known = next((table for table in parent.tables if table.path == path), None)
    if known and not many:  # a table below it came first
        known.header, known.before = header, before
        return known
    table = Table(path, many, header, before)
    parent.tables.append(table)
    return table
