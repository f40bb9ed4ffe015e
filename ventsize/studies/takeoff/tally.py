"""What a takeoff holds, and what is counted on the way to it."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, field

from ventsize.quantity import System
from ventsize.run.model import Section
from ventsize.studies.takeoff.cutting import CutPlan
from ventsize.studies.takeoff.practice import Practice

SMALL = 1e-7  # m; below what any length is written to


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """Something to buy, and how many. length: of a stock length [m], None where it has none.

    sizes: nominal [m], two of them for a change of size. label: the size as the trade writes it.
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

    run: str
    place: str
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
    """What it takes. notes: what it goes by. missing: what could not be taken off; it is then not complete."""

    title: str
    items: tuple[Item, ...]
    cut_lists: tuple[PipeCuts, ...]
    notes: tuple[str, ...]
    missing: tuple[str, ...]

    @property
    def complete(self) -> bool:
        """Whether nothing of the runs is left out."""
        return not self.missing


PipeKey = tuple[str, float]  # material and nominal size [m]
ItemKey = tuple[str, str, tuple[float, ...], str, float | None]


@dataclass(slots=True)
class Tally:
    """What is counted on the way."""

    practice: Practice
    system: System
    items: Counter[ItemKey] = field(default_factory=Counter)
    cuts: dict[PipeKey, list[Cut]] = field(default_factory=lambda: defaultdict(list))
    sections: dict[PipeKey, Section] = field(default_factory=dict)
    joints: Counter[str] = field(default_factory=Counter)
    insulation: dict[tuple[float, float, str], float] = field(default_factory=lambda: defaultdict(float))
    notes: dict[str, None] = field(default_factory=dict)
    missing: dict[str, None] = field(default_factory=dict)

    def note(self, sentence: str) -> None:
        self.notes[sentence] = None

    def lack(self, sentence: str) -> None:
        self.missing[sentence] = None

    def add(self, what: str, section: Section, number: int = 1, *, length: float | None = None) -> None:
        key = (what, section.material.name, (section.nominal,), section.label, length)
        self.items[key] += number

    def cemented(self, section: Section, joints: int) -> None:
        if section.material.joined_by == "solvent cement":
            self.joints[section.material.name] += joints
