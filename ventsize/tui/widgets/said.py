"""Texts that change often: laid out anew only where they take another number of lines."""

from __future__ import annotations

from rich.text import Text
from textual.content import Content
from textual.visual import VisualType
from textual.widgets import Static

from ventsize.tui.widgets.text import fitted


class OneLine(Static):
    """A text on one line; what has no room is left out from the end, by whole words."""

    DEFAULT_CSS = "OneLine { height: 1; padding: 0 1; text-wrap: nowrap; }"

    def __init__(self, text: str = "", *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__(Content(text), id=id, classes=classes, markup=False)

    def update(self, content: VisualType = "", *, layout: bool = False) -> None:
        """Another text; it takes as much room."""
        super().update(content, layout=layout)

    def render(self) -> Content:
        """As much as there is room for."""
        return Content(fitted(str(self.content), self.content_size.width))


class Said(Static):
    """A static text with `say` for another one."""

    def __init__(self, text: str = "", *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__(text, id=id, classes=classes, markup=False)
        self._said: Content | None = None
        self._lines = (0, 0)

    def say(self, text: Text | str) -> None:
        """Show this from now on."""
        content = Content.from_rich_text(text) if isinstance(text, Text) else Content(text)
        lines = (self.size.width, len(content.wrap(max(1, self.size.width))))
        if self._said is not None and content.is_same(self._said) and lines == self._lines:
            return
        self.update(content, layout=lines != self._lines)
        self._said, self._lines = content, lines

    @property
    def text(self) -> str:
        """What is shown, as text."""
        return self._said.plain if self._said is not None else ""
