"""One line of a working: a formula, what is put into it and what comes out, in SI."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ventsize.check.rate import RunRate
from ventsize.check.result import JobCheck, RunCheck
from ventsize.finding import Finding
from ventsize.quantity.board import Kind


@dataclass(frozen=True, slots=True)
class Given:
    """A number put into a formula, in SI. source: where it comes from; empty for the result of an earlier step."""

    name: str
    symbol: str
    value: float
    kind: Kind = Kind.NUMBER
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line: symbol = formula = value.

    template: the formula, with {0}, {1}, ... for the inputs; * and / between them, ^ for powers.
    powers: of each input, where the units of the result are not those of the formula; empty where they are,
        as in a sum of like things or a formula of plain numbers.
    value: what the calculation has, not what the formula would give [SI].
    """

    name: str
    symbol: str
    template: str
    inputs: tuple[Given, ...]
    value: float
    kind: Kind
    source: str
    powers: tuple[float, ...] = ()

    @property
    def result(self) -> Given:
        """The result, to be put into a later step."""
        return Given(self.name, self.symbol, self.value, self.kind)


def sum_of(name: str, symbol: str, parts: Sequence[Given], *, value: float, kind: Kind, source: str) -> Step:
    """A sum of like things."""
    template = " + ".join(f"{{{number}}}" for number in range(len(parts)))
    return Step(name=name, symbol=symbol, template=template, inputs=tuple(parts), value=value, kind=kind, source=source)


def weighted(
    name: str, symbol: str, parts: Sequence[tuple[Given, Given]], *, value: float, kind: Kind, source: str
) -> Step:
    """A sum of products of two."""
    template = " + ".join(f"{{{2 * number}}} * {{{2 * number + 1}}}" for number in range(len(parts)))
    inputs = tuple(given for pair in parts for given in pair)
    return Step(name=name, symbol=symbol, template=template, inputs=inputs, value=value, kind=kind, source=source)


@dataclass(frozen=True, slots=True, kw_only=True)
class Conclusion:
    """What the figures of a run come to: the check of the job, of the run, and at the rate."""

    check: JobCheck
    run: RunCheck
    rate: RunRate


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """How the figures of a run, or of one of its pieces, come about at a firing rate.

    steps: in the order in which they follow from each other.
    conclusion: what they come to; None for a single piece.
    remarks: what is not worked out here, and why.
    findings: what the check says of its own figures, other runs left out.
    """

    title: str
    steps: tuple[Step, ...]
    conclusion: Conclusion | None
    remarks: tuple[str, ...]
    findings: tuple[Finding, ...]
