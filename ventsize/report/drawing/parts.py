"""Single pipes and elbows as they look from the side, with their dimensions: for exercises and lessons."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ventsize.report.drawing.model import Drawing, Line, Mark, Point, Words, width_of

_SIZE = 9.0


def pipe_sketch(length: str, size: str, *, title: str, width: float = 220.0) -> Drawing:
    """A straight pipe with its length below and its size within; both as they are to be written."""
    left, right, top, bottom = 14.0, width - 14.0, 16.0, 46.0
    middle = (top + bottom) / 2
    marks: list[Mark] = [
        Line(((left, top), (right, top), (right, bottom), (left, bottom)), "fitting", closed=True),
        Line(((left - 8, middle), (right + 8, middle)), "center"),
        Words(width / 2, middle - 4, size, _SIZE, "middle"),
        *_measure((left, bottom + 14), (right, bottom + 14), length),
    ]
    return Drawing(width=width, height=82.0, marks=tuple(marks), title=title, description=f"{size}, {length} long")


def elbow_sketch(angle: float, size: str, *, sharp: bool, title: str) -> Drawing:
    """An elbow from the side. angle: it turns by [rad]; sharp: mitered, or of a short radius, without a round."""
    bore, radius, leg = 30.0, 17.0 if sharp else 38.0, 34.0
    middle, inner, outer = (_bend(angle, radius, by, leg) for by in (0.0, -bore / 2, bore / 2))
    everything = [*inner, *outer]
    left, top = min(x for x, _ in everything), min(y for _, y in everything)
    wide = max(x for x, _ in everything) - left + 40.0
    high = max(y for _, y in everything) - top + 44.0
    wide = max(wide, width_of(title, _SIZE) + 12.0)

    def moved(points: list[Point]) -> tuple[Point, ...]:
        return tuple((x - left + 20.0, y - top + 12.0) for x, y in points)

    marks: list[Mark] = [
        Line((*moved(outer), *reversed(moved(inner))), "fitting", closed=True),
        Line(moved(middle), "center"),
        Words(wide / 2, high - 8.0, f"{size}, {math.degrees(angle):g}°", _SIZE, "middle"),
    ]
    said = f"{size}, turning by {math.degrees(angle):g}°, {'sharp' if sharp else 'rounded'}"
    return Drawing(width=wide, height=high, marks=tuple(marks), title=title, description=said)


def _bend(angle: float, radius: float, by: float, leg: float) -> list[Point]:
    """A line through a bend, `by` away from its middle: in from the left, then upwards."""
    points = [(-leg, by)]
    for n in range(17):
        turned = angle * n / 16
        points.append(((radius + by) * math.sin(turned), -radius + (radius + by) * math.cos(turned)))
    x, y = points[-1]
    return [*points, (x + leg * math.cos(angle), y - leg * math.sin(angle))]


def _measure(start: Point, end: Point, text: str) -> Iterator[Mark]:
    """A dimension line with its ticks and what it measures."""
    yield Line((start, end), "note")
    for x, y in (start, end):
        yield Line(((x, y - 4), (x, y + 4)), "note")
    yield Words((start[0] + end[0]) / 2, start[1] + 13, text, _SIZE, "middle")
