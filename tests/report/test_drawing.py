"""Drawings: to scale where they say so, inside their frame, and readable without color."""

from __future__ import annotations

import itertools
import math
from pathlib import Path
from xml.etree import ElementTree

import pytest

from ventsize.catalog.folders import shipped_folder
from ventsize.check.inputs import read_inputs
from ventsize.check.verdict import check
from ventsize.quantity import System
from ventsize.report.drawing import Bar, Box, Dot, Drawing, Line, Series, Words, bars, line_chart, svg, width_of
from ventsize.report.drawing.charts import tick_label, ticks
from ventsize.report.drawing.route import route
from ventsize.report.drawing.strip import strip
from ventsize.report.drawing.styles import SERIES, STYLES
from ventsize.report.job_paper.pictures import pressure_along
from ventsize.run.route import route_of

SCENARIOS = sorted(shipped_folder("scenarios").glob("*.toml"))


def pictures(job: Path) -> list[Drawing]:
    """Every picture that the paper of a job can have."""
    inputs = read_inputs(job)
    made: list[Drawing | None] = []
    for run in check(inputs).runs:
        made += [route(run.run, System.US), route(run.run, System.US, width=250, height=150)]
        made += [strip(run.run, System.US), pressure_along(run, System.SI, height=240.0)]
    return [drawing for drawing in made if drawing is not None]


def extent(drawing: Drawing) -> tuple[float, float, float, float]:
    """What the marks reach over: left, top, right, bottom."""
    xs, ys = [], []
    for mark in drawing.marks:
        match mark:
            case Line():
                xs += [x for x, _ in mark.points]
                ys += [y for _, y in mark.points]
            case Box():
                xs += [mark.x, mark.x + mark.width]
                ys += [mark.y, mark.y + mark.height]
            case Dot():
                xs += [mark.x - mark.radius, mark.x + mark.radius]
                ys += [mark.y - mark.radius, mark.y + mark.radius]
            case Words():
                wide = width_of(mark.text, mark.size)
                left = mark.x - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.anchor]
                xs += [left, left + wide]
                ys += [mark.y - mark.size, mark.y + 0.3 * mark.size]
    return min(xs), min(ys), max(xs), max(ys)


@pytest.mark.parametrize("job", SCENARIOS, ids=lambda path: path.stem)
def test_pictures_stay_in_their_frame(job: Path) -> None:
    """Nothing is cut off at the edge, the words included; each picture is XML and says what it shows."""
    for drawing in pictures(job):
        left, top, right, bottom = extent(drawing)
        assert left >= -0.5 and top >= -0.5, drawing.title
        assert right <= drawing.width + 0.5 and bottom <= drawing.height + 0.5, drawing.title
        root = ElementTree.fromstring(svg(drawing))
        assert root.attrib["aria-label"].startswith(drawing.title)


@pytest.mark.parametrize("job", SCENARIOS, ids=lambda path: path.stem)
def test_a_route_is_drawn_as_it_lies(job: Path) -> None:
    """Isometric projection (ISO 5456-3): uprights upright, east and north at 30° to the level, one scale for all.

    Pipes too short to be seen are drawn longer, and the drawing says so.
    """
    for run in read_inputs(job).graph.runs.values():
        drawing, legs = route(run, System.US), route_of(run)
        if drawing is None or not legs:
            continue
        lines = [m for m in drawing.marks if isinstance(m, Line) and m.role in ("pipe", "pipe-assumed")]
        scales = []
        for leg, line in zip(legs, lines, strict=True):
            (x0, y0), (x1, y1) = line.points
            level = abs(leg.rise) < 1e-9
            if leg.across < 1e-9:
                assert x1 == pytest.approx(x0) and (y0 - y1) * leg.rise > 0
            elif level and leg.heading in ("east", "north"):
                slope = math.tan(math.radians(30 if leg.heading == "east" else -30))
                assert (y1 - y0) / (x1 - x0) == pytest.approx(slope)
            if level or leg.across < 1e-9:
                scales.append(math.dist((x0, y0), (x1, y1)) / leg.piece.length)
        if not any(isinstance(m, Words) and "not to scale" in m.text for m in drawing.marks):
            assert scales == pytest.approx([scales[0]] * len(scales))


def luminance(color: str) -> float:
    """Relative luminance, W3C WCAG 2.2."""
    parts = [int(color[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_lines_can_be_seen_and_told_apart_without_color() -> None:
    """WCAG 2.2, 1.4.11: 3 to 1 against white paper, but for the grid; every line of a chart has a dash of its own."""
    for role, style in STYLES.items():
        if style.stroke is not None and role != "grid":
            assert 1.05 / (luminance(style.stroke) + 0.05) >= 3.0, role
    dashes = [STYLES[role].dash for role in (*SERIES, "beside", "limit")]
    assert len(set(dashes)) == len(dashes)
    one, other = (luminance(STYLES[role].fill or "") for role in ("bar", "bar-other"))
    assert (max(one, other) + 0.05) / (min(one, other) + 0.05) >= 2.0  # two grays


def test_a_chart_puts_points_where_they_belong() -> None:
    """Straight proportion between the axes' ends, and the highest value highest."""
    drawing = line_chart([Series("a", ((0.0, 0.0), (5.0, 2.0), (10.0, 4.0)))], across="ft", up="Pa", title="t")
    line = next(mark for mark in drawing.marks if isinstance(mark, Line) and mark.role == "series-1")
    (x0, y0), (x1, y1), (x2, y2) = line.points
    assert x1 == pytest.approx((x0 + x2) / 2) and y1 == pytest.approx((y0 + y2) / 2)
    assert x0 < x2 and y0 > y2


def test_a_rule_beside_has_its_own_look_and_what_is_listed_is_dots() -> None:
    """Colors go to the calculated lines alone; letters of lines that lie together do not; a place has its name."""
    points = tuple((float(x), 1.0) for x in range(9))
    series = [Series("first", points, letter="A"), Series("the table", points[:2], beside=True),
              Series("second", points, letter="B"), Series("listed", points[:3], beside=True, apart=True)]  # fmt: skip
    drawing = line_chart(
        series,
        across="ft",
        up="Pa",
        title="t",
        places=[(7.0, "this run")],
        shaded=(6.5, 8.0, "nobody can say it for sure"),
        width=234.0,
    )
    roles = [mark.role for mark in drawing.marks if isinstance(mark, Line) and mark.role not in ("grid", "axis")]
    assert roles == ["series-1", "beside", "series-2", "limit", "series-1", "beside", "series-2"]  # lines, then legend
    assert len([m for m in drawing.marks if isinstance(m, Dot) and m.role == "beside"]) == 3 + 1
    words = {mark.text: mark for mark in drawing.marks if isinstance(mark, Words)}
    assert words["A"].x < words["B"].x - 9 and {"this run", "nobody can say it for sure"} <= set(words)
    assert all(m.x >= 0 and m.x + (m.anchor == "start") * width_of(m.text, m.size) <= drawing.width + 1
               for m in words.values())  # fmt: skip


@pytest.mark.parametrize(
    ("low", "high"), [(0.0, 1.0), (0.0, 0.0), (0.0, 1e-6), (-3.0, 17.0), (0.0, 12345.0), (0.0, 0.145), (-1e-9, 0.0)]
)
def test_ticks_are_round_and_cover(low: float, high: float) -> None:
    """From at or below the lowest to at or above the highest, evenly, each label another."""
    found = ticks(low, high)
    assert found[0] <= low + 1e-12 and found[-1] >= high - 1e-12 and 2 <= len(found) <= 9
    steps = [b - a for a, b in itertools.pairwise(found)]
    assert steps == pytest.approx([steps[0]] * len(steps))
    if steps[0] >= 1e-6:
        assert len({tick_label(value, found) for value in found}) == len(found)


def test_bars_are_as_long_as_their_values() -> None:
    """Half the value, half the bar; none at all is still a bar to be seen."""
    drawing = bars([Bar("a", 4.0, "4"), Bar("b", 2.0, "2"), Bar("c", 0.0, "0")], title="t")
    boxes = [mark for mark in drawing.marks if isinstance(mark, Box)]
    assert boxes[1].width == pytest.approx(boxes[0].width / 2) and boxes[2].width > 0
    assert bars([], title="none").height > 0


def test_charts_of_nothing() -> None:
    """No line, or a single point, is a picture all the same."""
    for series in ([], [Series("a", ())], [Series("a", ((0.0, 0.0),))]):
        assert svg(line_chart(series, across="x", up="y", title="t")).startswith("<svg")
