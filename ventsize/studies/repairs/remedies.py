"""The changes that may bring a run within, and those that may save something; each as the run with it made.

They come in groups. The changes of a group are of one kind at growing effort, so that the first that works is the
smallest.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from ventsize.catalog.records import larger_size
from ventsize.check.inputs import Inputs
from ventsize.finding import Finding, Value, Where, length
from ventsize.jobfile.job import FittingPiece, PipePiece, Run
from ventsize.studies.altering import changes

QUARTER_INCH, HALF_CENTIMETER = 0.00635, 0.005
SLANT = "elbow-45"  # two of them make an offset on the slant

BETTER: Mapping[str, tuple[str, ...]] = {
    "elbow-90-short": ("elbow-90-long",),
    "elbow-90-mitered": ("elbow-90-short", "elbow-90-long"),
    "elbow-45": ("elbow-45-long",),
    "elbow-45-mitered": ("elbow-45", "elbow-45-long"),
    "terminal-elbow-down": ("terminal-open",),
    "terminal-screened": ("terminal-open",),
}
"""Fittings, and those of the same turn that as a rule lose less."""

_HAIR = 1e-6  # of a step; so much is arithmetic, not length


ELSEWHERE = (
    "change-fewer",
    "change-slants-counted",
    "change-offset-out",
    "change-end-before-turn",
    "change-shorten",
    "change-end-nearer",
)
"""Changes that need another route, or another place for the end: the house may not let them be built."""


Kind = tuple[str, Value | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change of a run. what: it, as data. touched: how many pieces it makes new. made: the run with it."""

    what: Finding
    touched: int
    made: Run

    @property
    def kind(self) -> Kind:
        """Changes of one kind differ in their effort only."""
        return self.what.code.removesuffix("-from"), self.what.values.get("old")


Group = list[Change]


def _change(code: str, made: Run, touched: int, **values: Value) -> Change:
    return Change(what=Finding(code, Where(run=made.name), values), touched=touched, made=made)


def least_cut(lacking: float, run: Run) -> float:
    """A length to take off [m], rounded up to what a person measures: a quarter inch, or 5 mm in a metric run."""
    lengths = [piece.pipe for piece in run.pieces or () if isinstance(piece, PipePiece)] or [run.straight or 0.0]
    inches, metric = (
        all(abs(one / step - round(one / step)) < _HAIR for one in lengths) for step in (QUARTER_INCH, HALF_CENTIMETER)
    )
    step = HALF_CENTIMETER if metric and not inches else QUARTER_INCH
    return math.ceil(lacking / step - _HAIR) * step


def single_changes(run: Run, inputs: Inputs) -> list[Group]:
    """Every change of the kinds known but cutting pipe, whose amount depends on what is lacking."""
    groups = [*_better_fittings(run, inputs), *_larger(run, inputs)]
    if run.counted:
        groups += [*_fewer(run, inputs), *_two_by_two(run, inputs)]
    else:
        groups += _other_ways(run, inputs)
    return groups


def _better_fittings(run: Run, inputs: Inputs) -> Iterator[Group]:
    """One, two … all of a kind of fitting exchanged for a better one."""
    for old, news in BETTER.items():
        for new in news:
            if new not in inputs.catalog.fittings:
                continue
            if run.counted:
                count = (run.fittings or {}).get(old, 0)
                made = [changes.exchange_count(run, old, (new,), n) for n in range(1, count + 1)]
            else:
                places = _places(run, old)
                made = [
                    changes.exchange(run, dict.fromkeys(chosen, (new,)))
                    for chosen in _growing(places, changes.sizes_before(run))
                ]
            yield [_exchange(run, one, old, new) for one in made]


def _exchange(run: Run, made: Run, old: str, new: str) -> Change:
    if run.counted:
        count = (run.fittings or {}).get(old, 0) - (made.fittings or {}).get(old, 0)
    else:
        count = len(_places(run, old)) - len(_places(made, old))
    return _change("change-exchange", made, count, count=count, old=old, new=new)


def _places(run: Run, name: str) -> list[int]:
    pieces = enumerate(run.pieces or ())
    return [place for place, piece in pieces if isinstance(piece, FittingPiece) and piece.fitting == name]


def _growing(places: list[int], sizes: list[float]) -> Iterator[list[int]]:
    """Growing choices of places; of those in one size it makes no difference which."""
    by_size: dict[float, list[int]] = {}
    for place in places:
        by_size.setdefault(sizes[place], []).append(place)
    found: list[list[int]] = [[]]
    for alike in by_size.values():
        found = [[*chosen, *alike[:count]] for chosen in found for count in range(len(alike) + 1)]
    yield from sorted((chosen for chosen in found if chosen), key=len)


def _larger(run: Run, inputs: Inputs) -> Iterator[Group]:
    """A larger size from a piece on, the shortest stretch first, the whole run last."""
    material = inputs.catalog.pipe(run.material)
    before = changes.sizes_before(run) or [run.size]
    for size in material.sizes:
        if not larger_size(size.nominal, min(max(before), run.size)):
            continue
        group: Group = []
        for at in range(len(run.pieces or ()) - 1, -1, -1) if not run.counted else (0,):
            if not larger_size(size.nominal, before[at]):
                continue
            made = changes.with_size_from(run, at, size.nominal, inputs.catalog) if at else None
            if not at:
                made = changes.with_one_size(run, size.nominal, inputs.catalog)
            if made is None:
                continue
            count = len(run.pieces) - at + (at > 0) if run.pieces is not None else _count(run)
            where: dict[str, Value] = {"piece": at + 1} if at else {}
            group.append(_change("change-size-from" if at else "change-size", made, count, size=size.label, **where))
        yield group


def _count(run: Run) -> int:
    return 1 + sum((run.fittings or {}).values())


def _fewer(run: Run, inputs: Inputs) -> Iterator[Group]:
    """A counted run with fewer elbows of a kind: laid another way."""
    for name, count in (run.fittings or {}).items():
        record = inputs.catalog.fittings.get(name)
        if record is None or record.kind != "elbow":
            continue
        yield [
            _change("change-fewer", changes.exchange_count(run, name, (), n), n, count=n, old=name)
            for n in range(1, count + 1)
        ]


def _two_by_two(run: Run, inputs: Inputs) -> Iterator[Group]:
    """A counted run with two 90° elbows made two of 45° each time: an offset on the slant."""
    for name, count in (run.fittings or {}).items():
        if changes.is_right_angle(name, inputs.catalog) and count > 1:
            yield [
                _change(
                    "change-slants-counted",
                    changes.exchange_count(run, name, (SLANT,), n),
                    n,
                    count=n,
                    old=name,
                    new=SLANT,
                )
                for n in range(2, count + 1, 2)
            ]


def _other_ways(run: Run, inputs: Inputs) -> Iterator[Group]:
    """Offsets on the slant or left out, and the end moved to before the last turn."""
    for place in changes.offsets(run, inputs.catalog):
        across = (run.pieces or ())[place + 2]
        assert isinstance(across, PipePiece)
        between: dict[str, Value] = {"first": place + 2, "last": place + 4}
        slant = changes.offset_on_the_slant(run, place, SLANT)
        if slant is not None:
            yield [_change("change-offset-slant", slant, 3, **between, elbow=SLANT)]
        straight = changes.offset_left_out(run, place)
        yield [_change("change-offset-out", straight, 3, **between, over=length(across.pipe))]
    ended = _ended_before_last_turn(run, inputs)
    if ended is not None:
        yield [_change("change-end-before-turn", ended, 2)]


def _ended_before_last_turn(run: Run, inputs: Inputs) -> Run | None:
    """The run without its last elbow and the pipe between it and the outdoor end."""
    leg = changes.last_leg(run)
    pieces = run.pieces or ()
    if leg is None or len(pieces) < 4:
        return None
    turn = leg + 1 if leg <= 1 and run.between[0] == "outdoors" else leg - 1
    if not 0 < turn < len(pieces) - 1 or changes.kind_of(pieces[turn], inputs.catalog) != "elbow":
        return None
    kept = tuple(piece for place, piece in enumerate(pieces) if place not in (leg, turn))
    made = replace(run, pieces=kept)
    return made if changes.last_leg(made) is not None else None


def shorten(run: Run, by: float) -> Change | None:
    made = changes.shortened(run, by)
    return _change("change-shorten", made, 1, length=length(by)) if made else None


def move_terminal(run: Run, by: float) -> Change | None:
    leg = changes.last_leg(run)
    made = None if leg is None else changes.shortened(run, by, places=(leg,))
    return _change("change-end-nearer", made, 1, length=length(by)) if made else None


def saving_changes(run: Run, inputs: Inputs) -> Iterator[Group]:
    """What may be saved: a smaller size throughout, and cheaper elbows, the most first."""
    material = inputs.catalog.pipe(run.material)
    before = changes.sizes_before(run) or [run.size]
    touched = len(run.pieces or ()) or _count(run)
    yield [
        _change("change-size", changes.with_one_size(run, size.nominal, inputs.catalog), touched, size=size.label)
        for size in material.sizes
        if larger_size(max(*before, run.size), size.nominal)
    ]
    for plain, better in (("elbow-90-short", "elbow-90-long"), ("elbow-45", "elbow-45-long")):
        yield [_exchange(run, made, better, plain) for made in _plainer(run, better, plain)]


def _plainer(run: Run, better: str, plain: str) -> Iterator[Run]:
    if run.counted:
        for n in range((run.fittings or {}).get(better, 0), 0, -1):
            yield changes.exchange_count(run, better, (plain,), n)
        return
    places = _places(run, better)
    for chosen in reversed(list(_growing(places, changes.sizes_before(run)))):
        yield changes.exchange(run, dict.fromkeys(chosen, (plain,)))
