"""Parts of a plain text answer: a head, a table, sentences."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence

WIDTH = 78  # of a terminal of 80 columns, less what a screen has around a text


def head(title: str) -> Iterator[str]:
    """A title, underlined."""
    yield title
    yield "=" * WIDTH


def table(columns: Sequence[tuple[str, int]], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    """Rows under names of columns of a width each; the first column to the left, the others to the right."""
    yield _row(columns, [name for name, _ in columns])
    for row in rows:
        yield _row(columns, row)


def _row(columns: Sequence[tuple[str, int]], cells: Sequence[str]) -> str:
    out = []
    for number, ((_, width), cell) in enumerate(zip(columns, cells, strict=True)):
        short = cell if len(cell) < width else cell[: width - 2] + "… "
        out.append(f"{short:<{width}}" if number == 0 else f"{cell:>{width}}")
    return ("  " + "".join(out)).rstrip()


def wrapped(text: str, indent: str = "") -> list[str]:
    """A text as lines, those after the first with an indent before them."""
    return textwrap.wrap(text, WIDTH, subsequent_indent=indent) or [""]


def sentences(title: str, said: Iterable[str]) -> Iterator[str]:
    """A list of sentences, where there are any."""
    listed = list(said)
    if not listed:
        return
    yield ""
    yield title
    for sentence in listed:
        yield from textwrap.wrap(sentence, WIDTH, initial_indent="  - ", subsequent_indent="    ")
