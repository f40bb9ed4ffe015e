"""What the keys of a list do to appliances, rates and joints; pieces have their own."""

from __future__ import annotations

from ventsize.jobfile.editing import EditError
from ventsize.jobfile.editing import Path as Place
from ventsize.tui.job import plant
from ventsize.tui.job.piece_keys import PieceKeys
from ventsize.tui.widgets.picker import Picker


class PlantKeys(PieceKeys):
    """`a`, `x` and `d` in whichever list is in sight."""

    def _place(self) -> Place | None:
        row = self.plant.current
        return row.key if row is not None else None

    def action_add(self) -> None:
        """A fitting after the cursor; among the appliances, a rate, an appliance or a joint."""
        if self.area != "appliance":
            self.add_piece()
            return
        place, data = self._place(), self.session.data

        async def chosen(what: str | None) -> None:
            if what:
                more, where = plant.add(data, place, what)
                await self.edit(f"add {what}", lambda: more, said=f"{what} added: name it, fill it in")
                await self._go(where)
                self.query_one("#appliance-form").focus_field(1 if what == "rate" else 0)  # type: ignore[attr-defined]

        self.app.push_screen(Picker("Add", list(plant.what_to_add(data, place))), chosen)

    async def action_remove(self) -> None:
        """Take out what is under the cursor, or what is marked."""
        place = self._place()
        if self.area != "appliance" or place is None:
            await self.remove_piece()
            return
        try:
            data, said = plant.remove(self.session.data, place)
        except EditError as error:
            self.warn(str(error))
            return
        await self.edit("remove", lambda: data, said=said)

    async def action_duplicate(self) -> None:
        """Once more, after it."""
        place = self._place()
        if self.area != "appliance" or place is None:
            await super().action_duplicate()
            return
        more, where = plant.duplicated(self.session.data, place)
        await self.edit("duplicate", lambda: more, said="once more, below")
        await self._go(where)

    async def _go(self, place: Place) -> None:
        at = self.plant.index_of(place)
        if at is not None:
            self.plant.go(at, tell=False)
            await self.forms()
