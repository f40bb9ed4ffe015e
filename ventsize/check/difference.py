"""Why the table and the calculation do not give one run the same length."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ventsize.allowance.answer import TableAnswer
from ventsize.check.rate import RunRate
from ventsize.finding import Finding, Value, Where, length

ALIKE = 0.02  # of the longer length; nearer than this the two answers are one for every practical purpose


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """What one kind of piece adds to the length: by the table, and by calculation [m]."""

    name: str
    count: int
    is_pipe: bool
    by_table: float
    by_calculation: float

    @property
    def apart(self) -> float:
        """How much longer the table makes it [m]; negative where the calculation does."""
        return self.by_table - self.by_calculation


def shares(answer: TableAnswer, rate: RunRate) -> tuple[Share, ...]:
    """Each kind of piece's length by the table and by calculation.

    In an elbow-count row the table's figure for its elbows is what they take off the allowance.
    """
    pieces: dict[str, list[tuple[float, float]]] = {}
    for piece, equivalent in zip(rate.flow.pieces, rate.piece_lengths, strict=True):
        name = f"{piece.piece.section.label} pipe" if piece.piece.is_pipe else piece.piece.name
        pieces.setdefault(name, []).append((piece.piece.length, equivalent or 0.0))
    fittings = {piece.piece.name for piece in rate.flow.pieces if not piece.piece.is_pipe}
    found = {
        name: Share(
            name=name,
            count=len(lengths),
            is_pipe=name not in fittings,
            by_table=_deducted(name, len(lengths), answer) + math.fsum(straight for straight, _ in lengths),
            by_calculation=math.fsum(calculated for _, calculated in lengths),
        )
        for name, lengths in pieces.items()
    }
    return _with_elbows(answer, rate, found)


def _deducted(name: str, count: int, answer: TableAnswer) -> float:
    """What the table counts so many fittings as [m]: at the mean of its lines for them, by size or overridden."""
    lines = [line for line in answer.deductions if line.fitting == name and line.count]
    if not lines:
        return 0.0
    total = math.fsum(line.total for line in lines)
    if any(line.pairs for line in lines):
        return total
    free = sum(number for kind, number in answer.free if kind == name)
    return count * total / (sum(line.count for line in lines) + free)


def _with_elbows(answer: TableAnswer, rate: RunRate, found: dict[str, Share]) -> tuple[Share, ...]:
    """In an elbow-count row, the elbows as one entry: what the row takes off the straight length for them."""
    if answer.elbows is None or answer.budget_length is None or answer.allowable_length is None:
        return tuple(found.values())
    turning = {p.piece.name for p in rate.flow.pieces if p.piece.kind == "elbow"}
    if not turning:
        return tuple(found.values())
    elbows = Share(
        name="elbows",
        count=sum(found[name].count for name in turning),
        is_pipe=False,
        by_table=answer.budget_length - answer.allowable_length,
        by_calculation=sum(found[name].by_calculation for name in turning),
    )
    return (*(share for name, share in found.items() if name not in turning), elbows)


def difference(answer: TableAnswer, rate: RunRate) -> Finding | None:
    """What sets the two answers furthest apart, at a rate; None where the table gives no length, or nothing flows."""
    if answer.equivalent_length is None or rate.equivalent_length is None:
        return None
    parts = shares(answer, rate)
    by_table = sum(share.by_table for share in parts)
    by_calculation = sum(share.by_calculation for share in parts)
    hindered = (rate.counted_pressure - rate.flow.pressure_drop) / rate.gradient
    apart = by_table - by_calculation - hindered
    where = Where(rate=rate.name)
    values: dict[str, Value] = {
        "by_table": length(by_table), "by_calculation": length(by_calculation + hindered), "draft": length(hindered),
    }  # fmt: skip
    if abs(apart) <= ALIKE * max(by_table, by_calculation):
        return Finding("lengths-agree", where, values)
    pick = max if apart > 0 else min
    if pick is min and hindered >= max(-share.apart for share in parts):
        return Finding("lengths-differ-by-draft", where, values)
    share = pick(parts, key=lambda part: part.apart)
    code = "lengths-differ-by-pipe" if share.is_pipe else "lengths-differ-by-fitting"
    named: dict[str, Value] = {"name": share.name, "count": share.count}
    own: dict[str, Value] = {
        "share_by_table": length(share.by_table), "share_by_calculation": length(share.by_calculation)
    }  # fmt: skip
    return Finding(code, where, {**values, **named, **own})
