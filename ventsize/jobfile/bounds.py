"""How much a file may hold, and what its texts may be: far more than any job or table has, and no more.

What is refused here is refused before it costs anything: `refuse_early` looks at the text before it is parsed, and
`bounded` at what came of it, before it is validated. The limits stand in DEVELOPERS.md with what they guard.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any, TypeVar

from ventsize.jobfile.letters import plain, plain_lines
from ventsize.jobfile.problems import InputError, Problem

LARGEST_FILE = 4_000_000  # bytes; a job of several thousand pieces is well under one million
MOST_SIGNS = 200_000  # of = , [ and {, each of which may begin a value
MOST_HEADERS = 30_000  # lines that begin with [
MOST_DOTTED = 5_000  # keys such as site.altitude; each part of one costs a table
DEEPEST_KEY = 6  # parts of one of these
DEEPEST = 12  # tables and lists in one another
MOST_KEYS = 2_000  # in one table
MOST_ITEMS = 2_000  # in one list
MOST_OF = {"pieces": 20_000, "row": 20_000, "visit": 5_000, "run": 500, "joint": 500, "appliance": 100, "rate": 100}
"""The most in a list of these: there may be more of some, and of others each costs more."""
LONGEST_TEXT = 2_000  # characters, where a text is shown in one line
LONGEST_NOTE = 50_000  # characters, where it may have lines
LONGEST_KEY = 200  # characters
LARGEST_NUMBER = 2**63  # of a whole number, as TOML has it

_LINES = frozenset(("note", "notice", "ask"))  # texts that may have lines
_FILES = frozenset(("job",))  # texts that are files themselves; they are bounded when they are read

_PART = r"""(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')"""
_DEEP_KEY = re.compile(
    rf"(?:^|[\[{{,])[ \t]*+(?:{_PART}[ \t]*+\.[ \t]*+){{{DEEPEST_KEY},}}+{_PART}[ \t]*+[=\]]", re.MULTILINE
)
_DOTTED = re.compile(rf"(?:^|[{{,])[ \t]*+{_PART}(?:[ \t]*+\.[ \t]*+{_PART})++[ \t]*+=", re.MULTILINE)
_HEADER = re.compile(r"^[ \t]*+\[", re.MULTILINE)

_LAYOUT = "the layout of a job or table file"
_Held = TypeVar("_Held", dict[str, Any], list[Any])


def refuse_early(text: str, *, file: str) -> None:
    """Raise InputError where a TOML text would cost more than any file of ours does, before it is parsed."""
    signs = sum(map(text.count, "=,[{"))
    if signs > MOST_SIGNS:
        _refuse(file, "", f"it holds some {signs:,} values", f"no more than {MOST_SIGNS:,}")
    if _DEEP_KEY.search(text):
        _refuse(file, "", "it is nested too deeply", _LAYOUT)
    for pattern, most, what in ((_HEADER, MOST_HEADERS, "tables"), (_DOTTED, MOST_DOTTED, "keys with dots")):
        found = sum(1 for _ in pattern.finditer(text))
        if found > most:
            _refuse(file, "", f"it holds {found:,} {what}", f"no more than {most:,}")


def bounded(data: dict[str, Any], *, file: str) -> dict[str, Any]:
    """The data of a file with every text in it plain; InputError where something is larger than any file of ours has.

    A text that may have lines keeps them.
    """
    few = _few(data, "", file, ())
    return {_key(key, file, ()): _value(value, key, file, (key,)) for key, value in few.items()}


def _value(value: Any, name: str, file: str, path: tuple[str | int, ...]) -> Any:
    if isinstance(value, str):
        return _text(value, name, file, path)
    if isinstance(value, int):
        if abs(value) >= LARGEST_NUMBER:  # it could not even be shown
            _refuse(file, _place(path), "a whole number in it is too large", "numbers that fit a job")
        return value
    if not isinstance(value, (dict, list)):
        return value
    if len(path) > DEEPEST:
        _refuse(file, "", "it is nested too deeply", _LAYOUT)
    if isinstance(value, list):
        few = _few(value, name, file, path)
        return [_value(item, name, file, (*path, number)) for number, item in enumerate(few)]
    return {
        _key(key, file, path): _value(item, key, file, (*path, key))
        for key, item in _few(value, name, file, path).items()
    }


def _few(value: _Held, name: str, file: str, path: tuple[str | int, ...]) -> _Held:
    most, what = MOST_KEYS, "keys"
    if isinstance(value, list):
        most, what = MOST_OF.get(name, MOST_ITEMS), "items"
    if len(value) > most:
        _refuse(file, _place(path), f"it holds {len(value):,} {what}", f"no more than {most:,}")
    return value


def _text(text: str, name: str, file: str, path: tuple[str | int, ...]) -> str:
    if name in _FILES:
        return plain_lines(text)
    lines = name in _LINES
    most = LONGEST_NOTE if lines else LONGEST_TEXT
    if len(text) > most:
        _refuse(file, _place(path), f"the text is {len(text):,} characters long", f"no more than {most:,}")
    return plain_lines(text) if lines else plain(text)


def _key(key: str, file: str, path: tuple[str | int, ...]) -> str:
    if len(key) > LONGEST_KEY:
        _refuse(file, _place(path), f"a key is {len(key):,} characters long", f"no more than {LONGEST_KEY}")
    if plain(key) != key:  # left out of it, two keys might become one
        _refuse(file, _place(path), f"the key '{plain(key)}' has characters that cannot be seen", "letters and digits")
    return key


def _place(path: Sequence[str | int]) -> str:
    """A path in words: run 2, pieces."""
    words: list[str] = []
    for step in path:
        if isinstance(step, int):
            words[-1] = f"{words[-1]} {step + 1}"
        else:
            words.append(plain(step)[:40])
    return ", ".join(words)


def _refuse(file: str, place: str, problem: str, expected: str) -> None:
    raise InputError(Problem(file, place, problem, expected))
