"""Up to four ways to do a job, side by side: each judged, taken off and priced, and which stands out for what."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import PurePath

from ventsize.check.inputs import Inputs
from ventsize.check.result import JobCheck
from ventsize.check.verdict import check
from ventsize.studies.pricing.prices import Cost, PriceList, cost
from ventsize.studies.takeoff import takeoff
from ventsize.studies.takeoff.practice import Practice
from ventsize.studies.takeoff.tally import Takeoff

MOST = 4
LETTERS = "ABCD"


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to do the job.

    letter: A to D. joints: as the takeoff counts them. cost: None where there are no prices.
    margin: the least length left of any run's allowance [m]; None where a run has none.
    straight: pipe of all its runs [m]. fittings: of all its runs. by_calculation: whether every run is inside its
    allowance by calculation at every rate; None where that is not known.
    """

    letter: str
    name: str
    inputs: Inputs
    check: JobCheck
    takeoff: Takeoff
    cost: Cost | None
    joints: int
    margin: float | None
    straight: float
    fittings: int
    by_calculation: bool | None

    @property
    def acceptable(self) -> bool:
        """Whether the table has every run within."""
        return self.check.verdict == "within"


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """The ways, and of those within: the cheapest, the one with the most length left, the one with the fewest joints.

    Each is None where no way is within, where not every one of them is known, or where they are all alike in it.
    """

    ways: tuple[Way, ...]
    cheapest: Way | None
    roomiest: Way | None
    fewest_joints: Way | None


def proposal(jobs: Sequence[Inputs], *, practice: Practice, prices: PriceList | None = None) -> Proposal:
    """One to four jobs side by side. Raises InputError where one cannot be figured, ValueError for more of them."""
    if not 1 <= len(jobs) <= MOST:
        raise ValueError(f"{len(jobs)} jobs; expected 1 to {MOST}")
    ways = tuple(_way(letter, inputs, practice, prices) for letter, inputs in zip(LETTERS, jobs, strict=False))
    good = [way for way in ways if way.acceptable]
    return Proposal(
        ways=ways,
        cheapest=_cheapest(good),
        roomiest=_least(good, (None if way.margin is None else -way.margin for way in good)),
        fewest_joints=_least(good, (way.joints for way in good)),
    )


def _way(letter: str, inputs: Inputs, practice: Practice, prices: PriceList | None) -> Way:
    found = check(inputs)
    taken = takeoff(inputs, practice=practice)
    margins = [run.margin for run in found.runs]
    known = [margin for margin in margins if margin is not None]
    runs = inputs.graph.runs.values()
    return Way(
        letter=letter,
        name=PurePath(inputs.file).stem or "new job",
        inputs=inputs,
        check=found,
        takeoff=taken,
        cost=None if prices is None else cost(taken, prices),
        joints=taken.joints,
        margin=min(known) if known and len(known) == len(margins) else None,
        straight=sum(run.straight_length for run in runs),
        fittings=sum(not piece.is_pipe for run in runs for piece in run.pieces),
        by_calculation=_by_calculation(found),
    )


def _by_calculation(found: JobCheck) -> bool | None:
    answers = [rate.within_allowance for run in found.runs for rate in run.rates]
    if False in answers:
        return False
    return None if None in answers or not answers else True


def _least(ways: Sequence[Way], values: Iterable[float | Decimal | None]) -> Way | None:
    """The way with the least value; None where one has none, or they are all alike, or there is nothing to compare."""
    pairs = list(_known(ways, values))
    if len(pairs) < max(2, len(ways)):
        return None
    best = min(pairs, key=lambda pair: pair[1])
    tied = [way for way, value in pairs if value == best[1]]
    return best[0] if len(tied) == 1 else None


def _cheapest(ways: Sequence[Way]) -> Way | None:
    """The way that costs the least; None also where estimated fitting lengths leave that open."""
    best = _least(ways, (None if way.cost is None else way.cost.known for way in ways))
    if best is None or best.cost is None:
        return None
    rivals = [way for way in ways if way is not best and way.cost is not None and way.cost.may_equal(best.cost)]
    return None if rivals else best


def _known(ways: Sequence[Way], values: Iterable[float | Decimal | None]) -> Iterator[tuple[Way, float | Decimal]]:
    for way, value in zip(ways, values, strict=True):
        if value is not None:
            yield way, value
