"""The maker's permission as pressure: what a run may lose by calculation.

Straight pipe of the allowed length and size, with the fittings of this run that the table counts as included. In an
elbow-count row it is the largest of what the permitted combinations lose, each with its elbows and a plain open end.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from ventsize.allowance.answer import TableAnswer
from ventsize.allowance.model import NOT_PERMITTED, SAME_LENGTH
from ventsize.catalog.library import Catalog
from ventsize.check.judging import Judged, Judgement
from ventsize.check.paths import ways_using
from ventsize.check.rate import counted_pressure, length_at
from ventsize.flow.fittings import local_loss
from ventsize.flow.pieces import SectionFlow
from ventsize.flow.solve import RateFlow, RunFlow
from ventsize.run.model import Piece, Run, Section

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
        allowed = self._length(runs, parts, runs[0])
        if allowed is None:
            return None
        spent = math.fsum(
            length_at(counted_pressure(self._rate.runs[run.name]), self.gradient[run.name]) or 0.0 for run in runs
        )
        return spent <= allowed + SAME_LENGTH

    def _length(self, runs: Sequence[Run], parts: Sequence[Judgement], first: Run) -> float | None:
        """The budget as straight pipe of each run's own reference size [m]; None where an allowance is missing."""
        lengths = []
        for part in parts:
            by_elbows = _combinations(part.answer)
            if by_elbows is not None:
                owner = first if first in part.runs else part.runs[0]
                lengths.append(max((self._combination(owner, *each) for each in by_elbows), default=None))
            else:
                lengths.append(None if part.answer is None else part.answer.allowable_length)
        known = [length for length in lengths if length is not None]
        if len(known) < len(lengths):
            return None
        plain = [part for part in parts if _combinations(part.answer) is None]
        included = math.fsum(self._included(run, part) for part in plain for run in runs if run in part.runs)
        return min(known) + included

    def _included(self, run: Run, part: Judgement) -> float:
        """What fittings that the table counts as nothing lose in a run, as straight pipe [m]."""
        assert part.answer is not None
        costing = {line.fitting for line in part.answer.deductions if line.each > 0.0}
        pressures = [
            piece.pressure_drop
            for piece in self._rate.runs[run.name].pieces
            if piece.piece.fitting is not None and piece.piece.name not in costing
        ]
        return length_at(math.fsum(pressures), self.gradient[run.name]) or 0.0

    def _combination(self, run: Run, elbows: int, length: float) -> float:
        """A permitted length with its elbows and a plain open end, as straight pipe [m]."""
        at, section = self.straight[run.name], self._sections[run.name]
        kinds = {piece.name: piece for piece in run.pieces if _is_right_angle(piece)}
        names = list(kinds) or [USUAL_ELBOW]
        each = min(self._loss(name, section, at) for name in names) if elbows else 0.0
        end = self._loss("terminal-open", section, at, leaving=run.carries == "flue gas")
        return length + ((length_at((elbows * each + end) * at.dynamic_pressure, self.gradient[run.name])) or 0.0)

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
    turn = (piece.fitting.angle or 0.0) if piece.fitting is not None and piece.kind == "elbow" else 0.0
    return abs(turn - math.pi / 2) < 0.02


def _combinations(answer: TableAnswer | None) -> list[tuple[int, float]] | None:
    """Numbers of elbows and the length permitted with each [m]; None where the governing row counts none."""
    if answer is None or answer.elbows is None:
        return None
    row = next(r for r in answer.rows if (r.input, r.size_label) == (answer.row_input, answer.row_size))
    entries = enumerate(row.allowable_by_elbows or ())
    return [(number, entry) for number, entry in entries if entry != NOT_PERMITTED]
