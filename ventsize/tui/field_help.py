"""What the help says of a field, or of a screen."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FieldHelp:
    """What is said about a field. Typical values are common practice, for orientation only.

    words: what the trade or a maker's page calls it.
    """

    what: str
    where: str
    typical: str = ""
    words: str = ""

    @property
    def lines(self) -> list[str]:
        """Everything, with an empty line between."""
        found = [self.what, f"Where to find it: {self.where}"]
        if self.typical:
            found.append(f"Typical: {self.typical}")
        if self.words:
            found.append(f"Also called: {self.words}")
        return found


@dataclass(frozen=True, slots=True)
class ScreenHelp:
    """What is said about a screen: what it shows, and what to know of its keys, which are listed below it."""

    what: str
    keys: str = ""
    more: str = ""

    @property
    def lines(self) -> list[str]:
        """Everything, with an empty line between."""
        return [said for said in (self.what, self.keys, self.more) if said]
