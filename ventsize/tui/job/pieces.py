"""What the keys of a list do to pieces: one, the marked ones, or all of a kind."""

from __future__ import annotations

from ventsize.tui.job import bulk, edits, runs
from ventsize.tui.job.open_job import OpenJob
from ventsize.tui.job.outline import Key
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.picker import Picker

PIPE, RUN = "pipe", "another run"  # beside the fittings in the list of what can be added


def add(job: OpenJob) -> None:
    """Ask for a fitting, and put it after the cursor."""
    key = job.key_at

    async def chosen(name: str | None) -> None:
        if name == PIPE:
            await add_pipe(job)
        elif name == RUN:
            await runs.add(job)
        elif name:
            await job.edit(f"add {name}", lambda data: edits.add_fitting(data, key, name), go=1, said=f"{name} added")

    entries = [(PIPE, PIPE, "straight; its length is typed next"), *_fittings(job)]
    entries.append((RUN, RUN, "of its own, beside the others"))
    job.app.push_screen(Picker("Add after this piece", entries), chosen)


def _fittings(job: OpenJob) -> list[tuple[str, str, str]]:
    return [(f.name, f.name, f.title) for f in job.catalog.fittings.values()]


async def add_pipe(job: OpenJob) -> None:
    """A straight pipe after the cursor; its length is for typing next."""

    async def added() -> None:
        key, said = job.key_at, "pipe added: type its length"
        if await job.edit("add pipe", lambda data: edits.add_pipe(data, key), go=1, said=said):
            job.piece_form.focus_field()

    await runs.laid_out(job, added)


async def remove(job: OpenJob) -> None:
    """Take out the marked pieces, or the one under the cursor, or an empty run."""
    places = marked(job)
    if await job.edit("remove", lambda data: edits.remove(data, places), said=f"{len(places)} removed; u: undo"):
        job.outline.marked.clear()


async def duplicate(job: OpenJob) -> None:
    """Once more, after the last of them."""
    places = marked(job)
    await job.edit("duplicate", lambda data: edits.duplicate_at(data, places), go=1, said="once more, below")


async def shift(job: OpenJob, by: int) -> None:
    """Move pieces along the run."""
    places = marked(job)
    await job.edit("move", lambda data: edits.shift(data, places, by), go=by)


def marked(job: OpenJob) -> list[Key]:
    """The marked pieces, else what is under the cursor."""
    return sorted(job.outline.marked, key=str) or [job.key_at]


def mark(job: OpenJob) -> None:
    """Mark a piece, or take the mark away, and go on."""
    rows, key = job.outline, job.key_at
    if isinstance(key[1], int):
        rows.marked ^= {key}
        rows.action_move(1)
        rows.refresh()
        job.say(f"{len(rows.marked)} marked" if rows.marked else "")


async def cut(job: OpenJob) -> None:
    """Take the pieces out, to be pasted into any run."""
    places = marked(job)
    taken = tuple(edits.copied(job.session.data, places))
    if not taken:
        job.warn("Put the cursor on a piece of a laid-out run, or mark some, to cut them.")
        return
    said = f"{len(taken)} cut; paste (Ctrl+V) puts them after any piece"
    if await job.edit("cut", lambda data: edits.remove(data, places), said=said):
        job.cut = taken
        job.outline.marked.clear()


async def paste(job: OpenJob) -> None:
    """Put what was cut after the cursor."""
    key, cut = job.key_at, job.cut
    if not cut:
        job.warn("Nothing has been cut yet: Ctrl+X cuts a piece, or the marked ones.")
        return
    await job.edit("paste", lambda data: edits.paste(data, key, cut), go=len(cut), said=f"{len(cut)} pasted")


def exchange(job: OpenJob) -> None:
    """Change every fitting of one kind in the run to another kind; asks which, where the cursor is on none."""
    old = edits.fitting_at(job.session.data, job.key_at)
    there = edits.fittings_in(job.session.data, job.run_at)
    if old is not None:
        _exchange(job, old)
    elif not there:
        job.warn("This run has no fittings to change.")
    else:
        entries = [(name, name, f"{count} in this run") for name, count in there.items()]
        asked = Picker("Which fitting shall change, everywhere in this run?", entries)
        job.app.push_screen(asked, lambda name: _exchange(job, name) if name else None)


def _exchange(job: OpenJob, old: str) -> None:
    run = job.run_at
    count = edits.fittings_in(job.session.data, run).get(old, 0)

    async def chosen(new: str | None) -> None:
        if new == old:
            job.say(f"{old} left as it is")
        elif new:
            said = f"{count} × {old} changed to {new}; u takes it back"
            await job.edit(f"{old} to {new}", lambda data: edits.exchange(data, run, old, new), said=said)

    job.app.push_screen(Picker(f"All {count} × {old} in this run become", _fittings(job), at=old), chosen)


def change_marked(job: OpenJob) -> None:
    """Size, material or surroundings of the marked pieces, or of the whole run, at once."""
    count = len(job.outline.marked)
    whose = f"Change {count} marked pieces" if count else "Change the whole run (Space marks pieces)"
    entries = [(what.name, what.title, what.said) for what in bulk.CHANGES]
    job.app.push_screen(Picker(whose, entries), lambda name: _change(job, name) if name else None)


def _change(job: OpenJob, name: str) -> None:
    run, catalog = job.run_at, job.catalog
    pieces = [piece for at, piece in job.outline.marked if at == run and isinstance(piece, int)]

    async def chosen(value: str | None) -> None:
        if value:
            said = f"{name} is {value} now; u takes it back"
            await job.edit(
                f"{name} {value}", lambda data: bulk.change(data, run, pieces, name, value, catalog), said=said
            )
            job.outline.marked.clear()
            job.outline.refresh()

    choices = bulk.choices(job.session.data, run, name, catalog)
    job.app.push_screen(Picker(name.capitalize(), choices) if choices else AskLine(bulk.QUESTION, None), chosen)
