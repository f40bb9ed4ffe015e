"""What is not known of a job, and the key that leads to where it is said."""

from __future__ import annotations

from collections.abc import Mapping

from ventsize.check.result import JobCheck
from ventsize.finding import Outcome

_SITE, _APPLIANCE, _PIECES = "F4, the site", "F3, the appliance", "F2, the pieces of the run"
KEYS: Mapping[str, str] = {
    "air-contradicts": _APPLIANCE,
    "air-not-said": _APPLIANCE,
    "air-run-missing": "N, which adds the air pipe",
    "altitude-missing": _SITE,
    "altitude-not-confirmed": "F, which confirms footnotes",
    "backflow-not-known": _APPLIANCE,
    "case-not-said": _APPLIANCE,
    "counted-apart": "F2, the run's own line",
    "design-outdoor-missing": _SITE,
    "footnotes-open": "F, which confirms footnotes",
    "level-not-laid-out": "W, which lays the run out",
    "level-not-said": _PIECES,
    "no-table-named": "F2, the run's own line",
    "pipe-without-length": _PIECES,
    "rise-not-laid-out": "W, which lays the run out",
    "rise-not-said": _PIECES,
    "surroundings-not-said": _PIECES,
    "turn-not-made": _PIECES,
}
"""By the code of the evidence: the key of the job's screen, and what it is."""


def key_to_complete(outcome: Outcome) -> str:
    """In words; empty where the table itself would have to say more, or nothing is missing."""
    key = KEYS.get(outcome.because.code, "")
    return f"To complete it: {key}." if key and outcome.state == "not known" else ""


def open_footnotes(check: JobCheck) -> tuple[str, ...]:
    """What of the tables somebody still has to confirm for this job, word for word."""
    left: list[str] = []
    for outcome in check.conditions:
        values = outcome.because.values
        if outcome.because.code == "footnotes-open":
            left += [str(one) for one in values["footnotes"]]  # type: ignore[union-attr]
        elif outcome.because.code == "altitude-not-confirmed":
            left.append(str(values["text"]))
    return tuple(dict.fromkeys(left))
