"""Every action with its key: in the command palette and in the key list."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from textual.command import DiscoveryHit, Hit, Hits, Provider
from textual.screen import Screen


def actions_of(screen: Screen[Any]) -> Iterator[tuple[str, str, str, Any]]:
    """What can be done now: label, keys, the action's name, and the action."""
    seen: dict[tuple[str, str], list[str]] = {}
    nodes: dict[tuple[str, str], Any] = {}
    for active in screen.active_bindings.values():
        binding = active.binding
        if not binding.description or binding.id is None:
            continue
        key = (binding.id, binding.description)
        seen.setdefault(key, []).append(screen.app.get_key_display(binding))
        nodes[key] = (active.node, binding.action)
    for (name, label), keys in seen.items():
        node, action = nodes[name, label]
        yield label, " ".join(dict.fromkeys(keys)), name, (node, action)


class Actions(Provider):
    """Offers every action of the screen in the palette."""

    async def discover(self) -> Hits:
        """All of them, before anything is typed."""
        for label, keys, _, call in actions_of(self.screen):
            yield DiscoveryHit(f"{label}  ({keys})", partial(self._run, *call))

    async def search(self, query: str) -> Hits:
        """Those that match."""
        matcher = self.matcher(query)
        for label, keys, _, call in actions_of(self.screen):
            score = matcher.match(label)
            if score > 0:
                yield Hit(score, f"{label}  ({keys})", partial(self._run, *call))

    async def _run(self, node: Any, action: str) -> None:
        await self.app.run_action(action, node)
