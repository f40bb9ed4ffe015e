"""Slips of the keys that would explain a figure far from what it ought to be."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal


@dataclass(frozen=True, slots=True)
class Slip:
    """What was probably meant by a figure as typed, and what happened to it: swapped, shifted or wrong digit."""

    meant: str
    kind: Literal["swapped", "shifted", "wrong digit"]


def likely_slip(typed: str, factor: float, spread: float) -> Slip | None:
    """Which slip of the keys would explain a length that ought to be `factor` times as long; None where none does.

    typed: the length as typed. Two digits swapped is tried first, then a digit too few or too many or the
    point misplaced, then one wrong digit: the likelier slip wins where both would explain it.
    """
    match = re.search(r"\d+(?:\.\d+)?", typed)
    if not match:
        return None
    number = match.group()
    wanted = float(number) * factor
    tolerance = max(math.log(1.1), spread)
    slips: tuple[tuple[Literal["swapped", "shifted", "wrong digit"], Callable[[str], Iterator[str]]], ...] = (
        ("swapped", _swapped),
        ("shifted", _shifted),
        ("wrong digit", _one_wrong),
    )
    for kind, variants in slips:
        values = {text: float(text) for text in variants(number) if _writable(text) and text != number}
        near = {
            text: abs(math.log(value / wanted))
            for text, value in values.items()
            if value > 0 and abs(math.log(value / wanted)) <= tolerance
        }
        if near:
            best = min(near, key=lambda text: near[text])
            return Slip(typed[: match.start()] + best + typed[match.end() :], kind)
    return None


def _writable(number: str) -> bool:
    """Whether anybody would write a number so: 40 and 0.4, not 040 or .4."""
    return number[:1].isdigit() and not re.match(r"0\d", number)


def _swapped(number: str) -> Iterator[str]:
    for at, (one, other) in enumerate(pairwise(number)):
        if one.isdigit() and other.isdigit():
            yield number[:at] + other + one + number[at + 2 :]


def _shifted(number: str) -> Iterator[str]:
    whole = number.replace(".", "")
    yield from (number[:at] + number[at + 1 :] for at in range(len(number)))
    yield from (number + digit for digit in "0123456789")
    yield from (digit + number for digit in "123456789")
    yield from (f"{whole[:at]}.{whole[at:]}" for at in range(1, len(whole)))
    yield whole


def _one_wrong(number: str) -> Iterator[str]:
    for at, digit in enumerate(number):
        if digit.isdigit():
            yield from (number[:at] + new + number[at + 1 :] for new in "0123456789")
