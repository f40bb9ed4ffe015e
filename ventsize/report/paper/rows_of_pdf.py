"""The rows of a table in a PDF: the head again on every page, no cell higher than a page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import zip_longest
from typing import Any, cast

from fpdf.enums import MethodReturnValue
from fpdf.fonts import FontFace
from fpdf.table import Table as FpdfTable

from ventsize.report.paper.blocks import Column
from ventsize.report.paper.sheet_of_pdf import LINE, RULE, SHADE, SMALL, Sheet

_UPRIGHT, _ASIDE = 2.5, 4.0  # pt around what stands in a cell
_MOST_LINES, _MOST_IN_HEAD = 30, 6


def put_rows(
    sheet: Sheet, columns: tuple[Column, ...], rows: Iterable[tuple[str, ...]], *, heads: bool = True, totals: int = 0,
    tight: bool = False,
) -> None:  # fmt: skip
    """Rows below each other across the page; totals: how many of the last are sums; tight: no room between them."""
    upright, aside, size = (0.5, 1.0, SMALL - 1.5) if tight else (_UPRIGHT, _ASIDE, SMALL)
    listed = list(rows)
    sheet.plain_ink(size=size)
    sheet.set_draw_color(RULE)
    sheet.set_fill_color("#ffffff")
    sheet.set_line_width(0.5)
    shaded = FontFace(fill_color=SHADE)
    whole = sum(column.share for column in columns)
    widths = [column.share / whole * sheet.epw for column in columns]
    table = _Table(
        sheet,
        col_widths=tuple(column.share for column in columns),
        text_align=tuple(column.align.upper() for column in columns),
        borders_layout="HORIZONTAL_LINES",
        headings_style=shaded,
        first_row_as_headings=heads,
        line_height=LINE * size,
        padding=(upright, aside, upright, aside),
        width=sheet.epw,
        v_align="TOP",
        first_column_names=not heads,
    )
    if heads:
        table.row(_head(sheet, [column.name for column in columns], widths))
    for number, cells in enumerate(listed):
        style = shaded if number >= len(listed) - totals else None
        for part in _parts(sheet, cells, widths):
            table.row(part, style=style)
    table.render()
    sheet.ln(_UPRIGHT + _ASIDE)


def height_of_rows(sheet: Sheet, columns: tuple[Column, ...], rows: Iterable[tuple[str, ...]], *, most: float) -> float:
    """How high rows and their head come out, or something above `most` [pt]."""
    sheet.plain_ink(size=SMALL)
    whole = sum(column.share for column in columns)
    widths = [column.share / whole * sheet.epw for column in columns]
    height = 0.0
    for cells in (tuple(column.name for column in columns), *rows):
        lines = max(len(_lines(sheet, cell, width)) for cell, width in zip(cells, widths, strict=True))
        height += lines * LINE * SMALL + 2 * _UPRIGHT
        if height > most:
            break
    return height


class _Table(FpdfTable):
    """A table whose rows and cells are elements of the file's structure.

    first_column_names: whether the first cell of a row says what the row is.
    """

    def __init__(self, sheet: Sheet, *, first_column_names: bool, **options: Any) -> None:
        super().__init__(sheet, **options)
        self._sheet, self._first_column_names = sheet, first_column_names

    def render(self) -> None:
        self._sheet.tags.scope = "Row" if self._first_column_names else "Column"
        with self._sheet.grouped("Table"):
            super().render()

    def _render_table_row(self, i: int, *rest: Any, **named: Any) -> None:
        with self._sheet.grouped("TR"):
            super()._render_table_row(i, *rest, **named)

    def _render_table_cell(
        self, i: int, j: int, cell: Any, row_height: float, cell_height_info: Any = None, *rest: Any, **named: Any
    ) -> tuple[bool, float, float]:
        if cell_height_info is None:  # only measured
            return super()._render_table_cell(i, j, cell, row_height, cell_height_info, *rest, **named)
        names = i < self._num_heading_rows or (self._first_column_names and j == 0)
        with self._sheet.tagged("TH" if names and cell.text else "TD"):
            return super()._render_table_cell(i, j, cell, row_height, cell_height_info, *rest, **named)


def _head(sheet: Sheet, names: list[str], widths: list[float]) -> list[str]:
    """The names of the columns, the longest cut: they stand on every page."""
    made = []
    for name, width in zip(names, widths, strict=True):
        lines = _lines(sheet, name, width)
        made.append("\n".join(lines) if len(lines) <= _MOST_IN_HEAD else "\n".join(lines[:_MOST_IN_HEAD]) + "…")
    return made


def _parts(sheet: Sheet, cells: tuple[str, ...], widths: list[float]) -> Iterator[tuple[str, ...]]:
    """A row, as more than one where a cell would be higher than a page."""
    texts = [sheet.letters(cell) for cell in cells]
    if all(len(text) <= 60 for text in texts):
        yield tuple(texts)
        return
    lines = [_lines(sheet, cell, width) for cell, width in zip(cells, widths, strict=True)]
    if all(len(one) <= _MOST_LINES for one in lines):
        yield tuple(texts)
        return
    pieces = [[one[n : n + _MOST_LINES] for n in range(0, len(one), _MOST_LINES)] for one in lines]
    for part in zip_longest(*pieces, fillvalue=[""]):
        yield tuple("\n".join(some) for some in part)


def _lines(sheet: Sheet, text: str, width: float) -> list[str]:
    found = sheet.multi_cell(
        width - 2 * _ASIDE, LINE * SMALL, sheet.letters(text), dry_run=True, output=MethodReturnValue.LINES
    )
    return cast(list[str], found)
