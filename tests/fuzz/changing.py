"""Changed files: TOML data, cells and plain texts with something wrong, moved, doubled or enormous in them."""

from __future__ import annotations

import copy
import datetime
import json
import random
from collections.abc import Callable, Iterator, Sequence
from typing import Any

Path = tuple[str | int, ...]

WORDS = (
    "", " ", "x", "-", "3 in", "2 1/2 in", "3\"", "12' 6\"", "1e400 ft", "-0 ft", "1e-300 in", "0 in", "30,000 ft",
    "1/0 in", "1 / 3 ft", "½ in", "3½", "10 % 5", "-40 degF", "1e9 degC", "-460 degF", "nan ft", "inf", "0x10 in",
    "80,000 Btu/h", "80 MBH", "1 Btu/h", "0 kW", "1e30 W", "99 GW", "0.31 in w.c.", "-5 Pa", "5000 ft", "-1300 ft",
    "up", "down", "north", "outdoors", "furnace", "vent", "tee-1", "flue gas", "combustion air", "pvc-40", "room",
    "elbow-90-long", "elbow-45", "tee-branch", "terminal-open", "increaser", "reducer", "entrance-open", "coupling",
    "not permitted", "each run", "runs together", "natural gas", "propane", "shares", "strictest", "lot", "90", "5",
    "demo-two-stage.toml", "demo-elbow-count.toml", "demo-runs-together.toml", "../../none.toml", ".", "/", "a/" * 90,
    "\x1b[2J", "\u202e", "é", "😀", "\u0301" * 30, "'", '"', "\\", "\n", "\t", "%s", "{0}", "<b>", "=1+1", "١٢ ft",
    "9" * 400, "x" * 1_999, "(" * 300, "1 ft " * 40, "; expected ", "1 ft; expected 2", "3 in, 4 in", "𝟑 in",
)  # fmt: skip
"""Texts that somewhere mean something, and texts that nowhere do."""

VALUES: tuple[Any, ...] = (
    *WORDS, 0, 1, -1, 2, 10_000, 2**40, 0.0, -0.0, 0.5, 1.0, 1e-320, 1e308, -1e308, float("inf"), float("nan"), True,
    False, [], {}, [[]], [{}], {"": 0}, ["3 in"], [1, "x"], datetime.date(2026, 11, 20), datetime.date(1, 1, 1),
    datetime.datetime(2026, 11, 20, 7, 30), datetime.time(7, 30), {"per_two": "3 ft"}, {"2 in": "5 ft"},
    {"above": "2000 ft", "per": "1000 ft", "less": "4 %"}, ["0 ft", "4500 ft"], {"name": "x", "size": "3 in"},
)  # fmt: skip
MANY = (2, 3, 7, 40, 300)


def texts_of(data: Any) -> set[str]:
    """Every key and text in some data: what else to write where one of them stands."""
    if isinstance(data, dict):
        return set(data) | {text for value in data.values() for text in texts_of(value)}
    if isinstance(data, list):
        return {text for value in data for text in texts_of(value)}
    return {data} if isinstance(data, str) else set()


def places(data: Any, path: Path = ()) -> Iterator[Path]:
    """Every place in some data, the data itself not among them."""
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in items:
        yield (*path, key)
        yield from places(value, (*path, key))


def holder_of(data: Any, path: Path) -> Any:
    """What holds the value at a place."""
    for step in path[:-1]:
        data = data[step]
    return data


def changed(data: dict[str, Any], others: Sequence[dict[str, Any]], chance: random.Random) -> dict[str, Any]:
    """The data with one to six things changed; now and then with a part of another file's."""
    made = copy.deepcopy(data)
    vocabulary = sorted(texts_of(made)) or ["x"]
    for _ in range(chance.choice((1, 1, 1, 2, 2, 3, 6))):
        every = list(places(made))
        if not every:
            break
        path = chance.choice(every)
        chance.choice(_CHANGES)(made, path, chance, vocabulary, others)
    return made


def _leave_out(data: Any, path: Path, *_: Any) -> None:
    del holder_of(data, path)[path[-1]]


def _another_value(data: Any, path: Path, chance: random.Random, vocabulary: list[str], _: Any) -> None:
    value = chance.choice(vocabulary) if chance.random() < 0.4 else copy.deepcopy(chance.choice(VALUES))
    holder_of(data, path)[path[-1]] = value


def _slip(data: Any, path: Path, chance: random.Random, *_: Any) -> None:
    """A letter more, less or other, in a key or a text."""
    holder, key = holder_of(data, path), path[-1]
    if isinstance(holder.get(key) if isinstance(holder, dict) else holder[key], str) and chance.random() < 0.7:
        holder[key] = slipped(holder[key], chance)
    elif isinstance(key, str):
        holder[slipped(key, chance)] = holder.pop(key)


def slipped(text: str, chance: random.Random) -> str:
    """A text with a slip in it."""
    at = chance.randrange(len(text) + 1)
    return chance.choice((text[:at] + text[at + 1 :], text[:at] + chance.choice("ae10. -'\"\x1b½,") + text[at:],
                          text[at:] + text[:at], text.upper(), text * 2, text + chance.choice(WORDS)))  # fmt: skip


def _double(data: Any, path: Path, chance: random.Random, *_: Any) -> None:
    holder = holder_of(data, path)
    if isinstance(holder, list):
        holder[path[-1] : path[-1]] = [copy.deepcopy(holder[path[-1]]) for _ in range(chance.choice(MANY))]
    else:
        holder[f"{path[-1]}{chance.randrange(9)}"] = copy.deepcopy(holder[path[-1]])


def _shuffle(data: Any, path: Path, chance: random.Random, *_: Any) -> None:
    value = holder_of(data, path)[path[-1]]
    if isinstance(value, list):
        chance.shuffle(value)
    elif isinstance(value, dict):
        keys = list(value)
        chance.shuffle(keys)
        for key in keys:
            value[key] = value.pop(key)


def _swap(data: Any, path: Path, chance: random.Random, *_: Any) -> None:
    other = chance.choice(list(places(data)))
    if other[: len(path)] == path or path[: len(other)] == other:
        return
    one, two = holder_of(data, path), holder_of(data, other)
    one[path[-1]], two[other[-1]] = two[other[-1]], one[path[-1]]


def _graft(data: Any, path: Path, chance: random.Random, _: Any, others: Sequence[dict[str, Any]]) -> None:
    """A part of this file, or of another, in place of this value or beside it."""
    source = chance.choice(others) if others and chance.random() < 0.7 else data
    every = list(places(source))
    if not every:
        return
    where = chance.choice(every)
    value = copy.deepcopy(holder_of(source, where)[where[-1]])
    holder = holder_of(data, path)
    if isinstance(holder, dict) and isinstance(where[-1], str):
        holder[where[-1]] = value
    elif isinstance(holder, list):
        holder.insert(chance.randrange(len(holder) + 1), value)
    else:
        holder[path[-1]] = value


def _digit(data: Any, path: Path, chance: random.Random, *_: Any) -> None:
    """One digit other than it was: what is still a value, and leads on to where values are worked with."""
    holder, key = holder_of(data, path), path[-1]
    text = holder[key]
    if isinstance(text, str) and (at := [n for n, c in enumerate(text) if c.isdigit()]):
        n = chance.choice(at)
        holder[key] = text[:n] + chance.choice(("0", "1", "5", "9", "00", "", "9999")) + text[n + 1 :]
    elif isinstance(text, (int, float)) and not isinstance(text, bool):
        holder[key] = type(text)(text * chance.choice((0, 2, 10, 1000, -1)))


def _joint(data: Any, _: Path, chance: random.Random, *__: Any) -> None:
    """Runs that meet elsewhere: trees, loops, dead ends."""
    runs = [run for run in data.get("run", []) if isinstance(run, dict)] if isinstance(data.get("run"), list) else []
    if not runs:
        return
    run = chance.choice(runs)
    names = ["outdoors", "furnace", "tee-1", "tee-2", "a", *texts_of([one.get("between") for one in runs])]
    run["between"] = [chance.choice(names), chance.choice(names)]
    if chance.random() < 0.5:
        data["run"].append({**copy.deepcopy(run), "name": f"r{chance.randrange(99)}"})


_CHANGES: tuple[Callable[..., None], ...] = (
    _leave_out, _another_value, _another_value, _slip, _slip, _double, _shuffle, _swap, _graft, _graft, _digit, _digit,
    _digit, _joint,
)  # fmt: skip


def as_toml(data: dict[str, Any], chance: random.Random) -> str:
    """The data as TOML, now and then with its letters disturbed too."""
    lists = [key for key, value in data.items() if isinstance(value, list) and value and chance.random() < 0.5]
    headed = [key for key in lists if all(isinstance(item, dict) for item in data[key])]
    lines = [f"{_text(key)} = {_value(value)}" for key, value in data.items() if key not in headed]
    for key in headed:
        for item in data[key]:
            lines += [f"[[{_text(key)}]]", *(f"{_text(name)} = {_value(value)}" for name, value in item.items())]
    text = "\n".join(lines) + "\n"
    return disturbed(text, chance) if chance.random() < 0.1 else text


def _value(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_text(key)} = {_value(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_value, value)) + "]"
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, bool):
        return str(value).lower()
    return str(value) if isinstance(value, (int, float)) else value.isoformat()


def _text(text: str) -> str:
    """A text in quotes, as TOML has it."""
    return json.dumps(text).replace("\x7f", "\\u007f") if text.isascii() else json.dumps(text, ensure_ascii=False)


def disturbed(text: str, chance: random.Random) -> str:
    """A text with lines or letters lost, doubled, or put in."""
    for _ in range(chance.choice((1, 1, 2, 5))):
        lines = text.split("\n")
        n = chance.randrange(len(lines))
        match chance.randrange(6):
            case 0:
                del lines[n]
            case 1:
                lines.insert(chance.randrange(len(lines)), lines[n])
            case 2:
                lines[n] = slipped(lines[n], chance)
            case 3:
                lines[n] += chance.choice(WORDS)
            case 4:
                lines = lines[: n + 1]
            case _:
                lines[n] = chance.choice(("[[run]]", "[a.b.c]", '"""', "'''", "{", "]", "= 1", "a = 1", "#", "\x00"))
        text = "\n".join(lines)
    return text


def quantity(chance: random.Random) -> str:
    """A quantity as somebody might type it, or nearly."""
    parts = ("1", "12", "3/4", "½", "1e3", ".5", "1,000", "0", "-", "+", " ", "ft", "in", "'", '"', "m", "mm", "Pa",
             "in w.c.", "Btu/h", "kBtu/h", "MBH", "kW", "°F", "degC", "%", "ft³/min", "x", "to", "/", "*", "^", "²",
             ".", ",", "(", ")", "−", "\u00a0", "٣", "e", "E", "_", "psi", "W/(m K)", "µ")  # fmt: skip
    text = "".join(chance.choice(parts) + chance.choice(("", "", " ")) for _ in range(chance.randrange(1, 7)))
    return slipped(text, chance) if chance.random() < 0.2 else text


def cells(chance: random.Random) -> str:
    """A block of cells as copied from a page or a spreadsheet."""
    mark = chance.choice("\t;,|")
    heads = ("Input", "Size", "Altitude", "Length", "0 elbows", "1 elbow", "Minimum", "2 elbows", "")
    lines = [mark.join(chance.choice(heads) for _ in range(chance.randrange(1, 8)))] if chance.random() < 0.5 else []
    for _ in range(chance.randrange(1, 9)):
        lines.append(mark.join(chance.choice((quantity(chance), chance.choice(WORDS))) for _ in range(5)))
    return chance.choice(("\n", "\r\n", "\r")).join(lines)
