"""What is said when a quantity cannot be read."""

from __future__ import annotations

_SHOWN = 40


class Unusable(ValueError):
    """A value that cannot be used; `str()` is one clear sentence.

    Attributes: `problem`, what was typed and what is wrong with it; `expected`, what would be right,
    with an example. The sentence joins the two.
    """

    def __init__(self, problem: str, expected: str = "") -> None:
        super().__init__(f"{problem}; expected {expected}" if expected else problem)
        self.problem = problem
        self.expected = expected


class QuantityError(Unusable):
    """A text that is not the quantity asked for."""


class Refusal(Exception):
    """Why a text is refused, as the predicate of a sentence whose subject is the text.

    limit: what the expected quantity is held to, put after its name, e.g. ` of zero or more`
    """

    def __init__(self, reason: str, *, limit: str = "") -> None:
        super().__init__(reason)
        self.limit = limit


def quoted(text: str) -> str:
    """The text as typed, on one line, without control characters, cut to a readable length."""
    head = " ".join(text[: 4 * _SHOWN].split())
    shown = "".join(c if c.isprintable() else "?" for c in head)
    if len(shown) > _SHOWN or len(text) > 4 * _SHOWN:
        shown = shown[: _SHOWN - 1] + "…"
    return f"“{shown}”" if '"' in shown else f'"{shown}"'
