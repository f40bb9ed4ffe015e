"""Words for the findings of `finding.codes.RUN`."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from ventsize.finding import Amount

if TYPE_CHECKING:
    from ventsize.report.wording import Values


def _turn(values: Values) -> str:
    turned = values.raw["turned"]
    assert isinstance(turned, Amount)
    route = f"The route turns from {values['before']} to {values['after']} ({values['needed']})"
    if turned.value <= 0.0:
        return f"{route}, and no elbow is listed between."
    return f"{route}, and the fittings listed between turn it by {values['turned']} only."


WORDS: dict[str, str | Callable[[Values], str]] = {
    "elbows-close": "{elbows} elbows have less than 4 pipe diameters of straight pipe between them. Smooth elbows that "
    "close lose less than their sum; the calculation uses the sum.",
    "hard-elbows-close": "Two sharp elbows are {between} apart. They can lose up to {most} of their sum, and the "
    "calculation uses the sum. Move them apart, or use long-turn elbows.",
    "lengths-measured": "Every straight pipe has a length, {length} in all.",
    "no-straight-pipe": "No straight pipe is given yet.",
    "open-end-implied": "No terminal is listed; a plain open pipe end is counted.",
    "pipe-without-length": "The pipe has no length yet.",
    "size-change-implied": "The size changes from {before} to {after} and no fitting is listed; one {fitting} is "
    "counted there.",
    "turn-not-made": _turn,
    "turns-made": "The fittings listed make every turn of the route.",
}
