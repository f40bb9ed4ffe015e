"""Which lines of a working are shown: the result first, then what makes it, as far back as is asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import get_args

from ventsize.jobfile.document import nearest
from ventsize.jobfile.problems import InputError, Problem
from ventsize.studies.working.steps import Given, Part, Step

PARTS: tuple[Part, ...] = get_args(Part)


def opened(
    lines: Sequence[Step], roots: Sequence[Step], *, back_to: Part
) -> tuple[tuple[Step, ...], tuple[Given, ...]]:
    """The roots and the lines that lead to them, each before those it takes numbers from; and what is left unopened.

    lines: in the order they were worked out, each after those it takes its numbers from. back_to: the last part that
    is opened; a result of a later one stands as given. Roots are opened whatever part they are of.
    """
    known = {step.symbol: step for step in lines}
    level = {root.symbol: 0 for root in roots}
    closed: dict[str, Given] = {}
    for step in reversed(lines):
        if step.symbol not in level:
            continue
        for given in step.inputs:
            made = None if given.source else known.get(given.symbol)
            if made is None:
                continue
            if made in roots:
                continue
            if PARTS.index(made.part) <= PARTS.index(back_to):
                level[made.symbol] = max(level.get(made.symbol, 0), level[step.symbol] + 1)
            else:
                closed[given.symbol] = replace(given, source=f"{made.source}; not opened here")
    shown = sorted((step for step in lines if step.symbol in level), key=lambda step: level[step.symbol])
    put = (replace(s, inputs=tuple(given if given.source else closed.get(given.symbol, given) for given in s.inputs))
           for s in shown)  # fmt: skip
    return tuple(put), tuple(closed[s.symbol] for s in lines if s.symbol in closed)


def line_of(lines: Sequence[Step], number: str, *, file: str) -> Step:
    """The line that works out a number, by its symbol or the beginning of its name. InputError where there is none."""
    named = [s for s in lines if s.name.casefold().startswith(number.casefold())]
    found = [s for s in lines if s.symbol == number] or named[:1]
    if not found:
        known = [word for s in lines for word in (s.symbol, s.name)]
        raise InputError(Problem(file, "", f"no line works out '{number}'", nearest(number, known)))
    return found[0]
