"""Jobs side by side, as text with a chart and bars, and as an object for JSON."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from ventsize.finding import Finding
from ventsize.quantity import (
    Dimension,
    System,
    display_unit,
    display_value,
    show_number,
    show_pressure,
)
from ventsize.report.chart import Line, bar, line_chart
from ventsize.report.keys import Keys, keyed
from ventsize.report.text_parts import WIDTH, as_text, head, indented, sentences, signed_pressure
from ventsize.report.wording import reason, say, say_all
from ventsize.studies.comparing import Compared, Comparison, Part
from ventsize.studies.comparing.parts import PIECES

HEIGHT = 16
ALIKE = 5e-3  # of the loss; nearer than this, figures as they are shown hardly differ
WORTH_SAYING = 0.02  # of the largest share; less is left to the list
MEAN = (
    "what a change makes is the mean over every order in which the changes could be made; together they are the whole "
    "difference"
)
_LABEL = 24
Figure = Callable[[Compared], str | float | None]


@as_text
def render(found: Comparison, system: System) -> Iterator[str]:
    """The figures beside each other, what differs, the pressure along each, where it goes, what made the difference."""
    yield from head(f"Side by side: {found.run}")
    yield from (line for one in found.compared for line in _name(one, system))
    yield ""
    yield from figures(found, system, width=WIDTH)
    yield ""
    yield from chart(found, system, width=WIDTH, height=HEIGHT)
    yield ""
    yield from bars(found, system, width=WIDTH)
    yield from sentences("What made the difference", what_made_it(found, system))
    yield from _shares(found, system)
    yield from sentences("Cautions", cautions(found, system))


def _name(one: Compared, system: System) -> list[str]:
    lines = textwrap.wrap(f"{one.name}  {one.title}", WIDTH, subsequent_indent="   ")
    for said in told(one.differences, system):
        lines += indented(said, "     » ", "       ")
    return lines


def told(differences: Iterable[Finding], system: System) -> list[str]:
    """What differs, a few words each."""
    return [say(one, system) for one in differences]


def what_made_it(found: Comparison, system: System) -> tuple[str, ...]:
    """What made each job's loss another than the first's, a sentence each."""
    return tuple(_sentence(found.compared[0], other, system) for other in found.compared[1:])


def _sentence(base: Compared, other: Compared, system: System) -> str:
    differing, before = told(other.differences, system), base.pressure_drop
    name, apart = other.name, other.pressure_drop - before
    if not differing:
        return f"{name} is {base.name}: nothing differs."
    if not math.isfinite(apart):
        return f"{name} cannot be set beside {base.name}: a loss could not be computed."
    if abs(apart) <= ALIKE * max(before, other.pressure_drop):
        return f"{name} loses as much as {base.name}: {'; '.join(differing)} makes no difference to the loss."
    more = "more" if apart > 0 else "less"
    times = f", {other.pressure_drop / before:.2f} times as much" if before > 0 else ""
    loses = f"{name} loses {show_pressure(abs(apart), system)} {more} than {base.name}{times}"
    shares = other.parts
    if len(differing) == len(shares) == 1 and shares[0].name != PIECES:
        return f"{loses}: all of it from {differing[0]}."
    causes = [share for share in shares if abs(share.pressure) >= WORTH_SAYING * abs(shares[0].pressure)]
    return f"{loses}: {', '.join(_cause(share, system) for share in causes)}".rstrip(".") + "."


def _cause(part: Part, system: System) -> str:
    does = ("add" if part.pressure > 0 else "take off") + "s" * (part.name != PIECES and part.pressure > 0)
    does = "takes off" if part.name != PIECES and part.pressure <= 0 else does
    said = f"{part.name} {does} {show_pressure(abs(part.pressure), system)}"
    pieces = sorted(part.by_piece, key=lambda pair: -abs(pair[1]))
    shown = [pair for pair in pieces if abs(pair[1]) >= WORTH_SAYING * abs(pieces[0][1]) and pair[1]]
    if part.name != PIECES or not shown:
        return said
    inside = [f"{name} {signed_pressure(pressure, system)}" for name, pressure in shown]
    return f"{said} ({', '.join(inside)})"


def cautions(found: Comparison, system: System) -> tuple[str, ...]:
    """What to know of a comparison."""
    rates = dict.fromkeys(one.rate for one in found.compared)
    several = (f"the runs are compared at rates of different names: {', '.join(rates)}",) if len(rates) > 1 else ()
    return (MEAN, *several, *say_all(found.findings, system))


FIGURES: tuple[tuple[str, Dimension | None, Figure], ...] = (
    ("verdict", None, lambda one: one.verdict),
    ("left by the table", Dimension.LENGTH, lambda one: one.margin),
    ("rate", None, lambda one: one.rate),
    ("flow", Dimension.VOLUME_FLOW, lambda one: one.flow),
    ("velocity", Dimension.VELOCITY, lambda one: one.velocity),
    ("Reynolds number", None, lambda one: f"{one.reynolds:,.0f}"),
    ("straight pipe", Dimension.LENGTH, lambda one: one.straight_length),
    ("pressure drop", Dimension.PRESSURE, lambda one: one.pressure_drop),
    ("as straight", Dimension.LENGTH, lambda one: one.equivalent_length),
    ("allowance", Dimension.PRESSURE, lambda one: one.budget_pressure),
)


def cell(value: str | float | None, dimension: Dimension | None, system: System) -> str:
    """Without its unit, which the row names."""
    return str(value) if isinstance(value, str) or dimension is None else show_number(value, dimension, system)


def figures(found: Comparison, system: System, *, width: int) -> Iterator[str]:
    """A column for each job; what is not as in the first is marked."""
    room = (width - _LABEL) // len(found.compared)
    yield f"{'':<{_LABEL}}" + "".join(f"{one.name[: room - 1]:<{room}}" for one in found.compared).rstrip()
    for title, dimension, figure in FIGURES:
        label = title if dimension is None else f"{title}, {display_unit(dimension, system)}"
        cells = [cell(figure(one), dimension, system) for one in found.compared]
        marked = [shown + ("*" if number and shown != cells[0] else "") for number, shown in enumerate(cells)]
        wrapped = [textwrap.wrap(shown, room - 1) or [""] for shown in marked]
        for line in range(max(map(len, wrapped))):
            parts = (f"{(lines[line] if line < len(lines) else ''):<{room}}" for lines in wrapped)
            yield (f"{label if not line else '':<{_LABEL}}" + "".join(parts)).rstrip()
    yield f"{'':<{_LABEL}}* not as in {found.compared[0].name}"


def chart(found: Comparison, system: System, *, width: int, height: int) -> list[str]:
    """The loss still ahead along each run, over each other."""
    lines = [
        Line(
            name=one.name,
            points=[
                (display_value(x, Dimension.LENGTH, system), display_value(y, Dimension.PRESSURE, system))
                for x, y in one.points
            ],
            mark=one.name[:1],
        )
        for one in found.compared
    ]
    up, across = display_unit(Dimension.PRESSURE, system), display_unit(Dimension.LENGTH, system)
    drawn = line_chart(lines, width=width, height=height, across=across, up=up)
    return [f"Pressure still to be lost along the run, {drawn[0]}", *drawn[1:]]


def bars(found: Comparison, system: System, *, width: int) -> Iterator[str]:
    """For each kind of piece a bar a job."""
    names = list(dict.fromkeys(name for one in found.compared for name, _ in one.losses))
    losses = [dict(one.losses) for one in found.compared]
    most = max((abs(loss) for each in losses for loss in each.values()), default=0.0)
    yield f"Where it goes, {display_unit(Dimension.PRESSURE, system)}"
    label = min(24, max(map(len, names), default=0) + 1)
    room = max(8, width - label - 16)
    for name in names:
        for number, (one, each) in enumerate(zip(found.compared, losses, strict=True)):
            loss = each.get(name)
            figure = "none" if loss is None else show_number(loss, Dimension.PRESSURE, system)
            drawn = bar(None if loss is None or not most else abs(loss) / most, room)
            yield f"{name if not number else '':<{label}}{one.name[:3]:<4}{drawn:<{room}}{figure:>9}"


def _shares(found: Comparison, system: System) -> Iterator[str]:
    """Each change's share, and that they add up."""
    for one in found.compared[1:]:
        if len(one.parts) < 2:
            continue
        yield ""
        yield f"  {one.name}, change by change:"
        for part in one.parts:
            yield f"    {part.name:<40}{signed_pressure(part.pressure, system):>16}"
        yield f"    {'together':<40}{signed_pressure(one.together, system):>16}"


def as_object(found: Comparison, system: System) -> dict[str, Any]:
    """Jobs side by side in SI units; keys end in their unit."""
    said = ("", *what_made_it(found, system))
    return {
        "run": found.run,
        "compared": [
            {
                **_COMPARED(one),
                "reason": reason(one.decides, system, with_run=False),
                "losses_Pa": dict(one.losses),
                "along": keyed(one.points, "distance_m", "pressure_Pa"),
                "differences": told(one.differences, system),
                "made_the_difference": [{**_PART(part), "by_piece_Pa": dict(part.by_piece)} for part in one.parts],
                "said": why,
            }
            for one, why in zip(found.compared, said, strict=True)
        ],
        "cautions": list(cautions(found, system)),
    }


_COMPARED = Keys(
    Compared,
    "name job:title verdict margin_m rate flow_m3_s velocity_m_s reynolds straight_length_m pressure_drop_Pa "
    "pressure_drop_low_Pa pressure_drop_high_Pa equivalent_length_m budget_pressure_Pa",
)
_PART = Keys(Part, "change:name pressure_Pa")
