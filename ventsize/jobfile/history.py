"""Undo and redo without limit, over snapshots of an open file's data."""

from __future__ import annotations

from dataclasses import dataclass

from ventsize.jobfile.editing.values import Data, Path


@dataclass(frozen=True, slots=True)
class Step:
    """One edit: what it is called, where it was made, and the data after it."""

    label: str
    data: Data
    at: Path = ()
    typing: bool = False


class History:
    """The snapshots of an open file.

    `do` adds one; typing in the same field goes on in the same step until `pause`, another edit or an undo.
    """

    def __init__(self, data: Data, *, saved: Data | None = None) -> None:
        """saved: what is on disk, where that is not the data to begin with, as with work taken up again."""
        self._done = [Step("open", data)]
        self._undone: list[Step] = []
        self._saved = data if saved is None else saved

    @property
    def data(self) -> Data:
        """The data as it stands."""
        return self._done[-1].data

    @property
    def unsaved(self) -> bool:
        """Whether the data differs from what was last read or saved."""
        return not same(self.data, self._saved)

    @property
    def typing(self) -> bool:
        """Whether the last edit is being typed: its field has not been left."""
        return self._done[-1].typing

    def do(self, data: Data, label: str, *, at: Path = (), typing: bool = False) -> None:
        """Take new data as the state, under a label such as "set length of piece 3".

        at: path of the field, or of what was edited, so that a screen can go there on undo.
        typing: whether this is one keystroke of several in that field; they are undone together.
        """
        last = self._done[-1]
        goes_on = typing and last.typing and last.at == at
        if same(data, last.data):
            return
        self._undone.clear()
        if goes_on:
            self._done.pop()
            if same(data, self.data):  # typed and taken back: nothing to undo
                return
        self._done.append(Step(label, data, at, typing))

    def pause(self) -> None:
        """The field is left: what is typed in it later is a step of its own."""
        last = self._done[-1]
        self._done[-1] = Step(last.label, last.data, last.at)

    def undo(self) -> Step | None:
        """Take back the last edit and return it, or None if there is none."""
        if len(self._done) == 1:
            return None
        self.pause()
        self._undone.append(self._done.pop())
        self.pause()
        return self._undone[-1]

    def redo(self) -> Step | None:
        """Do the edit last undone again and return it, or None if there is none."""
        if not self._undone:
            return None
        self._done.append(self._undone.pop())
        return self._done[-1]

    def mark_saved(self) -> None:
        """The data as it stands is on disk now."""
        self._saved = self.data
        self.pause()


def same(one: object, other: object) -> bool:
    """Whether two values are the same to TOML: equal, and a whole number is no float and no true or false."""
    if one is other:
        return True
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(value, other[key]) for key, value in one.items())
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    return type(one) is type(other) and (one == other or (one != one and other != other))
