"""The keys of the moment on the last line: drawn as one, clickable, and never cut within a word.

What has no room is left out from the end; how to find all keys always has its place.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from rich.cells import cell_len
from textual import events
from textual.content import Content
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Input

from ventsize.tui.keys import HELP

HELP_SHOWN = " ? Help"


@dataclass(frozen=True, slots=True)
class _Key:
    """A key as shown, with what it does."""

    key: str
    label: str
    node: Any
    action: str

    @property
    def width(self) -> int:
        return cell_len(f" {self.key} {self.label} ")


class KeyLine(Widget):
    """Shows the bindings of the screen that ask to be shown, in their order."""

    COMPONENT_CLASSES = {"key-line--key"}

    DEFAULT_CSS = """
    KeyLine {
        dock: bottom; height: 1; background: $footer-background; color: $footer-foreground; text-wrap: nowrap;
        & .key-line--key { color: $footer-key-foreground; text-style: bold; }
    }
    """

    left_out: Sequence[str] = ()  # labels for which there is no room

    def on_mount(self) -> None:
        """Other keys, another line."""
        self._shown: list[_Key] = []
        self.screen.bindings_updated_signal.subscribe(self, self._changed)

    def _changed(self, screen: Screen[Any]) -> None:
        if self.is_attached and screen is self.screen:
            self.refresh()

    def _keys(self) -> Iterator[_Key]:
        seen: set[str] = set()
        typing = isinstance(self.app.focused, Input)
        for active in self.screen.active_bindings.values():
            binding = active.binding
            if typing and 1 in (len(binding.key), len(binding.key_display or "")):
                continue  # in a field a letter is a letter
            if binding.show and active.enabled and binding.action not in seen:
                seen.add(binding.action)
                yield _Key(self.app.get_key_display(binding), binding.description, active.node, binding.action)

    def render(self) -> Content:
        """As many as there is room for."""
        room = self.size.width - cell_len(HELP_SHOWN)
        self._shown, keys = [], list(self._keys())
        for key in keys:
            if key.width > room:
                break
            room -= key.width
            self._shown.append(key)
        self.left_out = [key.label for key in keys[len(self._shown) :]]
        bold = self.get_visual_style("key-line--key", partial=True)
        parts: list[Any] = []
        for key in self._shown:
            parts += [" ", (key.key, bold), f" {key.label} "]
        return Content.assemble(*parts, " " * max(0, room), " ", ("?", bold), HELP_SHOWN[2:])

    async def on_click(self, event: events.Click) -> None:
        """The same as the key."""
        at = 0
        for key in self._shown:
            at += key.width
            if event.x < at:
                await self.app.run_action(key.action, key.node)
                return
        if event.x >= self.size.width - cell_len(HELP_SHOWN):
            await self.app.run_action(HELP)
