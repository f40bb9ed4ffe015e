"""The answer as a range, as text and as JSON."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import Any

from ventsize.quantity import System, show_feet, show_pressure
from ventsize.report.keys import Keys
from ventsize.report.text_parts import WIDTH, as_text, indented, shortened
from ventsize.studies.uncertainty import RunUncertainty, Spread, Uncertainty
from ventsize.studies.uncertainty.ranges import Ranges


def as_object(found: Uncertainty, _system: System) -> dict[str, Any]:
    """In SI units, for JSON."""
    return {
        "job": found.title,
        "samples": found.samples,
        "seed": found.seed,
        "ranges": _RANGES(found.ranges),
        "cautions": list(found.cautions),
        "runs": [
            {
                **_RUN(run),
                "pressure_drop_Pa": _SPREAD(run.pressure_drop),
                "equivalent_length_m": _SPREAD(run.equivalent_length),
                "share_of_spread": dict(run.shares),
            }
            for run in found.runs
        ],
    }


_RANGES = Keys(Ranges, "length tape_m input excess_air flue_temperature_K fittings")
_RUN = Keys(RunUncertainty, "name:run rate budget_pressure_Pa share_inside_allowance:inside matters_most")
_SPREAD = Keys(Spread, "low median high")


@as_text
def render(found: Uncertainty, system: System) -> Iterator[str]:
    """Lines no wider than 80 columns."""
    yield textwrap.shorten(found.title, WIDTH, placeholder="…")
    yield "=" * WIDTH
    yield from textwrap.wrap(
        f"{found.samples:,} cases drawn from the ranges of the inputs (seed {found.seed}); nine in ten lie between "
        "low and high.",
        WIDTH,
    )
    yield ""
    yield from picture(found.runs, system, width=WIDTH)
    for run in found.runs:
        yield ""
        yield from textwrap.wrap(f"{run.run}, {run.rate}", WIDTH)
        yield f"  {'':20}{'low':>16}{'median':>16}{'high':>16}"
        yield _row("pressure drop", [show_pressure(v, system) for v in _values(run.pressure_drop)])
        yield _row("equivalent length", [show_feet(v, system) for v in _values(run.equivalent_length)])
        if run.inside is not None and run.budget_pressure is not None:
            allowance = show_pressure(run.budget_pressure, system)
            yield f"  inside the allowance of {allowance}: {_percent(run.inside)} of the cases"
        parts = ", ".join(
            f"{name} {share:.0%}" for name, share in sorted(run.shares, key=lambda part: -part[1]) if share >= 0.005
        )
        yield from indented(f"what spreads it: {parts}", "  ", "    ")
    yield ""
    yield "Cautions"
    for said in (*found.cautions, "The table decides: these ranges say how sure the calculation is, no more."):
        yield from indented(said, "  - ", "    ")


def range_line(run: RunUncertainty, most: float, width: int) -> str:
    """The range of a pressure drop on a scale from nothing to `most` [Pa]: low, median, high, and what is allowed."""
    room = width - 1

    def at(pressure: float) -> int:
        return min(room, max(0, round(pressure / most * room)))

    cells = ["·"] * width
    low, median, high = (at(value) for value in _values(run.pressure_drop))
    cells[low : high + 1] = ["━"] * (high + 1 - low)
    cells[low], cells[high] = "├", "┤"
    cells[median] = "●"
    if run.budget_pressure is not None and run.budget_pressure <= most:
        cells[at(run.budget_pressure)] = "▲"
    return "".join(cells)


def scale_of(runs: Sequence[RunUncertainty]) -> float:
    """What the longest range, or the allowance if that is not much farther, needs [Pa]."""
    highest = max((run.pressure_drop.high for run in runs), default=0.0)
    allowed = max((run.budget_pressure or 0.0 for run in runs), default=0.0)
    return max(highest, min(allowed, 3.0 * highest)) * 1.05 or 1.0


def picture(runs: Sequence[RunUncertainty], system: System, *, width: int) -> Iterator[str]:
    """A line for each run and rate, all on one scale, and what the marks mean."""
    most = scale_of(runs)
    for run in runs:
        yield shortened(inside_words(run), width)
        yield range_line(run, most, width)
    yield f"0 to {show_pressure(most, system)}   ├ low   ● median   ┤ high   ▲ allowed"


def inside_words(run: RunUncertainty) -> str:
    """How many of the cases are inside the allowance, and of which run and rate."""
    inside = "nothing to compare it with"
    if run.inside is not None:
        inside = f"{_percent(run.inside)} of cases inside the allowance"
    return f"{inside}: {run.run}, {run.rate}"


def _values(spread: Spread) -> tuple[float, float, float]:
    return spread.low, spread.median, spread.high


def _row(name: str, shown: list[str]) -> str:
    return f"  {name:20}" + "".join(f"{text:>16}" for text in shown)


def _percent(share: float) -> str:
    """A share that is not all is not shown as all."""
    if 0.995 <= share < 1.0:
        return "over 99 %"
    return "under 1 %" if 0.0 < share < 0.005 else f"{share:.0%}"
