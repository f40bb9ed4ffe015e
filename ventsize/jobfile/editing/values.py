"""Values at paths in a job's data, and items of its lists. Every function returns new data.

What is not on the path is shared with the data before, so that a snapshot for every keystroke costs
little; nothing that was handed out is ever changed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from ventsize.jobfile.problems import Refused

Data = dict[str, Any]
Path = tuple[str | int, ...]

# The order in which the keys of a table are written, by the key the table stands under.
KEY_ORDER: dict[str, tuple[str, ...]] = {
    kind: tuple(keys.split())
    for kind, keys in {
        "": "title source note state applies_to counts mixed_sizes altitude_factor confirm most_elbows tables "
        "confirmed cooling lesson site uncertainty appliance run joint room fitting pipe reading symptom checked "
        "deductions elbows_each counts_as limits row exposed",
        "site": "altitude outdoor design_outdoor indoor relative_humidity indoor_relative_humidity attic crawlspace "
        "wind wind_from terrain room_pressure stack_height",
        "appliance": "name fuel input_basis collar trap_seal air backflow_prevented inducer rate",
        "rate": "name input excess_air oxygen carbon_dioxide flue_temperature switch_opens switch_closes",
        "run": "name carries between size material table wall surroundings insulation straight rise fittings pieces",
        "pieces": "pipe fitting heading rise size material surroundings insulation drain k table_length",
        "joint": "name fitting in_line",
        "room": "name volume appliances infiltration supply other beside opening exhaust",
        "row": "input size altitude pipes ends materials air_size allowable allowable_by_elbows first_elbows "
        "allowable_pressure minimum elbows_included",
        "limits": "most_elbows longest_level longest_rise longest_difference same_size",
        "exposed": "size outdoor insulation allowable",
    }.items()
}


class EditError(Refused, ValueError):
    """An edit that cannot be made here; `str()` is one sentence a person can act on."""


def value_at(data: Any, path: Path, default: Any = None) -> Any:
    """The value at a path, or `default` where there is none."""
    for step in path:
        try:
            data = data[step]
        except (KeyError, IndexError, TypeError):
            return default
    return data


def put(data: Data, path: Path, value: Any) -> Data:
    """The data with `value` at a path; None clears it. Tables missing on the way are made.

    Raises EditError where the path leads through something that is not a table or a list.
    """
    if value is None:
        return clear(data, path)
    made: Data = _put(data, path, _plain(value), "")
    return made


def clear(data: Data, path: Path) -> Data:
    """The data without the key, or without the item of a list, at a path; the same data if it is not there."""
    if value_at(data, path, _NOTHING) is _NOTHING:
        return data
    *parent, last = path
    holder = value_at(data, tuple(parent))
    if isinstance(last, int):
        number = last % len(holder)
        left: Any = [item for index, item in enumerate(holder) if index != number]
    else:
        left = {key: value for key, value in holder.items() if key != last}
    return put(data, tuple(parent), left)


def items(data: Data, path: Path) -> list[Any]:
    """The list at a path; empty where there is none. Raises EditError if something else stands there."""
    found = value_at(data, path, [])
    if not isinstance(found, (list, tuple)):
        raise EditError(f"{_words(path)} is not a list")
    return list(found)


def insert_item(data: Data, path: Path, item: Any, at: int | None = None) -> Data:
    """The data with an item more in the list at a path: before place `at`, or at the end."""
    there = items(data, path)
    there.insert(len(there) if at is None else at, item)
    return put(data, path, there)


def move_item(data: Data, path: Path, by: int) -> Data:
    """The data with the list item at a path moved down by so many places (up if negative), as far as the list goes."""
    *parent, last = path
    there = items(data, tuple(parent))
    if not isinstance(last, int) or not 0 <= last < len(there):
        raise EditError(f"there is no {_words(path)}")
    item = there.pop(last)
    there.insert(min(max(last + by, 0), len(there)), item)
    return put(data, tuple(parent), there)


_NOTHING = object()


def _put(holder: Any, path: Path, value: Any, kind: str) -> Any:
    if not path:
        return value
    step, *rest = path
    if isinstance(step, int):
        if not isinstance(holder, (list, tuple)) or not -len(holder) <= step < len(holder):
            raise EditError(f"there is no {kind or 'item'} {step + 1}")
        changed = list(holder)
        changed[step] = _put(holder[step], tuple(rest), value, kind)
        return changed
    if holder is None:
        holder = {}
    if not isinstance(holder, Mapping):
        raise EditError(f"'{kind}' is not a table of keys")
    new = _put(holder.get(step), tuple(rest), value, step)
    return {**holder, step: new} if step in holder else _with_key(holder, step, new, kind)


def _with_key(table: Mapping[str, Any], key: str, value: Any, kind: str) -> Data:
    """The table with a new key where its kind of table is used to have it, or at the end."""
    order = KEY_ORDER.get(kind, ())
    made = dict(table)
    if key not in order:
        return {**made, key: value}
    later = set(order[order.index(key) + 1 :])
    before = [name for name in made if name not in later]
    return {**{name: made[name] for name in before}, key: value, **{n: v for n, v in made.items() if n in later}}


def _plain(value: Any) -> Any:
    """The value as TOML knows it: tables as dict, lists as list."""
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items() if item is not None}
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [_plain(item) for item in value]
    return value


def _words(path: Path) -> str:
    return " ".join(str(step + 1) if isinstance(step, int) else step for step in path)
