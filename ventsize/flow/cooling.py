"""How the gas in a run cools (or warms) on its way, step by step, with the heat of condensation.

Enthalpy is what is carried along: what passes the wall leaves it, and the temperature follows from what is left.
Water that condenses leaves the gas at its temperature there, and is taken to drain off along the pipe.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from ventsize.flow import friction
from ventsize.flow.heat import INSULATION_CONDUCTIVITY, Around, Heat, Wall, heat_through, inside_film
from ventsize.flow.pieces import FrictionLaw, PieceFlow, RunWalk, SectionFlow
from ventsize.flow.stream import Stream
from ventsize.gas.condensation import enthalpy_with_condensation, saturate
from ventsize.gas.mixture import Mixture, molar_mass
from ventsize.run.model import Piece, Run, Section

STEP = 0.5  # m; halving it moves no temperature by more than a few thousandths of a kelvin
FEWEST_STEPS = 2
PLASTIC = 0.17  # W/(m·K); the wall of a material whose record gives no conductivity, as plastic

UNSAID = "heated space"


@dataclass(frozen=True, slots=True, kw_only=True)
class Climate:
    """What pipes run through, by the words the job uses for it; `UNSAID` where it says nothing."""

    around: Mapping[str, Around]

    def of(self, piece: Piece) -> Around:
        """What is around a piece of pipe."""
        return self.around[piece.surroundings or UNSAID]


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """A place along a run, counted the way the gas moves.

    distance: along the pipe from where the gas enters [m]; piece: number of the piece in the run's list, from 0.
    temperature: of the gas; inside_wall, outside_surface: of the pipe; surroundings: of the air around [K].
    condensate: collected from the start of the run to here [kg/s].
    """

    distance: float
    piece: int
    temperature: float
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
    """
    state = _State(stream)
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
        walked = _along(state, piece, number, climate, step, films)
        points += walked
        heats[number], waters[number] = state.given - given, state.condensate - before
        mean = math.fsum(p.temperature for p in walked) - (walked[0].temperature + walked[-1].temperature) / 2
        streams[number] = state.stream(mean / (len(walked) - 1))
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


class _State:
    """The gas where the walk stands: its temperature and the enthalpy still in it."""

    def __init__(self, stream: Stream) -> None:
        self._entered = stream
        self.mixture: Mixture = stream.mixture
        self.pressure = stream.pressure
        self.flow = stream.mass_flow / molar_mass(stream.mixture)
        self.temperature = stream.temperature
        self.distance = 0.0
        self.given = 0.0
        self._enthalpy = self._at(stream.temperature)
        self.condensate = 0.0

    def _at(self, temperature: float) -> float:
        return enthalpy_with_condensation(self.mixture, temperature=temperature, pressure=self.pressure)

    def give(self, heat: float) -> None:
        """Let heat [W] out through the wall."""
        self.given += heat
        self._enthalpy -= heat / self.flow
        self.temperature = self._temperature_of(self._enthalpy)
        left = saturate(self.mixture, molar_flow=self.flow, temperature=self.temperature, pressure=self.pressure)
        self.condensate = left.condensate

    def _temperature_of(self, enthalpy: float) -> float:
        """Newton from where the gas stands; where the slope breaks at the dew point the secant carries it over."""
        here, value = self.temperature, self._at(self.temperature)
        slope = self.capacity(here)
        for _ in range(60):
            there = here + (enthalpy - value) / slope
            reached = self._at(there)
            if abs(there - here) < 1e-9:
                return there
            slope = (reached - value) / (there - here)
            here, value = there, reached
        raise ArithmeticError("the temperature of the cooling gas was not found")

    def capacity(self, temperature: float) -> float:
        """Heat to warm a mole of what entered by a kelvin, latent heat included [J/(mol·K)]."""
        return (self._at(temperature + 0.02) - self._at(temperature - 0.02)) / 0.04

    def stream(self, temperature: float | None = None) -> Stream:
        """The gas here, or at another temperature on its way [K]."""
        at = self.temperature if temperature is None else temperature
        if self._entered.mass_flow == 0.0:
            return self._entered
        left = saturate(self.mixture, molar_flow=self.flow, temperature=at, pressure=self.pressure)
        return replace(self._entered, mixture=left.mixture, mass_flow=left.mass_flow, temperature=at)


def _along(
    state: _State, piece: Piece, number: int, climate: Climate, step: float, films: dict[str, None]
) -> list[Point]:
    wall, around = wall_of(piece), climate.of(piece)
    rough = piece.before.roughness / piece.before.bore
    steps = max(FEWEST_STEPS, math.ceil(piece.length / step))
    length = piece.length / steps

    def heat_at(temperature: float) -> Heat:
        coefficient, law = inside_film(
            state.mixture,
            mass_flow=state.flow * molar_mass(state.mixture),
            temperature=temperature,
            pressure=state.pressure,
            bore=wall.bore,
            relative_roughness=rough,
        )
        films.setdefault(law)
        return heat_through(temperature=temperature, inside_film=coefficient, law=law, wall=wall, around=around)

    here = heat_at(state.temperature)
    points = [_point(state, here, number, around)]
    for _ in range(steps):
        # The exponential fall of an exchanger, with the heat capacity (latent heat included) of the step's middle.
        ratio = here.conductance * length / (state.flow * state.capacity(state.temperature))
        driving = state.temperature - around.temperature
        middle = around.temperature + driving * math.exp(-ratio / 2)
        capacity = state.flow * state.capacity(middle)
        state.give(capacity * driving * -math.expm1(-here.conductance * length / capacity))
        state.distance += length
        here = heat_at(state.temperature)
        points.append(_point(state, here, number, around))
    return points


def _point(state: _State, heat: Heat, number: int, around: Around) -> Point:
    return Point(
        distance=state.distance,
        piece=number,
        temperature=state.temperature,
        inside_wall=heat.inside_wall,
        outside_surface=heat.outside_surface,
        surroundings=around.temperature,
        condensate=state.condensate,
    )


class CoolingWalk(RunWalk):
    """Solves the pieces of one run, each for the stream as warm as it is there.

    climate: what its pipes run through. cooling: the stream's way, where it has been followed already.
    """

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
