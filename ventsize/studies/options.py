"""Options: every combination of what may be chosen for a job's runs, judged, ranked, and each failure explained.

`Search` streams the options one by one: stop by no longer asking for more. Each is judged by the steps of a
check (`ventsize.check.variants`), and only those `within` by the table are acceptable.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from pathlib import Path
from typing import Literal

from ventsize.check.inputs import Inputs
from ventsize.check.variants import VariantCheck, Variants
from ventsize.jobfile.editing import Data
from ventsize.jobfile.job import Job, Run
from ventsize.quantity import System, show_length
from ventsize.run.model import Run as BuiltRun
from ventsize.studies import changes
from ventsize.studies.choices import Choices, Chosen, Piping
from ventsize.studies.combining import MOST_OPTIONS, Base, Variant, base_of, combinations, count_of, product_of
from ventsize.studies.editing import apply_piping, apply_runs, run_data

Order = Literal["margin", "joints", "cost"]

Price = Callable[[Job], Decimal | None]


class TooManyOptions(ValueError):
    """More combinations than are worth looking through; the message says how many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One combination, judged.

    job: the job with it. check: what a check of that job says.
    joints: sockets to be joined at fittings, couplings for long pipe not counted. largest: the largest size [m].
    cost: of the whole job by the prices given; None where there are none or one is missing.
    """

    number: int
    piping: Piping
    chosen: tuple[Chosen, ...]
    runs: Mapping[str, Run]
    check: VariantCheck
    joints: int
    largest: float
    cost: Decimal | None

    @property
    def acceptable(self) -> bool:
        """Whether the table has every run within."""
        return self.check.verdict == "within"

    @property
    def words(self) -> str:
        """The option in words."""
        piping = [] if self.piping == "as it is" else [self.piping]
        return "; ".join([*piping, *(one.words for one in self.chosen)])


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """The answer: acceptable options ranked, the smallest of them, and the nearest misses where there is none.

    failures: how many options each verdict has; what_would_help: for the nearest misses, a sentence each.
    """

    looked_at: int
    total: int
    acceptable: tuple[Option, ...]
    smallest: Option | None
    misses: tuple[Option, ...]
    what_would_help: tuple[str, ...]
    failures: Mapping[str, int]
    order: Order


class Search:
    """All options of a job. `total` is known from the start; iterate for the options themselves.

    price: what a job costs, or None where a price is missing. Only acceptable options are priced.
    Raises TooManyOptions, and InputError where the job itself is at fault.
    """

    def __init__(
        self,
        inputs: Inputs,
        choices: Choices,
        *,
        price: Price | None = None,
        beside: Path | None = None,
        system: System = System.US,
    ) -> None:
        self._price = price
        self._system = system
        self._bases = [base_of(inputs, choices, piping, beside) for piping in choices.piping]
        self.total = sum(product_of(count_of(base, one) for one in base.choices) for base in self._bases)
        if self.total > MOST_OPTIONS:
            raise TooManyOptions(
                f"these choices make more combinations than are looked through; expected {MOST_OPTIONS:,} or fewer"
            )

    def __iter__(self) -> Iterator[Option]:
        number = 0
        for base in self._bases:
            judge = Variants(base.inputs, system=self._system)
            for combination in combinations(base):
                number += 1
                yield self._option(number, base, judge, combination)

    def _option(self, number: int, base: Base, judge: Variants, combination: tuple[Variant, ...]) -> Option:
        runs = {variant.run.name: variant.run for variant in combination}
        check = judge.judge(runs)
        cost = None
        if self._price is not None and check.verdict == "within":
            cost = self._price(job_with(base.inputs.job, runs))
        return Option(
            number=number,
            piping=base.piping,
            chosen=tuple(variant.chosen for variant in combination),
            runs=runs,
            check=check,
            joints=sum(joints_of(run.run) for run in check.runs),
            largest=max([piece.after.nominal for run in check.runs for piece in run.run.pieces], default=0.0),
            cost=cost,
        )

    def job_of(self, option: Option) -> Job:
        """The job with an option."""
        base = next(base for base in self._bases if base.piping == option.piping)
        return job_with(base.inputs.job, option.runs)

    def apply(self, data: Data, option: Option) -> Data:
        """An open job's data with an option: one edit."""
        base = next(base for base in self._bases if base.piping == option.piping)
        catalog = base.inputs.catalog
        added = {run.name: option.runs.get(run.name, run) for run in base.added}
        data = apply_piping(
            data,
            drop=base.dropped,
            add=[run_data(run, catalog=catalog, system=self._system) for run in added.values()],
        )
        changed = {name: run for name, run in option.runs.items() if name not in added}
        return apply_runs(data, before=base.inputs.job, after=changed, catalog=catalog, system=self._system)


def job_with(job: Job, runs: Mapping[str, Run]) -> Job:
    """The job with these runs in place of those of their names."""
    return replace(job, runs=tuple(runs.get(run.name, run) for run in job.runs))


def joints_of(run: BuiltRun) -> int:
    """Sockets joined at a run's fittings: two at each, one at an end that is more than the open pipe."""
    kinds = [(piece.fitting.kind, piece.name) for piece in run.pieces if piece.fitting is not None]
    return sum([_sockets(kind, name) for kind, name in kinds])


def _sockets(kind: str, name: str) -> int:
    if kind not in changes.ENDS:
        return 2
    return 0 if name in ("terminal-open", "entrance-open") else 1


@dataclass(slots=True)
class Ranking:
    """Takes options as they come; `found` says where things stand at any time.

    keep: how many acceptable options, and how many misses, are kept.
    """

    order: Order = "margin"
    keep: int = 1000
    system: System = System.US
    looked_at: int = 0
    _acceptable: list[Option] = field(default_factory=list)
    _misses: list[Option] = field(default_factory=list)
    _smallest: Option | None = None
    _failures: dict[str, int] = field(default_factory=dict)

    def take(self, option: Option) -> None:
        """Count an option in."""
        self.looked_at += 1
        if option.acceptable:
            self._acceptable.append(option)
            if self._smallest is None or _size_key(option) < _size_key(self._smallest):
                self._smallest = option
            if len(self._acceptable) >= 2 * self.keep:
                self._acceptable = sorted(self._acceptable, key=self._key)[: self.keep]
            return
        self._failures[option.check.verdict] = self._failures.get(option.check.verdict, 0) + 1
        self._misses.append(option)
        if len(self._misses) >= 2 * self.keep:
            self._misses = sorted(self._misses, key=_miss_key)[: self.keep]

    def found(self, total: int) -> Found:
        """The options taken so far, ranked."""
        ranked = tuple(sorted(self._acceptable, key=self._key)[: self.keep])
        misses = tuple(sorted(self._misses, key=_miss_key)[: self.keep])
        return Found(
            looked_at=self.looked_at,
            total=total,
            acceptable=ranked,
            smallest=self._smallest,
            misses=misses,
            what_would_help=() if ranked else tuple(what_would_help(option, self.system) for option in misses[:5]),
            failures=dict(self._failures),
            order=self.order,
        )

    def _key(self, option: Option) -> tuple[float, ...]:
        margin = option.check.margin
        left = float("inf") if margin is None else -margin
        if self.order == "joints":
            return (option.joints, option.largest, left)
        if self.order == "cost":
            missing = option.cost is None
            return (missing, float(option.cost or 0), option.joints, left)
        return (left, option.joints, option.largest)


def _size_key(option: Option) -> tuple[float, int, float]:
    return (option.largest, option.joints, -(option.check.margin or 0.0))


def _miss_key(option: Option) -> tuple[int, float, int]:
    """Those that lack the least first; what a table does not cover last."""
    margin = option.check.margin
    order = ("over", "short", "incomplete", "not covered").index(option.check.verdict)
    return (order, float("inf") if margin is None else -margin, option.joints)


def look(search: Search, *, order: Order = "margin", keep: int = 1000, system: System = System.US) -> Found:
    """All options looked at, in one go."""
    ranking = Ranking(order=order, keep=keep, system=system)
    for option in search:
        ranking.take(option)
    return ranking.found(search.total)


def what_would_help(option: Option, system: System) -> str:
    """What a miss lacks, run by run."""
    said = []
    for run in option.check.runs:
        if run.verdict == "over" and run.margin is not None and run.margin < 0:
            said.append(f"run '{run.run.name}' {show_length(-run.margin, system)} shorter")
        elif run.verdict != "within":
            said.append(f"run '{run.run.name}': {run.reason}")
    return " and ".join(said) or option.check.reason
