"""Fans and dryers that take air out of a room: how much beside what comes in, and how hard they would pull on it.

The rules of room air count the air that appliances burn. What fans take out besides has to come from somewhere too,
and where it comes down a flue, the room fills with what should have gone up it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum

from ventsize.jobfile.room import OUTDOORS, Room
from ventsize.studies.room_air.openings import free_area
from ventsize.studies.room_air.rules import RoomRules

DISCHARGE = 0.6  # of a sharp-edged opening at any Reynolds number of interest; handbook figure (0.60 to 0.62)
AIR_DENSITY = 1.2  # kg/m³; room air near sea level; less at altitude, where the same flow pulls less
HOW_HARD = 3.0  # Pa; pull at which a flue of natural draft may spill: 2 to 5 Pa, common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class Fans:
    """What competes for a room's air.

    names: of what takes it out. exhaust: all of it together; burning: what the appliances are reckoned to take;
    leaking: what gets in by infiltration, None where that is not known; blown: what a fan blows in [m³/s].
    free: free area of the openings outdoors together [m²].
    pull: by how much the room would be below outdoors if what is not blown or leaking in came through these openings
    [Pa]; None where there is none. Doors, cracks and rooms beside let in more: it is an upper figure.
    hard: whether that may turn a flue of natural draft round.
    """

    names: tuple[str, ...]
    exhaust: float
    burning: float
    leaking: float | None
    blown: float
    free: float
    pull: float | None
    hard: bool

    @property
    def missing(self) -> float:
        """What has to come in by openings, or down a flue [m³/s]."""
        return max(self.exhaust + self.burning - self.blown - (self.leaking or 0.0), 0.0)


def fans_of(room: Room, rules: RoomRules, *, power: float, counted: float) -> Fans | None:
    """What competes for the air of a room; None where nothing takes any out.

    power: of all appliances [W]; counted: volume of the room with those that count beside it [m³].
    """
    if not room.exhausts:
        return None
    exhaust = fsum(one.flow for one in room.exhausts)
    burning = rules.supply.flow * power / rules.supply.per
    leaking = None if room.infiltration is None else room.infiltration * counted
    blown = room.supply or 0.0
    free = fsum(free_area(opening, rules) for opening in room.openings if opening.to == OUTDOORS)
    through = max(exhaust + burning - blown - (leaking or 0.0), 0.0)
    pull = AIR_DENSITY / 2 * (through / (DISCHARGE * free)) ** 2 if free else None
    return Fans(
        names=tuple(one.name for one in room.exhausts),
        exhaust=exhaust,
        burning=burning,
        leaking=leaking,
        blown=blown,
        free=free,
        pull=pull,
        hard=through > 0.0 and (pull is None or pull > HOW_HARD),
    )
