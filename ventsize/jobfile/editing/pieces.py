"""Pieces of a laid-out run: put in, taken out, copied, moved, exchanged, resized."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Any

from ventsize.jobfile.editing.values import Data, EditError, items, put, value_at

Piece = Mapping[str, Any]


def pieces_of(data: Data, run: int) -> list[Any]:
    """The pieces of a run by its place in the file, from 0. Raises EditError if it is a counted run."""
    typed = value_at(data, ("run", run))
    if not isinstance(typed, Mapping):
        raise EditError(f"there is no run {run + 1}")
    if "pieces" not in typed and ("straight" in typed or "fittings" in typed):
        raise EditError(f"run '{typed.get('name', run + 1)}' is counted; lay it out first")
    return items(data, ("run", run, "pieces"))


def with_pieces(data: Data, run: int, pieces: Iterable[Piece]) -> Data:
    """The data with these pieces in the run."""
    return put(data, ("run", run, "pieces"), list(pieces))


def insert_pieces(data: Data, run: int, at: int, pieces: Sequence[Piece]) -> Data:
    """The data with pieces put in before place `at`; a place past the end is the end."""
    there = pieces_of(data, run)
    return with_pieces(data, run, [*there[:at], *pieces, *there[at:]])


def remove_pieces(data: Data, run: int, places: Collection[int]) -> Data:
    """The data without the pieces at these places."""
    return with_pieces(data, run, [p for place, p in enumerate(pieces_of(data, run)) if place not in places])


def pieces_at(data: Data, run: int, places: Collection[int]) -> list[Piece]:
    """The pieces at these places, in the order of the run: what a cut or a copy holds."""
    return [piece for place, piece in enumerate(pieces_of(data, run)) if place in places]


def duplicate_pieces(data: Data, run: int, places: Collection[int]) -> Data:
    """The data with the pieces at these places once more, right after the last of them."""
    return insert_pieces(data, run, max(places) + 1, pieces_at(data, run, places)) if places else data


def move_pieces(data: Data, run: int, places: Collection[int], by: int) -> Data:
    """The data with the pieces at these places each moved down by so many places (up if negative).

    They keep their distances and go no further than the run: `places_after_move` says where they are then.
    """
    there = pieces_of(data, run)
    targets = dict(zip(places_after_move(places, by, len(there)), pieces_at(data, run, places), strict=True))
    others = iter([piece for place, piece in enumerate(there) if place not in places])
    return with_pieces(data, run, [targets[n] if n in targets else next(others) for n in range(len(there))])


def places_after_move(places: Collection[int], by: int, count: int) -> list[int]:
    """Where pieces are after `move_pieces` in a run of `count` pieces."""
    if not places:
        return []
    by = min(max(by, -min(places)), count - 1 - max(places))
    return [place + by for place in sorted(places)]


def replace_fitting(
    data: Data, old: str, new: str, *, run: int | None = None, places: Collection[int] | None = None
) -> Data:
    """The data with one fitting in place of another: in one run or in all, in a selection of pieces or in all.

    In counted runs the count is carried over. Overrides of a piece stay with it.
    """
    for number in range(len(items(data, ("run",)))) if run is None else (run,):
        if value_at(data, ("run", number, "pieces")) is None:
            data = _replace_count(data, number, old, new)
            continue
        pieces = [
            {**piece, "fitting": new} if _is(piece, old) and (places is None or place in places) else piece
            for place, piece in enumerate(pieces_of(data, number))
        ]
        data = with_pieces(data, number, pieces)
    return data


def _is(piece: Any, fitting: str) -> bool:
    return isinstance(piece, Mapping) and piece.get("fitting") == fitting


def _replace_count(data: Data, run: int, old: str, new: str) -> Data:
    counts = value_at(data, ("run", run, "fittings"))
    if not isinstance(counts, Mapping) or old not in counts or old == new:
        return data
    changed: dict[str, Any] = {}
    for name, count in counts.items():
        name = new if name == old else name
        changed[name] = changed[name] + count if name in changed else count
    return put(data, ("run", run, "fittings"), changed)


def one_size(data: Data, run: int, size: str, *, changers: Collection[str] = ()) -> Data:
    """The data with one size for the whole run: no piece states another, no fitting changes it."""
    pieces = [
        {key: value for key, value in piece.items() if key != "size"}
        for piece in pieces_of(data, run)
        if piece.get("fitting") not in changers
    ]
    return with_pieces(put(data, ("run", run, "size"), size), run, pieces)
