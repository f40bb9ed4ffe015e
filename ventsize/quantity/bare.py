"""Numbers typed without a unit, which get the one that stands beside where they are typed."""

from __future__ import annotations

import re

_BARE = re.compile(r"[+-]?(?:[0-9][0-9,]*\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")


def is_bare(text: str) -> bool:
    """Whether a text is a number and nothing else: `18`, `-0.3`, `80,000`."""
    return _BARE.fullmatch(text.strip()) is not None


def with_unit(text: str, unit: str) -> str:
    """What is typed, a bare number with the unit it is meant in; `parse` then says what is wrong with it.

    unit: as shown beside the entry; empty where none is taken for granted.
    """
    text = text.strip()
    return f"{text} {unit}" if unit and is_bare(text) else text
