"""A job as one list: every run, under it its pieces with what they lose."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

from textual.widgets import Input

from ventsize.check.result import JobCheck, RunCheck
from ventsize.jobfile.aligning import align
from ventsize.jobfile.editing import Data, value_at
from ventsize.quantity import System, show_feet, show_pressure
from ventsize.tui.job.session import Session
from ventsize.tui.widgets.bars import bar
from ventsize.tui.widgets.rows import Cell, Column, MadeRows, Maker, Row
from ventsize.tui.widgets.text import one_line
from ventsize.tui.widgets.verdict_line import SIGNS, VerdictLine
from ventsize.view.answering import still_needed

COLUMNS = (
    Column(title="", width=3, align="right"),
    Column(title="Piece", width=16, grow=1),
    Column(title="Heading", width=7),
    Column(title="Length", width=11, align="right"),
    Column(title="Size", width=8),
    Column(title="Loss", width=13, align="right", from_width=72),
    Column(title="Share", width=7, from_width=76),
)
BAR = 2

Key = tuple[int, int | str | None]
"""A row of the list: the run's place, and the piece's place, the fitting's name, "straight" or None for the run."""


def place_of(data: Data, key: Key) -> str | None:
    """Where the results keep what stands at a row of the list; None for a run as a whole."""
    run, piece = key
    name = value_at(data, ("run", run, "name"))
    if piece is None:
        return None
    if isinstance(piece, int):
        return f"run '{name}', piece {piece + 1}"
    return f"run '{name}'" if piece == "straight" else f"run '{name}', {piece}"


def outline(data: Data, check: JobCheck | None, system: System, *, answered: Data | None) -> MadeRows:
    """Every row, in the job's order; each is written out only when it is shown.

    answered: the job as it was when the check was made, where it has changed since: losses stay with their pieces.
    """
    results = {c.run.name: c for c in check.runs} if check else {}
    before = {run.get("name"): run for run in _tables(answered.get("run"))} if answered else {}
    rows: list[Maker] = []
    for at, run in enumerate(_tables(data.get("run"))):
        found = results.get(str(run.get("name")))
        rows.append(partial(_run_row, at, run, found, system))
        make = _laid_out if "pieces" in run else _counted
        rows += make(at, run, _Losses(found, system, _was(before.get(run.get("name")), run) if answered else None))
    return MadeRows(rows)


def _run_row(at: int, run: Data, found: RunCheck | None, system: System) -> Row:
    return Row(key=(at, None), across=_run_line(run, found, system), tone="group")


def _tables(value: object) -> list[Data]:
    return [item for item in value if isinstance(item, dict)] if isinstance(value, list) else []


def _run_line(run: Data, found: RunCheck | None, system: System) -> str:
    between = run.get("between")
    ends = " → ".join(map(str, between)) if isinstance(between, list) else ""
    where = f"{run.get('carries', '')}, {ends}"
    if found is None:
        return f"{run.get('name', '')}: {where}"
    return f"{run.get('name', '')} {SIGNS[found.verdict]} {found.verdict}{used(found, system)}; {where}"


def used(found: RunCheck, system: System) -> str:
    """The length compared and the length allowed, where the table gives both."""
    table = found.table
    if table is None or table.equivalent_length is None or table.allowable_length is None:
        return ""
    return f", {show_feet(table.equivalent_length, system)} of {show_feet(table.allowable_length, system)}"


def _was(before: Data | None, run: Data) -> dict[str, str]:
    """By where each piece of a run stands now, where it stood before; without those that were another piece then."""
    begin = f"run '{run.get('name')}'"
    old, new = (_tables(typed.get("pieces")) if typed else [] for typed in (before, run))
    places = {begin: begin, **{f"{begin}, {name}": f"{begin}, {name}" for name in _counts(before) & _counts(run)}}
    for now, was in enumerate(align(old, new)):
        if was is not None and _same_piece(old[was], new[now]):
            places[f"{begin}, piece {now + 1}"] = f"{begin}, piece {was + 1}"
    return places


def _counts(run: Data | None) -> set[str]:
    counts = run.get("fittings") if run else None
    return set(counts) if isinstance(counts, dict) else set()


def _same_piece(one: Data, other: Data) -> bool:
    """Whether a piece is the same one, though a length of it may have been typed anew."""
    return one.get("fitting") == other.get("fitting") and ("pipe" in one) == ("pipe" in other)


class _Losses:
    """Loss and share of what stands at each place of a run, at the rate that loses most.

    was: where the job has changed since, by the place now the place then.
    """

    def __init__(self, found: RunCheck | None, system: System, was: Mapping[str, str] | None) -> None:
        self._found, self._system, self._was, self._tone = found, system, was, "" if was is None else "stale"
        self._at: dict[str, tuple[float, float]] | None = None

    def cells(self, place: str) -> tuple[Cell, Cell]:
        """What a row says of its place."""
        if self._at is None:
            self._at = _losses(self._found)
        place = place if self._was is None else self._was.get(place, "")
        if place not in self._at:
            return Cell(""), Cell("")
        loss, share = self._at[place]
        return (
            Cell(show_pressure(loss, self._system), self._tone),
            Cell(f"{share:>4.0%} {bar(share, BAR)}", self._tone),
        )


def _losses(found: RunCheck | None) -> dict[str, tuple[float, float]]:
    losses: dict[str, tuple[float, float]] = {}
    if found is None:
        return losses
    for piece, share in zip(found.worst.flow.pieces, found.worst.piece_shares, strict=True):
        before = losses.get(piece.piece.place, (0.0, 0.0))
        losses[piece.piece.place] = (before[0] + piece.pressure_drop, before[1] + (share or 0.0))
    return losses


def _laid_out(at: int, run: Data, losses: _Losses) -> Iterator[Maker]:
    size = str(run.get("size", ""))
    begin = f"run '{run.get('name')}', piece "
    for number, piece in enumerate(_tables(run.get("pieces")), start=1):
        size = str(piece.get("size") or size)
        yield partial(_piece_row, (at, number - 1), piece, size, losses, f"{begin}{number}")


def _piece_row(key: Key, piece: Data, size: str, losses: _Losses, place: str) -> Row:
    name = "pipe" if "pipe" in piece else one_line(piece.get("fitting", "?"))
    if "k" in piece or "table_length" in piece:
        name += " *"
    heading = piece.get("heading") or ("rises" if "rise" in piece else "")
    number = Cell(str(int(key[1] or 0) + 1), "faint")
    return Row(key=key, cells=(number, name, heading, str(piece.get("pipe", "")), size, *losses.cells(place)))


def _counted(at: int, run: Data, losses: _Losses) -> Iterator[Maker]:
    place = f"run '{run.get('name')}'"
    size = str(run.get("size", ""))
    yield partial(_count_row, (at, "straight"), "straight pipe", str(run.get("straight", "")), size, losses, place)
    fittings = run.get("fittings")
    for name, number in fittings.items() if isinstance(fittings, dict) else ():
        yield partial(_count_row, (at, name), one_line(name), f"{number} ×", size, losses, f"{place}, {name}")


def _count_row(key: Key, name: str, count: str, size: str, losses: _Losses, place: str) -> Row:
    return Row(key=key, cells=("", name, "", count, size, *losses.cells(place)))


def margins(check: JobCheck | None, system: System) -> list[str]:
    """What each run has to spare or is over by."""
    found = []
    for run in check.runs if check else ():
        if run.margin is None:
            found.append(f"{run.run.name}: {run.verdict}")
        else:
            word = "to spare" if run.margin >= 0 else "over"
            found.append(f"{run.run.name}: {show_feet(abs(run.margin), system)} {word}")
    return found


def show_verdict(line: VerdictLine, session: Session, *, hint: str = "") -> None:
    """The verdict on what is typed now, or what keeps it from being one; hint: what to do about it."""
    check, shown = session.check, margins(session.check, session.system)
    if not session.fresh:
        line.working(shown)
    elif session.problems:
        what = still_needed(session.problems, session.data) or str(session.problems[0])
        line.hold(check.verdict if check else None, shown, what)
    elif check is None:
        line.hold(None, (), "working it out")
    else:
        so_far = session.history.typing and isinstance(line.app.focused, Input)  # "12 6" is 12 for a moment
        line.show(check, shown, session.system, hint=hint, so_far=so_far)
