"""Screens that ask a question of the open job, one module each.

To add one: write `ventsize/tui/questions/<name>.py` with a `Screen` class whose constructor takes the open
`Session`, and add a line to `QUESTIONS`. The menu of the job screen (F9) and the command palette then list it.
Modules are imported when first opened, so that a screen costs nothing before.
"""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from typing import Any


@dataclass(frozen=True, slots=True)
class QuestionEntry:
    """A question as the menu lists it: `module:Class` of its screen, its title, what it answers."""

    screen: str
    title: str
    answers: str

    def open(self, session: Any) -> Any:
        """The screen, for a session."""
        module, _, name = self.screen.partition(":")
        return getattr(import_module(module), name)(session)


QUESTIONS: tuple[QuestionEntry, ...] = (
    QuestionEntry(
        "ventsize.tui.questions.report:ReportScreen",
        "The whole answer as text",
        "everything the command line prints, to read through or copy",
    ),
)
