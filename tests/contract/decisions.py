"""Differences between the program and the naive reading that are decisions, each with its reason."""

from __future__ import annotations

import re

from tests.contract.compare import Difference

DECISIONS: tuple[tuple[str, str, str], ...] = ()
"""Kind, a pattern of the class, and why it is so."""


def explained(difference: Difference) -> str | None:
    """Why a difference is a decision; None where it is not."""
    for kind, pattern, why in DECISIONS:
        if difference.kind == kind and re.search(pattern, difference.name):
            return why
    return None
