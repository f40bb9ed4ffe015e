"""A condensate trap against the vent's pressure: what every question that judges a trap goes by.

All of them go by the flow of the job's own check, so that two answers about one trap cannot differ. The pressure that
counts is the higher of that on the job's day and that with the help of draft left out, as on a mild day. Wind and the
room's pressure are in both where the job states them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ventsize.check.result import RunCheck
from ventsize.gas.constants import WATER_WEIGHT

TRAP_MARGIN = 0.5 * 0.0254  # m of water the seal should stand above the pressure; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class DrainPressure:
    """The vent's static pressure at a drain, at one rate: against the room where its pressure is stated.

    helped: with draft as on the job's day; unhelped: with the help of draft left out [Pa].
    settled: False where the flow was sought and not found; the pressures then mean nothing.
    """

    rate: str
    helped: float
    unhelped: float
    settled: bool = True

    @property
    def highest(self) -> float:
        """The one to go by [Pa]."""
        return max(self.helped, self.unhelped)

    @property
    def water(self) -> float:
        """Depth of water that just holds it [m]."""
        return max(self.highest, 0.0) / WATER_WEIGHT

    def blows_out(self, seal: float) -> bool:
        """Whether it is more than a seal of this depth [m] holds at all."""
        return self.highest >= seal * WATER_WEIGHT

    def holds(self, seal: float, *, margin: float = TRAP_MARGIN) -> bool | None:
        """Whether a seal [m] holds it with a margin [m] to spare; None where the flow was not found."""
        return seal >= self.water + margin if self.settled else None


def collar_pressures(runs: Sequence[RunCheck], appliance: str) -> Iterator[DrainPressure]:
    """The vent's pressure at an appliance's collar, where its trap is, at each rate; none where it has no vent."""
    for check in runs:
        if check.run.carries == "flue gas" and appliance in (check.run.start, check.run.end):
            for rate in check.rates:
                yield DrainPressure(
                    rate=rate.name,
                    helped=rate.flow.static_pressure_to_room(appliance),
                    unhelped=rate.flow.static_pressure_to_room(appliance, helped=False),
                    settled=rate.flow.settled,
                )


def worst_collar_pressure(runs: Sequence[RunCheck], appliance: str) -> DrainPressure | None:
    """The highest over the rates, helped by draft or not; settled only where the flow was found at every rate."""
    found = list(collar_pressures(runs, appliance))
    if not found:
        return None
    worst = max(found, key=lambda one: one.highest)
    return replace(worst, settled=all(one.settled for one in found))
