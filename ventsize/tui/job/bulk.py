"""One change for several pieces, or for a whole run."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ventsize.catalog.library import Catalog
from ventsize.jobfile.editing import Data, EditError, items, one_size, pieces_of, put, value_at

QUESTION = "What the pipes pass: heated space, attic, crawlspace, outdoors, or a temperature such as 40 degF"


@dataclass(frozen=True, slots=True)
class Change:
    """What can be changed, as the menu lists it."""

    name: str
    title: str
    said: str


CHANGES = (
    Change("size", "Size", "of all of them"),
    Change("material", "Material", "what the pipe is made of"),
    Change("surroundings", "Surroundings", "what the pipes pass through"),
)


def choices(data: Data, run: int, name: str, catalog: Catalog) -> list[tuple[str, str]]:
    """What there is to choose from; nothing where it is to be typed."""
    if name == "material":
        return [(pipe, pipe) for pipe in catalog.pipes]
    if name == "size":
        material = catalog.pipes.get(value_at(data, ("run", run, "material")))
        return [(size.label, size.label) for size in material.sizes] if material else []
    return []


def change(data: Data, run: int, places: Sequence[int], name: str, value: str, catalog: Catalog) -> Data:
    """The data with a value for these pieces, or for the whole run where there are none."""
    if not items(data, ("run",)):
        raise EditError("there is no run to change")
    laid_out = value_at(data, ("run", run, "pieces")) is not None
    if places:
        return _pieces(data, run, places, name, value)
    if name == "size" and laid_out:
        changers = {f.name for f in catalog.fittings.values() if f.kind == "size change"}
        return one_size(data, run, value, changers=changers)
    data = put(data, ("run", run, name), value)
    for number, piece in enumerate(pieces_of(data, run) if laid_out else ()):
        if isinstance(piece, dict) and name in piece:  # what a piece says for itself would go on holding
            data = put(data, ("run", run, "pieces", number, name), None)
    return data


def _pieces(data: Data, run: int, places: Sequence[int], name: str, value: str) -> Data:
    pieces = pieces_of(data, run)
    if name == "size":  # it holds from its piece on, so the one after the marked ones goes back to what it was
        before = _sizes(data, run)
        for place in places:
            after = place + 1
            if after < len(pieces) and after not in places:
                data = put(data, ("run", run, "pieces", after, name), before[after])
    for place in places:
        if name != "surroundings" or "pipe" in pieces[place]:
            data = put(data, ("run", run, "pieces", place, name), value)
    return data


def _sizes(data: Data, run: int) -> list[str]:
    """The size that holds at each piece."""
    value, found = str(value_at(data, ("run", run, "size"), "")), []
    for piece in pieces_of(data, run):
        value = str(piece.get("size") or value) if isinstance(piece, dict) else value
        found.append(value)
    return found
