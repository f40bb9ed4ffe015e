"""Where one run goes on as another: whether the route turns there, and what two runs meet in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ventsize.finding import Where
from ventsize.jobfile import job as typed
from ventsize.jobfile.headings import opposite
from ventsize.run import geometry
from ventsize.run.model import Piece, Run


def meeting(runs: Mapping[str, Run], apart: Sequence[str]) -> dict[str, list[Run]]:
    """The runs that meet at each joint. apart: joints where runs do not go on as others: the appliances."""
    found: dict[str, list[Run]] = {}
    for run in runs.values():
        for joint in (run.start, run.end):
            if joint != typed.OUTDOORS and joint not in apart:
                found.setdefault(joint, []).append(run)
    return found


def with_turns(
    runs: Mapping[str, Run], *, junctions: Mapping[str, typed.Joint], apart: Sequence[str]
) -> Mapping[str, Run]:
    """The runs, with the turns that nothing makes where one goes on as another, at the second of them."""
    if all(typed.OUTDOORS in (run.start, run.end) for run in runs.values()):
        return runs
    found = dict(runs)
    joints = meeting(runs, apart)
    for joint, legs in joints.items():
        pair = _straight_on(legs, junctions.get(joint))
        if pair is None:
            continue
        first, second = pair if _has_heading(pair[1]) else pair[::-1]
        crossing = [*_before(first, joint, joints), *_first(_away(second, joint))]
        missing = geometry.turns_not_made(geometry.spans(crossing), Where(run=second.name, joint=joint))
        if missing:
            found[second.name] = replace(found[second.name], unturned=(*found[second.name].unturned, *missing))
    return found


def _straight_on(legs: Sequence[Run], junction: typed.Joint | None) -> tuple[Run, Run] | None:
    """The two runs that are one pipe at a joint: both of two, or those in line in a tee or wye."""
    if junction is not None:
        in_line = [run for run in legs if run.name in junction.in_line]
        return (in_line[0], in_line[1]) if len(in_line) == 2 else None
    return (legs[0], legs[1]) if len(legs) == 2 else None


def _has_heading(run: Run) -> bool:
    return any(piece.heading for piece in run.pieces)


def _before(run: Run, joint: str, joints: Mapping[str, Sequence[Run]]) -> list[Piece]:
    """From the last pipe with a heading up to a joint, out of the runs before this one where it has none itself."""
    pieces = _toward(run, joint)
    at = max((n for n, piece in enumerate(pieces) if piece.heading), default=None)
    if at is not None:
        return list(pieces[at:])
    begin = run.start if run.end == joint else run.end
    others = [leg for leg in joints.get(begin, ()) if leg.name != run.name]
    if len(others) != 1:
        return list(pieces)
    elsewhere = {name: legs for name, legs in joints.items() if name != begin}  # runs in a ring are gone round once
    return [*_before(others[0], begin, elsewhere), *pieces]


def _toward(run: Run, joint: str) -> Sequence[Piece]:
    """The pieces of a run walked towards one of its joints."""
    return run.pieces if run.end == joint else _turned_round(run.pieces)


def _away(run: Run, joint: str) -> Sequence[Piece]:
    return run.pieces if run.start == joint else _turned_round(run.pieces)


def _turned_round(pieces: Sequence[Piece]) -> list[Piece]:
    return [
        replace(piece, heading=None if piece.heading is None else opposite(piece.heading)) for piece in reversed(pieces)
    ]


def _first(pieces: Sequence[Piece]) -> list[Piece]:
    """The first pipe with a heading and all before it."""
    at = min((n for n, piece in enumerate(pieces) if piece.heading), default=len(pieces) - 1)
    return list(pieces[: at + 1])


def joint_between(first: Run, second: Run) -> str:
    """The joint at which two runs of a way meet."""
    shared = {first.start, first.end} & {second.start, second.end}
    return min(shared - {typed.OUTDOORS})
