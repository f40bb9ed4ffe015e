"""How the gas in a run cools (or warms) on its way, with the heat of condensation.

Enthalpy is what is carried along: what passes the wall leaves it, and the temperature follows from what is left.
Vapour condenses on a wall below the gas's dew point, and as mist where the gas itself falls below it. The water
leaves the gas at its temperature there, is taken to drain off along the pipe, and is not taken up again.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from ventsize.flow import friction
from ventsize.flow.cooling_gas import CoolingGas
from ventsize.flow.heat import INSULATION_CONDUCTIVITY, Around, InsideFilm, Wall
from ventsize.flow.pieces import FrictionLaw, PieceFlow, RunWalk, SectionFlow
from ventsize.flow.stream import Stream
from ventsize.flow.stretch import TOLERANCE, Passage, Stretch
from ventsize.gas.components import OutOfRange
from ventsize.jobfile.problems import InputError, Problem
from ventsize.run.model import Piece, Run, Section

APART = 0.5  # m; points along a pipe are no farther apart
MOST_VARIANTS = 500  # of a run whose cooling is kept for others
FEWEST_PARTS, MOST_PARTS = 2, 2_000  # of one pipe, between its points
PLASTIC = 0.17  # W/(m·K); the wall of a material whose record gives no conductivity, as plastic

UNSAID = "heated space"


@dataclass(frozen=True, slots=True, kw_only=True)
class Climate:
    """What pipes run through, by the words the job uses for it; `UNSAID` where it says nothing.

    elsewhere: what is around a piece whose words are not among them, as in a variant of the job.
    inside_share, outside_share: of the films' coefficients that are counted, to see what doubt about them does [-].
    """

    around: Mapping[str, Around]
    elsewhere: Callable[[Piece], Around] | None = field(default=None, compare=False)
    inside_share: float = 1.0
    outside_share: float = 1.0

    def of(self, piece: Piece) -> Around:
        """What is around a piece of pipe."""
        known = self.around.get(piece.surroundings or UNSAID)
        if known is None and self.elsewhere is not None:
            return self.elsewhere(piece)
        return self.around[piece.surroundings or UNSAID] if known is None else known


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
class _Walked:
    """A stretch that was followed.

    distance: along the run to its start [m]. pipes: number in the run's list, start and end in the stretch [m].
    """

    stretch: Stretch
    distance: float
    pipes: tuple[tuple[int, float, float], ...]


@dataclass(frozen=True, kw_only=True)
class RunCooling:
    """A run's stream on its way.

    forward: whether it moves the way the run is listed.
    heat: given off through the wall, negative where it is taken up [W]. condensate: water left in the run [kg/s].
    piece_heat [W], piece_condensate [kg/s]: of each piece, in the run's order.
    streams: the mean stream in each piece, in the run's order. films: the laws the inside film follows.
    """

    inlet: Stream
    outlet: Stream
    forward: bool
    heat: float
    condensate: float
    piece_heat: tuple[float, ...]
    piece_condensate: tuple[float, ...]
    streams: tuple[Stream, ...]
    films: tuple[str, ...]
    gas: CoolingGas = field(repr=False)
    walked: tuple[_Walked, ...] = field(repr=False)

    @cached_property
    def points(self) -> tuple[Point, ...]:
        """Places along the pipe, a pair at every change of piece."""
        return tuple(self._points())

    @property
    def grid(self) -> Grid:
        """The steps it was followed by, for following a stream that is nearly the same."""
        return tuple(walked.stretch.grid for walked in self.walked)

    def _points(self) -> Iterator[Point]:
        for walked in self.walked:
            for number, start, end in walked.pipes:
                parts = min(MOST_PARTS, max(FEWEST_PARTS, math.ceil((end - start) / APART)))
                for part in range(parts + 1):
                    place = start + (end - start) * part / parts
                    temperature, vapour, _ = walked.stretch.at(place)
                    heat = walked.stretch.heat_at(temperature, vapour)
                    yield Point(
                        distance=walked.distance + place,
                        piece=number,
                        temperature=temperature,
                        dew_point=self.gas.dew_point(vapour),
                        inside_wall=heat.inside_wall,
                        outside_surface=heat.outside_surface,
                        surroundings=walked.stretch.surroundings,
                        condensate=self.gas.condensate(vapour),
                    )


Grid = tuple[tuple[float, ...], ...]


def cool_run(
    run: Run,
    *,
    stream: Stream,
    forward: bool,
    climate: Climate,
    tolerance: float = TOLERANCE,
    grid: Grid | None = None,
) -> RunCooling:
    """Follow a stream along a run.

    stream: as it enters. forward: whether it moves the way the run is listed. Fittings are taken to have no length.
    tolerance: what each step may be off, of what drives the heat there [-].
    grid: of the same run's cooling at nearly the same stream; what is found then follows the stream without a jump.

    Raises InputError where the gas leaves the range in which its properties are known.
    """
    try:
        return _cooled(run, stream, forward, climate, tolerance, grid)
    except (OutOfRange, ArithmeticError):
        problem = "its gas cannot be followed as it cools or warms: the figures lead out of the range of its properties"
        expected = "lengths, inputs and temperatures as a building has them"
        raise InputError(Problem("", f"run '{run.name}'", problem, expected)) from None


def _cooled(
    run: Run, stream: Stream, forward: bool, climate: Climate, tolerance: float, grid: Grid | None
) -> RunCooling:
    gas = CoolingGas(stream)
    count = len(run.pieces)
    heats, waters, streams = [0.0] * count, [0.0] * count, [stream] * count
    films: dict[tuple[float, float], InsideFilm] = {}
    walked: list[_Walked] = []
    here = stream
    temperature, vapour, enthalpy = stream.temperature, gas.water, gas.enthalpy(stream.temperature, gas.water)
    entered, distance = enthalpy, 0.0
    for numbers in _alike(run, forward):
        first = run.pieces[numbers[0]]
        if first.length == 0.0 or stream.mass_flow == 0.0:
            streams[numbers[0]] = here
            continue
        lengths = [run.pieces[number].length for number in numbers]
        stretch = Stretch(
            gas,
            _passage(first, stream, climate, films),
            length=math.fsum(lengths),
            temperature=temperature,
            vapour=vapour,
            tolerance=tolerance,
            grid=grid[len(walked)] if grid and len(walked) < len(grid) else None,
        )
        pipes, start = [], 0.0
        for number, length in zip(numbers, lengths, strict=True):
            end = start + length
            if length > 0.0:
                pipes.append((number, start, end))
                streams[number] = gas.stream(*stretch.mean(start, end))
                temperature, left, kept = stretch.at(end)
                heats[number], waters[number] = enthalpy - kept, vapour - left
                vapour, enthalpy = left, kept
                here = gas.stream(temperature, vapour)
            else:
                streams[number] = here
            start = end
        walked.append(_Walked(stretch=stretch, distance=distance, pipes=tuple(pipes)))
        distance += stretch.length
    per_mole = gas.condensate(0.0) / gas.water if gas.water else 0.0
    return RunCooling(
        inlet=stream,
        outlet=here,
        forward=forward,
        heat=(entered - enthalpy) * gas.flow,
        condensate=gas.condensate(vapour),
        piece_heat=tuple([heat * gas.flow for heat in heats]),
        piece_condensate=tuple([water * per_mole for water in waters]),
        streams=tuple(streams),
        films=tuple(dict.fromkeys(law for film in films.values() for law in film.laws)),
        gas=gas,
        walked=tuple(walked),
    )


def _alike(run: Run, forward: bool) -> Iterator[list[int]]:
    """Numbers of the pieces the way the gas goes: pipes alike with the fittings between them, others each alone."""
    waiting: list[int] = []
    between: list[int] = []
    order = range(len(run.pieces)) if forward else range(len(run.pieces) - 1, -1, -1)
    for number in order:
        piece = run.pieces[number]
        if piece.length == 0.0:
            between.append(number)
            continue
        if waiting and _same_passage(run.pieces[waiting[0]], piece):
            waiting += [*between, number]
        else:
            if waiting:
                yield waiting
            yield from ([one] for one in between)
            waiting = [number]
        between = []
    if waiting:
        yield waiting
    yield from ([one] for one in between)


def _same_passage(a: Piece, b: Piece) -> bool:
    return a.before is b.before and a.insulation == b.insulation and a.surroundings == b.surroundings


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


def _passage(piece: Piece, stream: Stream, climate: Climate, films: dict[tuple[float, float], InsideFilm]) -> Passage:
    """What the gas passes through in a pipe; the inside film of one bore is worked out once."""
    wall, rough = wall_of(piece), piece.before.roughness / piece.before.bore
    film = films.get((wall.bore, rough))
    if film is None:
        film = films[wall.bore, rough] = InsideFilm(
            stream.mixture,
            mass_flow=stream.mass_flow,
            pressure=stream.pressure,
            bore=wall.bore,
            relative_roughness=rough,
        )
    return Passage(
        film=film,
        wall=wall,
        around=climate.of(piece),
        inside_share=climate.inside_share,
        outside_share=climate.outside_share,
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
        self._variants: dict[tuple[object, ...], CoolingWalk] = {}
        self._outside_density = outside_density
        known = cooling is not None and cooling.inlet == stream and cooling.forward is forward
        self.cooling = cooling if cooling and known else cool_run(run, stream=stream, forward=forward, climate=climate)

    def of_variant(self, run: Run) -> RunWalk:
        """A walk of another variant of the run. Where only its fittings differ, the gas cools as it did before."""
        pipes = tuple([(piece.length, id(piece.before), piece.insulation, piece.surroundings) for piece in run.pieces])
        known = self._variants.get(pipes)
        walk = CoolingWalk(
            run,
            stream=self._stream,
            forward=self.forward,
            outside_density=self._outside_density,
            climate=self.climate,
            friction_law=self._friction_law,
            cooling=known.cooling if known else None,
        )
        if known is None:
            if len(self._variants) >= MOST_VARIANTS:
                self._variants.clear()
            self._variants[pipes] = walk  # with the pieces by whose sections it is found
        return walk

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
