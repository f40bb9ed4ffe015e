"""What a takeoff holds, and what is counted on the way to it."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, field

from ventsize.finding import Finding, Where
from ventsize.run.model import Section
from ventsize.studies.takeoff.cutting import CutPlan
from ventsize.studies.takeoff.practice import Practice, Which

SMALL = 1e-7  # m; below what any length is written to


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """Something to buy, and how many. length: of a stock length [m], None where it has none.

    sizes: nominal [m]; of a change of size the wider and the narrower, of insulation the pipe's and its own thickness.
    label: the size of the pipe as the trade writes it.
    """

    what: str
    material: str
    sizes: tuple[float, ...]
    label: str
    length: float | None
    quantity: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """A piece of pipe as it is cut: where it goes, its length [m], and what its fittings took off [m]."""

    where: Where
    length: float
    taken_off: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PipeCuts:
    """Every piece of one material and size, and how they are cut from stock."""

    material: str
    label: str
    cuts: tuple[Cut, ...]
    plan: CutPlan


@dataclass(frozen=True, slots=True, kw_only=True)
class Takeoff:
    """What it takes.

    notes: what it goes by. missing: what could not be taken off; it is then not complete.
    joints: of all fittings and couplings. estimated: of the notes, the center-to-end lengths that are estimates.
    ends_of_range: the items with every estimate at its low end, and with every one at its high end, where they differ.
    """

    title: str
    items: tuple[Item, ...]
    cut_lists: tuple[PipeCuts, ...]
    notes: tuple[Finding, ...]
    missing: tuple[Finding, ...]
    joints: int = 0
    estimated: tuple[Finding, ...] = ()
    ends_of_range: tuple[tuple[Item, ...], ...] = ()

    @property
    def complete(self) -> bool:
        """Whether nothing of the runs is left out."""
        return not self.missing


PipeKey = tuple[str, float]  # material and nominal size [m]
ItemKey = tuple[str, str, tuple[float, ...], str, float | None]


@dataclass(slots=True)
class Tally:
    """What is counted on the way. which: the figure taken of a length that is only estimated."""

    practice: Practice
    which: Which = "middle"
    items: Counter[ItemKey] = field(default_factory=Counter)
    cuts: dict[PipeKey, list[Cut]] = field(default_factory=lambda: defaultdict(list))
    sections: dict[PipeKey, Section] = field(default_factory=dict)
    cemented: Counter[str] = field(default_factory=Counter)
    joints: int = 0
    insulation: dict[tuple[float, float, str], float] = field(default_factory=lambda: defaultdict(float))
    notes: dict[tuple[object, ...], Finding] = field(default_factory=dict)
    missing: dict[tuple[object, ...], Finding] = field(default_factory=dict)
    estimated: dict[tuple[object, ...], Finding] = field(default_factory=dict)

    def note(self, found: Finding) -> None:
        self.notes.setdefault(found.key, found)

    def lack(self, found: Finding) -> None:
        self.missing.setdefault(found.key, found)

    def add(self, what: str, section: Section, number: int = 1, *, length: float | None = None) -> None:
        key = (what, section.material.name, (section.nominal,), section.label, length)
        self.items[key] += number

    def joined(self, section: Section, joints: int) -> None:
        self.joints += joints
        if joints and section.material.joined_by == "solvent cement":
            self.cemented[section.material.name] += joints
