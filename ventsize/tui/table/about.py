"""What stands round the rows of a table: title, source, what it is for, how it counts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ventsize.allowance.model import EACH_RUN, RUNS_TOGETHER
from ventsize.jobfile.editing import Data, value_at
from ventsize.tui.job.specs import Spec
from ventsize.tui.widgets.field import Choice

FLUE, AIR = "flue gas", "combustion air"


@dataclass(frozen=True, slots=True, kw_only=True)
class ListSpec(Spec):
    """A choice between lists of words."""

    def shown(self, data: Data) -> str:
        """The words with commas between."""
        value = value_at(data, self.place, [])
        return ", ".join(map(str, value)) if isinstance(value, (list, tuple)) else str(value)

    def value(self, text: str) -> Any:
        """The words as a list."""
        return text.split(", ")


def fields() -> list[Spec]:
    """The fields, in the order in which a page shows them."""
    return [
        Spec(label="Title", place=("title",), topic="table_title", hint="as the page is headed"),
        Spec(label="Copied from", place=("source",), topic="table_source", hint="manual, page, date"),
        ListSpec(
            label="Is for", place=("applies_to",), topic="table_applies_to", kind="choice",
            choices=(
                Choice(f"{FLUE}, {AIR}", "vent and air pipe"), Choice(FLUE, "vent only"), Choice(AIR, "air pipe only"),
            ),
            hint="which pipes it speaks of",
        ),
        Spec(
            label="Length is for", place=("counts",), topic="table_counts", kind="choice",
            choices=(Choice(EACH_RUN, "each pipe by itself"), Choice(RUNS_TOGETHER, "vent and air together")),
            hint="do both share a length?",
        ),
        Spec(
            label="Most elbows", place=("most_elbows",), topic="table_most_elbows", kind="count", optional=True,
            hint="in a run, if it says so",
        ),
        Spec(label="Note", place=("note",), topic="table_note", optional=True, hint="anything else it says"),
    ]  # fmt: skip
