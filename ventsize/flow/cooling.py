"""How the gas in a run cools (or warms) on its way, step by step, with the heat of condensation.

Enthalpy is what is carried along: what passes the wall leaves it, and the temperature follows from what is left.
Vapour condenses on a wall below the gas's dew point, and as mist where the gas itself falls below it. The water
leaves the gas at its temperature there, is taken to drain off along the pipe, and is not taken up again.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from ventsize.flow import friction
from ventsize.flow.heat import (
    INSULATION_CONDUCTIVITY,
    Around,
    Heat,
    Wall,
    heat_through,
    inside_film,
    vapour_beside,
)
from ventsize.flow.pieces import FrictionLaw, PieceFlow, RunWalk, SectionFlow
from ventsize.flow.stream import Stream
from ventsize.flow.underway import Underway
from ventsize.gas.components import OutOfRange
from ventsize.gas.mixture import heat_capacity, molar_mass
from ventsize.jobfile.problems import InputError, Problem
from ventsize.run.model import Piece, Run, Section

STEP = 0.5  # m; halving it moves no temperature by more than a few thousandths of a kelvin
FEWEST_STEPS = 2
LARGEST_CHANGE = 0.1  # of what is between gas and surroundings, in one step
MOST_STEPS = 2_000  # in one pipe
PLASTIC = 0.17  # W/(m·K); the wall of a material whose record gives no conductivity, as plastic

UNSAID = "heated space"


@dataclass(frozen=True, slots=True, kw_only=True)
class Climate:
    """What pipes run through, by the words the job uses for it; `UNSAID` where it says nothing.

    inside_share, outside_share: of the films' coefficients that are counted, to see what doubt about them does [-].
    """

    around: Mapping[str, Around]
    inside_share: float = 1.0
    outside_share: float = 1.0

    def of(self, piece: Piece) -> Around:
        """What is around a piece of pipe."""
        return self.around[piece.surroundings or UNSAID]


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """A place along a run, counted the way the gas moves.

    distance: along the pipe from where the gas enters [m]; piece: number of the piece in the run's list, from 0.
    temperature, dew_point: of the gas; inside_wall, outside_surface: of the pipe; surroundings: of the air
    around [K]. condensate: collected from the start of the run to here [kg/s].
    """

    distance: float
    piece: int
    temperature: float
    dew_point: float
    inside_wall: float
    outside_surface: float
    surroundings: float
    condensate: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RunCooling:
    """A run's stream on its way.

    points: along the pipe, a pair at every change of piece. heat: given off through the wall, negative where
    it is taken up [W]. condensate: water left in the run [kg/s].
    piece_heat [W], piece_condensate [kg/s]: of each piece, in the run's order.
    streams: the mean stream in each piece, in the run's order. films: the laws the inside film follows.
    """

    inlet: Stream
    outlet: Stream
    points: tuple[Point, ...]
    heat: float
    condensate: float
    piece_heat: tuple[float, ...]
    piece_condensate: tuple[float, ...]
    streams: tuple[Stream, ...]
    films: tuple[str, ...]


def cool_run(run: Run, *, stream: Stream, forward: bool, climate: Climate, step: float = STEP) -> RunCooling:
    """Follow a stream along a run.

    stream: as it enters. forward: whether it moves the way the run is listed.
    step: longest step along a pipe [m]. Fittings are taken to have no length.

    Raises InputError where the gas leaves the range in which its properties are known.
    """
    try:
        return _cooled(run, stream, forward, climate, step)
    except (OutOfRange, ArithmeticError):
        problem = "its gas cannot be followed as it cools or warms: the figures lead out of the range of its properties"
        expected = "lengths, inputs and temperatures as a building has them"
        raise InputError(Problem("", f"run '{run.name}'", problem, expected)) from None


def _cooled(run: Run, stream: Stream, forward: bool, climate: Climate, step: float) -> RunCooling:
    state = Underway(stream)
    order = range(len(run.pieces)) if forward else range(len(run.pieces) - 1, -1, -1)
    heats, waters = [0.0] * len(run.pieces), [0.0] * len(run.pieces)
    streams: list[Stream] = [stream] * len(run.pieces)
    points: list[Point] = []
    films: dict[str, None] = {}
    for number in order:
        piece = run.pieces[number]
        if not piece.is_pipe or piece.length == 0.0 or stream.mass_flow == 0.0:
            streams[number] = state.stream()
            continue
        before, given = state.condensate, state.given
        walked, mean = _along(state, piece, number, climate, step, films)
        points += walked
        heats[number], waters[number] = state.given - given, state.condensate - before
        streams[number] = mean
    return RunCooling(
        inlet=stream,
        outlet=state.stream(),
        points=tuple(points),
        heat=state.given,
        condensate=state.condensate,
        piece_heat=tuple(heats),
        piece_condensate=tuple(waters),
        streams=tuple(streams),
        films=tuple(films),
    )


def wall_of(piece: Piece) -> Wall:
    """The wall and insulation of a straight pipe."""
    section, around = piece.before, piece.insulation
    outside = section.size.outside
    thickness = around.thickness if around else 0.0
    return Wall(
        bore=section.bore,
        outside=outside,
        conductivity=section.material.conductivity or PLASTIC,
        insulated=outside + 2 * thickness,
        insulation_conductivity=(around.conductivity if around else None) or INSULATION_CONDUCTIVITY,
    )


def _along(
    state: Underway, piece: Piece, number: int, climate: Climate, step: float, films: dict[str, None]
) -> tuple[list[Point], Stream]:
    """The points along a pipe, and the mean stream in it."""
    around = climate.of(piece)
    through = _through(state, piece, climate, films)
    here = through()
    points = [_point(state, here, number, around)]
    capacity = state.flow * molar_mass(state.mixture) * heat_capacity(state.mixture, temperature=state.temperature)
    change = here.conductance * piece.length / capacity / LARGEST_CHANGE
    steps = min(MOST_STEPS, max(FEWEST_STEPS, math.ceil(piece.length / step), math.ceil(change)))
    length = piece.length / steps
    vapours = [state.vapour]
    for _ in range(steps):
        # Midpoint rule: what leaves over the step is what would leave from its middle.
        start = state.temperature, state.vapour
        state.stand(*state.ahead(heat=here.flux * length / 2, water=here.condensing * length / 2))
        middle = through()
        state.stand(*start)
        state.go(heat=middle.flux * length, water=middle.condensing * length, length=length)
        here = through()
        points.append(_point(state, here, number, around))
        vapours.append(state.vapour)
    return points, state.stream(_mean([p.temperature for p in points]), _mean(vapours))


def _mean(values: Sequence[float]) -> float:
    """Of values at even distances, those at the ends counting half."""
    return (math.fsum(values) - (values[0] + values[-1]) / 2) / (len(values) - 1)


def _through(state: Underway, piece: Piece, climate: Climate, films: dict[str, None]) -> Callable[[], Heat]:
    """What passes the wall of a pipe from the gas as it stands; the laws used are noted in `films`."""
    wall, around = wall_of(piece), climate.of(piece)
    rough = piece.before.roughness / piece.before.bore
    mass_flow = state.flow * molar_mass(state.mixture)

    def through() -> Heat:
        found, law = inside_film(
            state.mixture,
            mass_flow=mass_flow,
            temperature=state.temperature,
            pressure=state.pressure,
            bore=wall.bore,
            relative_roughness=rough,
        )
        films.setdefault(law)
        film = climate.inside_share * found
        vapour = None
        if state.vapour > 0.0:
            vapour = vapour_beside(
                state.mixture,
                share=state.share,
                film=film,
                temperature=state.temperature,
                pressure=state.pressure,
            )
        return heat_through(
            temperature=state.temperature,
            inside_film=film,
            law=law,
            wall=wall,
            around=around,
            vapour=vapour,
            outside_share=climate.outside_share,
        )

    return through


def _point(state: Underway, heat: Heat, number: int, around: Around) -> Point:
    return Point(
        distance=state.distance,
        piece=number,
        temperature=state.temperature,
        dew_point=state.dew_point,
        inside_wall=heat.inside_wall,
        outside_surface=heat.outside_surface,
        surroundings=around.temperature,
        condensate=state.condensate,
    )


class CoolingWalk(RunWalk):
    """Solves the pieces of one run, each for the stream as warm as it is there.

    climate: what its pipes run through. cooling: the stream's way, where it has been followed already.
    """

    climate: Climate
    cooling: RunCooling

    def __init__(
        self,
        run: Run,
        *,
        stream: Stream,
        forward: bool,
        outside_density: float,
        climate: Climate,
        friction_law: FrictionLaw = friction.friction_factor,
        cooling: RunCooling | None = None,
    ) -> None:
        super().__init__(
            run, stream=stream, forward=forward, outside_density=outside_density, friction_law=friction_law
        )
        self.climate = climate
        self._outside_density = outside_density
        known = cooling is not None and cooling.inlet == stream
        self.cooling = cooling if cooling and known else cool_run(run, stream=stream, forward=forward, climate=climate)

    def of_variant(self, run: Run) -> RunWalk:
        """A walk of another variant of the run; nothing is kept, as every place has its own temperature."""
        return CoolingWalk(
            run,
            stream=self._stream,
            forward=self.forward,
            outside_density=self._outside_density,
            climate=self.climate,
            friction_law=self._friction_law,
        )

    def pieces(self) -> tuple[PieceFlow, ...]:
        """Every piece's loss with the stream that is there, in walking order."""
        return tuple(
            self._at_stream(stream)._piece(piece)
            for piece, stream in zip(self._run.pieces, self.cooling.streams, strict=True)
        )

    def at_joint(self, joint: str) -> SectionFlow:
        """The stream's flow where the run meets a joint."""
        section: Section = self._run.section_at(joint)
        entering = (joint == self._run.start) is self.forward
        return self._at_stream(self.cooling.inlet if entering else self.cooling.outlet).at(section)

    def _at_stream(self, stream: Stream) -> RunWalk:
        return RunWalk(
            self._run,
            stream=stream,
            forward=self.forward,
            outside_density=self._outside_density,
            friction_law=self._friction_law,
        )
