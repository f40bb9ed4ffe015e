"""Pipe that the gas is too hot for, whatever its length; and pipe of which that is not known."""

from __future__ import annotations

from collections.abc import Iterable

from ventsize.flow.solve import RunFlow
from ventsize.quantity import System, show_temperature
from ventsize.run.model import Run


def too_hot_for(run: Run, flows: Iterable[RunFlow], system: System) -> tuple[str, ...]:
    """Sentences for each material of a run whose temperature limit the gas exceeds where it enters the run."""
    hottest = max((flow.stream.temperature for flow in flows if flow.stream.mass_flow > 0.0), default=0.0)
    materials = {piece.section.material.name: piece.section.material for piece in run.pieces}
    return tuple(
        [
            f"gas at {show_temperature(hottest, system)} is above the limit of {material.name}, "
            f"{show_temperature(material.temperature_limit, system)}; this pipe must not be used there"
            for material in materials.values()
            if material.temperature_limit is not None and hottest > material.temperature_limit
        ]
    )


def limit_unknown(run: Run) -> tuple[str, ...]:
    """Sentences for each material of a run whose record gives no temperature limit to hold the gas against."""
    names = dict.fromkeys(m.name for m in (piece.section.material for piece in run.pieces) if not m.temperature_limit)
    return tuple(
        f"the record of {name} gives no temperature limit: whether it may carry this gas is not judged"
        for name in names
    )
