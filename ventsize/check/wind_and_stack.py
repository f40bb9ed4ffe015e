"""How little wind or stack would change an answer, as data: said only where it is little."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from ventsize.check.collars import idle_collars
from ventsize.check.ends import Boundary
from ventsize.check.result import RunCheck
from ventsize.check.traps import worst_collar_pressure
from ventsize.flow.ends import WINDWARD, wind_speed
from ventsize.gas.constants import WATER_WEIGHT
from ventsize.jobfile.job import Job

LITTLE_WIND = 10.0  # m/s; hardly a week without it. Common practice, no source
LITTLE_PRESSURE = 10.0  # Pa; a winter's stack of two stories


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearly:
    """How little wind or room pressure would change an answer in which neither is counted.

    what: the trap of the appliance, or its collar while it is off. rate: where least is to spare.
    pressure: to spare: so much more in the vent, or less in the room, changes the answer [Pa].
    wind: that brings it about, straight against the wall where the vent ends [m/s].
    """

    appliance: str
    what: Literal["trap", "idle collar"]
    rate: str
    pressure: float
    wind: float

    @property
    def little(self) -> bool:
        """Whether it is so little that it should be said."""
        return self.wind <= LITTLE_WIND or self.pressure <= LITTLE_PRESSURE


def nearly(job: Job, runs: Sequence[RunCheck], around: Boundary, *, density: float) -> tuple[Nearly, ...]:
    """Answers that little wind or stack would change; none where the job states both ends.

    density: of the air outdoors [kg/m³].
    """
    if around.ends.room is not None and around.wind_speed is not None and not around.unplaced:
        return ()
    found = []

    def note(appliance: str, what: Literal["trap", "idle collar"], rate: str, spare: float) -> None:
        wind = wind_speed(spare, coefficient=WINDWARD, density=density)
        found.append(Nearly(appliance=appliance, what=what, rate=rate, pressure=spare, wind=wind))

    for appliance in job.appliances:
        worst = worst_collar_pressure(runs, appliance.name)
        if appliance.trap_seal is not None and worst is not None and worst.settled:
            spare = appliance.trap_seal * WATER_WEIGHT - worst.highest
            if spare > 0.0:
                note(appliance.name, "trap", worst.rate, spare)
    for collar in idle_collars(runs):
        if collar.without_draft <= 0.0:
            note(collar.appliance, "idle collar", collar.rate, -collar.without_draft)
    return tuple(one for one in found if one.little)
