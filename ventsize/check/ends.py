"""Wind and room pressure at the ends of a job's pipes, as far as the job states them. Nothing here is assumed."""

from __future__ import annotations

from dataclasses import dataclass

from ventsize.flow.ends import CALM, Ends, end_coefficient, stack_pressure, wind_at_house, wind_pressure
from ventsize.gas.mixture import Mixture, density
from ventsize.jobfile.job import OUTDOORS, Job, Site


@dataclass(frozen=True, slots=True, kw_only=True)
class Boundary:
    """What is known of both ends.

    wind_speed: at the house [m/s]; None where the wind or where it comes from is not stated.
    unplaced: runs whose outdoor end is on no wall or roof that the job states, so that the wind there is left out.
    """

    ends: Ends = CALM
    wind_speed: float | None = None
    unplaced: tuple[str, ...] = ()


def boundary(job: Job, *, air: Mixture, outdoor: float, pressure: float) -> Boundary:
    """Pressures at both ends of a job's pipes.

    air, outdoor, pressure: the air outside, its temperature [K] and pressure [Pa].
    """
    site = job.site
    outside = density(air, temperature=outdoor, pressure=pressure)
    room = _room(site, air=air, outside=outside, pressure=pressure)
    if site.wind is None or site.wind_from is None:
        return Boundary(ends=Ends(room=room))
    speed = wind_at_house(site.wind, terrain=site.terrain)
    walls = {run.name: run.wall for run in job.runs if OUTDOORS in run.between}
    wind = {
        name: wind_pressure(end_coefficient(wall, wind_from=site.wind_from), speed=speed, density=outside)
        for name, wall in walls.items()
        if wall is not None
    }
    return Boundary(
        ends=Ends(wind=wind, room=room),
        wind_speed=speed,
        unplaced=tuple(name for name in walls if name not in wind),
    )


def _room(site: Site, *, air: Mixture, outside: float, pressure: float) -> float | None:
    """Of the room against outdoors at its level [Pa]: as stated, or by the stack where both temperatures are stated."""
    if site.room_pressure is not None:
        return site.room_pressure
    if site.stack_height is None or site.indoor is None or site.outdoor is None:
        return None
    inside = density(air, temperature=site.indoor, pressure=pressure)
    return stack_pressure(outdoor_density=outside, indoor_density=inside, neutral_level=site.stack_height)
