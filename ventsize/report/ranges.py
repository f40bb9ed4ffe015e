"""The answer as a range, as text and as JSON."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator
from typing import Any

from ventsize.quantity import System, show_feet, show_pressure
from ventsize.studies.uncertainty import RunUncertainty, Spread, Uncertainty

WIDTH = 80


def dump(found: Uncertainty) -> str:
    """JSON in SI units."""
    ranges = found.ranges
    whole = {
        "job": found.title,
        "samples": found.samples,
        "seed": found.seed,
        "ranges": {
            "length": ranges.length,
            "tape_m": ranges.tape,
            "excess_air": ranges.excess_air,
            "flue_temperature_K": ranges.flue_temperature,
            "fittings": ranges.fittings,
        },
        "cautions": list(found.cautions),
        "runs": [_run(run) for run in found.runs],
    }
    return json.dumps(whole, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _run(run: RunUncertainty) -> dict[str, Any]:
    return {
        "name": run.run,
        "rate": run.rate,
        "pressure_drop_Pa": _range(run.pressure_drop),
        "equivalent_length_m": _range(run.equivalent_length),
        "allowance_pressure_Pa": run.allowance_pressure,
        "share_inside_allowance": run.inside,
        "share_of_spread": dict(run.shares),
        "matters_most": run.matters_most,
    }


def _range(spread: Spread) -> dict[str, float]:
    return {"low": spread.low, "median": spread.median, "high": spread.high}


def render(found: Uncertainty, system: System) -> str:
    """Lines no wider than 80 columns."""
    return "\n".join(_lines(found, system)) + "\n"


def _lines(found: Uncertainty, system: System) -> Iterator[str]:
    yield textwrap.shorten(found.title, WIDTH, placeholder="…")
    yield "=" * WIDTH
    yield from textwrap.wrap(
        f"{found.samples:,} cases drawn from the ranges of the inputs (seed {found.seed}); nine in ten lie between "
        "low and high.",
        WIDTH,
    )
    for run in found.runs:
        yield ""
        yield from textwrap.wrap(f"{run.run}, {run.rate}", WIDTH)
        yield f"  {'':20}{'low':>16}{'median':>16}{'high':>16}"
        yield _row("pressure drop", [show_pressure(v, system) for v in _values(run.pressure_drop)])
        yield _row("equivalent length", [show_feet(v, system) for v in _values(run.equivalent_length)])
        if run.inside is not None and run.allowance_pressure is not None:
            allowance = show_pressure(run.allowance_pressure, system)
            yield f"  inside the allowance of {allowance}: {_percent(run.inside)} of the cases"
        parts = ", ".join(f"{name} {share:.0%}" for name, share in sorted(run.shares, key=lambda part: -part[1]))
        yield from textwrap.wrap(f"what spreads it: {parts}", WIDTH, initial_indent="  ", subsequent_indent="    ")
    yield ""
    yield "Cautions"
    for said in (*found.cautions, "The table decides: these ranges say how sure the calculation is, no more."):
        yield from textwrap.wrap(said, WIDTH, initial_indent="  - ", subsequent_indent="    ")


def _values(spread: Spread) -> tuple[float, float, float]:
    return spread.low, spread.median, spread.high


def _row(name: str, shown: list[str]) -> str:
    return f"  {name:20}" + "".join(f"{text:>16}" for text in shown)


def _percent(share: float) -> str:
    """A share that is not all is not shown as all."""
    if 0.995 <= share < 1.0:
        return "over 99 %"
    return "under 1 %" if 0.0 < share < 0.005 else f"{share:.0%}"
