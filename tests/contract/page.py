"""The naive reading's allowance table: its rows, which of them holds for a case, and what it charges for a way.

Standard library only, as `reading.py`.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from tests.contract.reading import (
    AIR,
    FLUE,
    HAIR,
    INCH,
    Bad,
    Catalog,
    Data,
    amount,
    length,
    same,
    temperature,
)

NOT_PERMITTED = "not permitted"
HOLDS_HIGH = "The table holds at this altitude."
HIGH = 2000 * 12 * INCH


class Miss(Exception):
    """The table has no answer: a verdict and the class of the reason."""

    def __init__(self, verdict: str, reason: str) -> None:
        super().__init__(verdict, reason)
        self.verdict, self.reason = verdict, reason


@dataclass(frozen=True)
class Row:
    """A row; `kind` is plain, elbows or pressure. None in a length is 'not permitted'."""

    number: int
    input: float
    size: float
    band: tuple[float, float] | None
    kind: str
    lengths: tuple[float | None, ...]
    first: int
    minimum: float
    included: int
    pipes: str | None
    ends: tuple[str, ...] | None
    materials: tuple[str, ...] | None
    air_size: float | None
    pressure: float = 0.0

    def including_none(self) -> Row:
        """The same row with no elbows included."""
        return replace(self, included=0)

    @property
    def said(self) -> int:
        """How many conditions it names."""
        return sum(one is not None for one in (self.pipes, self.ends, self.materials, self.air_size))


@dataclass(frozen=True)
class Case:
    """What rows are judged for. two: True, False, None (not said) or 'mixed'. ends: None where one is not listed.

    others: sizes of the other pipe; None where not known.
    """

    size: float
    carries: str
    altitude: float | None
    input: float
    two: bool | str | None
    ends: tuple[str, ...] | None
    materials: tuple[str, ...]
    others: tuple[float, ...] | None


@dataclass(frozen=True)
class Exposed:
    """A row for pipe in the cold."""

    size: float
    outdoor: float
    insulation: float
    allowable: float


@dataclass
class Page:
    """A table file."""

    file: str
    applies: list[str]
    together: bool
    shares: bool
    factor: tuple[float, float, float] | None
    confirm: list[str]
    deductions: Data
    elbows_each: dict[str, float]
    counts_as: dict[str, float]
    limits: Data
    rows: list[Row]
    exposed: list[Exposed]
    kinds: dict[str, str]  # of fittings, by name
    confirmed: list[str]


def read_page(file: str, data: Data, catalog: Catalog, confirmed: list[str]) -> Page:
    """A table; Bad where it answers one case twice."""
    factor = data.get("altitude_factor")
    limits = dict(data.get("limits", {}))
    if "most_elbows" in data:
        limits["most_elbows"] = min(data["most_elbows"], limits.get("most_elbows", data["most_elbows"]))
    page = Page(
        file,
        data.get("applies_to", [FLUE, AIR]),
        data.get("counts", "each run") == "runs together",
        data.get("mixed_sizes", "strictest") == "shares",
        None if factor is None else (length(factor["above"]), length(factor["per"]), amount(factor["less"], "share")),
        list(data.get("confirm", [])),
        data.get("deductions", {}),
        data.get("elbows_each", {}),
        data.get("counts_as", {}),
        limits,
        [_row(number, row) for number, row in enumerate(data.get("row", []), 1)],
        [
            Exposed(
                length(one["size"]), temperature(one["outdoor"]), length(one["insulation"]), length(one["allowable"])
            )
            for one in data.get("exposed", [])
        ],
        {name: record.kind for name, record in catalog.fittings.items()},
        confirmed,
    )
    _twice(page)
    return page


def _row(number: int, data: Data) -> Row:
    band = data.get("altitude")
    kind = "elbows" if "allowable_by_elbows" in data else "pressure" if "allowable_pressure" in data else "plain"
    listed = data.get("allowable_by_elbows", [data.get("allowable", "0 ft")])
    if kind == "pressure":
        listed = []
    return Row(
        number,
        amount(data["input"], "power"),
        length(data["size"]),
        None if band is None else (length(band[0]), length(band[1])),
        kind,
        tuple(None if one == NOT_PERMITTED else length(one) for one in listed),
        data.get("first_elbows", 0),
        length(data.get("minimum", "0 ft")),
        data.get("elbows_included", 0),
        data.get("pipes"),
        tuple(data["ends"]) if "ends" in data else None,
        tuple(data["materials"]) if "materials" in data else None,
        length(data["air_size"]) if "air_size" in data else None,
        amount(data.get("allowable_pressure", "0 Pa"), "pressure"),
    )


def names_known(page: Page, catalog: Catalog) -> None:
    """Bad where a table names what nothing explains: an error where a job is judged by it."""
    fittings = [*page.deductions, *page.elbows_each, *(name for row in page.rows for name in row.ends or ())]
    materials = [*page.counts_as, *(name for row in page.rows for name in row.materials or ())]
    if any(name not in catalog.fittings for name in fittings) or any(name not in catalog.limits for name in materials):
        raise Bad("unknown name in the table")


def same_input(one: float, other: float) -> bool:
    """Whether two inputs are the same figure."""
    return math.isclose(one, other, rel_tol=1e-7)


def _twice(page: Page) -> None:
    """Two rows that could both hold for one case, and name equally many conditions; a band is none of these."""
    alike: dict[tuple[int, int], list[Row]] = {}
    for row in page.rows:
        alike.setdefault((round(row.input), round(row.size / HAIR)), []).append(row)
    for rows in alike.values():
        for one, other in itertools.combinations(rows, 2):
            if one.said == other.said and _bands_meet(one, other) and _compatible(one, other):
                raise Bad("two rows for one case")


def _bands_meet(one: Row, other: Row) -> bool:
    if one.band is None or other.band is None:
        return True
    low, high = max(one.band[0], other.band[0]), min(one.band[1], other.band[1])
    return low < high - HAIR or (_in_band([one, other], one, low) and _in_band([one, other], other, low))


def _compatible(one: Row, other: Row) -> bool:
    pipes = {row.pipes or ("two" if row.air_size else None) for row in (one, other)} - {None}
    ends = one.ends is None or other.ends is None or bool(set(one.ends) & set(other.ends))
    materials = one.materials is None or other.materials is None or bool(set(one.materials) & set(other.materials))
    air = one.air_size is None or other.air_size is None or same(one.air_size, other.air_size)
    return len(pipes) < 2 and ends and materials and air


def _in_band(rows: list[Row], row: Row, altitude: float) -> bool:
    """Closed below; closed above unless another of these rows for one size starts there."""
    if row.band is None:
        return True
    low, high = row.band
    if abs(altitude - high) < HAIR:
        return not any(other.band and abs(other.band[0] - high) < HAIR for other in rows)
    return low - HAIR < altitude < high


def lookup(page: Page, case: Case) -> list[Row]:
    """The row for a case, or the two around its input. Miss where there is none, or where the job does not say."""
    sized = [row for row in page.rows if same(case.size, _own_size(row, case.carries))]
    if not sized:
        raise Miss("not covered", "size")
    if case.altitude is None:
        raise Miss("incomplete", "altitude missing")
    altitude = case.altitude
    banded = [row for row in sized if _in_band(sized, row, altitude)]
    if not banded:
        raise Miss("not covered", "altitude")
    if case.ends is None and any(row.ends is not None for row in banded):
        raise Miss("incomplete", "end not listed")
    found = {_outcome(page, banded, world) for world in _worlds(case, banded)}
    if len(found) > 1 and not all(isinstance(one, str) for one in found):
        raise Miss("incomplete", "not said which row")
    answer = found.pop()
    if isinstance(answer, str):
        raise Miss("not covered", answer)
    rows = [page.rows[number - 1] for number in answer]
    high = altitude > HIGH + HAIR and any(row.band is None for row in rows) and page.factor is None
    if high and HOLDS_HIGH not in page.confirmed:
        raise Miss("incomplete", "altitude not confirmed")
    return rows


def _own_size(row: Row, carries: str) -> float:
    return row.air_size if carries == AIR and row.air_size is not None else row.size


def _worlds(case: Case, rows: list[Row]) -> Iterator[Case]:
    """The case with one pipe or two and the other's size, where the job does not say, each way it could be."""
    for two in (True, False) if case.two is None else (case.two,):
        sizes = [row.size if case.carries == AIR else row.air_size for row in rows if row.air_size is not None]
        for size in [*sizes, 1e3] if two is not False and case.others is None else [None]:
            yield replace(case, two=two, others=case.others if size is None else (size,))


def _outcome(page: Page, rows: list[Row], case: Case) -> tuple[int, ...] | str:
    applying = [row for row in rows if _applies(row, case)]
    exact = [row for row in applying if same_input(row.input, case.input)]
    if exact:
        return (_best(exact),)
    if any(same_input(row.input, case.input) for row in page.rows):
        return "conditions"  # rows for exactly this input, of whatever size or band, forbid their neighbors
    below = [row for row in applying if row.input < case.input]
    above = [row for row in applying if row.input > case.input]
    if not below or not above:
        return "conditions" if not applying else "input"
    nearest = max(row.input for row in below), min(row.input for row in above)
    return tuple(_best([row for row in applying if same_input(row.input, figure)]) for figure in nearest)


def _best(rows: list[Row]) -> int:
    return max(rows, key=lambda row: row.said).number


def _applies(row: Row, case: Case) -> bool:
    if row.pipes is not None and case.two != (row.pipes == "two"):
        return False
    if row.ends is not None and not set(case.ends or ()) <= set(row.ends):
        return False
    if row.materials is not None and not set(case.materials) <= set(row.materials):
        return False
    if row.air_size is None:
        return True
    other = row.size if case.carries == AIR else row.air_size
    return case.two is True and bool(case.others) and all(same(size, other) for size in case.others or ())
