"""The heads of a copied block: which column holds what, in which unit, and what each column of lengths is for."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

from ventsize.quantity import System
from ventsize.view.page import heads
from ventsize.view.page.blocks import Cells
from ventsize.view.page.heads import head_of, is_value, kind_by_figures, kind_by_unit, may_be
from ventsize.view.page.texts import ALTITUDE, ELBOWS, INPUT, LENGTH, SIZE, Row

_ACROSS = (SIZE, INPUT, ALTITUDE, ELBOWS)


@dataclass(slots=True)
class Columns:
    """The heads that hold for the lines below: labels of the first columns, then what each column of lengths is for."""

    labels: list[str]
    lengths: list[dict[str, str]]
    across: str
    units: dict[str, str]

    @property
    def width(self) -> int:
        return len(self.labels) + len(self.lengths)


@dataclass(slots=True)
class Reader:
    """What is read so far. system: of the units that nobody names; across: what the heads are, where that was said."""

    system: System
    across: str
    rows: dict[tuple[object, ...], Row] = field(default_factory=dict)
    lengths: int = 0
    blank: int = 0
    twice: int = 0
    left_out: list[str] = field(default_factory=list)
    ragged: list[str] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    def remark(self, text: str) -> None:
        if text not in self.remarks:
            self.remarks.append(text)


def columns_of(waiting: list[Cells], body: list[Cells], reader: Reader) -> Columns | None:
    """What the heads before a body say; None where they say nothing."""
    across_lines = [line for line in waiting if sum(map(is_value, line)) >= 1 and not _is_note(line)]
    words = [line for line in waiting if line not in across_lines]
    labels_line = next((line for line in reversed(words) if len([c for c in line if c]) > 1), None)
    if not across_lines:
        return _listed(labels_line, words, reader, _width(body, labels_line)) if labels_line else None
    last = across_lines[-1]
    width = _width(body, last)
    figures = [cell for cell in last if is_value(cell)]
    count = width - len(figures) if len(last) < width or not any(last) else _first_figure(last)
    if count < 1:
        return None
    first = [cell for cell in last if not is_value(cell)]
    names = first if len(last) < width else list(last[:count])
    if labels_line and not any(names):
        names = list(labels_line[:count])
    captions = [cell for line in words if line is not labels_line for cell in line if cell]
    captions += [cell for cell in labels_line or () if cell]
    found = Columns([""] * count, [], "", {})
    found.across = _across(figures, names, captions, body, count, reader)
    if not found.across:
        return None
    found.labels = _labels(names, body, count, found.across, reader)
    _units(found, names, captions, figures)
    found.lengths = [{found.across: cell} for cell in figures]
    _upper(found, across_lines[:-1], count)
    spare = [" ".join(line) for line in words if not any(head_of(cell).kinds for cell in line)]
    reader.left_out += [text.strip() for text in spare if text.strip()]
    return found


def _width(body: list[Cells], heads: Cells) -> int:
    """How many cells the lines of a block have: as many as its heads where those begin with a label and a line agrees.

    Else as most lines have. One line with a cell too many must not shift all the others under wrong heads.
    """
    counted = Counter(map(len, body))
    if len(heads) in counted and not is_value(heads[0]):
        return len(heads)
    return max(counted, key=lambda width: (counted[width], width))


def _is_note(line: Cells) -> bool:
    """Whether a line is a sentence with a number in it."""
    return any(len(cell.split()) > 6 for cell in line)


def _first_figure(line: Cells) -> int:
    return next((n for n, cell in enumerate(line) if is_value(cell)), 0)


def _across(
    figures: list[str], names: list[str], captions: list[str], body: list[Cells], count: int, reader: Reader
) -> str:
    """What the heads are: by their unit, by a label that cannot be of the column below it, by a caption, by size."""
    if reader.across:
        return reader.across
    by_unit = {kind_by_unit(cell) for cell in figures} - {""}
    if len(by_unit) == 1 and (kind := by_unit.pop()) in _ACROSS:
        return kind
    down = [line[count - 1] for line in body if len(line) >= count]
    for kind in head_of(names[-1]).kinds if names else ():
        if kind in _ACROSS and may_be(kind, figures) and not may_be(kind, down):
            return kind
    named = [kind for name in names for kind in head_of(name).kinds[:1]]
    for caption in captions:
        for kind in head_of(caption).kinds:
            if kind in _ACROSS and kind not in named and may_be(kind, figures):
                return kind
    kind = kind_by_figures(figures)
    if kind in named or kind not in _ACROSS:
        kind = next((k for k in _ACROSS if k not in named and may_be(k, figures)), kind if kind in _ACROSS else "")
    if kind:
        reader.remark(f"{', '.join(figures[:3])} across: taken for {_plural(kind)}")
    return kind


def _plural(kind: str) -> str:
    return {SIZE: "sizes", INPUT: "inputs", ALTITUDE: "altitudes", ELBOWS: "numbers of elbows"}.get(kind, kind)


def _labels(names: list[str], body: list[Cells], count: int, across: str, reader: Reader) -> list[str]:
    """What each column before the lengths says: by its head, else by its figures."""
    found: list[str] = []
    for n in range(count):
        down = [line[n] for line in body if len(line) > n and line[n]]
        name = names[n] if n < len(names) else ""
        kinds = [kind for kind in head_of(name).kinds if kind not in (across, LENGTH, *found) and may_be(kind, down)]
        kind = kinds[0] if kinds else ""
        if not kind:
            kind = kind_by_figures(list(dict.fromkeys(down)))
            if kind in (*found, across, LENGTH):
                kind = next((k for k in (INPUT, SIZE, ELBOWS) if k not in (*found, across) and may_be(k, down)), "")
            if kind:
                reader.remark(f"column {n + 1} ({', '.join(down[:2])} …): taken for {_plural(kind)}")
        found.append(kind)
    return found


def _units(found: Columns, names: list[str], captions: list[str], figures: list[str]) -> None:
    """Units that stand in the heads: of each label, of the heads across, of the lengths."""
    for name, label in zip(names, found.labels, strict=False):
        if unit := heads.unit_in(name, label):
            found.units[label] = unit
    for words in (*captions, *names):
        kinds = head_of(words).kinds
        if LENGTH in kinds and (unit := heads.unit_in(words, LENGTH)):
            found.units.setdefault(LENGTH, unit)
        if found.across in kinds and (unit := heads.unit_in(words, found.across)):
            found.units.setdefault(found.across, unit)
    for words in captions:
        if not head_of(words).kinds and (unit := heads.unit_in(words, LENGTH)) and not figures[0].endswith(unit):
            found.units.setdefault(LENGTH, unit)


def _upper(found: Columns, lines: list[Cells], count: int) -> None:
    """Heads over heads: each holds from where it stands to the next one, or for its even share of the columns."""
    for line in lines:
        over = [(n - count, cell) for n, cell in enumerate(line) if is_value(cell)]
        kind = kind_by_figures([cell for _, cell in over])
        if not over or not kind or kind == found.across:
            continue
        if len(line) < count + len(found.lengths) and len(found.lengths) % len(over) == 0:
            share = len(found.lengths) // len(over)
            over = [(n * share, cell) for n, (_, cell) in enumerate(over)]
        for n, column in enumerate(found.lengths):
            held = [cell for start, cell in over if start <= n]
            if held:
                column[kind] = held[-1]


def _listed(line: Cells, words: list[Cells], reader: Reader, width: int) -> Columns | None:
    """A list: a head over every column, one of them over the lengths, or one over each number of elbows."""
    kinds = [head_of(cell) for cell in line]
    names = [head.kinds[0] if head.kinds else "" for head in kinds]
    if len(line) != width or not any(name in (INPUT, SIZE) for name in names):
        return None
    found = Columns([], [], "", {})
    for n, (cell, name) in enumerate(zip(line, names, strict=True)):
        if name == LENGTH or (not name and n == len(line) - 1 and LENGTH not in names):
            name = LENGTH
        elif not name:
            reader.remark(f"column {n + 1} ({cell}): left out")
        found.labels.append(name)
        if kinds[n].unit:
            found.units[name] = kinds[n].unit
    if LENGTH not in found.labels:
        return None
    for other in words:
        for cell in other:
            if other is not line and (unit := heads.unit_in(cell, LENGTH)) and head_of(cell).kinds[:1] != (ALTITUDE,):
                found.units.setdefault(LENGTH, unit)
    return found
