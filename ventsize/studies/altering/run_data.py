"""A changed run as one edit of an open job's data, so that it can be undone and keeps what it leaves alone."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from ventsize.catalog.library import Catalog
from ventsize.jobfile.editing import Data, EditError, items, length_text, names_of, put, units_of, value_at
from ventsize.jobfile.job import FittingPiece, Insulation, Job, PipePiece, Run
from ventsize.quantity import System, show_size

_LENGTHS = ("pipe", "rise", "table_length")


def apply_runs(data: Data, *, before: Job, after: Mapping[str, Run], catalog: Catalog) -> Data:
    """The data of a job with these runs in place of those of their names, in the units that job is typed in.

    before: the job as read from the data; a piece that is the same object in `after` keeps its data as typed.
    Raises EditError where a run is not there any more.
    """
    runs = {run.name: run for run in before.runs}
    for name, run in after.items():
        if name not in names_of(data, ("run",)):
            raise EditError(f"there is no run '{name}' any more")
        number = names_of(data, ("run",)).index(name)
        data = _apply(data, number, runs[name], run, catalog, units_of(data))
    return data


def apply_piping(data: Data, *, drop: Iterable[str] = (), add: Iterable[Data] = ()) -> Data:
    """The data without the runs of these names, and with more."""
    gone = set(drop)
    kept = [run for run in items(data, ("run",)) if run.get("name") not in gone]
    return put(data, ("run",), [*kept, *add])


def run_data(run: Run, *, catalog: Catalog, typed_in: System) -> Data:
    """A run written out anew, in these units."""
    made: Data = _apply({"run": [{"name": run.name}]}, 0, None, run, catalog, typed_in)["run"][0]
    return made


def _apply(data: Data, number: int, old: Run | None, new: Run, catalog: Catalog, typed_in: System) -> Data:
    at = ("run", number)
    labels = _labels(new, catalog)
    if old is None or new.size != old.size:
        data = put(data, (*at, "size"), labels(new.size))
    for key in ("carries", "material", "table", "surroundings"):
        if old is None or getattr(new, key) != getattr(old, key):
            data = put(data, (*at, key), getattr(new, key))
    if old is None:
        data = put(data, (*at, "between"), list(new.between))
    for key, write in _WRITTEN.items():
        value = getattr(new, key)
        if old is None or value != getattr(old, key):
            data = put(data, (*at, key), None if value is None else write(value, typed_in))
    if new.pieces is None:
        return put(data, (*at, "pieces"), None)
    if old is not None and _same(new.pieces, old.pieces or ()):
        return data
    as_typed = {
        id(piece): typed for piece, typed in zip((old.pieces if old else None) or (), _typed(data, at), strict=False)
    }
    pieces = [as_typed.get(id(piece)) or _piece(piece, labels, typed_in) for piece in new.pieces]
    return put(data, (*at, "pieces"), pieces)


def _typed(data: Data, at: tuple[str, int]) -> list[Any]:
    found = value_at(data, (*at, "pieces"), [])
    return list(found) if isinstance(found, (list, tuple)) else []


def _same(one: Iterable[Any], other: Iterable[Any]) -> bool:
    return [id(piece) for piece in one] == [id(piece) for piece in other]


def _labels(run: Run, catalog: Catalog) -> Any:
    """How a size is written: as the run's material writes it."""
    material = catalog.pipes.get(run.material)

    def label(size: float) -> str:
        found = material.size(size) if material else None
        return found.label if found else show_size(size)

    return label


def _piece(piece: PipePiece | FittingPiece, labels: Any, typed_in: System) -> Data:
    keys: tuple[str, ...] = ("pipe", "heading", "rise", "size", "material", "surroundings")
    if isinstance(piece, FittingPiece):
        keys = ("fitting", "size", "material", "k", "table_length")
    made: Data = {}
    if isinstance(piece, PipePiece) and piece.insulation is not None:
        made["insulation"] = _insulation(piece.insulation, typed_in)
    if piece.drain:
        made["drain"] = True
    for key in keys:
        value = getattr(piece, key)
        if value is not None:
            made[key] = length_text(value, typed_in) if key in _LENGTHS else labels(value) if key == "size" else value
    return made


def _insulation(insulation: Insulation, typed_in: System) -> Data:
    made: Data = {"thickness": length_text(insulation.thickness, typed_in)}
    if insulation.conductivity is not None:
        made["conductivity"] = f"{insulation.conductivity!r} W/(m K)"
    return made


_WRITTEN: Mapping[str, Callable[[Any, System], Any]] = {
    "straight": length_text,
    "rise": length_text,
    "insulation": _insulation,
    "fittings": lambda counts, _: counts,
}
"""What is in a run besides names and sizes, and how it is written."""
