"""Words for the findings of `finding.codes.FLOW`."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ventsize.report.wording import Values

WORDS: dict[str, str | Callable[[Values], str]] = {}
