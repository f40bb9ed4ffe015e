"""Following a gas along a pipe: the method itself, on made-up laws whose solution is known in closed form."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest
from scipy.integrate import RK23, quad

from ventsize.flow.cooling_gas import CoolingGas
from ventsize.flow.heat import Around, Heat, InsideFilm, Vapour, Wall, heat_through
from ventsize.flow.stream import Stream
from ventsize.flow.stretch import TOLERANCE, Passage, Stretch
from ventsize.gas.mixture import mixture_of

AMBIENT, LEAST = 300.0, 0.02


@dataclass
class MadeUp:
    """A gas whose enthalpy is its temperature, and a passage: heat goes with the difference in temperature to the 1.3,
    vapour with what is left of it to the 1.2. As a gas and as what it passes in one. mist: the most vapour it holds."""

    flow: float = 2.0
    heat_law: float = 0.12
    vapour_law: float = 0.4
    mist: float = 1.0
    around: Around = Around(temperature=AMBIENT, pressure=1e5)

    def held(self, temperature: float, vapour: float) -> float:
        """At the surroundings, what stays for good."""
        return min(vapour, LEAST if temperature == AMBIENT else self.mist)

    def enthalpy(self, temperature: float, vapour: float) -> float:
        return temperature

    def settled(self, enthalpy: float, vapour: float, *, near: float, misty: bool) -> tuple[float, float]:
        return enthalpy, self.held(enthalpy, vapour)

    def heat(self, gas: Any, *, temperature: float, vapour: float, guess: float | None) -> Heat:
        over = abs(temperature - AMBIENT)
        return Heat(
            conductance=0.0,
            flux=math.copysign(self.flow * self.heat_law * over**1.3, temperature - AMBIENT),
            inside_film=0.0, inside_wall=0.0, outside_surface=0.0, film="",
            condensing=self.flow * self.vapour_law * max(0.0, vapour - LEAST) ** 1.2,
        )  # fmt: skip

    def at(self, place: float, over: float, spare: float) -> tuple[float, float]:
        """How far from its surroundings the gas is at a place, and its vapour: dy/dx = -c y^n, solved by hand."""
        return (
            (over**-0.3 + 0.3 * self.heat_law * place) ** (-1 / 0.3),
            LEAST + (spare**-0.2 + 0.2 * self.vapour_law * place) ** -5.0 if spare else LEAST,
        )


def stretch(made: MadeUp, *, over: float, spare: float, length: float = 6.0, **more: Any) -> Stretch:
    """A stretch of these laws."""
    return Stretch(made, made, length=length, temperature=AMBIENT + over, vapour=LEAST + spare, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(("over", "spare"), [(40.0, 0.1), (40.0, 0.0), (3.0, 0.1), (-50.0, 0.0)])
@pytest.mark.parametrize(("tolerance", "near", "steps"), [(TOLERANCE, 1e-4, 7), (1e-8, 1e-5, 30)])
def test_it_follows_the_solution(over: float, spare: float, tolerance: float, near: float, steps: int) -> None:
    """Everywhere along the way, at its ends exactly; the mean between two places as scipy's quadrature of the solution;
    in few steps."""
    made, sign = MadeUp(), math.copysign(1.0, over)
    found = stretch(made, over=over, spare=spare, tolerance=tolerance)
    for place in (0.0, 0.05, 0.7, 1.5, 2.9, 4.4, 6.0, 7.0):
        temperature, vapour, enthalpy = found.at(place)
        there, left = made.at(min(place, 6.0), abs(over), spare)
        assert temperature == enthalpy == pytest.approx(AMBIENT + sign * there, abs=near * abs(over))
        assert vapour == pytest.approx(left, abs=near * max(spare, 1e-6))
    assert found.at(0.0) == (AMBIENT + over, LEAST + spare, AMBIENT + over)
    for start, end in ((0.0, 6.0), (1.0, 1.8), (3.0, 6.0)):
        means = [quad(lambda x, i=i: made.at(x, abs(over), spare)[i], start, end)[0] / (end - start) for i in (0, 1)]
        temperature, vapour = found.mean(start, end)
        assert temperature == pytest.approx(AMBIENT + sign * means[0], abs=near * abs(over))
        assert vapour == pytest.approx(means[1], abs=near * max(spare, 1e-6))
    assert found.mean(2.0, 2.0) == found.at(2.0)[:2]
    assert found.grid[-1] == 6.0 and found.surroundings == AMBIENT
    assert found.heat_at(AMBIENT + 10.0, LEAST).flux == pytest.approx(2.0 * 0.12 * 10.0**1.3)
    assert len(found.grid) <= steps


@pytest.mark.parametrize(("over", "spare"), [(40.0, 0.1), (-50.0, 0.0)])
def test_a_step_is_that_of_bogacki_and_shampine(over: float, spare: float) -> None:
    """Its end and its error by scipy's tables of the method; the error over the tolerance and half a millikelvin of
    what drives the heat."""
    made, step = MadeUp(), 1.3
    found = stretch(made, over=over, spare=spare)

    def slopes(y: Any) -> Any:
        return np.array([-made.heat_law * math.exp(0.3 * y[0]), -made.vapour_law * math.exp(0.2 * y[1]) * bool(spare)])

    start = np.array([math.log(abs(over)), math.log(spare) if spare else 0.0])
    stages = [slopes(start)]
    for row in RK23.A[1:]:
        stages.append(slopes(start + step * np.dot(row[: len(stages)], stages)))
    end = start + step * np.dot(RK23.B, stages)
    stages.append(slopes(end))
    reached, error = found._step(found._stages[0], step)
    assert (reached.drive, reached.wet) == pytest.approx(tuple(end), rel=1e-9)
    off = float(np.sum(np.abs(step * np.dot(RK23.E, stages))))
    assert error == pytest.approx(off / (TOLERANCE + 5e-4 / math.exp(end[0])), rel=1e-6)


def test_steps_that_did_before_are_taken_again() -> None:
    """By the grid of a gas that is nearly the same, but for its last place, which is the length; not where they are far
    too long."""
    before = stretch(MadeUp(), over=40.0, spare=0.1)
    again = stretch(MadeUp(), over=41.0, spare=0.1, grid=before.grid)
    assert again.grid == before.grid and len(before.grid) > 1
    assert again.at(6.0)[0] == pytest.approx(AMBIENT + MadeUp().at(6.0, 41.0, 0.1)[0], abs=0.05)
    longer = stretch(MadeUp(), over=40.0, spare=0.1, length=6.2, grid=before.grid)
    assert longer.grid == (*before.grid[:-1], 6.2)
    steeper = stretch(MadeUp(heat_law=0.6), over=40.0, spare=0.1, grid=(6.0,))
    assert steeper.grid != (6.0,)
    assert steeper.at(6.0)[0] == pytest.approx(AMBIENT + MadeUp(heat_law=0.6).at(6.0, 40.0, 0.1)[0], abs=0.05)


def test_vapour_that_the_gas_cannot_hold_becomes_mist() -> None:
    """All above what it holds is gone at the end of a step, and what condenses after that follows from what is left."""
    found = stretch(MadeUp(mist=0.05), over=40.0, spare=0.1)
    assert found.at(6.0)[1] == pytest.approx(MadeUp().at(6.0, 40.0, 0.03)[1], abs=2e-3)
    assert all(found.at(place)[1] <= 0.05 for place in (0.5, 2.0, 4.0))


@pytest.mark.parametrize(("over", "length"), [(5e-7, 6.0), (40.0, 0.0)])
def test_gas_that_is_not_driven_stays_as_it_is(over: float, length: float) -> None:
    """As warm as its surroundings to a millionth, or with no way to go: no steps, and the mean is what enters."""
    found = stretch(MadeUp(), over=over, spare=0.1, length=length)
    assert found.grid == () and found.at(3.0) == (AMBIENT + over, LEAST + 0.1, AMBIENT + over)
    assert found.mean(0.0, length) == (AMBIENT + over, LEAST + 0.1)


@pytest.mark.parametrize("spare", [0.1, 0.0])
@pytest.mark.parametrize("length", [0.05, 6.0, 4_000.0])
def test_short_and_long(length: float, spare: float) -> None:
    """A few centimeters in one step; kilometers in a hundred; all of a stretch at once where nothing drives."""
    found, made = stretch(MadeUp(), over=40.0, spare=spare, length=length), MadeUp().at(length, 40.0, spare)
    assert found.at(length)[:2] == pytest.approx((AMBIENT + made[0], made[1]), abs=5e-3)
    assert found.grid[-1] == length and len(found.grid) <= 1.0 + length
    assert stretch(MadeUp(heat_law=0.0, vapour_law=0.0), over=40.0, spare=0.1, length=length).grid == (length,)


@pytest.mark.parametrize("water", [0.14, 0.0])
def test_a_passage_counts_its_films_in_part(water: float) -> None:
    """With both films at 80 %: heat through the wall with four fifths of the film and of the vapour's transfer."""
    mixture = mixture_of({"nitrogen": 1.0 - water, "water": water})
    gas = CoolingGas(Stream(mass_flow=0.01, mixture=mixture, temperature=340.0, pressure=1e5))
    film = InsideFilm(mixture, mass_flow=0.01, pressure=1e5, bore=0.078, relative_roughness=0.0)
    wall = Wall(bore=0.078, outside=0.089, conductivity=0.17, insulated=0.089)
    passage = Passage(film=film, wall=wall, around=MadeUp().around, inside_share=0.8, outside_share=0.8)
    found = passage.heat(gas, temperature=330.0, vapour=0.9 * water, guess=None)
    coefficient, transfer = film(330.0)
    beside = Vapour(share=0.9 * water / (1.0 - 0.1 * water), pressure=1e5, transfer=0.8 * transfer)
    expected = heat_through(
        temperature=330.0, inside_film=0.8 * coefficient, law="", wall=wall, around=MadeUp().around,
        vapour=beside if water else None, outside_share=0.8,
    )  # fmt: skip
    assert found == expected and (found.condensing > 0.0) is (water > 0.0)
