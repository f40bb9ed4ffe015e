"""How a class is shown a run and its table: one description for exercise sheets, lessons and their screens."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from ventsize.allowance.model import AllowanceTable, Row
from ventsize.catalog.records import same_size
from ventsize.check.inputs import Inputs
from ventsize.quantity import System, show_length, show_power
from ventsize.report.sketch import sketch
from ventsize.report.text_parts import table
from ventsize.run.model import Piece, Run
from ventsize.run.route import route_of

LEAST = "at least, straight"


def pieces_in_words(run: Run, system: System) -> str:
    """The pieces with their numbers, or the count: `1) 4 ft up; 2) 90° elbow, long turn; ...`."""
    if run.counted:
        counts = Counter(title_of(piece) for piece in run.pieces if piece.fitting is not None)
        straight = f"{show_length(run.straight_length, system)} of straight pipe"
        return "; ".join((straight, *(f"{count} × {title}" for title, count in counts.items())))
    return "; ".join(f"{number}) {_piece(piece, system)}" for number, piece in enumerate(run.pieces, start=1))


def sizes_in_words(run: Run) -> str:
    """`2 in pipe (PVC, schedule 40)`, or every size it has."""
    sizes = dict.fromkeys(piece.section.label for piece in run.pieces if piece.is_pipe)
    return f"{' and '.join(sizes or [run.first_section.label])} pipe ({run.first_section.material.title})"


def title_of(piece: Piece) -> str:
    """A fitting's title within a sentence."""
    title = piece.fitting.title if piece.fitting is not None else piece.name
    return title[0].lower() + title[1:]


def _piece(piece: Piece, system: System) -> str:
    if piece.is_pipe:
        return f"{show_length(piece.length, system)} {piece.heading or 'of pipe'}"
    grown = piece.after is not None and piece.kind == "size change"
    return f"{title_of(piece)} to {piece.after.label}" if grown else title_of(piece)


def sketch_lines(run: Run, system: System, *, width: int, height: int = 16) -> list[str]:
    """The route drawn, where it is laid out and fits."""
    legs = route_of(run)
    if not legs:
        return []
    drawn = sketch(legs, system, start_open=run.start == "outdoors", end_open=run.end == "outdoors",
                   width=width, height=height)  # fmt: skip
    return list(drawn.lines[:-2]) if drawn else []


def rows_that_matter(shown: AllowanceTable, run: Run, inputs: Inputs) -> AllowanceTable:
    """The table cut down to the rows beside this run: its sizes, the inputs next to its own, its altitude if listed."""
    sizes = {piece.section.nominal for piece in run.pieces if piece.is_pipe} or {run.first_section.nominal}
    power = max((rate.input for a in inputs.job.appliances for rate in a.rates), default=0.0)
    altitude = inputs.job.site.altitude or 0.0
    rows = [row for row in shown.rows if any(same_size(row.size, size) for size in sizes)]
    below = [row.input for row in rows if row.input <= power * (1 + 1e-6)]
    above = [row.input for row in rows if row.input >= power * (1 - 1e-6)]
    beside = {*([max(below)] if below else ()), *([min(above)] if above else ())}
    if any(abs(one / power - 1.0) < 1e-6 for one in beside):
        beside = {one for one in beside if abs(one / power - 1.0) < 1e-6}
    rows = [row for row in rows if row.input in beside]
    own = [row for row in rows if row.altitude is None or row.altitude[0] <= altitude <= row.altitude[1]]
    return replace(shown, rows=tuple(own or rows))


def table_grid(shown: AllowanceTable, system: System) -> tuple[tuple[str, ...], list[tuple[str, ...]]]:
    """An allowance table as a grid: its heads and its rows."""
    most = max((len(row.allowable_by_elbows) for row in shown.rows if row.allowable_by_elbows), default=0)
    minimum = any(row.minimum is not None for row in shown.rows)
    heads = ["input", "size", "altitude", *([_elbows(n) for n in range(most)] or ["allowable"])]
    heads += [LEAST] if minimum else []
    return tuple(heads), [tuple(_cells(row, minimum, system)) for row in shown.rows]


def _elbows(count: int) -> str:
    return "straight" if count == 0 else f"{count} elbow{'s' if count > 1 else ''}"


def _cells(row: Row, minimum: bool, system: System) -> Iterator[str]:
    yield show_power(row.input, system)
    yield row.size_label
    yield row.band_label
    for length in (row.allowable,) if row.allowable_by_elbows is None else row.allowable_by_elbows:
        yield show_length(length, system) if isinstance(length, float) else "not permitted"
    if minimum:
        yield "" if row.minimum is None else show_length(row.minimum, system)


def deductions_in_words(shown: AllowanceTable, run: Run, system: System) -> list[tuple[str, str]]:
    """What the table counts each fitting of a run as, in the run's size; of one it lacks, that it lacks it."""
    found = {}
    for piece in run.pieces:
        if piece.fitting is None or piece.kind == "size change":
            continue
        stated = shown.deductions.get(piece.name)
        length = None if stated is None else stated.at(piece.section.nominal)
        missing = "included" if piece.kind == "terminal" else "not in the table's list"
        found[title_of(piece)] = missing if length is None else show_length(length, system)
    return list(found.items())


def table_lines(shown: AllowanceTable, system: System, *, width: int) -> Iterator[str]:
    """The rows under their heads; where they are wider than there is room, a paragraph a row."""
    heads, rows = table_grid(shown, system)
    widths = [max(len(row[at]) for row in [heads, *rows]) + 2 for at in range(len(heads))]
    if sum(widths) + 2 <= width:
        yield from table(list(zip(heads, widths, strict=True)), rows)
        return
    for row in rows:
        lengths = "; ".join(f"{head} {cell}" for head, cell in zip(heads[3:], row[3:], strict=True))
        yield f"  {', '.join(row[:3])}: {lengths}"
