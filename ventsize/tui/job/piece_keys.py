"""The keys that change pieces: one, the marked ones, or all of a kind."""

from __future__ import annotations

from typing import Any, ClassVar

from textual.binding import Binding, BindingType

from ventsize.tui.job import bulk, edits
from ventsize.tui.job.base import JobBase
from ventsize.tui.job.outline import Key
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.picker import Picker

PIECE_ACTIONS = frozenset(
    ("add_pipe", "duplicate", "shift", "mark", "cut", "paste", "exchange", "bulk", "walk", "open_number")
)
PIPE, RUN = "pipe", "another run"  # beside the fittings in the list of what can be added


class PieceKeys(JobBase):
    """Adding, moving, marking, exchanging."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "add", "Add", id="job.add"),
        Binding("insert", "add_pipe", "Add pipe", show=False, id="job.add_pipe"),
        Binding("x,delete", "remove", "Remove", show=False, id="job.remove"),
        Binding("d", "duplicate", "Duplicate", show=False, id="job.duplicate"),
        Binding("ctrl+up,less_than_sign", "shift(-1)", "Move piece up", show=False, id="job.move_up"),
        Binding("ctrl+down,greater_than_sign", "shift(1)", "Move piece down", show=False, id="job.move_down"),
        Binding("space", "mark", "Mark piece", show=False, id="job.mark"),
        Binding("ctrl+x", "cut", "Cut pieces", show=False, id="job.cut"),
        Binding("ctrl+v", "paste", "Paste pieces", show=False, id="job.paste"),
        Binding("e", "exchange", "Change all of one fitting", show=False, id="job.exchange"),
        Binding("ctrl+e", "bulk", "Change the marked pieces, or the whole run", show=False, id="job.bulk"),
    ]

    _cut: tuple[Any, ...] = ()

    def _fittings(self) -> list[tuple[str, str, str]]:
        return [(f.name, f.name, f.title) for f in self.catalog.fittings.values()]

    def add_piece(self) -> None:
        """Ask for a fitting, and put it after the cursor."""
        key, data = self.key_at, self.session.data

        async def chosen(name: str | None) -> None:
            if name == PIPE:
                await self.action_add_pipe()
            elif name == RUN:
                await self.action_new_run()
            elif name:
                await self.edit(f"add {name}", lambda: edits.add_fitting(data, key, name), go=1, said=f"{name} added")

        entries = [(PIPE, PIPE, "straight; its length is typed next"), *self._fittings()]
        entries.append((RUN, RUN, "of its own, beside the others"))
        self.app.push_screen(Picker("Add after this piece", entries), chosen)

    async def action_add_pipe(self) -> None:
        """A straight pipe after the cursor; its length is for typing next."""
        await self.with_layout(self._add_pipe)

    async def _add_pipe(self) -> None:
        key, data = self.key_at, self.session.data
        if await self.edit("add pipe", lambda: edits.add_pipe(data, key), go=1, said="pipe added: type its length"):
            self.piece_form.focus_field()

    async def remove_piece(self) -> None:
        """Take out the marked pieces, or the one under the cursor, or an empty run."""
        places, data = self.chosen(), self.session.data
        if await self.edit("remove", lambda: edits.remove(data, places), said=f"{len(places)} removed; u: undo"):
            self.outline.marked.clear()

    async def action_duplicate(self) -> None:
        """Once more, after the last of them."""
        places, data = self.chosen(), self.session.data
        await self.edit("duplicate", lambda: edits.duplicate_at(data, places), go=1, said="once more, below")

    async def action_shift(self, by: int) -> None:
        """Move pieces along the run."""
        places, data = self.chosen(), self.session.data
        await self.edit("move", lambda: edits.shift(data, places, by), go=by)

    def chosen(self) -> list[Key]:
        """The marked pieces, else what is under the cursor."""
        marked = self.outline.marked
        return sorted(marked, key=str) if marked else [self.key_at]

    def action_mark(self) -> None:
        """Mark a piece, or take the mark away, and go on."""
        rows, key = self.outline, self.key_at
        if isinstance(key[1], int):
            rows.marked ^= {key}
            rows.action_move(1)
            rows.refresh()
            self.say(f"{len(rows.marked)} marked" if rows.marked else "")

    async def action_cut(self) -> None:
        """Take the pieces out, to be pasted into any run."""
        places, data = self.chosen(), self.session.data
        taken = tuple(edits.copied(data, places))
        if not taken:
            self.warn("Put the cursor on a piece of a laid-out run, or mark some, to cut them.")
            return
        said = f"{len(taken)} cut; paste (Ctrl+V) puts them after any piece"
        if await self.edit("cut", lambda: edits.remove(data, places), said=said):
            self._cut = taken
            self.outline.marked.clear()

    async def action_paste(self) -> None:
        """Put what was cut after the cursor."""
        key, data, cut = self.key_at, self.session.data, self._cut
        if not cut:
            self.warn("Nothing has been cut yet: Ctrl+X cuts a piece, or the marked ones.")
            return
        await self.edit("paste", lambda: edits.paste(data, key, cut), go=len(cut), said=f"{len(cut)} pasted")

    def action_exchange(self) -> None:
        """Change every fitting of one kind in the run to another kind; asks which, where the cursor is on none."""
        run, old = self.run_at, edits.fitting_at(self.session.data, self.key_at)
        if old is not None:
            self._exchange(run, old)
            return
        there = edits.fittings_in(self.session.data, run)
        if not there:
            self.warn("This run has no fittings to change.")
            return
        entries = [(name, name, f"{count} in this run") for name, count in there.items()]
        self.app.push_screen(
            Picker("Which fitting shall change, everywhere in this run?", entries),
            lambda name: self._exchange(run, name) if name else None,
        )

    def _exchange(self, run: int, old: str) -> None:
        count = edits.fittings_in(self.session.data, run).get(old, 0)

        async def chosen(new: str | None) -> None:
            data = self.session.data
            if new == old:
                self.say(f"{old} left as it is")
            elif new:
                said = f"{count} × {old} changed to {new}; u takes it back"
                await self.edit(f"{old} to {new}", lambda: edits.exchange(data, run, old, new), said=said)

        self.app.push_screen(Picker(f"All {count} × {old} in this run become", self._fittings(), at=old), chosen)

    def action_bulk(self) -> None:
        """Size, material or surroundings of the marked pieces, or of the whole run, at once."""
        marked = len(self.outline.marked)
        whose = f"Change {marked} marked pieces" if marked else "Change the whole run (Space marks pieces)"
        entries = [(what.name, what.title, what.said) for what in bulk.CHANGES]
        self.app.push_screen(Picker(whose, entries), self._bulk)

    def _bulk(self, name: str | None) -> None:
        if name is None:
            return
        run, data = self.run_at, self.session.data
        marked = [piece for at, piece in self.outline.marked if at == run and isinstance(piece, int)]

        async def chosen(value: str | None) -> None:
            if value:
                said = f"{name} is {value} now; u takes it back"
                await self.edit(
                    f"{name} {value}", lambda: bulk.change(data, run, marked, name, value, self.catalog), said=said
                )
                self.outline.marked.clear()
                self.outline.refresh()

        choices = bulk.choices(data, run, name, self.catalog)
        if choices:
            self.app.push_screen(Picker(f"{name.capitalize()}", choices), chosen)
        else:
            self.app.push_screen(AskLine(bulk.QUESTION, None), chosen)
