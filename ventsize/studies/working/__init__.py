"""The working: how the figures of a run come about, line by line, as one would write it on a board.

The values are those of the check itself and the formulas stand beside them, so that anyone may put the one into the
other: a line that does not come out is a fault. The result stands first, then the lines that make it.
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
from ventsize.flow.stream import Stream
from ventsize.gas.flue import FlueGas
from ventsize.jobfile.job import Rate
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity.board import Kind
from ventsize.run.model import Section
from ventsize.studies.working.burning import air_steps, flue_steps
from ventsize.studies.working.flowing import PIPE, draft_step, loss_step, section_steps
from ventsize.studies.working.gases import stream_steps
from ventsize.studies.working.judging import calculation_steps, table_steps
from ventsize.studies.working.losses import coefficient
from ventsize.studies.working.opening import PARTS, line_of, opened
from ventsize.studies.working.steps import Conclusion, Given, Part, Step, Working, line, sum_of

_SAME = 1e-9  # of a mass flow; nearer than this, it is the same one
_T = TypeVar("_T")


def working_of(
    check: JobCheck, inputs: Inputs, *, run: str | None = None, rate: str | None = None, piece: int | None = None,
    number: str | None = None, back_to: Part | None = None,
) -> Working:  # fmt: skip
    """How the figures of one run at one firing rate come about.

    run: by name; the first of the job where not given.
    rate: a firing rate, or combination, by name; where not given, the one at which the run loses most.
    piece: one of its pieces by number, from 1; the whole run where not given.
    number: one line alone, with what makes it: by its symbol, or the beginning of its name.
    back_to: the last part that is opened; where not given, pressure for a run, flow for a piece, and of a number its
        own.

    Raises InputError for a name or number that is not there.
    """
    found = _named(check.runs, run or check.runs[0].run.name, [r.run.name for r in check.runs], "run", inputs)
    at = found.worst if rate is None else _named(found.rates, rate, [r.name for r in found.rates], "rate", inputs)
    if piece is not None and not 1 <= piece <= len(at.flow.pieces):
        place = f"run '{found.run.name}'"
        raise InputError(Problem(inputs.file, place, f"it has no piece {piece}", f"1 to {len(at.flow.pieces)}"))
    return _Board(check=check, inputs=inputs, run=found, rate=at).written(piece, number, back_to)


def _named(things: Sequence[_T], name: str, names: Sequence[str], what: str, inputs: Inputs) -> _T:
    if name not in names:
        known = ", ".join(f"'{known}'" for known in names)
        raise InputError(Problem(inputs.file, "", f"there is no {what} '{name}' to work out", f"one of {known}"))
    return things[names.index(name)]


@dataclass(slots=True, kw_only=True)
class _Board:
    """What has been written so far, each line after those it takes its numbers from."""

    check: JobCheck
    inputs: Inputs
    run: RunCheck
    rate: RunRate
    lines: list[Step] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    mass: Given | None = None
    streams: dict[str, dict[str, Given]] = field(default_factory=dict)
    places: dict[tuple[float, float, str], dict[str, Given]] = field(default_factory=dict)

    def written(self, piece: int | None, number: str | None, back_to: Part | None) -> Working:
        flow = self.rate.flow
        name = "" if piece is None else f", {piece}. {flow.pieces[piece - 1].piece.name}"
        results: list[Step] = []
        if not flow.settled:
            self.remarks.append("No flow was found at which the pressures around the loops agree: nothing to work out.")
        elif not math.isfinite(flow.pressure_drop):
            self.remarks.append("The pressure drop could not be computed: nothing to work out.")
        elif flow.stream.mass_flow == 0.0:
            self.remarks.append("No gas moves in this run at this rate: it loses nothing.")
        else:
            results = self._whole_run() if piece is None else self._one_piece(flow.pieces[piece - 1], piece)
        by_table = table_steps(self.run) if piece is None else []
        if number is not None:
            wanted = line_of([*by_table, *self.lines], number, file=self.inputs.file)
            roots = [([*by_table, *self.lines], [wanted])]
            last: Part = max(back_to or "table", wanted.part, key=PARTS.index)
            name += f": {wanted.name}" if f"{piece}. " not in wanted.name else f": {wanted.symbol}"
        else:
            roots = [(by_table, by_table[-1:]), (self.lines, results)]
            last = back_to or ("flow" if piece else "pressure")
        shown = [opened(lines, results, back_to=last) for lines, results in roots]
        return Working(
            title=f"{self.run.run.name} at {self.rate.name}{name}",
            steps=tuple(step for steps, _ in shown for step in steps),
            unopened=tuple(given for _, closed in shown for given in closed),
            conclusion=None if piece or number else Conclusion(check=self.check, run=self.run, rate=self.rate),
            findings=tuple(finding for finding in self.check.findings if self._concerns(finding)),
            remarks=tuple(self.remarks),
        )

    def _concerns(self, finding: Finding) -> bool:
        """Whether a finding of the job is not about another run."""
        return finding.where.run in (None, self.run.run.name)

    def _whole_run(self) -> list[Step]:
        flow = self.rate.flow
        losses = [self._piece(solved, number) for number, solved in enumerate(flow.pieces, start=1)]
        for number, joint in enumerate(flow.junctions, start=1):
            k = Given(f"loss coefficient of the {joint.fitting}", f"K[j{number}]", joint.k, source=joint.method)
            pressure = Given("velocity pressure of the stream it is stated on", f"q[j{number}]",
                             joint.at.dynamic_pressure, Kind.PRESSURE, f"at joint {joint.joint}")  # fmt: skip
            losses.append(loss_step(f"pressure drop at joint {joint.joint}", f"Δp[j{number}]", k, pressure,
                                    joint.pressure_drop))  # fmt: skip
        total = sum_of("pressure drop of the run", "Δp", [step.result for step in losses], value=flow.pressure_drop,
                       kind=Kind.PRESSURE, source="pieces one after the other")  # fmt: skip
        self.lines += [*losses, total]
        draft = self._draft()
        self._gradient()
        judged = calculation_steps(self.run, self.rate, total.result, self.lines)
        self.lines += judged
        return [total, *draft, *(step for step in judged if step.symbol != "Δp[s]")]

    def _one_piece(self, solved: PieceFlow, number: int) -> list[Step]:
        loss = self._piece(solved, number)
        self.lines.append(loss)
        gradient = self._gradient()
        length = self.rate.piece_lengths[number - 1]
        if length is None:
            return [loss]
        name = f"the same as straight {self.run.reference_section.label} pipe"
        self.lines.append(line(name, f"L[e{number}]", "{0} / {1}", loss.result, gradient, powers=(1, -1), value=length,
                               kind=Kind.LENGTH, source="definition"))  # fmt: skip
        return [loss, self.lines[-1]]

    def _stream(self, number: int | None = None) -> tuple[str, dict[str, Given]]:
        """The mass flow, density and viscosity, and what their symbols end in; where gas cools, those of a piece."""
        cooling = self.rate.flow.walk.cooling
        if self.mass is None:
            self.mass = self._mass_flow()
            if cooling is not None:
                self.remarks.append(
                    "The gas cools on its way. Each piece is worked out with the mean temperature of the gas in it, "
                    "which comes from following the gas along the run."
                )
        stream, mark, where, warmth = self.rate.flow.stream, "", "", "where it enters the run"
        if cooling is not None and number is not None:
            stream, mark, where, warmth = cooling.streams[number - 1], f"[{number}]", self._in(number), "as it cools"
        if mark not in self.streams:
            steps = stream_steps(stream, mark, where, warmth=warmth)
            self.lines += steps
            made = {step.symbol: step.result for step in steps}
            self.streams[mark] = {"ρ": made[f"ρ{mark}"], "µ": made[f"µ{mark}"], "m": self._mass_in(stream, mark, where)}
        return mark, self.streams[mark]

    def _in(self, number: int) -> str:
        return f" in {number}. {self.rate.flow.pieces[number - 1].piece.name}"

    def _mass_in(self, stream: Stream, mark: str, where: str) -> Given:
        """The mass flow in a piece: less the water that has left the gas before it."""
        assert self.mass is not None
        gone = self.mass.value - stream.mass_flow
        if abs(gone) <= _SAME * self.mass.value:
            return self.mass
        water = Given(f"water that left the gas before{where}", f"w{mark}", gone, Kind.MASS_FLOW, "as it cools")
        self.lines.append(line(f"mass flow{where}", f"m{mark}", "{0} - {1}", self.mass, water, value=stream.mass_flow,
                               kind=Kind.MASS_FLOW, source="mass is kept", part="gas"))  # fmt: skip
        return self.lines[-1].result

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
            Given(f"mass flow of {name}", f"m[from {number}]", gas.flue_mass_flow if flue else gas.air_mass_flow,
                  Kind.MASS_FLOW, f"the working of a run of {name} alone")
            for number, (name, gas) in enumerate(firing, start=1)
        ]  # fmt: skip
        if parts and math.isclose(math.fsum(part.value for part in parts), flow, rel_tol=_SAME):
            joined = sum_of("mass flow", "m", parts, value=flow, kind=Kind.MASS_FLOW, source="mass is kept", part="gas")
            self.lines.append(joined)
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
        self.lines += burning
        return burning[-1].result

    def _place(self, section: Section, at: SectionFlow, number: int | None) -> dict[str, Given]:
        """Velocity to velocity pressure in pipe of one size, written once; where gas cools, for each piece."""
        mark, stream = self._stream(number)
        key = (section.bore, section.roughness, mark)
        if key in self.places:
            return self.places[key]
        where = self._in(number) if mark and number else f" in {section.label} pipe"
        mark = mark or (f"[{len(self.places) + 1}]" if self.places else "")
        steps = section_steps(section, at, stream, mark, where=where, ramped=self.rate.flow.divided)
        self.lines += steps
        bore = steps[0].inputs[0]
        names = ("A", "v", "Re", "f", "q")
        self.places[key] = {"D": bore, **{n: s.result for n, s in zip(names, steps, strict=True)}}
        return self.places[key]

    def _piece(self, solved: PieceFlow, number: int) -> Step:
        """A piece's pressure drop; its coefficient is written first."""
        flow, at = self.rate.flow, self._place(solved.piece.section, solved.at, number)
        k = coefficient(solved, flow.run, number, forward=flow.forward, at=at)
        if isinstance(k, Step):
            self.lines.append(k)
            k = k.result
        name = f"pressure drop of {number}. {solved.piece.name}"
        return loss_step(name, f"Δp[{number}]", k, at["q"], solved.pressure_drop)

    def _draft(self) -> list[Step]:
        """The buoyancy of the whole run, where it rises."""
        flow = self.rate.flow
        rise = math.fsum(piece.rise for piece in flow.run.pieces)
        if self.check.cooling or not flow.draft:
            return []
        outside = surroundings(self.inputs).outdoors.density
        density = self._stream()[1]["ρ"]
        self.lines.append(draft_step(outside, density, rise if flow.forward else -rise, value=flow.draft))
        return self.lines[-1:]

    def _gradient(self) -> Given:
        """The loss of a length of straight pipe of the size that the allowance is for."""
        section, at = self.run.reference_section, self.rate.reference
        name = f"loss of straight {section.label} pipe by length"
        own = [p for p in self.rate.flow.pieces if p.piece.is_pipe and p.piece.before is section and p.piece.length]
        if self.check.cooling and own:
            lost = Given(f"pressure lost in straight {section.label} pipe", "Δp[p]",
                         math.fsum(p.pressure_drop for p in own), Kind.PRESSURE, "the pipes of this run")  # fmt: skip
            length = Given(f"straight {section.label} pipe", "L[p]", math.fsum(p.piece.length for p in own),
                           Kind.LENGTH, "the job")  # fmt: skip
            self.lines.append(line(name, "G", "{0} / {1}", lost, length, powers=(1, -1), value=self.rate.gradient,
                                   kind=Kind.GRADIENT, source="mean along the run"))  # fmt: skip
            return self.lines[-1].result
        if self.check.cooling:
            found = {
                "f": Given("friction factor in the straight pipe", "f[s]", at.friction_factor, source="as cooled"),
                "D": Given("bore of the straight pipe", "D[s]", section.bore, Kind.BORE, PIPE),
                "q": Given("its velocity pressure", "q[s]", at.dynamic_pressure, Kind.PRESSURE, "as cooled"),
            }
        else:
            found = self._place(section, at, None)
        self.lines.append(line(name, "G", "{0} / {1} * {2}", found["f"], found["D"], found["q"], powers=(0, -1, 1),
                               value=at.gradient, kind=Kind.GRADIENT, source="Darcy–Weisbach"))  # fmt: skip
        return self.lines[-1].result
