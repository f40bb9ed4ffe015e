"""The answer to "is this job's vent within its allowance", with everything it rests on. All in SI."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ventsize.allowance.answer import TableAnswer, Verdict
from ventsize.check.appliances import ApplianceGas
from ventsize.flow.pieces import SectionFlow
from ventsize.flow.solve import RunFlow
from ventsize.run.model import Run, Section


@dataclass(frozen=True, slots=True, kw_only=True)
class RunRate:
    """One run at one firing rate, by calculation.

    reference: the stream in straight pipe of the size the allowance is for.
    equivalent_length: straight pipe of that size with the same pressure drop, and its band [m].
    piece_lengths, junction_lengths: the same for each of the flow's pieces and junctions [m].
    piece_shares, junction_shares: their shares of the run's pressure drop [-]; None without flow.
    counted_pressure: what is held against the allowance: the pressure drop, and draft where it hinders [Pa].
    allowance_pressure: what straight pipe of the allowed length would lose [Pa].
    budget_pressure: what the run's loss is held to [Pa]: the same, but in an elbow-count row of the length allowed with
    no elbow, since the run's loss has its elbows in it.
    fired: each appliance's firing rate by name, None where it is off.
    within_allowance: whether the counted pressure of all runs judged together is inside it.
    static_pressure_at_appliance: against ambient [Pa]; None where the run does not reach an appliance.
    """

    name: str
    fired: Mapping[str, str | None]
    flow: RunFlow
    reference: SectionFlow
    equivalent_length: float | None
    equivalent_length_low: float | None
    equivalent_length_high: float | None
    piece_lengths: tuple[float | None, ...]
    junction_lengths: tuple[float | None, ...]
    piece_shares: tuple[float | None, ...]
    junction_shares: tuple[float | None, ...]
    counted_pressure: float
    allowance_pressure: float | None
    budget_pressure: float | None
    within_allowance: bool | None
    static_pressure_at_appliance: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RunCheck:
    """One run: the verdict by the table, and beside it the answer by calculation.

    serves: the appliances whose gas passes through; input: theirs together at their highest rates [W].
    reason: why the verdict is what it is, in one sentence.
    margin: length left of the table's allowance, negative where it is over [m]; None where there is none.
    difference: what sets the two answers apart, in one sentence; empty where there is no table's answer.
    """

    run: Run
    verdict: Verdict
    reason: str
    serves: tuple[str, ...]
    input: float
    table_file: str | None
    table: TableAnswer | None
    margin: float | None
    reference_section: Section
    rates: tuple[RunRate, ...]
    worst: RunRate
    difference: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JobCheck:
    """The whole answer. Only `within` is a pass.

    cooling: whether the gas is figured as cooling along the pipes.
    """

    title: str
    verdict: Verdict
    reason: str
    cautions: tuple[str, ...]
    appliances: tuple[ApplianceGas, ...]
    runs: tuple[RunCheck, ...]
    cooling: bool = False
