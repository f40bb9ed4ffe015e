"""The working: how the figures of a run come about, line by line, as one would write it on a board.

The values are those of the check itself and the formulas stand beside them, so that anyone may put the one into the
other: a line that does not come out is a fault.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from ventsize.check.appliances import surroundings
from ventsize.check.inputs import Inputs
from ventsize.check.rate import RunRate
from ventsize.check.result import JobCheck, RunCheck
from ventsize.finding import Finding
from ventsize.flow.pieces import PieceFlow, SectionFlow
from ventsize.gas.components import GAS_CONSTANT
from ventsize.gas.flue import FlueGas
from ventsize.jobfile.job import Rate
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity.board import Kind
from ventsize.run.model import Section
from ventsize.studies.working.burning import air_steps, flue_steps, molar_mass_step
from ventsize.studies.working.flowing import PIPE, draft_step, loss_step, section_steps
from ventsize.studies.working.judging import calculation_steps, table_steps
from ventsize.studies.working.steps import Conclusion, Given, Step, Working, sum_of

_SAME = 1e-9  # of a mass flow; nearer than this, it is the same one
_T = TypeVar("_T")


def working_of(
    check: JobCheck, inputs: Inputs, *, run: str | None = None, rate: str | None = None, piece: int | None = None
) -> Working:
    """How the figures of one run at one firing rate come about.

    run: by name; the first of the job where not given.
    rate: a firing rate, or combination, by name; where not given, the one at which the run loses most.
    piece: one of its pieces by number, from 1; the whole run where not given.

    Raises InputError for a name or number that is not there.
    """
    found = _named(check.runs, run or check.runs[0].run.name, [r.run.name for r in check.runs], "run", inputs)
    at = found.worst if rate is None else _named(found.rates, rate, [r.name for r in found.rates], "rate", inputs)
    if piece is not None and not 1 <= piece <= len(at.flow.pieces):
        place = f"run '{found.run.name}'"
        raise InputError(Problem(inputs.file, place, f"it has no piece {piece}", f"1 to {len(at.flow.pieces)}"))
    return _Board(check=check, inputs=inputs, run=found, rate=at).written(piece)


def _named(things: Sequence[_T], name: str, names: Sequence[str], what: str, inputs: Inputs) -> _T:
    if name not in names:
        known = ", ".join(f"'{known}'" for known in names)
        raise InputError(Problem(inputs.file, "", f"there is no {what} '{name}' to work out", f"one of {known}"))
    return things[names.index(name)]


@dataclass(slots=True, kw_only=True)
class _Board:
    """What has been written so far."""

    check: JobCheck
    inputs: Inputs
    run: RunCheck
    rate: RunRate
    steps: list[Step] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    stream: dict[str, Given] = field(default_factory=dict)
    sections: dict[tuple[float, float], dict[str, Given]] = field(default_factory=dict)

    def written(self, piece: int | None) -> Working:
        flow = self.rate.flow
        name = "" if piece is None else f", {piece}. {flow.pieces[piece - 1].piece.name}"
        if not flow.settled:
            self.remarks.append("No flow was found at which the pressures around the loops agree: nothing to work out.")
        elif not math.isfinite(flow.pressure_drop):
            self.remarks.append("The pressure drop could not be computed: nothing to work out.")
        elif flow.stream.mass_flow == 0.0:
            self.remarks.append("No gas moves in this run at this rate: it loses nothing.")
        elif piece is None:
            self._whole_run()
        else:
            self._one_piece(flow.pieces[piece - 1], piece)
        if piece is None:
            self.steps += table_steps(self.run)
        return Working(
            title=f"{self.run.run.name} at {self.rate.name}{name}",
            steps=tuple(self.steps),
            conclusion=None if piece else Conclusion(check=self.check, run=self.run, rate=self.rate),
            findings=tuple(finding for finding in self.check.findings if self._concerns(finding)),
            remarks=tuple(self.remarks),
        )

    def _concerns(self, finding: Finding) -> bool:
        """Whether a finding of the job is not about another run."""
        return finding.where.run in (None, self.run.run.name)

    def _whole_run(self) -> None:
        flow = self.rate.flow
        self._stream()
        for solved in flow.pieces:
            if not self.check.cooling:
                self._section(solved.piece.section, solved.at)
        losses = [self._piece(solved, number) for number, solved in enumerate(flow.pieces, start=1)]
        for number, joint in enumerate(flow.junctions, start=1):
            k = Given(f"loss coefficient of the {joint.fitting}", f"K[j{number}]", joint.k, source=joint.method)
            pressure = Given(
                "velocity pressure of the stream it is stated on",
                f"q[j{number}]",
                joint.at.dynamic_pressure,
                Kind.PRESSURE,
                f"at joint {joint.joint}",
            )
            losses.append(loss_step(f"pressure drop at joint {joint.joint}", f"Δp[j{number}]", k, pressure,
                                joint.pressure_drop))  # fmt: skip
        self.steps += losses
        total = sum_of(
            "pressure drop of the run",
            "Δp",
            [step.result for step in losses],
            value=flow.pressure_drop,
            kind=Kind.PRESSURE,
            source="pieces one after the other",
        )
        self.steps.append(total)
        self._draft()
        self._gradient()
        self.steps += calculation_steps(self.run, self.rate, total.result, self.steps)

    def _one_piece(self, solved: PieceFlow, number: int) -> None:
        self._stream()
        if not self.check.cooling:
            self._section(solved.piece.section, solved.at)
        loss = self._piece(solved, number)
        self.steps.append(loss)
        gradient = self._gradient()
        length = self.rate.piece_lengths[number - 1]
        if length is not None:
            self.steps.append(
                Step(
                    name=f"the same as straight {self.run.reference_section.label} pipe",
                    symbol=f"L[e{number}]",
                    template="{0} / {1}",
                    inputs=(loss.result, gradient),
                    powers=(1, -1),
                    value=length,
                    kind=Kind.LENGTH,
                    source="definition",
                )
            )

    def _stream(self) -> None:
        """The mass flow, density and viscosity."""
        stream = self.rate.flow.stream
        mass_flow = self._mass_flow()
        molar = molar_mass_step(stream.mixture, name="molar mass of the gas", symbol="M")
        density = Step(
            name="density",
            symbol="ρ",
            template="{0} * {1} / ({2} * {3})",
            inputs=(
                Given("pressure of the air", "p", stream.pressure, Kind.ABSOLUTE_PRESSURE, "altitude"),
                molar.result,
                Given("gas constant", "R", GAS_CONSTANT, Kind.GAS_CONSTANT, "CODATA 2018"),
                Given("temperature of the gas", "T", stream.temperature, Kind.TEMPERATURE, "where it enters the run"),
            ),
            powers=(1, 1, -1, -1),
            value=stream.density,
            kind=Kind.DENSITY,
            source="ideal gas",
        )
        self.steps += [molar, density]
        viscosity = Given(
            "viscosity", "µ", stream.viscosity, Kind.VISCOSITY, "Perry's 8th ed., mixed by Herning and Zipperer"
        )
        self.stream = {"m": mass_flow, "ρ": density.result, "µ": viscosity}
        if self.check.cooling:
            self.remarks.append(
                "The gas cools on its way: velocity, friction and velocity pressure differ from place to place, and "
                "each piece's are taken as the calculation along the run has them."
            )

    def _mass_flow(self) -> Given:
        flow = self.rate.flow.stream.mass_flow
        for appliance in self.inputs.job.appliances:
            name = self.rate.fired.get(appliance.name)
            gases = next(a for a in self.check.appliances if a.name == appliance.name)
            for written, solved in zip(appliance.rates, gases.rates, strict=True):
                if written.name != name:
                    continue
                flue = self.run.run.carries == "flue gas"
                if math.isclose(solved.gas.flue_mass_flow if flue else solved.gas.air_mass_flow, flow, rel_tol=_SAME):
                    return self._from_fire(solved.gas, written, appliance.fuel, flue=flue)
        return self._joined(flow)

    def _joined(self, flow: float) -> Given:
        """The flow of a run that carries several appliances' gas, or part of it."""
        flue = self.run.run.carries == "flue gas"
        firing = [(a.name, rate.gas) for a in self.check.appliances for rate in a.rates
                  if self.rate.fired.get(a.name) == rate.name]  # fmt: skip
        parts = [
            Given(f"mass flow of {name}", f"m[{number}]", gas.flue_mass_flow if flue else gas.air_mass_flow,
                  Kind.MASS_FLOW, f"the working of a run of {name} alone")
            for number, (name, gas) in enumerate(firing, start=1)
        ]  # fmt: skip
        if parts and math.isclose(math.fsum(part.value for part in parts), flow, rel_tol=_SAME):
            joined = sum_of("mass flow", "m", parts, value=flow, kind=Kind.MASS_FLOW, source="mass is kept")
            self.steps.append(joined)
            return joined.result
        self.remarks.append("The gas in this run is not that of one appliance alone; its flow is taken as calculated.")
        return Given("mass flow", "m", flow, Kind.MASS_FLOW, "mass balance of the runs")

    def _from_fire(self, gas: FlueGas, rate: Rate, fuel: str, *, flue: bool) -> Given:
        fractions = self.inputs.catalog.fuels[fuel].mole_fractions
        source = "the job"
        if rate.oxygen is not None:
            source = f"from an O2 reading of {rate.oxygen:.2%}"
        elif rate.carbon_dioxide is not None:
            source = f"from a CO2 reading of {rate.carbon_dioxide:.2%}"
        burning = (flue_steps if flue else air_steps)(gas, fuel=fractions, excess_air_from=source)
        self.steps += burning
        return burning[-1].result

    def _section(self, section: Section, at: SectionFlow) -> dict[str, Given]:
        """Velocity to velocity pressure in pipe of one size, written once."""
        key = (section.bore, section.roughness)
        if key in self.sections:
            return self.sections[key]
        mark = f"[{len(self.sections) + 1}]" if self.sections else ""
        steps = section_steps(section, at, self.stream, mark, ramped=self.rate.flow.divided)
        self.steps += steps
        bore = Given("bore", f"D{mark}", section.bore, Kind.BORE, PIPE)
        names = ("A", "v", "Re", "f", "q")
        self.sections[key] = {"D": bore, **{n: s.result for n, s in zip(names, steps, strict=True)}}
        return self.sections[key]

    def _piece(self, solved: PieceFlow, number: int) -> Step:
        """A piece's pressure drop; the coefficient of a pipe is written first."""
        piece, name = solved.piece, f"{number}. {solved.piece.name}"
        k = Given(f"loss coefficient of {name}", f"K[{number}]", solved.k, source=solved.method)
        if self.check.cooling:
            pressure = Given(
                f"velocity pressure in {name}", f"q[{number}]", solved.at.dynamic_pressure, Kind.PRESSURE, "as cooled"
            )
            return loss_step(f"pressure drop of {name}", f"Δp[{number}]", k, pressure, solved.pressure_drop)
        section = self._section(piece.section, solved.at)
        if piece.is_pipe:
            step = Step(
                name=f"loss coefficient of {name}",
                symbol=k.symbol,
                template="{0} * {1} / {2}",
                inputs=(section["f"], Given("length", f"L[{number}]", piece.length, Kind.LENGTH, "the job"),
                        section["D"]),
                powers=(0, 1, -1),
                value=solved.k,
                kind=Kind.NUMBER,
                source=solved.method,
            )  # fmt: skip
            self.steps.append(step)
            k = step.result
        return loss_step(f"pressure drop of {name}", f"Δp[{number}]", k, section["q"], solved.pressure_drop)

    def _draft(self) -> None:
        """The buoyancy of the whole run, where it rises."""
        flow = self.rate.flow
        rise = math.fsum(piece.rise for piece in flow.run.pieces)
        if self.check.cooling or not flow.draft:
            return
        outside = surroundings(self.inputs).outdoors.density
        self.steps.append(draft_step(outside, self.stream["ρ"], rise if flow.forward else -rise, value=flow.draft))

    def _mean_gradient(self, own: Sequence[PieceFlow], size: str) -> Given:
        """The same along the run's own pipe of that size, whose gas changes on its way."""
        lost = math.fsum(piece.pressure_drop for piece in own)
        length = math.fsum(piece.piece.length for piece in own)
        step = Step(
            name=f"loss of straight {size} pipe by length",
            symbol="G",
            template="{0} / {1}",
            inputs=(
                Given(f"pressure lost in straight {size} pipe", "Δp[p]", lost, Kind.PRESSURE, "as cooled"),
                Given(f"straight {size} pipe", "L[p]", length, Kind.LENGTH, "the job"),
            ),
            powers=(1, -1),
            value=self.rate.gradient,
            kind=Kind.GRADIENT,
            source="mean along the run",
        )
        self.steps.append(step)
        return step.result

    def _gradient(self) -> Given:
        """The loss of a length of straight pipe of the size that the allowance is for."""
        section, at = self.run.reference_section, self.rate.reference
        own = [p for p in self.rate.flow.pieces if p.piece.is_pipe and p.piece.before is section and p.piece.length]
        if self.check.cooling and own:
            return self._mean_gradient(own, section.label)
        if self.check.cooling:
            found = {
                "f": Given("friction factor in the straight pipe", "f[s]", at.friction_factor, source="as cooled"),
                "D": Given("bore of the straight pipe", "D[s]", section.bore, Kind.BORE, PIPE),
                "q": Given("its velocity pressure", "q[s]", at.dynamic_pressure, Kind.PRESSURE, "as cooled"),
            }
        else:
            found = self._section(section, at)
        step = Step(
            name=f"loss of straight {section.label} pipe by length",
            symbol="G",
            template="{0} / {1} * {2}",
            inputs=(found["f"], found["D"], found["q"]),
            powers=(0, -1, 1),
            value=at.gradient,
            kind=Kind.GRADIENT,
            source="Darcy–Weisbach",
        )
        self.steps.append(step)
        return step.result
