"""Counted runs: fittings by number, and the way from a layout to a count and back."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from typing import Any

from ventsize.jobfile.editing.pieces import Piece
from ventsize.jobfile.editing.values import Data, EditError, clear, items, put, value_at
from ventsize.jobfile.job import OUTDOORS
from ventsize.quantity import Dimension, System, parse, show_length

_EXACT = 1e-9  # m
_METRIC = re.compile(r"m(et(er|re)s?)?$", re.IGNORECASE)  # how every spelling of a metric length ends


def set_count(data: Data, run: int, fitting: str, count: int) -> Data:
    """The data with so many of a fitting in a counted run; none of it takes it off the list.

    What is no number, such as a field that is empty just now, is kept for the check to stumble over: it is not none.
    """
    path = ("run", run, "fittings", fitting)
    return clear(data, path) if count == 0 else put(data, path, count)


def nothing_counted(data: Data, run: int) -> bool:
    """Whether a run is counted and has no foot and no fitting yet."""
    typed = value_at(data, ("run", run))
    if not isinstance(typed, Mapping) or "pieces" in typed:
        return False
    counts = typed.get("fittings", {})
    if not isinstance(counts, Mapping) or any(count != 0 for count in counts.values()):
        return False
    try:
        straight = str(typed.get("straight", "")).strip()
        return not straight or parse(straight, Dimension.LENGTH) == 0.0
    except ValueError:
        return False


def to_laid_out(data: Data, run: int, *, open_ends: Collection[str] = ()) -> Data:
    """The data with a counted run turned into pieces: one pipe, then its fittings; none where nothing is counted yet.

    open_ends: names of the fittings that stand at an open end; they come last, or first where the run is
    listed from outdoors.
    """
    typed = value_at(data, ("run", run))
    if not isinstance(typed, Mapping) or "pieces" in typed:
        raise EditError("this run is laid out already")
    left = {key: value for key, value in typed.items() if key not in ("straight", "rise", "fittings")}
    if nothing_counted(data, run):
        return put(data, ("run", run), {**left, "pieces": []})
    counts = typed.get("fittings", {})
    if odd := next((name for name, count in counts.items() if not isinstance(count, int)), None):
        raise EditError(f"the number of {odd} cannot be read; type it first")
    pipe = {"pipe": typed.get("straight", "0 ft"), **({"rise": typed["rise"]} if "rise" in typed else {})}
    inside = list(_each(counts, (name for name in counts if name not in open_ends)))
    outside = list(_each(counts, (name for name in counts if name in open_ends)))
    from_outdoors = value_at(typed, ("between", 0)) == OUTDOORS
    pieces = [*outside, pipe, *inside] if from_outdoors else [pipe, *inside, *outside]
    return put(data, ("run", run), {**left, "pieces": pieces})


def _each(counts: Mapping[str, Any], names: Iterable[str]) -> Iterable[Piece]:
    for name in names:
        yield from [{"fitting": name}] * counts[name]


def is_metric(text: str) -> bool:
    """Whether a length is typed in a metric unit."""
    return _METRIC.search(text.strip()) is not None


def units_of(data: Data) -> System:
    """The units that most lengths of a job's runs are typed in."""
    runs = [run for run in items(data, ("run",)) if isinstance(run, Mapping)]
    pieces = [piece for run in runs for piece in run.get("pieces") or () if isinstance(piece, Mapping)]
    lengths = [str(one[key]) for one in (*runs, *pieces) for key in ("straight", "pipe") if one.get(key)]
    return System.SI if 2 * sum(map(is_metric, lengths)) > len(lengths) else System.US


def length_text(length: float, typed_in: System) -> str:
    """A length [m] in the trade's style, or in millimeters where that style would round it."""
    shown = show_length(length, typed_in)
    exact = abs(parse(shown, Dimension.LENGTH, signed=True) - length) <= _EXACT
    return shown if exact else f"{length * 1000:.6f}".rstrip("0").rstrip(".") + " mm"
