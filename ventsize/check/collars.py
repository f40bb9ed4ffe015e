"""What a vent that several appliances share means for each: the pressure at the collar of one that is off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ventsize.check.result import RunCheck


@dataclass(frozen=True, slots=True, kw_only=True)
class IdleCollar:
    """An appliance that is off while others fire.

    rate: the combination of rates at which its collar is under the highest pressure; run: its own vent.
    pressure: static, against the room where its pressure is stated, else against outdoors, with draft and stated wind
    as on the job's day; without_draft: with the help of draft left out, which is the figure to go by [Pa]. Above zero
    it pushes flue gas back into the appliance.
    """

    appliance: str
    run: str
    rate: str
    pressure: float
    without_draft: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CommonVent:
    """A run that carries the flue gas of several appliances.

    rate: the combination of rates at which it loses most. pressure: the highest static pressure in it, help from
    draft left out, at whatever combination [Pa].
    """

    run: str
    serves: tuple[str, ...]
    rate: str
    pressure: float

    @property
    def positive(self) -> bool:
        """Whether it stands under pressure: only where every appliance is listed for that."""
        return self.pressure > 0.0


def idle_collars(runs: Sequence[RunCheck]) -> tuple[IdleCollar, ...]:
    """Each appliance's collar at the worst combination in which it is off; none for a vent of its own."""
    found: dict[str, IdleCollar] = {}
    shared = {name for check in _common(runs) for name in check.serves}
    for check in runs:
        if check.run.carries != "flue gas":
            continue
        for name in shared & {check.run.start, check.run.end}:
            for rate in check.rates:
                if rate.fired.get(name) is not None:
                    continue
                collar = IdleCollar(
                    appliance=name,
                    run=check.run.name,
                    rate=rate.name,
                    pressure=rate.flow.static_pressure_to_room(name),
                    without_draft=rate.flow.static_pressure_to_room(name, helped=False),
                )
                if name not in found or collar.without_draft > found[name].without_draft:
                    found[name] = collar
    return tuple(found.values())


def common_vents(runs: Sequence[RunCheck]) -> tuple[CommonVent, ...]:
    """Every run that carries the flue gas of several appliances."""
    return tuple(
        CommonVent(
            run=check.run.name,
            serves=check.serves,
            rate=check.worst.name,
            pressure=max(
                rate.flow.static_pressure_to_room(joint, helped=False)
                for rate in check.rates
                for joint in (check.run.start, check.run.end)
            ),
        )
        for check in _common(runs)
    )


def _common(runs: Sequence[RunCheck]) -> list[RunCheck]:
    return [check for check in runs if check.run.carries == "flue gas" and len(check.serves) > 1]
