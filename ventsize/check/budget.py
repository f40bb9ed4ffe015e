"""The maker's permission as pressure: what a run may lose by calculation.

Straight pipe of the allowed length and size, with the fittings of this run that the table counts as included. In an
elbow-count row it is the largest of what the permitted combinations lose, each with its elbows and a plain open end.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from ventsize.allowance.answer import TableAnswer
from ventsize.allowance.model import SAME_LENGTH
from ventsize.allowance.shares import SizeShare
from ventsize.catalog.library import Catalog
from ventsize.catalog.records import same_size
from ventsize.check.judging import Judged, Judgement
from ventsize.check.paths import ways_using
from ventsize.check.rate import counted_pressure, length_at
from ventsize.flow.fittings import local_loss
from ventsize.flow.pieces import SectionFlow
from ventsize.flow.rate_flow import RateFlow, RunFlow
from ventsize.run.model import Piece, Run, Section

ABOUT = 0.02  # rad; an elbow of 91° is still one of 90°
USUAL_ELBOW = "elbow-90-long"  # of a combination, where the run has no elbow of its own (contract)


def gradient_of(flow: RunFlow, section: Section, straight: SectionFlow) -> float:
    """Pressure lost per length of straight pipe of a section [Pa/m], at the mean state of the gas in this run.

    Where the run has such pipe, it is what that pipe loses, so that pipe counts as its own length also where the gas
    cools along it.
    """
    pipes = [piece for piece in flow.pieces if piece.piece.fitting is None and piece.piece.before is section]
    length = math.fsum([piece.piece.length for piece in pipes])
    return math.fsum([piece.pressure_drop for piece in pipes]) / length if length > 0.0 else straight.gradient


class Budgets:
    """Allowances as pressure, of every run of a judged job at one rate.

    sections: each run's reference section, by name.
    """

    def __init__(self, judged: Judged, rate: RateFlow, sections: Mapping[str, Section]) -> None:
        self._judged = judged
        self._catalog: Catalog = judged.inputs.catalog
        self.straight = {name: flow.at(sections[name]) for name, flow in rate.runs.items()}
        self.gradient = {
            name: gradient_of(flow, sections[name], self.straight[name]) for name, flow in rate.runs.items()
        }
        self._rate = rate
        self._sections = sections

    def budget(self, run: Run) -> float | None:
        """What a run and all it is judged with may lose, at this run's own gas [Pa]; None where there is none."""
        part = self._judged.of[run.name]
        if part.answer is None or self.gradient[run.name] == 0.0:
            return None
        if part.answer.allowable_pressure is not None:
            return part.answer.allowable_pressure
        length = self._length(part.runs, [part], run)
        return None if length is None else length * self.gradient[run.name]

    def allowance(self, run: Run) -> float | None:
        """What straight pipe of the allowable length alone would lose [Pa]."""
        answer = self._judged.of[run.name].answer
        if answer is None or answer.allowable_length is None or self.gradient[run.name] == 0.0:
            return None
        return answer.allowable_length * self.gradient[run.name]

    def inside(self, run: Run) -> bool | None:
        """Whether a run, with all that shares its allowance, loses no more than its budget."""
        ways = ways_using(run, self._judged.ways)
        if not ways:
            return self._inside(self._judged.of[run.name].runs, [self._judged.of[run.name]])
        found = [self._inside(way.runs, self._judged.judgements(way)) for way in ways]
        return None if None in found else all(found)

    def _inside(self, runs: Sequence[Run], parts: Sequence[Judgement]) -> bool | None:
        pressures = [part.answer.allowable_pressure for part in parts if part.answer is not None]
        given = [pressure for pressure in pressures if pressure is not None]
        if given:
            return math.fsum(counted_pressure(self._rate.runs[run.name]) for run in runs) <= min(given)
        allowed = self._length(runs, parts, runs[0])
        if allowed is None:
            return None
        spent = math.fsum(self._as_pipe(run, counted_pressure(self._rate.runs[run.name])) for run in runs)
        return spent <= allowed + SAME_LENGTH

    def _as_pipe(self, run: Run, pressure: float) -> float:
        """Straight pipe of a run's reference size that loses a pressure [m]; none while nothing flows in it."""
        return length_at(pressure, self.gradient[run.name]) or 0.0

    def _length(self, runs: Sequence[Run], parts: Sequence[Judgement], first: Run) -> float | None:
        """The budget as straight pipe of each run's own reference size [m]; None where an allowance is missing."""
        lengths = []
        for part in parts:
            by_elbows = _combinations(part.answer)
            if by_elbows is not None:
                owner = first if first in part.runs else part.runs[0]
                lengths.append(max((self._combination(owner, *each) for each in by_elbows), default=None))
            else:
                lengths.append(self._allowed(part))
        known = [length for length in lengths if length is not None]
        if len(known) < len(lengths):
            return None
        plain = [part for part in parts if _combinations(part.answer) is None]
        included = math.fsum(self._included(run, part) for part in plain for run in runs if run in part.runs)
        return min(known) + included

    def _allowed(self, part: Judgement) -> float | None:
        """The allowed length of straight pipe of the reference section [m]: of a material that counts more, less."""
        answer = part.answer
        if answer is None or answer.allowable_length is None:
            return None
        counts_as = self._judged.inputs.tables[part.table_file or ""].counts_as
        if answer.shares:
            return self._shared(part.runs[0], answer.shares, counts_as)
        return answer.allowable_length / counts_as.get(self._sections[part.runs[0].name].material.name, 1.0)

    def _shared(self, run: Run, shares: Sequence[SizeShare], counts_as: Mapping[str, float]) -> float | None:
        """The allowances of several sizes, each by the share that the run uses of it [m of the reference section]."""
        used = math.fsum(share.used for share in shares)
        sections = {piece.section.nominal: piece.section for piece in run.pieces}
        pressure = 0.0
        for share in shares:
            section = next((s for size, s in sections.items() if same_size(size, share.row.size)), None)
            if section is None or share.allowable is None or not used:
                return None
            length = share.allowable / counts_as.get(section.material.name, 1.0)
            pressure += share.used / used * length * self._rate.runs[run.name].at(section).gradient
        return length_at(pressure, self.gradient[run.name])

    def _included(self, run: Run, part: Judgement) -> float:
        """What fittings that the table counts as nothing lose in a run, as straight pipe [m].

        Of a kind of which only some are free, that share of what all of them lose.
        """
        assert part.answer is not None
        there: dict[str, int] = {}
        for piece in (piece for one in part.runs for piece in one.pieces if piece.fitting is not None):
            there[piece.name] = there.get(piece.name, 0) + 1
        free = {name: count / there[name] for name, count in part.answer.free if name in there}
        pressures = [
            piece.pressure_drop * free.get(piece.piece.name, 0.0)
            for piece in self._rate.runs[run.name].pieces
            if piece.piece.fitting is not None
        ]
        return self._as_pipe(run, math.fsum(pressures))

    def _combination(self, run: Run, elbows: int, length: float) -> float:
        """A permitted length with its elbows and a plain open end, as straight pipe [m]."""
        at, section = self.straight[run.name], self._sections[run.name]
        kinds = {piece.name: piece for piece in run.pieces if _is_right_angle(piece)}
        names = list(kinds) or [USUAL_ELBOW]
        each = min(self._loss(name, section, at) for name in names) if elbows else 0.0
        end = self._loss("terminal-open", section, at, leaving=run.carries == "flue gas")
        return length + self._as_pipe(run, (elbows * each + end) * at.dynamic_pressure)

    def _loss(self, name: str, section: Section, at: SectionFlow, *, leaving: bool | None = None) -> float:
        """A fitting's loss coefficient in a section [-]."""
        return local_loss(
            self._catalog.fitting(name),
            bore=section.bore,
            reynolds=at.reynolds,
            friction_factor=at.friction_factor,
            roughness=section.roughness,
            plastic=section.plastic,
            leaving=leaving,
            with_spread=False,
        ).k


def _is_right_angle(piece: Piece) -> bool:
    turn = piece.fitting.angle if piece.fitting is not None and piece.kind == "elbow" else None
    return turn is not None and abs(turn - math.pi / 2) < ABOUT


def _combinations(answer: TableAnswer | None) -> list[tuple[int, float]] | None:
    """Numbers of elbows and the length permitted with each [m]; None where the governing row counts none."""
    return None if answer is None or answer.permitted is None else list(answer.permitted)
