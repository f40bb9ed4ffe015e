"""Parts of a plain text answer: a head, a table, sentences, lines of a width."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import wraps
from typing import ParamSpec

from ventsize.quantity import System, show_pressure

WIDTH = 78  # of a terminal of 80 columns, less what a screen has around a text
P = ParamSpec("P")


def as_text(lines: Callable[P, Iterator[str]]) -> Callable[P, str]:
    """Let a function that yields lines give them as one text."""

    @wraps(lines)
    def text(*args: P.args, **kwargs: P.kwargs) -> str:
        return "\n".join(lines(*args, **kwargs))

    return text


def head(title: str) -> Iterator[str]:
    """A title, underlined."""
    yield title
    yield "=" * WIDTH


def titled(title: str, verdict: str) -> Iterator[str]:
    """A title with the verdict at its right, underlined."""
    yield beside(title, verdict)
    yield "=" * WIDTH


def beside(text: str, word: str) -> str:
    """A line of a text with a word at its right end."""
    return f"{shortened(text, WIDTH - len(word) - 2):<{WIDTH - len(word)}}{word}"


def shortened(text: str, width: int) -> str:
    """The text, or as many of its words as fit a width, and that there is more."""
    if len(text) <= width:
        return text
    kept = text[: width - 1]
    words = kept.rpartition(" ")[0] if text[width - 1].isalnum() else kept
    return (words or kept).rstrip() + "…"


def signed_pressure(value: float, system: System) -> str:
    """A pressure more or less [Pa], with its sign in any case."""
    return f"{'−' if value < 0 else '+'}{show_pressure(abs(value), system)}"


def table(columns: Sequence[tuple[str, int]], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    """Rows under names of columns of a width each; the first column to the left, the others to the right."""
    yield _row(columns, [name for name, _ in columns])
    for row in rows:
        yield _row(columns, row)


def _row(columns: Sequence[tuple[str, int]], cells: Sequence[str]) -> str:
    out = []
    for number, ((_, width), cell) in enumerate(zip(columns, cells, strict=True)):
        out.append(f"{shortened(cell, width - 1):<{width}}" if number == 0 else f"{cell:>{width}}")
    return ("  " + "".join(out)).rstrip()


def wrapped(text: str, indent: str = "") -> list[str]:
    """A text as lines, those after the first with an indent before them."""
    return textwrap.wrap(text, WIDTH, subsequent_indent=indent) or [""]


def indented(text: str, first: str = "  ", rest: str | None = None, *, break_on_hyphens: bool = True) -> list[str]:
    """A text as lines, with an indent before the first and one before the rest: the same where only one is given."""
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=first,
        subsequent_indent=first if rest is None else rest,
        break_on_hyphens=break_on_hyphens,
    )


def sentences(title: str, said: Iterable[str]) -> Iterator[str]:
    """A list of sentences, where there are any."""
    listed = list(said)
    if not listed:
        return
    yield ""
    yield title
    for sentence in listed:
        yield from indented(sentence, "  - ", "    ")
