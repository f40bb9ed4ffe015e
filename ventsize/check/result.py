"""The answer to "is this job's vent within its allowance", with everything it rests on. All in SI."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ventsize.allowance.answer import TableAnswer
from ventsize.check.appliances import ApplianceGas
from ventsize.check.difference import difference
from ventsize.check.rate import RunRate
from ventsize.finding import Finding, Outcome, Verdict, deciding
from ventsize.run.model import Run, Section


@dataclass(frozen=True, slots=True, kw_only=True)
class RunCheck:
    """One run: the verdict by the conditions of a pass, and beside it the answer by calculation.

    outcomes: every condition of a pass for this run. decides: the one that settles its verdict.
    serves: the appliances whose gas passes through; input: theirs together at their highest rates [W].
    worst: the rate that is held to most.
    """

    run: Run
    outcomes: tuple[Outcome, ...]
    decides: Outcome
    serves: tuple[str, ...]
    input: float
    table_file: str | None
    table: TableAnswer | None
    reference_section: Section
    rates: tuple[RunRate, ...]
    worst: RunRate = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "worst", max(self.rates, key=lambda rate: rate.counted_pressure))

    @property
    def verdict(self) -> Verdict:
        """Only `within` is a pass."""
        return self.decides.verdict

    @property
    def margin(self) -> float | None:
        """Length left of the table's allowance, negative where it is over [m]; None where there is none."""
        answer = self.table
        if answer is None or answer.equivalent_length is None or answer.allowable_length is None:
            return None
        return answer.allowable_length - answer.equivalent_length

    @property
    def within_by_calculation(self) -> bool | None:
        """Whether the run is inside its allowance by calculation at every rate."""
        inside = [rate.within_allowance for rate in self.rates]
        return None if None in inside else all(inside)

    @property
    def difference(self) -> Finding | None:
        """What sets the table's length and the calculated one apart; None where one of them is missing."""
        return None if self.table is None else difference(self.table, self.worst)

    def outcome(self, condition: str) -> Outcome | None:
        """The most severe outcome of a condition, by its name."""
        return deciding([outcome for outcome in self.outcomes if outcome.condition == condition])


@dataclass(frozen=True, slots=True, kw_only=True)
class JobCheck:
    """The whole answer. Only `within` is a pass.

    conditions: every condition of a pass, of the job and of each run. decides: the one that settles the verdict.
    findings: what is to be said beside it, the most severe first, each once.
    cooling: whether the gas is figured as cooling along the pipes.
    table_titles: of the tables, by the name the job gives them.
    """

    title: str
    decides: Outcome
    conditions: tuple[Outcome, ...]
    findings: tuple[Finding, ...]
    appliances: tuple[ApplianceGas, ...]
    runs: tuple[RunCheck, ...]
    cooling: bool = False
    table_titles: Mapping[str, str] = field(default_factory=dict)

    @property
    def verdict(self) -> Verdict:
        """The verdict on the job."""
        return self.decides.verdict

    @property
    def stops(self) -> tuple[Finding, ...]:
        """The findings for which it must not be run as it stands."""
        return tuple(finding for finding in self.findings if finding.severity == "stop")

    @property
    def doubts(self) -> tuple[Finding, ...]:
        """The findings for which a pass may be wrong."""
        return tuple(finding for finding in self.findings if finding.severity == "doubt")

    @property
    def doubted(self) -> tuple[Finding, ...]:
        """Both: what a pass is not plain for."""
        return (*self.stops, *self.doubts)

    def run(self, name: str) -> RunCheck | None:
        """The run of that name."""
        return next((run for run in self.runs if run.run.name == name), None)
