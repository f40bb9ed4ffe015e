"""Keys in turn: each key is handed out when everybody is through with the one before.

A key may open a list, move the focus or change a form, and the keys after it are meant for what is there then. Typed
in a burst they would all go to what has the focus now. So they wait here, in order, until the key before them has gone
its way from the focus up to the app, and whatever it opened stands.
"""

from __future__ import annotations

import asyncio
import contextlib
import gc
from collections import deque
from collections.abc import Callable, Iterable
from typing import Any

from textual import events
from textual.app import App
from textual.message_pump import MessagePump
from textual.screen import Screen
from textual.widgets import Input

from ventsize.tui.settings import Settings

HELD = (events.Key, events.Paste, events.MouseDown, events.MouseUp)
LONGEST = 5.0  # s; whatever holds a key up longer is no reason to hold up the next
STEP = 0.01  # s
HELP = "app.help_here"
WRITTEN = {
    "question_mark": "?", "slash": "/", "quotation_mark": '"', "less_than_sign": "<", "greater_than_sign": ">",
    "plus": "+", "minus": "-", "equals_sign": "=", "escape": "Esc", "delete": "Del", "pageup": "PgUp",
    "pagedown": "PgDn", "insert": "Ins", "up": "↑", "down": "↓", "left": "←", "right": "→",
}  # fmt: skip
SELDOM = (20_000, 10, 10)  # new objects between two looks; a full look took 150 ms, a key takes 20


def steady() -> None:
    """Keep the collector of unused objects from holding a key up: it looks seldom, and not at what there is now.

    To be called once a job is open, with all that was imported for it. It holds for the whole process.
    """
    gc.freeze()
    gc.set_threshold(*SELDOM)


def take_keys(screen: Screen[Any]) -> None:
    """End a screen's `opening` once the focus it has asked for is set: a key that came before it would reach nobody."""
    screen.app.call_later(setattr, screen, "opening", False)


class KeysInTurn(App[int]):
    """An app whose keys are handed out one by one.

    A screen that cannot take keys yet has a true `opening`: they wait for it. One that wants to know that no more
    keys are waiting has a method `keys_through`.
    """

    settings: Settings

    def __init__(self) -> None:
        super().__init__()
        self._waiting: deque[events.Event] = deque()
        self._turn: events.Event | None = None
        self._busy = False
        self._going_on: asyncio.Task[None] | None = None

    @property
    def keys_waiting(self) -> bool:
        """Whether more keys have been typed than handed out."""
        return bool(self._waiting)

    async def on_event(self, event: events.Event) -> None:
        """Hand a key out if it is its turn; keep it if not."""
        if not isinstance(event, HELD) or getattr(event, "is_forwarded", False) or not self.screen_stack:
            await super().on_event(event)
            return
        if self._busy and event is not self._turn:
            self._waiting.append(event)
            return
        holders, self._busy = self._holders(), True
        if getattr(self.screen, "opening", False):
            self._waiting.appendleft(event)
            self._going_on = asyncio.create_task(self._go_on(()))
            return
        try:
            if isinstance(event, events.Key) and event.character == "?" and _no_letter_of(self.focused):
                await self.run_action(HELP)
            else:
                await super().on_event(event)
        finally:
            self._going_on = asyncio.create_task(self._go_on(holders))

    def _holders(self) -> list[MessagePump]:
        """Whoever a key passes on its way up from the focus."""
        focused = self.focused
        return [] if focused is None else [*focused.ancestors_with_self]

    async def _go_on(self, holders: Iterable[MessagePump]) -> None:
        try:
            async with asyncio.timeout(LONGEST):
                await _through(holders)
                await self._stands()
        except TimeoutError:
            self.log("a key took long")
        if self._waiting:
            self._turn = self._waiting.popleft()
            self.post_message(self._turn)
            return
        self._busy, self._turn = False, None
        for screen in self.screen_stack:
            through: Callable[[], object] | None = getattr(screen, "keys_through", None)
            if through is not None:
                screen.call_later(through)

    async def _stands(self) -> None:
        """What the key has opened or closed stands, and knows where its focus is."""
        while getattr(self.screen, "opening", False):
            await asyncio.sleep(STEP)
        screen: Any = None
        while screen is not self.screen:
            screen = self.screen
            await _through([*(self.focused or screen).ancestors_with_self])


def shown_key(key: str) -> str:
    """The name of a key as it is printed on a keyboard, from its name in a binding."""
    *held, last = key.split("+")
    name = WRITTEN.get(last) or (last if len(last) == 1 and not held else last.replace("_", " ").title())
    return "+".join([*(part.title() for part in held), name])


def _no_letter_of(entry: Any) -> bool:
    """Whether a question mark cannot be meant as a letter here: words do not begin with one, and no number has one."""
    if not isinstance(entry, Input):
        return False
    try:
        getattr(entry.parent, "reader", str)(f"{entry.value}?")
    except ValueError:
        return True
    return 0 in entry.selection


async def _through(holders: Iterable[MessagePump]) -> None:
    """Wait until each of these, one after the other, has seen to what was sent to it so far."""
    for holder in holders:
        seen = asyncio.Event()
        if holder.call_later(seen.set):
            while not (seen.is_set() or holder._closed):  # it may be taken away meanwhile
                with contextlib.suppress(TimeoutError):
                    await asyncio.wait_for(seen.wait(), STEP)
