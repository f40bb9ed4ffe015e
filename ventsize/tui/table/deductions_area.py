"""The deductions of an allowance table: fittings down, sizes across."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType

from ventsize.jobfile.editing import value_at
from ventsize.tui.table import deducted, entering
from ventsize.tui.table.area import Area
from ventsize.tui.widgets.grid import Grid
from ventsize.tui.widgets.grid_drawing import Line
from ventsize.tui.widgets.picker import Picker
from ventsize.tui.widgets.rows import Column

NAMES = 22


class DeductionsArea(Area):
    """The grid of deductions. Fittings without a length are not in the table; they are offered to be typed."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "add_fitting", "Add fitting", id="table.deduction"),
        Binding("f", "fill_across", "Fill across", id="table.fill_across"),
        Binding("x", "remove_fitting", "Remove fitting", show=False, id="table.remove_deduction"),
    ]

    topic = "deduction"

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._more: list[str] = []

    def make_grid(self) -> Grid:
        """Fittings in the margin."""
        return Grid(
            [Column(title=deducted.EVERY, width=10)],
            frozen=1, margin=NAMES, growing=False, raw=self._raw, id="deduction-grid",
        )  # fmt: skip

    @property
    def names(self) -> list[str]:
        """The fittings, line by line."""
        return deducted.fittings(self.session.data, self._more)

    @property
    def fitting(self) -> str | None:
        """The fitting under the cursor."""
        names = self.names if self.found is not None else []
        return names[self.grid.row] if self.grid.row < len(names) else None

    def _raw(self, row: int, column: int) -> str:
        return deducted.text_at(self.session.data, self.names[row], self.grid.columns[column].title)

    def lay(self) -> None:
        """A line a fitting."""
        data = self.session.data
        heads = deducted.titles(data)
        doubtful = {name for name in self.names if name not in self.catalog.fittings}
        doubtful |= {remark.fitting for remark in self.found.deductions} if self.found else set()
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
            expected = "equivalent length, such as 5 ft; 0 ft where the allowance includes it"
        else:
            expected = f"equivalent length in {title}, where it differs by size"
        lines = [f"{name}{meant}: {expected}"]
        lines += [f"! {fault}" for fault in self.found.faults if "deduction" in fault or "elbows_each" in fault]
        lines += [f"? {remark.text}" for remark in self.found.deductions if remark.fitting == name]
        lines += [f"? {remark}" for remark in self.found.remarks]
        return [*lines, *(f"▲ {gap}" for gap in self.found.gaps)]

    def on_grid_typed(self, event: Grid.Typed) -> None:
        """Every keystroke is in the data."""
        event.stop()
        name = self.names[event.row]
        self._more.append(name)  # it keeps its line when its last length goes
        before = value_at(self.session.data, ("deductions", name))
        data = deducted.set_cell(self.session.data, name, event.title, event.text, self.session.system)
        self.typed_at(data, f"{name}, {event.title}", ("deductions", name), ended=event.ended)
        if event.ended and event.title == deducted.EVERY and isinstance(before, dict) and event.text:
            self.notify("The lengths by size have given way to one for every size; Ctrl+Z brings them back.")

    def on_grid_pasted(self, event: Grid.Pasted) -> None:
        """A block of lengths, from the cursor on."""
        event.stop()
        pasted, data = entering.block(event.text), self.session.data
        names, heads = self.names, deducted.titles(self.session.data)
        dropped = 0
        for n, line in enumerate(pasted.cells):
            for k, text in enumerate(line):
                row, column = event.row + n, event.column + k
                if row < len(names) and column < len(heads):
                    data = deducted.set_cell(data, names[row], heads[column], text, self.session.system)
                else:
                    dropped += bool(text)
        self.edit(data, "paste deductions")
        left = f"; {dropped} cells found no fitting or size and were left out" if dropped else ""
        self.notify(f"Pasted {len(pasted.cells)} lines{left}.", markup=False, timeout=5)

    def action_add_fitting(self) -> None:
        """A fitting whose equivalent length the table gives."""
        if not self.may_edit():
            return
        entries = [(f.name, f.name, f.title) for f in self.catalog.fittings.values()]

        def chosen(name: str | None) -> None:
            if name:
                self._more.append(name)
                self.lay()
                self.grid.go(self.names.index(name), 0)
                self.tell()

        self.app.push_screen(Picker("The table deducts for", entries), chosen)

    def action_remove_fitting(self) -> None:
        """Take the fitting's lengths out."""
        if self.fitting is not None and self.may_edit():
            name = self.fitting
            self._more = [other for other in self._more if other != name]
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
