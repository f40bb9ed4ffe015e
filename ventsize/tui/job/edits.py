"""What the keys of the job screen do to the data, and which fields stand for what is under the cursor."""

from __future__ import annotations

import contextlib
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

from ventsize.allowance.library import known_table
from ventsize.catalog.folders import shipped_folder, user_tables_folder
from ventsize.catalog.library import Catalog
from ventsize.jobfile.editing import (
    Data,
    EditError,
    clear,
    duplicate,
    duplicate_pieces,
    free_name,
    heading_before,
    insert_item,
    insert_pieces,
    items,
    move_pieces,
    names_of,
    pieces_at,
    pieces_of,
    remove_pieces,
    replace_fitting,
    set_count,
    to_laid_out,
    value_at,
)
from ventsize.tui.job import specs
from ventsize.tui.job.outline import Key
from ventsize.tui.saving import NEW_TITLES
from ventsize.tui.widgets.choice import Choice
from ventsize.tui.widgets.rows import Rows


def fields_for(data: Data, key: Key, catalog: Catalog, tables: Sequence[Choice]) -> list[specs.Spec]:
    """The fields of what is under the cursor."""
    run, piece = key
    typed = value_at(data, ("run", run))
    if not isinstance(typed, dict):
        return []
    material = catalog.pipes.get(str(typed.get("material")))
    sizes = [size.label for size in material.sizes] if material else []
    if isinstance(piece, int):
        base = ("run", run, "pieces", piece)
        if "pipe" in (value_at(data, base) or {}):
            return specs.pipe(base, sizes)
        return specs.fitting(base, sizes, [(f.name, f.title) for f in catalog.fittings.values()])
    if piece in (None, "straight"):
        fields = specs.run(data, run, list(catalog.pipes), sizes, tables)
        return fields if piece is None else [f for f in fields if f.label == "Straight"]
    return specs.count(("run", run), str(piece))


def table_choices(beside: Path | None) -> list[Choice]:
    """Allowance tables that a job can name, by their titles: beside it, the user's own, the shipped ones."""
    folders = [] if beside is None or beside == shipped_folder("scenarios") else [beside]
    folders += [user_tables_folder(), shipped_folder("tables")]
    found: dict[str, str] = {}
    for folder in folders:
        for path in sorted(folder.glob("*.toml")) if folder.is_dir() else ():
            with contextlib.suppress(OSError):
                title = _title_of_table(path, path.stat().st_mtime_ns)
                if title is not None:
                    found.setdefault(path.name, title)
    return [Choice(name, title) for name, title in found.items()]


@lru_cache(maxsize=512)
def _title_of_table(path: Path, stamp: int) -> str | None:  # noqa: ARG001
    """The title of a table file as it was at a time; None where it is no table."""
    known = known_table(path)
    return known.label if known is not None else None


def _after(data: Data, key: Key) -> int:
    """The place after the cursor: on a run's own line, its end."""
    return key[1] + 1 if isinstance(key[1], int) else len(pieces_of(data, key[0]))


def add_fitting(data: Data, key: Key, name: str) -> Data:
    """A fitting after the cursor; in a counted run, one more of it."""
    if value_at(data, ("run", key[0], "pieces")) is None:
        before = value_at(data, ("run", key[0], "fittings", name), 0)
        return set_count(data, key[0], name, (before if isinstance(before, int) else 0) + 1)
    return insert_pieces(data, key[0], _after(data, key), [{"fitting": name}])


def add_pipe(data: Data, key: Key) -> Data:
    """A pipe after the cursor, heading as the one before; of no length until one is typed."""
    at = _after(data, key)
    heading = heading_before(data, key[0], at)
    return insert_pieces(data, key[0], at, [{"pipe": "0 ft", **({"heading": heading} if heading else {})}])


def remove(data: Data, places: Iterable[Key]) -> Data:
    """Without these pieces, counted fittings or runs."""
    by_run: dict[int, set[int]] = {}
    for run, piece in places:
        if isinstance(piece, int):
            by_run.setdefault(run, set()).add(piece)
        elif piece is None:
            if len(items(data, ("run",))) == 1:
                raise EditError("a job needs one run; change this one instead")
            data = clear(data, ("run", run))
        elif piece != "straight":
            data = clear(data, ("run", run, "fittings", piece))
    for run, at in by_run.items():
        data = remove_pieces(data, run, at)
    return data


def _one_run(places: Sequence[Key]) -> tuple[int, list[int]]:
    pieces = [piece for _, piece in places if isinstance(piece, int)]
    if not pieces or len({run for run, _ in places}) > 1:
        raise EditError("put the cursor on a piece, or mark pieces of one run")
    return places[0][0], pieces


def duplicate_at(data: Data, places: Sequence[Key]) -> Data:
    """Once more: pieces, or a whole run."""
    if len(places) == 1 and places[0][1] is None:
        return duplicate(data, ("run", places[0][0]))
    return duplicate_pieces(data, *_one_run(places))


def shift(data: Data, places: Sequence[Key], by: int) -> Data:
    """Pieces moved along their run."""
    return move_pieces(data, *_one_run(places), by)


def copied(data: Data, places: Sequence[Key]) -> list[Any]:
    """The pieces at these places, run by run."""
    runs = sorted({run for run, piece in places if isinstance(piece, int)})
    return [
        p for run in runs for p in pieces_at(data, run, [at for r, at in places if r == run and isinstance(at, int)])
    ]


def paste(data: Data, key: Key, pieces: Sequence[Any]) -> Data:
    """Pieces put in after the cursor."""
    return insert_pieces(data, key[0], _after(data, key), list(pieces))


def fitting_at(data: Data, key: Key) -> str | None:
    """The fitting under the cursor, if it is one."""
    run, piece = key
    if isinstance(piece, int):
        name = value_at(data, ("run", run, "pieces", piece, "fitting"))
        return name if isinstance(name, str) else None
    return piece if isinstance(piece, str) and piece != "straight" else None


def fittings_in(data: Data, run: int) -> dict[str, int]:
    """The fittings of a run, and how many there are of each."""
    counts: dict[str, int] = {}
    if value_at(data, ("run", run, "pieces")) is None:
        typed = value_at(data, ("run", run, "fittings"), {})
        return {name: n for name, n in typed.items() if isinstance(n, int) and n} if isinstance(typed, dict) else {}
    for piece in pieces_of(data, run):
        name = piece.get("fitting") if isinstance(piece, Mapping) else None
        if isinstance(name, str):
            counts[name] = counts.get(name, 0) + 1
    return counts


def exchange(data: Data, run: int, old: str, new: str) -> Data:
    """All of one fitting in a run changed to another."""
    return replace_fitting(data, old, new, run=run)


def new_run(data: Data) -> Data:
    """A run more: a counted air pipe like the first run."""
    first = value_at(data, ("run", 0), {})
    run = {
        "name": free_name(names_of(data, ("run",)), "air"),
        "carries": "combustion air",
        "between": list(first.get("between", ["appliance", "outdoors"])),
        "size": first.get("size", "3 in"),
        "material": first.get("material", "pvc-40"),
        "straight": "0 ft",
        "fittings": {},
    }
    if "table" in first:
        run["table"] = first["table"]
    return insert_item(data, ("run",), run)


def is_counted(data: Data, run: int) -> bool:
    """Whether a run is a count of feet and fittings, and no layout."""
    typed = value_at(data, ("run", run))
    return isinstance(typed, dict) and "pieces" not in typed


def laid_out(data: Data, run: int, catalog: Catalog) -> Data:
    """A counted run as pieces, its open ends at its outdoor end. Raises EditError."""
    ends = [name for name, record in catalog.fittings.items() if record.kind in ("terminal", "entrance")]
    return to_laid_out(data, run, open_ends=ends)


def last_row(rows: Rows, run: int) -> int:
    """The last row of a run in the list."""
    return max((n for n, row in enumerate(rows.rows) if row.key and row.key[0] == run), default=0)


def counted_job() -> Data:
    """A job to be counted: nothing in it that could flatter a result, and every field there to be typed."""
    run = {
        "name": "vent", "carries": "flue gas", "between": ["appliance", "outdoors"], "size": "3 in",
        "material": "pvc-40", "straight": "",
        "fittings": {"elbow-90-long": 0, "elbow-90-short": 0, "elbow-45": 0, "terminal-open": 1},
    }  # fmt: skip
    return {"title": NEW_TITLES[0], "site": {"altitude": ""}, "appliance": [_appliance()], "run": [run]}


def laid_out_job() -> Data:
    """A job to be walked."""
    run = {
        "name": "vent", "carries": "flue gas", "between": ["appliance", "outdoors"], "size": "3 in",
        "material": "pvc-40", "pieces": [],
    }  # fmt: skip
    return {"title": NEW_TITLES[1], "site": {"altitude": ""}, "appliance": [_appliance()], "run": [run]}


def _appliance() -> Data:
    rate = {"name": "high", "input": "", "excess_air": "35 %", "flue_temperature": "110 degF"}
    return {"name": "appliance", "fuel": "natural gas", "rate": [rate]}
