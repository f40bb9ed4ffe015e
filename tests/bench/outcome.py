"""One line of the benchmark's table, and the table; the ratios that are kept, and which of them slipped."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from tests.bench.measure import Timing

KEPT = Path(__file__).with_name("ratios.json")
SLIPPED = 1.25  # worse than the kept ratio by more than this is no chance of one run


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

    def slipped(self, kept: float | None) -> bool:
        """Whether it is plainly worse than the ratio that was kept, if one was."""
        if kept is None:
            return False
        return self.ratio < kept / SLIPPED if self.kind == "at least" else self.ratio > kept * SLIPPED

    @property
    def met(self) -> bool:
        """Whether the target is met, by a comparison of like with like."""
        if self.wrong:
            return False
        if self.kind == "told only":
            return True
        return self.ratio <= self.target if self.kind == "at most" else self.ratio >= self.target


def kept_ratios() -> dict[str, float]:
    """The ratio of each line when they were kept last."""
    return json.loads(KEPT.read_text(encoding="utf-8")) if KEPT.exists() else {}


def keep(outcomes: list[Outcome]) -> None:
    """Keep the ratios of this run, and of the lines that it did not measure those kept before."""
    ratios = {**kept_ratios(), **{o.what: round(o.ratio, 2) for o in outcomes}}
    KEPT.write_text(json.dumps(ratios, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")


def show(outcomes: list[Outcome], kept: dict[str, float]) -> str:
    """The table, one line an outcome with its notes underneath."""
    rows = [("what", "ventsize", "against", "takes", "ratio", "kept", "target", "")]
    rows += [
        (
            o.what,
            _time(o.ours.median),
            o.against,
            _time(o.yardstick.median),
            f"{o.ratio:.2f}",
            f"{kept[o.what]:.2f}" if o.what in kept else "-",
            "-" if o.kind == "told only" else f"{o.kind} {o.target:.3g}",
            " ".join(
                word
                for word in (
                    ("" if o.kind == "told only" else "pass") if o.met else "FAIL",
                    "SLIPPED" if o.slipped(kept.get(o.what)) else "",
                )
                if word
            ),
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
