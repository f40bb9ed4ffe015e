"""What will be done, in words a customer reads: each pipe with its length, its fittings by their titles and its end."""

from __future__ import annotations

from collections import Counter

from ventsize.jobfile.job import OUTDOORS
from ventsize.quantity import System, show_length
from ventsize.report.wording import listed
from ventsize.run.model import Run

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_THROUGH = {
    "up": "through the roof",
    "north": "the north",
    "south": "the south",
    "east": "the east",
    "west": "the west",
}


def scope(run: Run, system: System) -> str:
    """One pipe in a sentence or two."""
    return f"{run.name[:1].upper()}{run.name[1:]} ({run.carries}): {_pipe(run, system)}, {_way(run)}. {_with(run)}"


def _pipe(run: Run, system: System) -> str:
    length = show_length(run.straight_length, system)
    sizes = dict.fromkeys(piece.section.label for piece in run.pieces)
    materials = dict.fromkeys(piece.section.material.title for piece in run.pieces)
    return f"{length} of {listed(sizes)} pipe, {listed(materials)}"


def _way(run: Run) -> str:
    if OUTDOORS not in (run.start, run.end):
        return f"from {run.start} to {run.end}"
    inside = run.start if run.end == OUTDOORS else run.end
    pieces = run.pieces if run.end == OUTDOORS else run.pieces[::-1]
    pipe = next((piece for piece in reversed(pieces) if piece.is_pipe), None)
    heading = None if pipe is None else pipe.heading
    if heading == "up":
        return f"from {inside} to outdoors through the roof"
    if heading in _THROUGH:
        return f"from {inside} to outdoors through {_THROUGH[heading]} wall"
    return f"from {inside} to outdoors"


def _with(run: Run) -> str:
    return f"With {said}." if (said := fittings_of(run)) else "No fittings."


def fittings_of(run: Run) -> str:
    """Its fittings in words; empty where it has none."""
    counts = Counter(piece.fitting.title for piece in run.pieces if piece.fitting is not None)
    return listed(_several(title, number) for title, number in counts.items())


def _several(title: str, number: int) -> str:
    """`two 90° elbows (long turn)`: what stands after a comma in a title goes into parentheses."""
    name, _, more = (title[:1].lower() + title[1:]).partition(", ")
    shown = _NUMBERS[number] if number < len(_NUMBERS) else str(number)
    if number > 1:
        name = f"{name}s" if name.endswith(("elbow", "coupling", "end")) else f"× {name}"
    return f"{shown} {name}" + (f" ({more})" if more else "")
