"""Results as data: what is said beside a result, and the conditions a pass needs.

Below `report` and `tui` nothing makes a sentence. A `Finding` is a code, a place and SI values; its severity follows
from its code (`codes.py`); the words are made of it where it is shown (`report/wording`). An `Outcome` is one
condition of a pass, met or not, with the finding that is its evidence; `verdict` folds outcomes into a verdict.
"""

from ventsize.finding.codes import CODES, Severity, severity_of
from ventsize.finding.conditions import MOST_SEVERE_FIRST, Outcome, State, Verdict, deciding, verdict
from ventsize.finding.model import (
    Amount,
    Finding,
    Value,
    Where,
    angle,
    difference,
    length,
    power,
    pressure,
    share,
    temperature,
    velocity,
)

__all__ = [
    "CODES",
    "MOST_SEVERE_FIRST",
    "Amount",
    "Finding",
    "Outcome",
    "Severity",
    "State",
    "Value",
    "Verdict",
    "Where",
    "angle",
    "deciding",
    "difference",
    "length",
    "power",
    "pressure",
    "severity_of",
    "share",
    "temperature",
    "velocity",
    "verdict",
]
