"""One line of text being typed, with its caret: what keys do to it. Draws nothing."""

from __future__ import annotations

from collections.abc import Callable


class LineEditor:
    """text: as typed so far. before: what stood there, for Esc to bring back."""

    def __init__(self, text: str, *, before: str) -> None:
        self.text = text
        self.before = before
        self.caret = len(text)
        self._keys: dict[str, Callable[[], None]] = {
            "left": lambda: self._go(self.caret - 1), "right": lambda: self._go(self.caret + 1),
            "home": lambda: self._go(0), "end": lambda: self._go(len(self.text)),
            "backspace": lambda: self._cut(self.caret - 1), "delete": lambda: self._cut(self.caret),
            "ctrl+u": lambda: self._drop(0, self.caret), "ctrl+k": lambda: self._drop(self.caret, len(self.text)),
        }  # fmt: skip

    def insert(self, text: str) -> None:
        """Put text in at the caret."""
        self.text = self.text[: self.caret] + text + self.text[self.caret :]
        self.caret += len(text)

    def press(self, key: str, character: str | None) -> bool:
        """What a key does here; whether it does anything."""
        if key in self._keys:
            self._keys[key]()
            return True
        if character is not None:
            self.insert(character)
            return True
        return False

    def _go(self, caret: int) -> None:
        self.caret = max(0, min(caret, len(self.text)))

    def _cut(self, at: int) -> None:
        if 0 <= at < len(self.text):
            self._drop(at, at + 1)

    def _drop(self, start: int, end: int) -> None:
        self.text = self.text[:start] + self.text[end:]
        self._go(min(self.caret, start))

    def window(self, width: int) -> tuple[str, int]:
        """The part of the text round the caret that fits a width, padded to it, and where the caret is in it."""
        start = max(0, self.caret - width + 1)
        return self.text[start : start + width].ljust(width), self.caret - start
