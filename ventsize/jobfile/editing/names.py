"""Runs, appliances, rates and joints by name: renamed with all that refers to them, copied, varied."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from ventsize.jobfile.editing.values import Data, EditError, Path, insert_item, items, put, value_at


def names_of(data: Data, path: Path) -> list[str]:
    """The names in the list at a path such as ("run",) or ("appliance", 0, "rate")."""
    return [str(item.get("name", "")) for item in items(data, path) if isinstance(item, Mapping)]


def free_name(taken: Collection[str], wanted: str) -> str:
    """The wanted name, or the first of "name 2", "name 3" … that is not taken."""
    name, number = wanted, 2
    while name in taken:
        name, number = f"{wanted} {number}", number + 1
    return name


def rename(data: Data, path: Path, name: str) -> Data:
    """The data with the item at a path such as ("run", 1) renamed, and with it all that refers to it.

    A run's name stands in `in_line` of the joints; an appliance's and a joint's in `between` of the runs; a
    rate's in the figures of its appliance's inducer.
    """
    old = value_at(data, (*path, "name"))
    data = put(data, (*path, "name"), name)
    if old is None or old == name or old in names_of(data, path[:-1]):
        return data  # others of this kind keep the old name, and what refers to it means them
    if path[0] == "run":
        return _each_list(data, "joint", "in_line", old, name)
    if path[0] in ("appliance", "joint") and len(path) == 2:
        return _each_list(data, "run", "between", old, name)
    if path[0] == "appliance" and len(path) == 4:
        for figures in ("switch", "burner", "speeds"):
            place = (*path[:2], "inducer", figures)
            by_rate = value_at(data, place)
            if isinstance(by_rate, Mapping) and old in by_rate:
                data = put(data, place, {name if key == old else key: value for key, value in by_rate.items()})
    return data


def rename_table(data: Data, old: str, name: str) -> Data:
    """The data with an allowance table under another file name, in the list and in every run it judges."""
    if "tables" in data:
        data = put(data, ("tables",), [name if table == old else table for table in items(data, ("tables",))])
    for number, run in enumerate(items(data, ("run",))):
        if isinstance(run, Mapping) and run.get("table") == old:
            data = put(data, ("run", number, "table"), name)
    return data


def _each_list(data: Data, kind: str, key: str, old: str, name: str) -> Data:
    for number, item in enumerate(items(data, (kind,))):
        names = item.get(key) if isinstance(item, Mapping) else None
        if isinstance(names, list) and old in names:
            data = put(data, (kind, number, key), [name if other == old else other for other in names])
    return data


def duplicate(data: Data, path: Path) -> Data:
    """The data with the named item at a path such as ("run", 1) once more after it, under a free name."""
    item = value_at(data, path)
    *parent, place = path
    if not isinstance(item, Mapping) or not isinstance(place, int):
        raise EditError("there is nothing to copy here")
    taken = names_of(data, tuple(parent))
    copy = {**item, "name": free_name(taken, str(item.get("name", "")))}
    return insert_item(data, tuple(parent), copy, place + 1)


def variant(data: Data, taken: Collection[str] = ()) -> Data:
    """The job as a variant to be changed and kept beside it: the same data under a title of its own.

    taken: titles of the variants there are already.
    """
    title = str(data.get("title", ""))
    return put(data, ("title",), free_name({title, *taken}, title))


def refers_to(data: Data, path: Path) -> tuple[str, ...]:
    """Names of the runs and joints that refer to the item at a path: what its removal would leave loose."""
    name: Any = value_at(data, (*path, "name"))
    kind, key = ("joint", "in_line") if path[0] == "run" else ("run", "between")
    if len(path) != 2:
        return ()
    return tuple(str(item.get("name", "")) for item in items(data, (kind,)) if name in (value_at(item, (key,)) or ()))
