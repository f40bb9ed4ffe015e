"""What the keys of a list do among appliances, firing rates and joints."""

from __future__ import annotations

from ventsize.jobfile.editing import EditError
from ventsize.jobfile.editing import Path as Place
from ventsize.tui.job import plant
from ventsize.tui.job.open_job import OpenJob
from ventsize.tui.widgets.picker import Picker


def add(job: OpenJob) -> None:
    """Ask whether for a rate, an appliance or a joint, and add it."""
    place, data = job.place_at, job.session.data

    async def chosen(what: str | None) -> None:
        if what:
            more, where = plant.add(data, place, what)
            await job.edit(f"add {what}", lambda _: more, said=f"{what} added: name it, fill it in")
            await go_to(job, where)
            job.appliance_form.focus_topic("input")

    job.app.push_screen(Picker("Add", list(plant.what_to_add(data, place))), chosen)


async def remove(job: OpenJob) -> None:
    """Take out what is under the cursor."""
    try:
        data, said = plant.remove(job.session.data, job.place_at)
    except EditError as error:
        job.warn(str(error))
        return
    await job.edit("remove", lambda _: data, said=said)


async def duplicate(job: OpenJob) -> None:
    """Once more, after it."""
    more, where = plant.duplicated(job.session.data, job.place_at)
    await job.edit("duplicate", lambda _: more, said="once more, below")
    await go_to(job, where)


async def go_to(job: OpenJob, place: Place) -> None:
    """The cursor on an appliance, a rate or a joint, and its fields beside it."""
    at = job.plant.index_of(place)
    if at is not None:
        job.plant.go(at, tell=False)
        await job.forms()
