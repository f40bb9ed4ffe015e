"""Differences between the program and the naive reading that are decisions, each with its reason."""

from __future__ import annotations

import re

from tests.contract.compare import Difference

DECISIONS: tuple[tuple[str, str, str], ...] = (
    (
        "stricter",
        r"backflow-stopped|trap-holds|inside-envelope|low-spot|pressure-allowed",
        "hangs on the flow, which is not read here",
    ),
    ("stricter", r"one-way-for-gas|lengths-measured not known", "asked by the program beyond the contract"),
    ("other verdict", r"program unsafe$", "hangs on the flow, and settles before anything else"),
    ("refused", r"turns #°, and from", "an elbow listed where the route does not turn as far is a slip"),
    ("refused", r"the minimum is above what the row allows", "a row that nothing can meet is an error of the table"),
    ("settled by the other", r"", "of two faults of one run, what is missing may be named before what is over"),
)
"""Kind, a pattern of the class, and why it is so."""


def explained(difference: Difference) -> str | None:
    """Why a difference is a decision; None where it is not."""
    for kind, pattern, why in DECISIONS:
        if difference.kind == kind and re.search(pattern, difference.name):
            return why
    return None
