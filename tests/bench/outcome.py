"""One line of the benchmark's table, and the table."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from tests.bench.measure import Timing


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """ventsize against a yardstick.

    ours, yardstick: both timed in this run; their medians are compared.
    target, kind: what is asked of the ratio: ours over the yardstick at most, or the yardstick over ours
    at least ("times as fast"), or nothing.
    wrong: why the comparison is void, if it is.
    note: said under the line.
    """

    what: str
    against: str
    ours: Timing
    yardstick: Timing
    kind: Literal["at most", "at least", "told only"]
    target: float = 0.0
    wrong: str = ""
    note: str = ""

    @property
    def ratio(self) -> float:
        """Ours over the yardstick; the other way round where speed is what is asked."""
        ratio = self.ours.median / self.yardstick.median
        return 1.0 / ratio if self.kind == "at least" else ratio

    @property
    def met(self) -> bool:
        """Whether the target is met, by a comparison of like with like."""
        if self.wrong:
            return False
        if self.kind == "told only":
            return True
        return self.ratio <= self.target if self.kind == "at most" else self.ratio >= self.target


def show(outcomes: list[Outcome]) -> str:
    """The table, one line an outcome with its notes underneath."""
    rows = [("what", "ventsize", "against", "takes", "ratio", "target", "")]
    rows += [
        (
            o.what,
            _time(o.ours.median),
            o.against,
            _time(o.yardstick.median),
            f"{o.ratio:.2f}",
            "-" if o.kind == "told only" else f"{o.kind} {o.target:g}",
            ("" if o.kind == "told only" else "pass") if o.met else "FAIL",
        )
        for o in outcomes
    ]
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) for row in rows]
    notes = ["", *(" ".join(filter(None, ("   ", o.wrong, o.note))) for o in outcomes)]
    return "\n".join(text.rstrip() for pair in zip(lines, notes, strict=True) for text in pair if text.strip())


def _time(seconds: float) -> str:
    if seconds < 1e-3:
        return f"{seconds * 1e6:.0f} us"
    return f"{seconds * 1e3:.2f} ms" if seconds < 1.0 else f"{seconds:.2f} s"
