"""Gas followed along a stretch of pipe that is alike all along: how much heat and water leave it, and where.

What drives heat and vapour out of a gas falls nearly as an exponential of the way, wet or dry. So the logarithms of
the enthalpy that is left above that of the surroundings, and of the vapour left above what stays there for good, are
what is followed, by the method of Bogacki and Shampine (Appl. Math. Lett. 2, 1989) with steps as long as its own
estimate of its error allows: mostly one for a whole stretch.
"""

from __future__ import annotations

import bisect
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ventsize.flow.cooling_gas import CoolingGas
from ventsize.flow.heat import Around, Heat, InsideFilm, Vapour, Wall, heat_through

TOLERANCE = 1e-4  # of what drives the heat; what a step may be off
LEAST_ERROR = 5e-4  # K; errors below it are let pass
LONGEST_STEP = 2.0  # of the stretch in which what drives the heat falls to 1/e
SHORTEST = 1e-7  # m
MOST_STEPS = 2_000
NOT_DRIVEN = 1e-6  # K; gas this near its surroundings stays as it is


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """What a gas passes through in a stretch: the film inside, the wall, what is around; shares of the films [-]."""

    film: InsideFilm
    wall: Wall
    around: Around
    inside_share: float = 1.0
    outside_share: float = 1.0

    def heat(self, gas: CoolingGas, *, temperature: float, vapour: float, guess: float | None) -> Heat:
        """What passes the wall. guess: of the outside surface's temperature [K]."""
        film, transfer = self.film(temperature)
        return heat_through(
            temperature=temperature,
            inside_film=self.inside_share * film,
            law="",
            wall=self.wall,
            around=self.around,
            vapour=Vapour(share=gas.share(vapour), pressure=gas.pressure, transfer=self.inside_share * transfer),
            outside_share=self.outside_share,
            guess=guess,
        )


@dataclass(frozen=True, slots=True)
class _Stage:
    """The gas at a place: what is followed, its slopes [1/m], and what it is there."""

    drive: float
    wet: float
    drive_slope: float
    wet_slope: float
    temperature: float
    vapour: float
    surface: float


class Stretch:
    """A gas followed from where it enters a stretch of this length [m].

    enthalpy [J/mol], vapour [-]: of the gas where it enters, as in `CoolingGas`.
    grid: places to go by instead of choosing steps, as `grid` of an earlier walk at nearly the same flow.
    """

    def __init__(
        self,
        gas: CoolingGas,
        passage: Passage,
        *,
        length: float,
        temperature: float,
        vapour: float,
        tolerance: float = TOLERANCE,
        grid: Sequence[float] | None = None,
    ) -> None:
        self._gas, self._passage, self.length = gas, passage, length
        self._tolerance = tolerance
        ambient = passage.around.temperature
        self._cools = temperature > ambient
        self._least = gas.held(ambient, vapour) if self._cools else vapour
        self._dries = vapour > self._least
        self._last = gas.enthalpy(ambient, self._least)
        self.entering = temperature, vapour
        self._enthalpy = gas.enthalpy(temperature, vapour)
        self._near, self._misty = temperature, False
        self._places = [0.0]
        self._stages: list[_Stage] = []
        self._ends: list[_Stage] = []
        if abs(temperature - ambient) > NOT_DRIVEN and length > 0.0:
            self._follow(grid)

    @property
    def grid(self) -> tuple[float, ...]:
        """Where its steps end [m]; empty for a gas that stays as it is."""
        return tuple(self._places[1:]) if self._stages else ()

    def _follow(self, grid: Sequence[float] | None) -> None:
        drive = math.log(abs(self._enthalpy - self._last))
        wet = math.log(self.entering[1] - self._least) if self._dries else 0.0
        here = self._stage(drive, wet, None)
        self._stages.append(here)
        if grid and self._by_grid(here, grid):
            return
        del self._stages[1:], self._places[1:], self._ends[:]
        steepest = max(abs(here.drive_slope), abs(here.wet_slope))
        step = min(self.length, LONGEST_STEP / steepest if steepest else self.length)
        for _ in range(MOST_STEPS):
            at = self._places[-1]
            last = self.length - at <= step * (1.0 + 1e-9)
            if last:
                step = self.length - at
            end, error = self._step(here, step)
            if error <= 1.0 or step <= SHORTEST:
                here = self._arrive(at + step, end)
                if last:  # at + step may be short of the length by a rounding
                    return
            step *= 0.9 * max(error, 0.01) ** (-1.0 / 3.0)
        raise ArithmeticError("the steps along a pipe came to no end")

    def _by_grid(self, here: _Stage, grid: Sequence[float]) -> bool:
        """Whether steps that did before do still."""
        for place in (*grid[:-1], self.length):
            end, error = self._step(here, place - self._places[-1])
            if error > 8.0:
                return False
            here = self._arrive(place, end)
        return True

    def _arrive(self, place: float, end: _Stage) -> _Stage:
        """Go on from the end of a step, where what vapour the gas could not hold has become mist."""
        self._places.append(place)
        self._ends.append(end)
        here = end
        if self._dries:
            left = max(end.vapour - self._least, 1e-300)
            here = replace(end, wet=math.log(left), wet_slope=end.wet_slope * math.exp(end.wet) / left)
        self._stages.append(here)
        return here

    def _stage(self, drive: float, wet: float, surface: float | None) -> _Stage:
        gas = self._gas
        above = math.exp(drive)
        spare = math.exp(wet) if self._dries else 0.0
        enthalpy = self._last + (above if self._cools else -above)
        temperature, vapour = gas.settled(enthalpy, self._least + spare, near=self._near, misty=self._misty)
        self._near, self._misty = temperature, vapour < self._least + spare
        heat = self._passage.heat(gas, temperature=temperature, vapour=vapour, guess=surface)
        return _Stage(
            drive,
            wet,
            -abs(heat.flux) / (gas.flow * above),
            -heat.condensing / (gas.flow * spare) if spare else 0.0,
            temperature,
            vapour,
            heat.outside_surface,
        )

    def _step(self, a: _Stage, step: float) -> tuple[_Stage, float]:
        """The end of a step [m], and its error over what may be."""
        b = self._stage(a.drive + step / 2 * a.drive_slope, a.wet + step / 2 * a.wet_slope, a.surface)
        c = self._stage(a.drive + 0.75 * step * b.drive_slope, a.wet + 0.75 * step * b.wet_slope, b.surface)
        d = self._stage(
            a.drive + step / 9 * (2 * a.drive_slope + 3 * b.drive_slope + 4 * c.drive_slope),
            a.wet + step / 9 * (2 * a.wet_slope + 3 * b.wet_slope + 4 * c.wet_slope),
            c.surface,
        )
        off = step / 72 * abs(-5 * a.drive_slope + 6 * b.drive_slope + 8 * c.drive_slope - 9 * d.drive_slope)
        off += step / 72 * abs(-5 * a.wet_slope + 6 * b.wet_slope + 8 * c.wet_slope - 9 * d.wet_slope)
        driving = abs(d.temperature - self._passage.around.temperature)
        return d, off / (self._tolerance + LEAST_ERROR / max(driving, LEAST_ERROR))

    def at(self, place: float) -> tuple[float, float, float]:
        """Temperature [K], vapour left [-] and enthalpy [J/mol] at a place [m from the start]."""
        if place <= 0.0 or not self._stages:
            return *self.entering, self._enthalpy
        index = min(bisect.bisect_left(self._places, place), len(self._ends)) - 1
        a, d = self._stages[index], self._ends[index]
        if place >= self._places[index + 1]:
            drive, temperature, vapour = d.drive, d.temperature, d.vapour
        else:
            step = self._places[index + 1] - self._places[index]
            part = (place - self._places[index]) / step
            drive = _between(part, step, a.drive, d.drive, a.drive_slope, d.drive_slope)
            wet = _between(part, step, a.wet, d.wet, a.wet_slope, d.wet_slope)
            spare = math.exp(wet) if self._dries else 0.0
            enthalpy = self._last + (math.exp(drive) if self._cools else -math.exp(drive))
            temperature, vapour = self._gas.settled(
                enthalpy, self._least + spare, near=a.temperature, misty=self._misty
            )
        above = math.exp(drive)
        return temperature, vapour, self._last + (above if self._cools else -above)

    def mean(self, start: float, end: float) -> tuple[float, float]:
        """Mean temperature [K] and vapour left [-] between two places [m], by Simpson's rule step by step."""
        if not self._stages or end <= start:
            return self.at(start)[:2]
        cuts = [start, *(place for place in self._places if start < place < end), end]
        temperature = vapour = 0.0
        before = self.at(start)
        for low, high in zip(cuts, cuts[1:], strict=False):
            middle, after = self.at((low + high) / 2), self.at(high)
            part = (high - low) / (end - start) / 6
            temperature += part * (before[0] + 4 * middle[0] + after[0])
            vapour += part * (before[1] + 4 * middle[1] + after[1])
            before = after
        return temperature, vapour

    def heat_at(self, temperature: float, vapour: float) -> Heat:
        """What passes the wall where the gas is like this."""
        return self._passage.heat(self._gas, temperature=temperature, vapour=vapour, guess=None)

    @property
    def surroundings(self) -> float:
        """Temperature of what is around [K]."""
        return self._passage.around.temperature


def _between(part: float, step: float, a: float, d: float, slope_a: float, slope_d: float) -> float:
    """Hermite's cubic between the ends of a step."""
    rest = 1.0 - part
    return rest * a + part * d - part * rest * ((1.0 - 2.0 * part) * (d - a) + step * (part * slope_d - rest * slope_a))
