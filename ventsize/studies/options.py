"""Options: every combination of what may be chosen for a job's runs, judged, ranked, and each failure explained.

`Search` streams the options one by one: stop by no longer asking for more. Each is judged by the steps of a
check (`ventsize.check.variants`), and only those `within` by the table are acceptable.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from pathlib import Path
from typing import Literal

from ventsize.check.inputs import Inputs, prepare
from ventsize.check.variants import VariantCheck, Variants
from ventsize.jobfile.editing import Data
from ventsize.jobfile.job import Job, Run
from ventsize.quantity import System, show_length, show_size
from ventsize.run.model import Run as BuiltRun
from ventsize.studies import changes
from ventsize.studies.editing import apply_piping, apply_runs, run_data

Piping = Literal["as it is", "one pipe", "two pipes"]
Order = Literal["margin", "joints", "cost"]
Price = Callable[[Job], Decimal | None]

ELBOWS: Mapping[str, tuple[str, ...]] = {
    "short": ("elbow-90-short",),
    "long": ("elbow-90-long",),
    "two 45s": ("elbow-45", "elbow-45"),
}
"""What may stand at a turn of 90°, by the name it is chosen by."""

MOST_OPTIONS = 500_000


class TooManyOptions(ValueError):
    """More combinations than are worth looking through; the message says how many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """Another way to lay a run: pieces or a count, between the same joints."""

    name: str
    run: Run


@dataclass(frozen=True, slots=True, kw_only=True)
class RunChoices:
    """What may be chosen for one run. An empty tuple leaves that as it is.

    sizes: nominal, for the whole run [m]; materials: by name.
    elbows: names of `ELBOWS`, for all its 90° elbows alike, or with `each_elbow` for each by itself.
    ends: fittings for the outdoor end.
    change_to: sizes to which it may change at any joint between two pieces [m].
    routes: other ways to lay it, besides the one it has.
    """

    run: str
    sizes: tuple[float, ...] = ()
    materials: tuple[str, ...] = ()
    elbows: tuple[str, ...] = ()
    each_elbow: bool = False
    ends: tuple[str, ...] = ()
    change_to: tuple[float, ...] = ()
    routes: tuple[Route, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """What may be chosen for a job: for its runs, and whether it has an air pipe of its own.

    air: the air pipe that "two pipes" adds where the job has none; without it, one laid like the vent.
    """

    runs: tuple[RunChoices, ...]
    piping: tuple[Piping, ...] = ("as it is",)
    air: Run | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What was chosen for one run; None is "as it is". `change`: before which piece (from 0), and to what size [m]."""

    run: str
    route: str | None
    material: str | None
    size: float | None
    elbows: tuple[str, ...]
    end: str | None
    change: tuple[int, float] | None

    @property
    def words(self) -> str:
        """The choice in words."""
        said = [f"route '{self.route}'"] if self.route else []
        said += [show_size(self.size)] if self.size is not None else []
        said += [self.material] if self.material else []
        alike = set(self.elbows)
        if len(alike) == 1:
            said.append(f"90° turns: {self.elbows[0]}")
        elif alike:
            said.append("90° turns: " + ", ".join(self.elbows))
        said += [self.end] if self.end else []
        if self.change:
            said.append(f"{show_size(self.change[1])} from piece {self.change[0] + 1} on")
        return f"{self.run}: {', '.join(said) or 'as it is'}"


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


@dataclass(frozen=True, slots=True)
class _Variant:
    chosen: Chosen
    run: Run


@dataclass(frozen=True, slots=True)
class _Base:
    """The job with one kind of piping."""

    piping: Piping
    inputs: Inputs
    choices: tuple[RunChoices, ...]
    added: tuple[Run, ...] = ()
    dropped: tuple[str, ...] = ()


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
        self._bases = [_base(inputs, choices, piping, beside) for piping in choices.piping]
        self.total = sum(_product(_count(base, one) for one in base.choices) for base in self._bases)
        if self.total > MOST_OPTIONS:
            raise TooManyOptions(
                f"these choices make more combinations than are looked through; expected {MOST_OPTIONS:,} or fewer"
            )

    def __iter__(self) -> Iterator[Option]:
        number = 0
        for base in self._bases:
            judge = Variants(base.inputs, system=self._system)
            for combination in _combinations(base):
                number += 1
                yield self._option(number, base, judge, combination)

    def _option(self, number: int, base: _Base, judge: Variants, combination: tuple[_Variant, ...]) -> Option:
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


def default_choices(inputs: Inputs) -> Choices:
    """What is usually worth looking at: the sizes of each run's table, elbows all alike, one size or two."""
    return Choices(runs=tuple(_default(run, inputs) for run in inputs.job.runs))


def _default(run: Run, inputs: Inputs) -> RunChoices:
    sizes = sizes_offered(run, inputs)
    return RunChoices(
        run=run.name,
        sizes=sizes,
        elbows=() if run.counted and not _counted_right_angles(run, inputs) else tuple(ELBOWS),
        change_to=() if run.counted else sizes,
    )


def sizes_offered(run: Run, inputs: Inputs) -> tuple[float, ...]:
    """The sizes that the run's table has and its material comes in [m], smallest first."""
    names = [run.table] if run.table else [n for n in inputs.job.tables if run.carries in inputs.tables[n].applies_to]
    material = inputs.catalog.pipe(run.material)
    found = {s.nominal for name in names for row in inputs.tables[name].rows if (s := material.size(row.size))}
    return tuple(sorted(found or {run.size}))


def _base(inputs: Inputs, choices: Choices, piping: Piping, beside: Path | None) -> _Base:
    job = inputs.job
    air = [run.name for run in job.runs if run.carries == "combustion air"]
    if piping == "one pipe" and air:
        left = replace(job, runs=tuple(run for run in job.runs if run.name not in air))
        made = prepare(left, file=inputs.file, beside=beside, tables=inputs.tables)
        kept = tuple(one for one in choices.runs if one.run not in air)
        return _Base(piping, made, kept, dropped=tuple(air))
    if piping == "two pipes" and not air:
        added = choices.air or _air_like_the_vent(job)
        made = prepare(replace(job, runs=(*job.runs, added)), file=inputs.file, beside=beside, tables=inputs.tables)
        return _Base(piping, made, choices.runs, added=(added,))
    known = {run.name for run in job.runs}
    return _Base(piping, inputs, tuple(one for one in choices.runs if one.run in known))


def _air_like_the_vent(job: Job) -> Run:
    vent = next(run for run in job.runs if run.carries == "flue gas")
    names = {run.name for run in job.runs}
    return replace(vent, name="air" if "air" not in names else "air pipe", carries="combustion air")


def _product(counts: Iterable[int]) -> int:
    total = 1
    for count in counts:
        total *= count
    return total


def _combinations(base: _Base) -> Iterator[tuple[_Variant, ...]]:
    """Each run's variants with each of the others'. Those of the first run are made as they are needed."""
    if not base.choices:
        yield ()
        return
    first, *others = base.choices
    lists = [list(_variants(base, one)) for one in others]
    for variant in _variants(base, first):
        for rest in itertools.product(*lists):
            yield (variant, *rest)


# The variants of one run


def _routes(base: _Base, one: RunChoices) -> list[tuple[str | None, Run]]:
    own = next(run for run in base.inputs.job.runs if run.name == one.run)
    others: list[tuple[str | None, Run]] = [
        (r.name, replace(r.run, name=own.name, carries=own.carries, between=own.between)) for r in one.routes
    ]
    return [(None, own), *others]


def _count(base: _Base, one: RunChoices) -> int:
    """How many variants of a run there are, or a number above `MOST_OPTIONS`."""
    total = 0
    if _product(len(axis) for axis in (one.materials, one.sizes, one.ends) if axis) > MOST_OPTIONS:
        return MOST_OPTIONS + 1
    for _, route in _routes(base, one):
        for dressed in _dressed(base, one, route):
            total += _elbow_count(base, one, dressed.run) * len(_changes(base, one, dressed.run))
    return total


@dataclass(frozen=True, slots=True)
class _Dressed:
    """A route in one size and material, with one end; its elbows and size changes still to be chosen."""

    run: Run
    material: str | None = None
    size: float | None = None
    end: str | None = None


def _dressed(base: _Base, one: RunChoices, route: Run) -> Iterator[_Dressed]:
    catalog = base.inputs.catalog
    for material, size, end in itertools.product(one.materials or (None,), one.sizes or (None,), one.ends or (None,)):
        run = route if material is None else changes.with_material(route, material)
        run = run if size is None else changes.with_one_size(run, size, catalog)
        run = run if end is None else changes.with_end(run, end, catalog)
        yield _Dressed(run, material, size, end)


def _counted_right_angles(run: Run, inputs: Inputs) -> list[tuple[str, int]]:
    counts = run.fittings or {}
    return [(name, n) for name, n in counts.items() if n and changes.is_right_angle(name, inputs.catalog)]


def _elbow_count(base: _Base, one: RunChoices, run: Run) -> int:
    """How many patterns `_patterns` makes, without making them."""
    turns, kinds = _turns(base, run), len(one.elbows)
    if not kinds or not turns:
        return 1
    if not one.each_elbow:
        return kinds
    return math.comb(turns + kinds - 1, kinds - 1) if run.counted else kinds**turns


def _turns(base: _Base, run: Run) -> int:
    if run.counted:
        return sum(count for _, count in _counted_right_angles(run, base.inputs))
    return len(changes.right_angles(run, base.inputs.catalog))


def _patterns(base: _Base, one: RunChoices, run: Run) -> Iterator[tuple[str, ...]]:
    """What stands at each 90° turn, by the names of `ELBOWS`; empty as it is."""
    turns = _turns(base, run)
    if not one.elbows or not turns:
        return iter([()])
    if not one.each_elbow:
        return iter([(name,) * turns for name in one.elbows])
    if run.counted:  # which of them is which makes no difference
        return itertools.combinations_with_replacement(one.elbows, turns)
    return itertools.product(one.elbows, repeat=turns)


def _changes(base: _Base, one: RunChoices, run: Run) -> list[tuple[int, float] | None]:
    found: list[tuple[int, float] | None] = [None]
    pieces = run.pieces or ()
    for place, before in enumerate(changes.sizes_before(run)):
        if place and changes.kind_of(pieces[place], base.inputs.catalog) not in changes.ENDS:
            found += [(place, size) for size in one.change_to if abs(size - before) > 1e-5]
    return found


def _variants(base: _Base, one: RunChoices) -> Iterator[_Variant]:
    for name, route in _routes(base, one):
        for dressed in _dressed(base, one, route):
            changed = [(change, _changed(dressed.run, change, base)) for change in _changes(base, one, dressed.run)]
            turns = [changes.right_angles(run, base.inputs.catalog) for _, run in changed]
            for pattern in _patterns(base, one, dressed.run):
                for (change, run), places in zip(changed, turns, strict=True):
                    yield _Variant(
                        Chosen(
                            run=one.run,
                            route=name,
                            material=dressed.material,
                            size=dressed.size,
                            elbows=pattern,
                            end=dressed.end,
                            change=change,
                        ),
                        _with_elbows(run, pattern, places, base) if pattern else run,
                    )


def _changed(run: Run, change: tuple[int, float] | None, base: _Base) -> Run:
    if change is None:
        return run
    return changes.with_size_from(run, *change, base.inputs.catalog) or run


def _with_elbows(run: Run, pattern: tuple[str, ...], places: tuple[int, ...], base: _Base) -> Run:
    if not run.counted:
        return changes.exchange(run, {place: ELBOWS[name] for place, name in zip(places, pattern, strict=True)})
    for old, count in _counted_right_angles(run, base.inputs):
        run = changes.exchange_count(run, old, (), count)
    for name in pattern:
        for new in ELBOWS[name]:
            run = replace(run, fittings={**(run.fittings or {}), new: (run.fittings or {}).get(new, 0) + 1})
    return run


# Ranking


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
