"""What stands round the rows of a table: title, source, what it is for, how it counts, its limits and footnotes."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from ventsize.allowance.model import EACH_RUN, RUNS_TOGETHER, SHARES, STRICTEST
from ventsize.jobfile.editing import Data, value_at
from ventsize.quantity import Dimension, System, is_bare, with_unit
from ventsize.tui.job.spec import Spec
from ventsize.tui.widgets.field import Choice, Reader, Reading

FLUE, AIR = "flue gas", "combustion air"
BETWEEN = " | "
_FACTOR = re.compile(
    r"(?P<less>[\d.]+\s*%?)\s*(?:per|/|each)\s*(?P<per>.+?)\s*(?:above|over|beyond)\s*(?P<above>.+)", re.IGNORECASE
)
_COUNTS_AS = re.compile(r"(?P<name>\S+)\s+(?P<feet>\d+(?:\.\d+)?)")


@dataclass(frozen=True, slots=True, kw_only=True)
class ListSpec(Spec):
    """Words or sentences with a mark between."""

    between: str = ", "

    def shown(self, data: Data) -> str:
        """The words with the mark between."""
        value = value_at(data, self.place, [])
        return self.between.join(map(str, value)) if isinstance(value, (list, tuple)) else str(value)

    def value(self, text: str) -> Any:
        """The words as a list."""
        words = [word.strip() for word in text.split(self.between.strip())] if text.strip() else []
        return [word for word in words if word] or (None if self.optional else [])


@dataclass(frozen=True, slots=True, kw_only=True)
class FactorSpec(Spec):
    """How a page reduces its lengths with altitude, as it says so: "4 % per 1000 ft above 2000 ft"."""

    metric: bool = False

    def shown(self, data: Data) -> str:
        """The sentence."""
        value = value_at(data, self.place)
        if not isinstance(value, dict):
            return "" if value is None else str(value)
        return f"{value.get('less', '')} per {value.get('per', '')} above {value.get('above', '')}"

    def value(self, text: str) -> Any:
        """Its three figures; the text as it is where it is not whole."""
        match = _FACTOR.fullmatch(text.strip())
        if not match:
            return text.strip() or None
        less = match["less"].strip()
        unit = "m" if self.metric else "ft"
        return {
            "above": with_unit(match["above"], unit), "per": with_unit(match["per"], unit),
            "less": f"{less} %" if is_bare(less) else less,
        }  # fmt: skip

    def reader(self, system: System) -> Reader:  # noqa: ARG002
        """Nothing, or all three."""

        def read(text: str) -> Reading:
            if text.strip() and not _FACTOR.fullmatch(text.strip()):
                raise ValueError("expected all three figures, for example 4 % per 1000 ft above 2000 ft")
            return Reading(text)

        return read


@dataclass(frozen=True, slots=True, kw_only=True)
class CountsAsSpec(Spec):
    """Materials of which a foot counts as more: "flexible-liner-corrugated 2"."""

    def shown(self, data: Data) -> str:
        """Each name and its figure."""
        value = value_at(data, self.place)
        return ", ".join(f"{name} {feet}" for name, feet in value.items()) if isinstance(value, dict) else ""

    def value(self, text: str) -> Any:
        """The names and figures; those that are whole."""
        found = (_COUNTS_AS.fullmatch(part.strip()) for part in text.split(","))
        return {match["name"]: float(match["feet"]) for match in found if match} or None

    def reader(self, system: System) -> Reader:  # noqa: ARG002
        """A name and a number, or several."""

        def read(text: str) -> Reading:
            if text.strip() and not all(_COUNTS_AS.fullmatch(part.strip()) for part in text.split(",")):
                raise ValueError("expected a material and a number, for example flexible-liner-corrugated 2")
            return Reading(text)

        return read


def fields(system: System = System.US) -> list[Spec]:
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
            label="Mixed sizes", place=("mixed_sizes",), topic="table_mixed_sizes", kind="choice", optional=True,
            got=lambda data: value_at(data, ("mixed_sizes",), STRICTEST),
            choices=(Choice(STRICTEST, "the strictest size"), Choice(SHARES, "a share of each size")),
            hint="two sizes in one run",
        ),
        Spec(
            label="Most elbows", place=("limits", "most_elbows"), topic="table_most_elbows", kind="count",
            optional=True,
            got=lambda data: value_at(data, ("limits", "most_elbows"), value_at(data, ("most_elbows",))),
            put=_most_elbows, hint="in a run, if it says so",
        ),
        *(
            Spec(
                label=label, place=("limits", key), topic=f"table_{key}", kind="quantity", dimension=Dimension.LENGTH,
                unit=("ft", "m"), optional=True, hint=hint,
            )
            for label, key, hint in (
                ("Longest level", "longest_level", "pipe that is not vertical"),
                ("Longest rise", "longest_rise", "pipe that goes up"),
                ("Vent and air", "longest_difference", "lengths differ by no more than"),
            )
        ),
        Spec(
            label="Same size", place=("limits", "same_size"), topic="table_same_size", kind="choice", optional=True,
            got=lambda data: "yes" if value_at(data, ("limits", "same_size")) is True else "no",
            put=_same_size, choices=(Choice("no", "no matter"), Choice("yes", "vent and air of one size")),
            hint="must both be of one size?",
        ),
        FactorSpec(
            label="With altitude", place=("altitude_factor",), topic="table_altitude_factor", optional=True,
            metric=system is System.SI, hint="4 % per 1000 ft above 2000 ft",
        ),
        CountsAsSpec(
            label="A foot counts as", place=("counts_as",), topic="table_counts_as", optional=True, when_left=True,
            hint="material and number",
        ),
        ListSpec(
            label="To confirm", place=("confirm",), topic="table_confirm", optional=True, between=BETWEEN,
            hint="footnotes, | between",
        ),
        Spec(label="Note", place=("note",), topic="table_note", optional=True, hint="anything else it says"),
    ]  # fmt: skip


def _most_elbows(data: Data, value: Any) -> Data:
    """Among the limits, in a file that had it at the top too."""
    from ventsize.jobfile.editing import clear, put

    data = put(clear(data, ("most_elbows",)), ("limits", "most_elbows"), value)
    return data if value_at(data, ("limits",)) else clear(data, ("limits",))


def _same_size(data: Data, value: Any) -> Data:
    from ventsize.jobfile.editing import clear, put

    data = put(data, ("limits", "same_size"), True if value == "yes" else None)
    return data if value_at(data, ("limits",)) else clear(data, ("limits",))
