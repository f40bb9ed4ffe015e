"""What one piece costs: the pressure a gas loses in a straight pipe or a fitting."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from ventsize.flow import friction
from ventsize.flow.fittings import LocalLoss, local_loss
from ventsize.flow.stream import Stream
from ventsize.gas.constants import GRAVITY
from ventsize.run.model import Piece, Run, Section

if TYPE_CHECKING:
    from ventsize.flow.cooling import Climate, RunCooling

DARCY_WEISBACH = "Darcy–Weisbach, f·L/D"

AT_REST = LocalLoss(k=0.0, k_low=0.0, k_high=0.0, method="at rest", by_method=(), codes=())

ENDS = ("terminal", "entrance")

FrictionLaw = Callable[..., float]
"""The Darcy friction factor [-] of reynolds and relative_roughness, both by keyword."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionFlow:
    """A stream in a section of pipe.

    velocity [m/s]; reynolds, friction_factor (Darcy) [-]; gradient: pressure lost per length of straight
    pipe [Pa/m]; dynamic_pressure: ½ρv² [Pa]; regime: laminar, transition or turbulent.
    """

    velocity: float
    reynolds: float
    friction_factor: float
    gradient: float
    dynamic_pressure: float
    regime: str


def section_flow(
    section: Section, stream: Stream, *, friction_law: FrictionLaw = friction.friction_factor
) -> SectionFlow:
    """A stream's flow in a section. Darcy–Weisbach; a stream at rest loses nothing."""
    if stream.mass_flow == 0.0:
        return SectionFlow(
            velocity=0.0,
            reynolds=0.0,
            friction_factor=0.0,
            gradient=0.0,
            dynamic_pressure=0.0,
            regime="at rest",
        )
    velocity = stream.mass_flow / (stream.density * section.area)
    reynolds = stream.density * velocity * section.bore / stream.viscosity
    factor = friction_law(reynolds=reynolds, relative_roughness=section.roughness / section.bore)
    return SectionFlow(
        velocity=velocity,
        reynolds=reynolds,
        friction_factor=factor,
        gradient=friction.pressure_gradient(
            friction_factor=factor, bore=section.bore, density=stream.density, velocity=velocity
        ),
        dynamic_pressure=0.5 * stream.density * velocity * velocity,
        regime=friction.regime(reynolds),
    )


def draft(*, rise: float, density: float, outside_density: float) -> float:
    """Buoyancy of a column of gas, positive where it helps the gas along [Pa].

    rise: of the pipe the way the gas moves [m]
    density: of the gas; outside_density: of the air outdoors, at rest beside it [kg/m³]
    """
    return (outside_density - density) * GRAVITY * rise


class PieceFlow(NamedTuple):
    """One piece with a stream in it.

    loss: its loss coefficient, low and high from the spread of methods, and where it comes from; f·L/D for a pipe.
    draft: buoyancy over the piece, positive where it helps the gas along [Pa].
    pressure_drop: loss of total pressure [Pa].
    """

    piece: Piece
    at: SectionFlow
    loss: LocalLoss
    draft: float
    pressure_drop: float

    @property
    def k(self) -> float:
        """Loss coefficient on the velocity in `at` [-]."""
        return self.loss.k

    @property
    def k_low(self) -> float:
        """The lowest of the methods [-]."""
        return self.loss.k_low

    @property
    def k_high(self) -> float:
        """The highest of the methods [-]."""
        return self.loss.k_high

    @property
    def pressure_drop_low(self) -> float:
        """The same by the lowest method [Pa]."""
        return self.loss.k_low * self.at.dynamic_pressure

    @property
    def pressure_drop_high(self) -> float:
        """The same by the highest method [Pa]."""
        return self.loss.k_high * self.at.dynamic_pressure

    @property
    def method(self) -> str:
        """Where the coefficient comes from."""
        return self.loss.method

    @property
    def overridden(self) -> bool:
        """Whether the job gave the coefficient itself."""
        return self.piece.k is not None

    @property
    def codes(self) -> tuple[str, ...]:
        """The codes of the findings about the method here."""
        return self.loss.codes


class RunWalk:
    """Solves the pieces of one run for one stream, working out each section and fitting once.

    forward: whether the gas moves the way the run is walked.
    outside_density: of the air outdoors, which buoyancy is measured against [kg/m³].
    friction_law: of straight pipe; a solver may have smoothed it.
    climate, cooling: what its pipes run through, and how the gas cools there; None at one temperature all along.
    """

    climate: Climate | None = None
    cooling: RunCooling | None = None

    def __init__(
        self,
        run: Run,
        *,
        stream: Stream,
        forward: bool,
        outside_density: float,
        friction_law: FrictionLaw = friction.friction_factor,
    ) -> None:
        self._run = run
        self._stream = stream
        self._friction_law = friction_law
        self.forward = forward
        up = 1.0 if forward else -1.0
        self._draft_per_rise = draft(rise=up, density=stream.density, outside_density=outside_density)
        self._sections: dict[int, SectionFlow] = {}
        self._fittings: dict[tuple[int, int, int, bool], tuple[SectionFlow, LocalLoss, float]] = {}
        self._solved: dict[int, PieceFlow] = {}

    def of_variant(self, run: Run) -> RunWalk:
        """A walk of another variant of the run with the same stream, which keeps what was worked out for this one.

        run: built of the same `Parts`, so that alike pieces are the same piece.
        """
        other = self.__class__.__new__(self.__class__)
        other.__dict__.update(self.__dict__)
        other._run = run
        return other

    def pieces(self) -> tuple[PieceFlow, ...]:
        """Every piece's loss, in walking order."""
        known, solve = self._solved.get, self._piece
        return tuple([known(id(piece)) or solve(piece) for piece in self._run.pieces])

    def _piece(self, piece: Piece) -> PieceFlow:
        found = self._pipe(piece) if piece.fitting is None else self._fitting(piece)
        self._solved[id(piece)] = found  # the result holds the piece, so that no other can get its id
        return found

    def at(self, section: Section) -> SectionFlow:
        """The stream's flow in a section of the run."""
        found = self._sections.get(id(section))
        if found is None:
            found = self._sections[id(section)] = section_flow(section, self._stream, friction_law=self._friction_law)
        return found

    def at_joint(self, joint: str) -> SectionFlow:
        """The stream's flow where the run meets a joint."""
        return self.at(self._run.section_at(joint))

    def _pipe(self, piece: Piece) -> PieceFlow:
        at, section = self.at(piece.before), piece.before
        k = at.friction_factor * piece.length / section.bore
        codes = friction.roughness_codes(section.roughness / section.bore)
        drop = k * at.dynamic_pressure
        loss = LocalLoss(k, k, k, DARCY_WEISBACH, (), codes)
        return PieceFlow(piece, at, loss, self._draft_per_rise * piece.rise, drop)

    def _fitting(self, piece: Piece) -> PieceFlow:
        leaving = piece.kind in ENDS and leaves_at(self._run, piece, forward=self.forward)
        key = (id(piece.fitting), id(piece.before), id(piece.after), leaving)
        found = self._fittings.get(key) if piece.k is None else None
        if found is None:
            at = self.at(piece.section)
            loss = self._loss(piece, at, leaving)
            found = at, loss, loss.k * at.dynamic_pressure
            if piece.k is None:
                self._fittings[key] = found
        at, loss, drop = found
        return PieceFlow(piece, at, loss, 0.0, drop)

    def _loss(self, piece: Piece, at: SectionFlow, leaving: bool) -> LocalLoss:
        if piece.k is not None:
            return LocalLoss(piece.k, piece.k, piece.k, "given in the job", (), ())
        if at.regime == "at rest":
            return AT_REST
        return fitting_loss(
            piece,
            reynolds=at.reynolds,
            friction_factor=at.friction_factor,
            forward=self.forward,
            leaving=leaving,
        )


def fitting_loss(
    piece: Piece, *, reynolds: float, friction_factor: float, forward: bool, leaving: bool, with_spread: bool = True
) -> LocalLoss:
    """The loss of a fitting where it stands, on the velocity in the narrower of its two sections.

    reynolds, friction_factor: of the gas in that section [-]. forward: whether the gas moves the way the run is
    walked. leaving: whether it leaves the pipe there. with_spread: whether its low and high are wanted.
    """
    assert piece.fitting is not None
    same = piece.after is piece.before
    return local_loss(
        piece.fitting,
        bore=piece.section.bore,
        other_bore=None if same else max(piece.before.bore, piece.after.bore),
        gas_expands=(piece.after.bore > piece.before.bore) is forward,
        reynolds=reynolds,
        friction_factor=friction_factor,
        roughness=piece.section.roughness,
        plastic=piece.section.plastic,
        leaving=leaving,
        with_spread=with_spread,
    )


def leaves_at(run: Run, piece: Piece, *, forward: bool) -> bool:
    """Whether gas leaves the pipe at this piece, were it an end of pipe (or enters it)."""
    last = run.end == "outdoors" if run.counted else piece is run.pieces[-1]
    return forward is last
