"""The deductions of an allowance table: fittings down, sizes across."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType

from ventsize.report.wording import say
from ventsize.tui.table import deducted
from ventsize.tui.table.area import Area
from ventsize.tui.table.pasted_screen import PastedScreen
from ventsize.tui.table.pasting import Proposal, of_deductions
from ventsize.tui.widgets.grid import Grid
from ventsize.tui.widgets.grid_drawing import Line
from ventsize.tui.widgets.picker import Picker
from ventsize.tui.widgets.rows import Column
from ventsize.view.page.blocks import split

_OWN = (("deductions",), ("elbows_each",))

NAMES = 22


class DeductionsArea(Area):
    """The grid of deductions. Fittings without a length are not in the table; they are offered to be typed."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "add_fitting", "Add fitting", id="table.deduction"),
        Binding("f", "fill_across", "Fill across", id="table.fill_across"),
        Binding("x", "remove_fitting", "Remove fitting", show=False, id="table.remove_deduction"),
    ]

    topic = "deduction"

    def __init__(self) -> None:
        super().__init__()
        first = Column(title=deducted.EVERY, width=10)
        self.grid = Grid([first], self, frozen=1, margin=NAMES, id="deduction-grid")
        self._listed: list[str] = []  # in the order of the lines; a fitting keeps its line when its last length goes

    @property
    def names(self) -> list[str]:
        """The fittings, line by line."""
        self._listed = deducted.fittings(self.session.data, self._listed)
        return self._listed

    @property
    def fitting(self) -> str | None:
        """The fitting under the cursor."""
        names = self.names if self.found is not None else []
        return names[self.grid.row] if self.grid.row < len(names) else None

    # What the grid asks

    def raw(self, row: int, column: int) -> str:
        """The text behind a cell."""
        return deducted.text_at(self.session.data, self.names[row], self.grid.columns[column].title)

    def span(self, row: int) -> range:
        """Every column of every line."""
        return range(len(deducted.titles(self.session.data)))

    def onward(self, row: int, column: int, step: int) -> tuple[int, int]:
        """A length for every size goes on to the next fitting; lengths by size go across and on to the next one's."""
        heads, data = deducted.titles(self.session.data), self.session.data
        if step < 0:
            return (row, column - 1) if column else (max(0, row - 1), len(heads) - 1 if row else 0)
        last = row + 1 >= len(self.names)
        if column == 0 and deducted.text_at(data, self.names[row], deducted.EVERY):
            return (row, column) if last else (row + 1, 0)
        sizes = [n for n, head in enumerate(heads) if head not in (deducted.EVERY, deducted.ELBOWS)]
        if column + 1 < len(heads) and (column + 1 in sizes or not sizes):
            return row, column + 1
        first = 0 if heads[column] == deducted.EVERY else column if heads[column] == deducted.ELBOWS else sizes[0]
        return (row, column) if last else (row + 1, first)

    def take(self, row: int, column: int, text: str, *, ended: bool) -> None:
        """Every keystroke is in the data, but for a length that is to fill the sizes without one."""
        name, title, data = self.names[row], self.grid.columns[column].title, self.session.data
        if title == deducted.EVERY and deducted.by_size(data, name):
            if not ended or not text:
                return
            filled = deducted.set_cell(data, name, title, text, self.session.system)
            told = (
                f"{name} has a length in every size; x takes them out."
                if filled == data
                else ("The lengths by size stay; the others have this one.")
            )
            self.notify(told, markup=False, timeout=5)
            data = filled
        else:
            data = deducted.set_cell(data, name, title, text, self.session.system)
        place = ("elbows_each" if title == deducted.ELBOWS else "deductions", name, title)
        self.typed(data, f"{name}, {title} {text}".strip(), place, ended=ended)

    def lay(self) -> None:
        """A line a fitting."""
        data = self.session.data
        heads = deducted.titles(data)
        doubtful = {name for name in self.names if name not in self.catalog.fittings}
        doubtful |= {str(doubt.values.get("fitting")) for doubt in self.found.deductions} if self.found else set()
        lines = []
        for name in self.names:
            mark = "?" if name in doubtful else " "
            cells = tuple(deducted.cell(data, name, title) for title in heads)
            lines.append(Line(f"{mark}{name}", cells, "warn" if name in doubtful else ""))
        self.grid.show(lines, columns=deducted.columns(data))

    def said(self) -> list[str]:
        """What is expected, and what the table as a whole leaves open."""
        assert self.found is not None
        name, title = self.fitting or "", self.grid.title
        record = self.catalog.fittings.get(name)
        meant = f" ({record.title})" if record else ""
        if title == deducted.ELBOWS:
            expected = "as how many 90° elbows it counts, such as 1 or 0.5; empty: as the elbow it is"
        elif title == deducted.EVERY:
            expected = "equivalent length, such as 5; 0 where the allowance includes it; 3 per two for each pair"
        else:
            expected = f"equivalent length in {title}, where it differs by size"
        lines = [f"{name}{meant}: {expected}"]
        lines += [f"! {fault}" for fault in self.found.faults if fault.path[:1] in _OWN]
        lines += [
            f"? {say(doubt, self.session.system)}"
            for doubt in self.found.deductions
            if doubt.values.get("fitting") == name
        ]
        lines += [f"? {say(remark, self.session.system)}" for remark in self.found.remarks]
        return [*lines, *(f"▲ {say(gap, self.session.system)}" for gap in self.found.gaps)]

    def on_grid_pasted(self, event: Grid.Pasted) -> None:
        """Fittings with their lengths, shown as understood; without names, lengths from the cursor on."""
        event.stop()
        data, text, system = self.session.data, event.text, self.session.system
        titles = {fitting.name: fitting.title for fitting in self.catalog.fittings.values()}
        first = of_deductions(data, text, titles, system) or self._of_cells(event.row, event.column, text)

        def chosen(taken: tuple[Proposal, bool] | None) -> None:
            if taken is not None:
                self.edit(taken[0].data, "paste deductions")
                self.notify("Taken. Ctrl+Z takes it back.", timeout=3)

        self.app.push_screen(PastedScreen(lambda _: None, first), chosen)

    def _of_cells(self, row: int, column: int, text: str) -> Proposal:
        data, names, heads, dropped = self.session.data, self.names, deducted.titles(self.session.data), 0
        touched = []
        for n, line in enumerate(split(text)):
            for k, cell in enumerate(line):
                if row + n < len(names) and column + k < len(heads):
                    data = deducted.set_cell(data, names[row + n], heads[column + k], cell, self.session.system)
                    touched.append(names[row + n])
                else:
                    dropped += bool(cell)
        touched = list(dict.fromkeys(touched))
        lines = [Line("", (name, *(deducted.cell(data, name, head) for head in heads))) for name in touched]
        said = [f"the block names no fitting, so that its place decides: from {names[row]} on"]
        said += [f"! {dropped} cells find no fitting or size and are left out"] if dropped else []
        columns = (Column(title="Fitting", width=NAMES), *deducted.columns(data))
        return Proposal(columns, tuple(lines), tuple(said), data, frozen=1)

    def action_add_fitting(self) -> None:
        """A fitting whose equivalent length the table gives."""
        if not self.may_edit():
            return
        entries = [(f.name, f.name, f.title) for f in self.catalog.fittings.values()]

        def chosen(name: str | None) -> None:
            if name:
                self.go_to(name)

        self.app.push_screen(Picker("The table deducts for", entries), chosen)

    def go_to(self, name: str) -> None:
        """The cursor on a fitting's line, which is made if there is none."""
        self._listed = list(dict.fromkeys([*self.names, name]))
        self.lay()
        self.grid.go(self.names.index(name), 0)
        self.tell()

    def action_remove_fitting(self) -> None:
        """Take the fitting's lengths out."""
        if self.fitting is not None and self.may_edit():
            name = self.fitting
            self.edit(deducted.remove(self.session.data, name), f"no deduction for {name}")

    def action_fill_across(self) -> None:
        """The cell's length in the sizes after it that have none of their own."""
        if self.fitting is None or not self.may_edit():
            return
        data, name, heads = self.session.data, self.fitting, deducted.titles(self.session.data)
        text = deducted.cell(data, name, self.grid.title).text
        for title in heads[self.grid.column + 1 :]:
            if title != deducted.ELBOWS and not deducted.cell(data, name, title).text:
                data = deducted.set_cell(data, name, title, text, self.session.system)
        self.edit(data, f"fill across {name}")
