"""What a result says, for tests: its codes, and, where a word matters, its sentences in US units."""

from __future__ import annotations

from ventsize.allowance.answer import TableAnswer
from ventsize.check.result import JobCheck, RunCheck
from ventsize.quantity import System
from ventsize.report.wording import cautions_of, reason


def because(found: JobCheck | RunCheck | TableAnswer) -> str:
    """The code of the finding that settles a verdict."""
    return found.decides.because.code


def codes(found: JobCheck | TableAnswer) -> set[str]:
    """The codes of every finding beside a result."""
    return {finding.code for finding in found.findings}


def why(found: JobCheck | RunCheck | TableAnswer) -> str:
    """The reason of a verdict in words."""
    return reason(found.decides, System.US)


def told(found: JobCheck) -> tuple[str, ...]:
    """Every caution in words."""
    return cautions_of(found, System.US)
