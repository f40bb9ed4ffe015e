"""Changes of a typed run: pure functions from run to run, from which options and repairs are made.

A piece that a change leaves alone stays the very same object; what is judged of it is then used again.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from ventsize.catalog.library import Catalog
from ventsize.catalog.records import same_size
from ventsize.jobfile.headings import rise_of, says_rise, turn_between
from ventsize.jobfile.job import OUTDOORS, FittingPiece, PipePiece, Run

TypedPiece = PipePiece | FittingPiece

ENDS = ("terminal", "entrance")
_NO_LENGTH = 1e-6  # m; what is left of a length that was all given up
_RIGHT_ANGLE = math.pi / 2
_LOOSE = math.radians(1.0)


@lru_cache(maxsize=4096)
def fitting(name: str, *, size: float | None = None, material: str | None = None) -> FittingPiece:
    """A fitting as typed; alike ones are the same object."""
    return FittingPiece(fitting=name, size=size, material=material)


def is_right_angle(name: str, catalog: Catalog, *, share: float = 1.0) -> bool:
    """Whether a fitting is an elbow of 90°, or of a share of it."""
    record = catalog.fittings.get(name)
    return record is not None and record.kind == "elbow" and abs((record.angle or 0.0) - share * _RIGHT_ANGLE) < _LOOSE


def is_half_turn(name: str, catalog: Catalog) -> bool:
    """Whether a fitting is an elbow of 45°."""
    return is_right_angle(name, catalog, share=0.5)


def kind_of(piece: TypedPiece, catalog: Catalog) -> str:
    """'pipe', or the kind of fitting; empty where the catalog does not know it."""
    if isinstance(piece, PipePiece):
        return "pipe"
    record = catalog.fittings.get(piece.fitting)
    return "" if record is None else record.kind


def right_angles(run: Run, catalog: Catalog) -> tuple[int, ...]:
    """Places of a laid-out run's 90° elbows, from 0."""
    return tuple(
        place
        for place, piece in enumerate(run.pieces or ())
        if isinstance(piece, FittingPiece) and is_right_angle(piece.fitting, catalog)
    )


def with_material(run: Run, material: str) -> Run:
    """The run in one material throughout."""
    if run.pieces is None:
        return replace(run, material=material)
    return replace(run, material=material, pieces=tuple(_without(piece, "material") for piece in run.pieces))


def with_one_size(run: Run, size: float, catalog: Catalog) -> Run:
    """The run in one size throughout; the fittings that changed its size are left out."""
    if run.pieces is None:
        return replace(run, size=size)
    kept = (_without(p, "size") for p in run.pieces if kind_of(p, catalog) != "size change")
    return replace(run, size=size, pieces=tuple(kept))


def _without(piece: TypedPiece, key: Literal["size", "material"]) -> TypedPiece:
    if getattr(piece, key) is None:
        return piece
    return replace(piece, size=None) if key == "size" else replace(piece, material=None)


def with_end(run: Run, name: str, catalog: Catalog) -> Run:
    """The run with another fitting at its outdoor end; the same run if it does not reach outdoors."""
    if OUTDOORS not in run.between:
        return run
    if run.pieces is None:
        others = {key: n for key, n in (run.fittings or {}).items() if not _is_end(key, catalog)}
        return replace(run, fittings={**others, name: 1})
    first = run.between[0] == OUTDOORS
    outer = run.pieces[0] if first else run.pieces[-1]
    inner = run.pieces
    if kind_of(outer, catalog) in ENDS:
        if isinstance(outer, FittingPiece) and outer.fitting == name:
            return run
        inner = run.pieces[1:] if first else run.pieces[:-1]
    end = fitting(name)
    return replace(run, pieces=(end, *inner) if first else (*inner, end))


def _is_end(name: str, catalog: Catalog) -> bool:
    record = catalog.fittings.get(name)
    return record is not None and record.kind in ENDS


def exchange(run: Run, places: Mapping[int, Sequence[str]]) -> Run:
    """A laid-out run with other fittings at these places; overrides of the old ones go with them."""
    made = list(run.pieces or ())
    for place in sorted(places, reverse=True):
        made[place : place + 1] = _instead(made[place], places[place])
    return replace(run, pieces=tuple(made))


def exchanger(run: Run, places: Sequence[int], kinds: Mapping[str, Sequence[str]]) -> Callable[[Sequence[str]], Run]:
    """`exchange` for many patterns of one run: a pattern names for each place which of the kinds is to stand there."""
    pieces = run.pieces or ()
    between = [pieces[one + 1 : other] for one, other in pairwise((-1, *places, len(pieces)))]
    instead = [{kind: _instead(pieces[place], names) for kind, names in kinds.items()} for place in places]

    def made(pattern: Sequence[str]) -> Run:
        found = [*between[0]]
        for kind, there, after in zip(pattern, instead, between[1:], strict=True):
            found += there[kind]
            found += after
        return replace(run, pieces=tuple(found))

    return made


def _instead(piece: TypedPiece, names: Sequence[str]) -> list[TypedPiece]:
    if isinstance(piece, FittingPiece) and [piece.fitting] == list(names):
        return [piece]
    first, *more = names
    return [
        fitting(first, size=piece.size, material=piece.material),
        *(fitting(name, material=piece.material) for name in more),
    ]


def exchange_count(run: Run, old: str, new: Sequence[str], count: int) -> Run:
    """A counted run with so many of one fitting exchanged, each for these."""
    counts = dict(run.fittings or {})
    counts[old] = counts.get(old, 0) - count
    for name in new:
        counts[name] = counts.get(name, 0) + count
    return replace(run, fittings={name: n for name, n in counts.items() if n > 0})


def sizes_before(run: Run) -> list[float]:
    """The size that each piece of a laid-out run begins in [m]."""
    found, size = [], run.size
    for piece in run.pieces or ():
        if piece.size is not None and isinstance(piece, PipePiece):
            size = piece.size
        found.append(size)
        if piece.size is not None:
            size = piece.size
    return found


def with_size_from(run: Run, at: int, size: float, catalog: Catalog) -> Run | None:
    """A laid-out run in one size from the piece at a place on; place 0 is the whole run.

    The change is an increaser or a reducer put in there. None where the run has that size there already.
    """
    pieces = run.pieces or ()
    if at <= 0:
        return with_one_size(run, size, catalog)
    before = sizes_before(run)[at]
    stated = pieces[at].size
    if isinstance(pieces[at], PipePiece) and stated is not None:
        before = sizes_before(replace(run, pieces=pieces[:at] + (fitting("coupling"),)))[-1]
    if same_size(before, size):
        return None
    change = fitting("increaser" if size > before else "reducer", size=size)
    rest = (_without(piece, "size") for piece in pieces[at:] if kind_of(piece, catalog) != "size change")
    return replace(run, pieces=(*pieces[:at], change, *rest))


def shortened(run: Run, by: float, *, places: Collection[int] | None = None) -> Run | None:
    """The run with so much pipe less [m], off its longest pipes, or off those at these places; None if there is less.

    A pipe that rises on a slope keeps its slope.
    """
    if run.pieces is None:
        straight = (run.straight or 0.0) - by
        if straight < 0.0 or abs(run.rise or 0.0) > straight:
            return None
        return replace(run, straight=straight)
    pieces = list(run.pieces)
    pipes = [(piece.pipe, place) for place, piece in enumerate(pieces) if isinstance(piece, PipePiece)]
    left = by
    for length, place in sorted((p for p in pipes if places is None or p[1] in places), reverse=True):
        if left <= 0.0:
            break
        less = min(left, length)
        pieces[place] = cut_to(pieces[place], length - less)
        left -= less
    return replace(run, pieces=tuple(pieces)) if left <= 1e-12 else None


def cut_to(piece: TypedPiece, length: float) -> PipePiece:
    """A pipe at another length [m], on the same slope."""
    assert isinstance(piece, PipePiece)
    rise = piece.rise if piece.rise is None or piece.pipe == 0 else piece.rise * length / piece.pipe
    return replace(piece, pipe=length, rise=rise)


def last_leg(run: Run) -> int | None:
    """The place of the pipe nearest the outdoor end of a laid-out run."""
    pipes = [place for place, piece in enumerate(run.pieces or ()) if isinstance(piece, PipePiece)]
    if not pipes or OUTDOORS not in run.between:
        return None
    return pipes[0] if run.between[0] == OUTDOORS else pipes[-1]


def offsets(run: Run, catalog: Catalog) -> tuple[int, ...]:
    """Places where an offset begins: a pipe, a 90° elbow, a pipe across, a 90° elbow, a pipe on as before."""
    found = []
    for place in range(len(run.pieces or ()) - 4):
        first, one, across, other, last = (run.pieces or ())[place : place + 5]
        pipes = [piece for piece in (first, across, last) if isinstance(piece, PipePiece)]
        elbows = [piece for piece in (one, other) if isinstance(piece, FittingPiece)]
        if len(pipes) < 3 or len(elbows) < 2 or not all(is_right_angle(e.fitting, catalog) for e in elbows):
            continue
        if any(pipe.size is not None or pipe.rise is not None for pipe in pipes) or any(e.size for e in elbows):
            continue
        out, over, on = (pipe.heading for pipe in pipes)
        if out and over and out == on and abs(turn_between(out, over) - _RIGHT_ANGLE) < _LOOSE:
            found.append(place)
    return tuple(found)


def offset_on_the_slant(run: Run, place: int, elbow: str) -> Run | None:
    """The run with an offset made by two 45° elbows and a slanting pipe; None where there is no room for it.

    The slant goes on by as much as it goes over, so that the pipes before and after give that up; one that gives up
    all of its length is no longer there.
    """
    pieces = run.pieces or ()
    first, _, across, _, last = pieces[place : place + 5]
    assert isinstance(first, PipePiece) and isinstance(across, PipePiece) and isinstance(last, PipePiece)
    over = across.pipe
    if first.pipe + last.pipe < over:
        return None
    off_last = min(last.pipe, over)
    vertical = {"up": over, "down": -over}
    rise = vertical.get(first.heading or "", vertical.get(across.heading or ""))
    made = (
        cut_to(first, first.pipe - (over - off_last)),
        fitting(elbow),
        replace(across, pipe=over * math.sqrt(2.0), heading=None, rise=rise),
        fitting(elbow),
        cut_to(last, last.pipe - off_last),
    )
    left = [piece for piece in made if not isinstance(piece, PipePiece) or piece.pipe > _NO_LENGTH]
    return replace(run, pieces=(*pieces[:place], *left, *pieces[place + 5 :]))


def offset_left_out(run: Run, place: int) -> Run:
    """The run going straight on where it had an offset: its two elbows and the pipe across are left out."""
    pieces = run.pieces or ()
    return replace(run, pieces=(*pieces[: place + 1], *pieces[place + 4 :]))


def without_heading(piece: TypedPiece) -> TypedPiece:
    """A piece that says how far it rises, if it did, and no longer where it heads."""
    if not isinstance(piece, PipePiece) or piece.heading is None:
        return piece
    if not says_rise(heading=piece.heading, rise=piece.rise):
        return replace(piece, heading=None)
    return replace(piece, heading=None, rise=rise_of(length=piece.pipe, heading=piece.heading, rise=piece.rise))


def loose(run: Run) -> Run:
    """The run without headings, which pieces taken out, put in or moved would contradict."""
    if run.pieces is None:
        return run
    return replace(run, pieces=tuple(without_heading(piece) for piece in run.pieces))


def with_more(run: Run, counts: Mapping[str, int]) -> Run:
    """The run with so many more of each fitting, put in where a laid-out one starts indoors."""
    if run.pieces is None:
        have = run.fittings or {}
        return replace(run, fittings={**have, **{name: have.get(name, 0) + n for name, n in counts.items()}})
    pieces = loose(run).pieces or ()
    for name, count in counts.items():
        extra = (fitting(name),) * count
        pieces = (*pieces, *extra) if run.between[0] == OUTDOORS else (*extra, *pieces)
    return replace(run, pieces=pieces)
