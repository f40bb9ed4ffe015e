"""A sweep as text with its chart, as an object for JSON, and as rows for CSV."""

from __future__ import annotations

import csv
import io
import string
import textwrap
from collections.abc import Iterator, Sequence
from typing import Any

from ventsize.quantity import System, display_unit, display_value
from ventsize.report.chart import Line, bar, line_chart
from ventsize.report.findings_json import findings_as_objects
from ventsize.report.text_parts import WIDTH, as_text, head, sentences
from ventsize.report.wording import say_all
from ventsize.report.wording.sweeps import TITLES, WHY_UNSURE
from ventsize.studies.sweeps import Axis, Bar, Series, Sweep

LETTERS = string.ascii_uppercase
HEIGHT = 18
ROWS = 7  # of the list of figures under a chart


@as_text
def render(sweep: Sweep, system: System) -> Iterator[str]:
    """The chart, its figures, and what to notice."""
    *first, last = textwrap.wrap(title_of(sweep), WIDTH)
    yield from first
    yield from head(last)
    if sweep.across is not None:
        yield from chart(sweep, system, width=WIDTH, height=HEIGHT)
        yield ""
        yield from legend(sweep, system)
        yield ""
        yield from figures(sweep, system)
    else:
        yield from bars(sweep, system, width=WIDTH)
        yield from sentences("Where they come from", dict.fromkeys(f"{b.name}: {source_of(b)}" for b in sweep.bars))
    yield from sentences("What to notice", say_all(sweep.notice, system))
    yield from sentences("Cautions", say_all(sweep.cautions, system))


def title_of(sweep: Sweep) -> str:
    """What the picture is headed with."""
    return TITLES[sweep.kind].format(run=sweep.run, rate=sweep.rate, fitting=sweep.fitting, size=sweep.size)


def source_of(entry: Bar) -> str:
    """Where a bar comes from, and why it is not counted."""
    if entry.by_table:
        return "the run's allowance table"
    if entry.method is not None:
        left_out = "" if entry.method.in_spread else f"; not counted: {entry.method.why_not}"
        return f"{entry.method.source}{left_out}"
    over = ", over a plain open end, which the table includes" if entry.over_open_end else ""
    return ("fixed coefficient" if entry.fixed else "published methods") + over


def remark_of(entry: Bar) -> str:
    """What is said behind a bar: the coefficient and whether it is taken or counted."""
    method = entry.method
    if method is None:
        return "it decides" if entry.by_table else ""
    counted = ", taken" if method.nominal else "" if method.in_spread else ", not counted"
    return f"K {method.k:.3f}{counted}{', extrapolated' if method.extrapolated else ''}"


def axis_title(axis: Axis, system: System) -> str:
    """`firing rate [Btu/h]`."""
    unit = unit_of(axis, system)
    return f"{axis.title} [{unit}]" if unit else axis.title


def unit_of(axis: Axis, system: System) -> str:
    """The unit an axis is shown in; empty for plain numbers."""
    return "" if axis.dimension is None else display_unit(axis.dimension, system, style=axis.style)


def shown(value: float, axis: Axis, system: System) -> float:
    """A value [SI] as a number in the unit of its axis."""
    return value if axis.dimension is None else display_value(value, axis.dimension, system, style=axis.style)


def chart(sweep: Sweep, system: System, *, width: int, height: int) -> list[str]:
    """The lines, each with its letter, the unsure stretch dotted over."""
    across = sweep.across
    assert across is not None
    lines = [
        Line(
            name=series.name,
            points=[(shown(x, across, system), shown(y, sweep.up, system)) for x, y in series.points],
            dashed=series.beside,
            mark=letter,
            apart=series.apart,
        )
        for letter, series in zip(LETTERS, sweep.series, strict=False)
    ]
    least = min(x for line in lines for x, _ in line.points)
    most = max(x for line in lines for x, _ in line.points)
    unsure = sweep.unsure and (shown(sweep.unsure[0], across, system), shown(sweep.unsure[1], across, system))
    return line_chart(
        lines,
        width=width,
        height=height,
        across=unit_of(across, system) or across.title,
        up=axis_title(sweep.up, system),
        start=least if least > 0.3 * most else 0.0,
        unsure=unsure,
        places=[(shown(here.at, across, system), "▲") for here in sweep.here],
    )


def legend(sweep: Sweep, system: System, *, width: int = WIDTH) -> list[str]:
    """What the letters are, where the job stands, and why a stretch is dotted."""
    names = [
        f"{letter} {series.name}{' (dashed)' if series.beside and not series.apart else ''}"
        for letter, series in zip(LETTERS, sweep.series, strict=False)
    ]
    said = textwrap.wrap("   ".join(name.replace(" ", "\0") for name in names), width)
    said = [line.replace("\0", " ") for line in said]
    if sweep.across is not None and sweep.here:
        places = ", ".join(f"{h.name} {as_number(shown(h.at, sweep.across, system))}" for h in sweep.here)
        said += textwrap.wrap(f"▲ {places} {unit_of(sweep.across, system)}".rstrip(), width)
    if sweep.unsure is not None:
        said += textwrap.wrap(f"Dotted: {WHY_UNSURE}.", width)
    return said


def figures(sweep: Sweep, system: System) -> Iterator[str]:
    """The lines at a few places, as a list."""
    assert sweep.across is not None
    yield from textwrap.wrap(f"{axis_title(sweep.up, system)} by {axis_title(sweep.across, system)}", WIDTH)
    letters = LETTERS[: len(sweep.series)]
    wide = min(10, (WIDTH - 14) // len(letters))
    yield "  " + f"{'':>12}" + "".join(f"{letter:>{wide}}" for letter in letters)
    places = sorted({x for series in sweep.series for x, _ in series.points})
    step = max(1, (len(places) - 1) // (ROWS - 1))
    for x in dict.fromkeys([*places[::step], places[-1]]):
        cells = [_cell(series, x, sweep.up, system) for series in sweep.series]
        yield ("  " + f"{as_number(shown(x, sweep.across, system)):>12}" + "".join(f"{cell:>{wide}}" for cell in cells))


def _cell(series: Series, x: float, up: Axis, system: System) -> str:
    found = [y for at, y in series.points if at == x]
    return as_number(shown(found[0], up, system)) if found else "-"


def as_number(value: float) -> str:
    """A figure beside a line or bar, to four digits."""
    if value and abs(value) < 0.1:
        return f"{value:.3g}"
    return f"{value:,.0f}" if abs(value) >= 1000 else f"{value:.4g}"


def bars(sweep: Sweep, system: System, *, width: int) -> list[str]:
    """A bar for each entry; where something is set beside it, a second bar under it."""
    most = max(max(b.value, b.beside or 0.0, b.high or 0.0) for b in sweep.bars)
    name_width = min(28, max(len(b.name) for b in sweep.bars) + 1)
    room = max(10, width - name_width - 36)
    lines = [axis_title(sweep.up, system)]
    for entry in sweep.bars:
        pairs = [(entry.name, entry.value, "", _remark(entry, sweep, system))]
        if entry.beside is not None:
            pairs.append((f"  {sweep.beside}", entry.beside, "░", ""))
        for name, value, block, remark in pairs:
            drawn = bar(value / most if most else 0.0, room)
            drawn = block * max(1, len(drawn)) if block and drawn else drawn
            figure = as_number(shown(value, sweep.up, system))
            lines.append(f"{name:<{name_width}}{drawn:<{room}} {figure:>7}  {remark}"[:width].rstrip())
    return lines


def _remark(entry: Bar, sweep: Sweep, system: System) -> str:
    if entry.low is None or entry.high is None:
        return remark_of(entry)
    low, high = (as_number(shown(value, sweep.up, system)) for value in (entry.low, entry.high))
    return f"{low} to {high}"


def as_object(sweep: Sweep, system: System) -> dict[str, Any]:
    """The sweep in SI units, with the units named."""
    return {
        "sweep": sweep.kind,
        "title": title_of(sweep),
        "across": None if sweep.across is None else _axis_object(sweep.across),
        "up": _axis_object(sweep.up),
        "series": [
            {"name": s.name, "set_beside": s.beside, "points": [list(point) for point in s.points]}
            for s in sweep.series
        ],
        "bars": [
            {"name": b.name, "value": b.value, "low": b.low, "high": b.high, "beside": b.beside, "source": source_of(b),
             "remark": remark_of(b)}
            for b in sweep.bars
        ],
        "here": {h.name: h.at for h in sweep.here},
        "unsure": None if sweep.unsure is None else {"between": list(sweep.unsure), "why": WHY_UNSURE},
        "notice": list(say_all(sweep.notice, system)),
        "cautions": list(say_all(sweep.cautions, system)),
        "findings": findings_as_objects((*sweep.notice, *sweep.cautions), system),
    }  # fmt: skip


def _axis_object(axis: Axis) -> dict[str, str]:
    from ventsize.quantity.dimensions import SI_UNITS

    unit = "" if axis.dimension is None else SI_UNITS[axis.dimension]
    return {"title": axis.title, "unit": unit.replace("dimensionless", "")}


def as_csv(sweep: Sweep, system: System) -> str:
    """The figures as rows, in the chosen units, the units in the heads."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    up = axis_title(sweep.up, system)
    if sweep.across is None:
        writer.writerow(["name", up, "low", "high", sweep.beside or "beside", "source", "remark"])
        for entry in sweep.bars:
            found = (entry.value, entry.low, entry.high, entry.beside)
            cells = ["" if v is None else repr(shown(v, sweep.up, system)) for v in found]
            writer.writerow([entry.name, *cells, source_of(entry), remark_of(entry)])
        return out.getvalue()
    writer.writerow([axis_title(sweep.across, system), *(f"{s.name}: {up}" for s in sweep.series)])
    at = [dict(s.points) for s in sweep.series]
    places: Sequence[float] = sorted({x for points in at for x in points})
    for x in places:
        values = [repr(shown(points[x], sweep.up, system)) if x in points else "" for points in at]
        writer.writerow([repr(shown(x, sweep.across, system)), *values])
    return out.getvalue()
