"""Cut lists as bars: each stock length drawn to one scale, cut where it is cut."""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.quantity import System, show_length
from ventsize.studies.takeoff.cutting import CutBar
from ventsize.studies.takeoff.tally import PipeCuts

PIECE, KEPT, WASTE = "█▓", "░", "·"
LEGEND = f"{PIECE[0]} and {PIECE[1]} pieces   {KEPT} rest to keep   {WASTE} waste"
LEAST = 24


def cut_bars(cuts: PipeCuts, system: System, *, width: int) -> Iterator[str]:
    """A cut list as lines: each way of cutting as a bar, with the lengths of its pieces under it.

    width: cells that a line may have.
    """
    longest = max((bar.stock for bar in cuts.plan.bars), default=0.0)
    heads = [f"{bar.count} × {show_length(bar.stock, system)}" for bar in cuts.plan.bars]
    margin = max(map(len, heads), default=0) + 2
    scale = max(width - margin - 2, LEAST) / longest if longest else 0.0
    for head, bar in zip(heads, cuts.plan.bars, strict=True):
        drawn, named = _bar(bar, system, scale)
        yield f"{head:>{margin - 1}} {drawn}"
        yield from (" " * margin + line for line in named)


def _bar(bar: CutBar, system: System, scale: float) -> tuple[str, list[str]]:
    """The bar, and its lengths below; a length too long for its piece goes into a line of all of them."""
    ends, reached = [], 0.0
    for piece in bar.pieces:
        reached += piece
        ends.append(round(reached * scale))
    full = round(bar.stock * scale)
    starts = [0, *ends[:-1]]
    rest = (KEPT if bar.usable else WASTE) * max(0, full - ends[-1])
    drawn = "".join(
        PIECE[number % 2] * max(1, end - start) for number, (start, end) in enumerate(zip(starts, ends, strict=True))
    )
    names = [show_length(piece, system) for piece in bar.pieces]
    rest_name = f"rest {show_length(bar.offcut, system)}" if bar.offcut else ""
    rest_name = f"last {show_length(bar.over, system)} too long to saw off" if bar.over else rest_name
    if all(len(name) < end - start for name, start, end in zip(names, starts, ends, strict=True)):
        below = "".join(f"{name:<{end - start}}" for name, start, end in zip(names, starts, ends, strict=True))
        if len(rest_name) <= full - ends[-1]:
            return drawn + rest, [below + rest_name]
        return drawn + rest, [below.rstrip(), rest_name] if rest_name else [below.rstrip()]
    listed = " + ".join(names) + (f"; {rest_name}" if rest_name else "")
    return drawn + rest, [listed]
