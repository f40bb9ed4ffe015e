"""What differs between two states of a job or of an allowance table, in the trade's words, one line a difference."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from ventsize.jobfile.aligning import align
from ventsize.jobfile.editing.values import Data
from ventsize.jobfile.history import same

WORDS = {
    "pieces": "piece", "appliance": "appliance", "rate": "rate", "run": "run", "joint": "joint", "row": "row",
    "room": "room", "fitting": "fitting", "pipe": "length", "straight": "straight pipe", "allowable": "allowed",
    "allowable_by_elbows": "allowed with", "minimum": "least", "deductions": "deduction", "elbows_each": "as elbows",
    "applies_to": "is for", "counts": "length is for", "source": "copied from", "fittings": "count",
    "exposed": "pipe in the cold", "confirm": "footnote",
}  # fmt: skip


def differences(before: Data, now: Data) -> tuple[str, ...]:
    """Each difference such as "vent, piece 3: length 12 ft -> 14 ft", in the order of what there is now."""
    return tuple(_tables(before, now, ""))


def _tables(before: Mapping[str, Any], now: Mapping[str, Any], place: str) -> Iterator[str]:
    for key in dict.fromkeys([*now, *before]):
        old, new = before.get(key), now.get(key)
        if not same(old, new):
            yield from _values(key, old, new, place)


def _values(key: str, old: Any, new: Any, place: str) -> Iterator[str]:
    word = WORDS.get(key, key.replace("_", " "))
    if _listed(old) and _listed(new) and (old or new) and all(isinstance(item, dict) for item in [*old, *new]):
        yield from _lists(word, old, new, place)
    elif key == "allowable_by_elbows" and _listed(old) and _listed(new):
        for number in range(max(len(old), len(new))):
            one, other = (side[number] if number < len(side) else None for side in (old, new))
            if not same(one, other):
                yield _line(place, f"{word} {number} elbow{'s' * (number != 1)}", one, other)
    elif isinstance(old, dict) and isinstance(new, dict):
        inside = f"{place}, {word}" if place else word
        yield from _tables(old, new, inside)
    elif isinstance(old or new, (dict, list)) and not (_listed(old or new) and _plain(old or new)):
        yield f"{_at(place)}{word} {'added' if old is None else 'taken out'}"
    else:
        yield _line(place, word, old, new)


def _lists(word: str, old: Sequence[Any], new: Sequence[Any], place: str) -> Iterator[str]:
    """Items of a list: those that stayed compared, the others added, moved or taken out."""
    origins = align(old, new)
    kept = [origin for origin in origins if origin is not None]
    moved = kept != sorted(kept)
    for number, (item, origin) in enumerate(zip(new, origins, strict=True)):
        here = _named(word, item, number, place)
        if origin is None:
            yield f"{here}: added ({_short(item)})"
        else:
            yield from _tables(old[origin], item, here)
    for number in sorted(set(range(len(old))) - set(kept)):
        yield f"{_named(word, old[number], number, place)}: taken out ({_short(old[number])})"
    if moved:
        yield f"{_at(place)}{word}s in another order"


def _named(word: str, item: Mapping[str, Any], number: int, place: str) -> str:
    name = item.get("name")
    own = f"{name}" if word == "run" and name else (f"{word} '{name}'" if name else f"{word} {number + 1}")
    return f"{place}, {own}" if place else own


def _line(place: str, word: str, old: Any, new: Any) -> str:
    return f"{place or 'file'}: {word} {_value(old)} -> {_value(new)}"


def _at(place: str) -> str:
    return f"{place}: " if place else ""


def _value(value: Any) -> str:
    if value in (None, "") or value == []:
        return "(empty)"
    if _listed(value):
        return " to ".join(map(str, value)) if len(value) == 2 else ", ".join(map(str, value))
    return str(value)


def _short(item: Mapping[str, Any]) -> str:
    """What an item is, in a few words."""
    for key in ("fitting", "pipe", "name", "input"):
        if key in item:
            more = [str(item[k]) for k in ("heading", "size", "allowable") if k in item]
            return " ".join(["pipe" if key == "pipe" else "", str(item[key]), *more]).strip()
    return ", ".join(map(str, list(item)[:3]))


def _listed(value: Any) -> bool:
    return isinstance(value, (list, tuple))


def _plain(values: Sequence[Any]) -> bool:
    return not any(isinstance(value, (dict, list)) for value in values)
