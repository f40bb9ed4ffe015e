"""One line of a working: a formula, what is put into it and what comes out, in SI."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from ventsize.check.rate import RunRate
from ventsize.check.result import JobCheck, RunCheck
from ventsize.finding import Finding
from ventsize.quantity.board import Kind

Part = Literal["table", "pressure", "flow", "gas", "combustion"]
"""What a line is about, in the order in which a working goes back from its result."""


@dataclass(frozen=True, slots=True)
class Given:
    """A number put into a formula, in SI. source: where it comes from; empty for the result of another step."""

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
    part: Part = "pressure"

    @property
    def result(self) -> Given:
        """The result, to be put into another step."""
        return Given(self.name, self.symbol, self.value, self.kind)


def line(
    name: str, symbol: str, template: str, *inputs: Given, value: float, kind: Kind = Kind.NUMBER, source: str,
    powers: tuple[float, ...] = (), part: Part = "pressure",
) -> Step:  # fmt: skip
    """A step of these inputs."""
    return Step(name=name, symbol=symbol, template=template, inputs=inputs, value=value, kind=kind, source=source,
                powers=powers, part=part)  # fmt: skip


def sum_of(
    name: str, symbol: str, parts: Sequence[Given], *, value: float, kind: Kind, source: str, part: Part = "pressure"
) -> Step:
    """A sum of like things."""
    template = " + ".join(f"{{{number}}}" for number in range(len(parts)))
    return line(name, symbol, template, *parts, value=value, kind=kind, source=source, part=part)


def weighted(
    name: str, symbol: str, pairs: Sequence[tuple[Given, Given]], *, value: float, kind: Kind, source: str, part: Part
) -> Step:
    """A sum of products of two."""
    template = " + ".join(f"{{{2 * number}}} * {{{2 * number + 1}}}" for number in range(len(pairs)))
    inputs = (given for pair in pairs for given in pair)
    return line(name, symbol, template, *inputs, value=value, kind=kind, source=source, part=part)


@dataclass(frozen=True, slots=True, kw_only=True)
class Conclusion:
    """What the figures of a run come to: the check of the job, of the run, and at the rate."""

    check: JobCheck
    run: RunCheck
    rate: RunRate


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """How the figures of a run, of one of its pieces, or one number come about at a firing rate.

    steps: the result first, and each line before those that make what it takes.
    unopened: results of further lines that stand here as given.
    conclusion: what they come to; None unless it is of a whole run.
    remarks: what is not worked out here, and why.
    findings: what the check says of its own figures, other runs left out.
    """

    title: str
    steps: tuple[Step, ...]
    unopened: tuple[Given, ...]
    conclusion: Conclusion | None
    remarks: tuple[str, ...]
    findings: tuple[Finding, ...]
