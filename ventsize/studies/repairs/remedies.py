"""The changes that may bring a run within, and those that may save something; each as the run with it made.

They come in groups. The changes of a group are of one kind at growing effort, so that the first that works is the
smallest.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from ventsize.catalog.records import larger_size
from ventsize.check.inputs import Inputs
from ventsize.jobfile.job import FittingPiece, PipePiece, Run
from ventsize.quantity import System, rounded_up, show_length, show_size
from ventsize.studies.altering import changes

INCH = 0.0254
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change of a run. `touched`: how many pieces it makes new; `made`: the run with it."""

    kind: str
    words: str
    touched: int
    made: Run


Group = list[Change]


def least_cut(length: float, system: System) -> float:
    """A length to take off [m], rounded up to what a person measures: a quarter inch, or 5 mm."""
    return rounded_up(length, system, {System.US: INCH / 4, System.SI: 0.005})


def single_changes(run: Run, inputs: Inputs, system: System) -> list[Group]:
    """Every change of the kinds known but cutting pipe, whose amount depends on what is lacking."""
    groups = [*_better_fittings(run, inputs), *_larger(run, inputs)]
    if run.counted:
        groups += [*_fewer(run, inputs), *_two_by_two(run, inputs)]
    else:
        groups += _other_ways(run, inputs, system)
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
            yield [
                Change(kind=f"exchange {old}", words=f"exchange {n} × {old} for {new}", touched=n, made=one)
                for n, one in ((_exchanged(run, one, old), one) for one in made)
            ]


def _exchanged(run: Run, made: Run, old: str) -> int:
    if run.counted:
        return (run.fittings or {}).get(old, 0) - (made.fittings or {}).get(old, 0)
    return len(_places(run, old)) - len(_places(made, old))


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
            where = f"from piece {at + 1} on" if at else "throughout"
            words = f"{size.label} {where}"
            count = len(run.pieces) - at + (at > 0) if run.pieces is not None else _count(run)
            group.append(Change(kind="enlarge", words=words, touched=count, made=made))
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
            Change(
                kind=f"fewer {name}",
                words=f"{n} × {name} fewer, if the run can be laid so",
                touched=n,
                made=changes.exchange_count(run, name, (), n),
            )
            for n in range(1, count + 1)
        ]


def _two_by_two(run: Run, inputs: Inputs) -> Iterator[Group]:
    """A counted run with two 90° elbows made two of 45° each time: an offset on the slant."""
    for name, count in (run.fittings or {}).items():
        if changes.is_right_angle(name, inputs.catalog) and count > 1:
            yield [
                Change(
                    kind="slant",
                    words=f"{n} × {name} made {n} × {SLANT}, if offsets can be laid on the slant",
                    touched=n,
                    made=changes.exchange_count(run, name, (SLANT,), n),
                )
                for n in range(2, count + 1, 2)
            ]


def _other_ways(run: Run, inputs: Inputs, system: System) -> Iterator[Group]:
    """Offsets on the slant or left out, and the end moved to before the last turn."""
    for place in changes.offsets(run, inputs.catalog):
        across = (run.pieces or ())[place + 2]
        assert isinstance(across, PipePiece)
        over = show_length(across.pipe, system)
        slant = changes.offset_on_the_slant(run, place, SLANT)
        between = f"at pieces {place + 2} to {place + 4}"
        if slant is not None:
            words = f"make the offset {between} by two {SLANT} and a slanting pipe"
            yield [Change(kind="slant", words=words, touched=3, made=slant)]
        straight = changes.offset_left_out(run, place)
        words = f"go straight on where the offset {between} goes over by {over}, if the end may be moved by that"
        yield [Change(kind="straight on", words=words, touched=3, made=straight)]
    ended = _ended_before_last_turn(run, inputs)
    if ended is not None:
        words = "move the terminal to before the last turn, without that elbow and the pipe after it"
        yield [Change(kind="move the terminal", words=words, touched=2, made=ended)]


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


def shorten(run: Run, by: float, system: System) -> Change | None:
    made = changes.shortened(run, by)
    if made is None:
        return None
    words = f"take off at least {show_length(by, system)} of straight pipe"
    return Change(kind="shorten", words=words, touched=1, made=made)


def move_terminal(run: Run, by: float, system: System) -> Change | None:
    leg = changes.last_leg(run)
    made = None if leg is None else changes.shortened(run, by, places=(leg,))
    if made is None:
        return None
    words = f"move the terminal {show_length(by, system)} nearer, off the last pipe"
    return Change(kind="move the terminal", words=words, touched=1, made=made)


def saving_changes(run: Run, inputs: Inputs) -> Iterator[Group]:
    """What may be saved: a smaller size throughout, and cheaper elbows, the most first."""
    material = inputs.catalog.pipe(run.material)
    before = changes.sizes_before(run) or [run.size]
    smaller = [size for size in material.sizes if larger_size(max(*before, run.size), size.nominal)]
    yield [
        Change(
            kind="smaller",
            words=f"{show_size(size.nominal)} throughout",
            touched=len(run.pieces or ()) or _count(run),
            made=changes.with_one_size(run, size.nominal, inputs.catalog),
        )
        for size in smaller
    ]
    for plain, better in (("elbow-90-short", "elbow-90-long"), ("elbow-45", "elbow-45-long")):
        yield [
            Change(kind="plainer elbows", words=f"exchange {n} × {better} for {plain}", touched=n, made=made)
            for n, made in _plainer(run, better, plain)
        ]


def _plainer(run: Run, better: str, plain: str) -> Iterator[tuple[int, Run]]:
    if run.counted:
        for n in range((run.fittings or {}).get(better, 0), 0, -1):
            yield n, changes.exchange_count(run, better, (plain,), n)
        return
    places = _places(run, better)
    for chosen in reversed(list(_growing(places, changes.sizes_before(run)))):
        yield len(chosen), changes.exchange(run, dict.fromkeys(chosen, (plain,)))
