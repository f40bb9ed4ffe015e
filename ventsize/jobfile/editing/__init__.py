"""Editing a job: pure functions from data to data.

The state of an open job (or allowance table) is the plain data of its TOML file: dict, list, str, float, int,
bool. It is never changed in place. Every edit returns new data, which shares with the old all that stayed as it
was; `ventsize.jobfile.history` keeps the snapshots for undo, `ventsize.jobfile.recovery` keeps the last one safe
from a crash, `ventsize.jobfile.writer` saves it, and `ventsize.jobfile.job.job_from_data` reads it.

A path is a tuple such as ("run", 0, "pieces", 2, "pipe"); runs and pieces go by their place, from 0, because a
name may be half typed. Values are as typed: "12 ft 6 in", not a float. Data may be invalid at any time; an edit
that makes no sense on it raises `EditError`, whose text is one sentence.

- values:  `value_at`, `put` (None clears), `clear`, `items`, `insert_item`, `move_item`: any field, and any list
           such as ("appliance",), ("appliance", 0, "rate"), ("joint",), ("row",) of a table
- pieces:  `insert_pieces`, `remove_pieces`, `duplicate_pieces`, `move_pieces` with `places_after_move`,
           `pieces_at` (copy), `replace_fitting`, `one_size`
- routes:  `walk` (a pipe more, with the elbows that join it), `elbows_between`, `heading_before`
- counts:  `set_count`, `to_laid_out`, `nothing_counted`, `length_text`, `units_of`
- names:   `rename` (run, appliance, rate, joint: with all that refers to it), `rename_table`,
           `duplicate`, `refers_to`, `names_of`, `free_name`, `variant`
"""

from ventsize.jobfile.editing.counts import (
    length_text,
    nothing_counted,
    set_count,
    to_laid_out,
    units_of,
)
from ventsize.jobfile.editing.names import (
    duplicate,
    free_name,
    names_of,
    refers_to,
    rename,
    rename_table,
    variant,
)
from ventsize.jobfile.editing.pieces import (
    Piece,
    duplicate_pieces,
    insert_pieces,
    move_pieces,
    one_size,
    pieces_at,
    pieces_of,
    places_after_move,
    remove_pieces,
    replace_fitting,
    with_pieces,
)
from ventsize.jobfile.editing.routes import elbows_between, heading_before, walk
from ventsize.jobfile.editing.values import (
    Data,
    EditError,
    Path,
    clear,
    insert_item,
    items,
    move_item,
    put,
    value_at,
)

__all__ = [
    "Data",
    "EditError",
    "Path",
    "Piece",
    "clear",
    "duplicate",
    "duplicate_pieces",
    "elbows_between",
    "free_name",
    "heading_before",
    "insert_item",
    "insert_pieces",
    "items",
    "length_text",
    "move_item",
    "move_pieces",
    "names_of",
    "nothing_counted",
    "one_size",
    "pieces_at",
    "pieces_of",
    "places_after_move",
    "put",
    "refers_to",
    "remove_pieces",
    "rename",
    "rename_table",
    "replace_fitting",
    "set_count",
    "to_laid_out",
    "units_of",
    "value_at",
    "variant",
    "walk",
    "with_pieces",
]
