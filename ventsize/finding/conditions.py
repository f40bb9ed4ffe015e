"""Conditions of a pass, and the verdict as a fold over them.

A pass is earned: each condition it needs must be there and met. One that is not met gives its own verdict; one that
is not known, or missing altogether, gives `incomplete`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from ventsize.finding.model import Finding

Verdict = Literal["unsafe", "over", "short", "not covered", "incomplete", "within"]
State = Literal["met", "not met", "not known"]

MOST_SEVERE_FIRST: tuple[Verdict, ...] = ("unsafe", "over", "short", "not covered", "incomplete", "within")
"""Verdicts, the one that settles a job first: what fails cannot be mended by filling in the rest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One condition of a pass, for a run or the job.

    condition: its name, kebab-case. because: the evidence; its place says what it is for.
    if_not: the verdict where it is not met.
    """

    condition: str
    state: State
    because: Finding
    if_not: Verdict = "incomplete"

    @property
    def run(self) -> str | None:
        """The run it is for; None for the job."""
        return self.because.where.run

    @property
    def verdict(self) -> Verdict:
        """What it comes to by itself."""
        if self.state == "met":
            return "within"
        return self.if_not if self.state == "not met" else "incomplete"


def deciding(outcomes: Sequence[Outcome]) -> Outcome | None:
    """The outcome that settles the verdict, the first of equals; None where there is none."""
    return min(outcomes, key=lambda outcome: MOST_SEVERE_FIRST.index(outcome.verdict), default=None)


def verdict(outcomes: Iterable[Outcome], *, required: Iterable[str]) -> Verdict:
    """The most severe verdict of some outcomes.

    required: names of the conditions that must be among them. One that is missing is not known: `incomplete`.
    """
    found = list(outcomes)
    missing = set(required) - {outcome.condition for outcome in found}
    verdicts: list[Verdict] = [outcome.verdict for outcome in found]
    if missing or not found:
        verdicts.append("incomplete")
    return min(verdicts, key=MOST_SEVERE_FIRST.index)
