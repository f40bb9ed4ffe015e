"""What the study of readings finds. All in SI."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ventsize.finding import Finding
from ventsize.jobfile.reading import Kind, Reading

ReadingVerdict = Literal["expected", "high", "low", "marginal", "doubtful", "not compared"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Surplus:
    """A pressure beyond what was expected, put in other words; each by itself would make it.

    pressure: more than expected [Pa]. length: extra straight pipe of the size there [m]. open_bore: what a single
    narrow place would leave open [m], in pipe of this bore [m]. water: how deep a puddle would stand in a vent [m];
    None in an air pipe.
    """

    pressure: float
    length: float
    open_bore: float
    bore: float
    size: str
    water: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingFound:
    """One reading beside what it should be.

    number: in the job, from 1. place, run, carries, piece: as in `Tap`. measured, expected, low, high, accuracy: in the
    unit of the kind ([Pa], [K], [s] or [-]); measured is without the manometer's `zero`, and air-free for carbon
    monoxide in flue gas; expected and its band are None where the reading cannot be compared. before: what was read
    there before a repair. accuracy_assumed:
    whether the usual accuracy of such an instrument was taken. because: why it is doubtful or not compared, and what
    it would mean if it were right; for a pressure switch, how it stands beside its `setting` [Pa], which it is judged
    by: `low` is then what it should reach, and there is no `high`.
    """

    number: int
    reading: Reading
    place: str
    rate: str
    kind: Kind
    measured: float
    accuracy: float
    accuracy_assumed: bool
    expected: float | None
    low: float | None
    high: float | None
    verdict: ReadingVerdict
    because: Finding | None = None
    setting: float | None = None
    surplus: Surplus | None = None
    run: str | None = None
    carries: str = ""
    piece: str = ""
    zero: float = 0.0
    before: float | None = None

    @property
    def compared(self) -> bool:
        """Whether it was held beside what the calculation gives."""
        return self.expected is not None and self.verdict in ("expected", "high", "low", "marginal")

    @property
    def at_the_edge(self) -> bool:
        """Whether it is a pressure across a switch that is little above its setting."""
        return self.verdict == "marginal" and self.setting is not None

    @property
    def off(self) -> bool:
        """Whether it is not what it should be."""
        return self.verdict in ("high", "low", "marginal")


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingsStudy:
    """Every reading of a job beside what it should be.

    stops: what says to shut the appliance off, the most urgent first: nothing else is to be shown before it. symptoms:
    what was seen, with what it points to; what was looked at and is right is a note.
    """

    title: str
    stops: tuple[Finding, ...]
    readings: tuple[ReadingFound, ...]
    symptoms: tuple[Finding, ...]
    assumed: tuple[Finding, ...]
    cautions: tuple[Finding, ...]

    @property
    def all_expected(self) -> bool:
        """Whether every reading was compared and is what it should be."""
        good = all(reading.verdict == "expected" for reading in self.readings)
        return bool(self.readings) and good and not self.stops and not self.troubles

    @property
    def troubles(self) -> tuple[Finding, ...]:
        """Of the symptoms, those that something may be wrong with."""
        return tuple(seen for seen in self.symptoms if seen.severity != "note")
