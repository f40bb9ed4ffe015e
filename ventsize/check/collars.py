"""The pressure at the collar of an appliance that is off, where others send their flue gas through the same vent."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ventsize.check.result import RunCheck


@dataclass(frozen=True, slots=True, kw_only=True)
class IdleCollar:
    """An appliance that is off while others fire.

    rate: the combination of rates at which its collar is under the highest pressure; run: its own vent.
    pressure: static, against ambient [Pa]; what pushes flue gas back into it where it is above zero.
    """

    appliance: str
    run: str
    rate: str
    pressure: float


def idle_collars(runs: Sequence[RunCheck]) -> tuple[IdleCollar, ...]:
    """Each appliance's collar at the worst combination in which it is off; none for a vent of its own."""
    found: dict[str, IdleCollar] = {}
    shared = {
        name for check in runs if check.run.carries == "flue gas" and len(check.serves) > 1 for name in check.serves
    }
    for check in runs:
        if check.run.carries != "flue gas":
            continue
        for name in shared & {check.run.start, check.run.end}:
            for rate in check.rates:
                pressure = rate.static_pressure_at_appliance
                if rate.fired.get(name) is not None or pressure is None:
                    continue
                if name not in found or pressure > found[name].pressure:
                    found[name] = IdleCollar(appliance=name, run=check.run.name, rate=rate.name, pressure=pressure)
    return tuple(found.values())
