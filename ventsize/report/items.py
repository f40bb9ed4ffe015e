"""Things that are bought, in words."""

from __future__ import annotations

from ventsize.quantity import System, show_length
from ventsize.studies.takeoff.tally import Item


def describe(item: Item, system: System) -> str:
    """An item in words: `pipe 3 in, pvc-40, 10 ft`."""
    name = " ".join(part for part in (item.what, size_of(item, system)) if part)
    length = "" if item.length is None else show_length(item.length, system)
    return ", ".join(part for part in (name, item.material, length) if part)


def size_of(item: Item, system: System) -> str:
    """Its size as a price list has it: `3 in`, `4 in x 3 in`; of insulation with its thickness, `3 in x 1/2 in`."""
    if item.what == "insulation" and len(item.sizes) > 1:
        return f"{item.label} x {show_length(item.sizes[1], system)}"
    return item.label
