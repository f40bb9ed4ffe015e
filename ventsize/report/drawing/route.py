"""A laid-out run drawn as pipe is sketched on site: in isometric, the uprights upright, north up to the right."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

from ventsize.jobfile.job import OUTDOORS
from ventsize.quantity import System, show_length
from ventsize.report.drawing.labels import Labels
from ventsize.report.drawing.model import Box, Dot, Drawing, Line, Mark, Point, Words, width_of
from ventsize.report.reach import reach_in_words
from ventsize.run.model import Run
from ventsize.run.route import Leg, route_of

_COS, _SIN = math.cos(math.radians(30)), math.sin(math.radians(30))
_SHORTEST = 26.0  # pt; a pipe is drawn no shorter, or it could not be seen
_EDGE, _EDGE_SHARE = 74.0, 0.22  # pt, and of the width; beside the route, for its labels
_NORTH_ROOM, _BAND = 62.0, 30.0  # pt; how far the arrow to the north stays away from pipes, else the band it gets
_SIZE = 8.5


def route(run: Run, system: System, *, width: float = 468.0, height: float = 270.0) -> Drawing | None:
    """A run's route with the number and length of each pipe; None for a run that is not laid out, or has no pipe."""
    legs = route_of(run)
    if not legs:
        return None
    places, stretched = _scaled(legs, width - 2 * min(_EDGE, _EDGE_SHARE * width), height - 2 * 34.0)
    left, top = min(x for x, _ in places), min(y for _, y in places)
    wide, high = max(x for x, _ in places) - left, max(y for _, y in places) - top
    height = min(height, max(120.0, high + 2 * 34.0))
    shift = ((width - wide) / 2 - left, (height - high) / 2 - top)
    points = [(x + shift[0], y + shift[1]) for x, y in places]
    arrow, free = _free_corner(points, width, height)
    if free < _NORTH_ROOM:  # no corner has room: the arrow gets a band of its own above the route
        points = [(x, y + _BAND) for x, y in points]
        height += _BAND
        arrow = (width - 62.0, 26.0)
    marks = [*_north(arrow), *_drawn(run, legs, points, system, (width, height - 12.0), arrow)]
    if stretched:
        marks.append(Words(6.0, height - 6.0, "not to scale: short pipes are drawn longer", 7.5))
    return Drawing(
        width=width,
        height=height,
        marks=tuple(marks),
        title=f"Route of {run.name}, from {run.start} to {run.end}",
        description=_in_words(legs, system),
    )


def _in_words(legs: Sequence[Leg], system: System) -> str:
    ways = ", then ".join(
        f"{show_length(leg.piece.length, system)} {'with no heading given' if leg.assumed else leg.heading}"
        for leg in legs
    )
    return f"{ways}. The end, seen from the start: {reach_in_words(legs, system)}"


def _flat(leg: Leg) -> Point:
    """A leg's extent on paper [m]."""
    east, north, up = (b - a for a, b in zip(leg.start, leg.end, strict=True))
    return (east + north) * _COS, (east - north) * _SIN - up


def _scaled(legs: Sequence[Leg], width: float, height: float) -> tuple[list[Point], bool]:
    """The ends of the legs on paper, as large as fits; whether a short one had to be drawn longer."""
    scale = 400.0
    while True:
        points, stretched = _laid(legs, scale)
        xs, ys = [x for x, _ in points], [y for _, y in points]
        if (max(xs) - min(xs) <= width and max(ys) - min(ys) <= height) or scale < 1e-2:
            return points, stretched
        scale *= 0.93


def _laid(legs: Sequence[Leg], scale: float) -> tuple[list[Point], bool]:
    points, stretched = [(0.0, 0.0)], False
    for leg in legs:
        across, down = _flat(leg)
        long = math.hypot(across, down)
        by = scale
        if long and long * scale < _SHORTEST:
            by, stretched = _SHORTEST / long, True
        points.append((points[-1][0] + across * by, points[-1][1] + down * by))
    return points, stretched


def _free_corner(points: Sequence[Point], width: float, height: float) -> tuple[Point, float]:
    """Where an arrow can stand: the corner that the route keeps furthest away from, and how far that is."""
    along = [
        (a[0] + (b[0] - a[0]) * n / 8, a[1] + (b[1] - a[1]) * n / 8)
        for a, b in zip(points, points[1:], strict=False)
        for n in range(9)
    ]
    corners = ((width - 62.0, 40.0), (22.0, 40.0), (width - 62.0, height - 30.0))

    def away(corner: Point) -> float:
        return min(math.dist((corner[0] + 16.0, corner[1] - 7.0), point) for point in along)

    best = max(corners, key=lambda corner: min(120.0, away(corner)))
    return best, away(best)


def _north(place: Point) -> Iterator[Mark]:
    """An arrow to the north, as it lies in the drawing, from a place."""
    (x, y), long = place, 26.0
    tip = (x + long * _COS, y - long * _SIN)
    yield Line(((x, y), tip), "axis")
    yield Line((tip, (tip[0] - 7.5, tip[1] + 1.2), (tip[0] - 4.6, tip[1] + 6.4)), "upright", closed=True)
    yield Words(tip[0] + 4.0, tip[1] + 2.0, "N", 9.0, strong=True)


def _drawn(
    run: Run, legs: Sequence[Leg], points: Sequence[Point], system: System, room: tuple[float, float], arrow: Point
) -> Iterator[Mark]:
    spans = list(zip(points, points[1:], strict=False))
    first, last = points[0], points[-1]
    joints = _fittings(run, points)
    for leg, span in zip(legs, spans, strict=True):
        yield Line(span, "pipe-assumed" if leg.assumed else "pipe")
    dots = [(first, 9.0), (last, 9.0), *((point, 5.0) for point, _ in joints)]
    middle = (arrow[0] + 16.0, arrow[1] - 7.0)
    labels = Labels(spans, [*dots, (middle, 20.0)], width=room[0], height=room[1])
    for joint, point in ((run.start, first), (run.end, last)):
        yield from _end(joint, point, labels)
    for point, _ in joints:
        if point not in (first, last):
            yield Dot(*point, 4.0, "fitting")
    size = ""
    for leg, (start, end) in zip(legs, spans, strict=True):
        number = f"{run.pieces.index(leg.piece) + 1}"
        texts = [f"{number}: {show_length(leg.piece.length, system)}", number]
        if leg.piece.section.label != size:
            size = leg.piece.section.label
            texts.insert(0, f"{texts[0]} of {size}")
        # The longest for which there is room.
        yield from itertools.islice(filter(None, (labels.beside(start, end, text, _SIZE) for text in texts)), 1)
    for point, numbers in joints:
        if (words := labels.beside(point, point, numbers, 7.0)) is not None:
            yield words


def _end(joint: str, point: Point, labels: Labels) -> Iterator[Mark]:
    """Where a run starts or ends: a ring outdoors, a box at an appliance or a joint."""
    x, y = point
    if joint == OUTDOORS:
        yield Dot(x, y, 5.0, "opening")
    else:
        yield Box(x - 7.0, y - 7.0, 14.0, 14.0, "appliance")
    shown = joint if len(joint) <= 24 else joint[:23] + "…"
    if (words := labels.beside(point, point, shown, _SIZE)) is not None:
        yield Words(words.x, words.y, shown, _SIZE, strong=width_of(shown, _SIZE) < 60)


def _fittings(run: Run, points: Sequence[Point]) -> list[tuple[Point, str]]:
    """Where fittings sit, and their numbers in the run."""
    found: dict[int, list[int]] = {}
    after = 0
    for number, piece in enumerate(run.pieces, start=1):
        if piece.is_pipe:
            after += 1
        else:
            found.setdefault(after, []).append(number)
    return [(points[at], ", ".join(map(str, numbers))) for at, numbers in found.items()]
