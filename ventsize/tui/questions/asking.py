"""What a screen asks before it goes on; where nothing is answered, nothing is done."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from textual.screen import Screen

from ventsize.tui.widgets.question import Question

Given = TypeVar("Given")
REPLACE = (("replace", "Replace it", "r"), ("keep", "Keep it", "k"))


def once_given(then: Callable[[Given], Any]) -> Callable[[Given | None], None]:
    """Go on with the answer to a question, where there is one."""

    def answered(answer: Given | None) -> None:
        if answer is not None:
            then(answer)

    return answered


def once_replaceable(screen: Screen[Any], path: Path, write: Callable[[bool], Any]) -> None:
    """Write a file: at once where there is no such one, else once it may be replaced. write: given whether it is."""
    if not path.exists():
        write(False)
        return
    question = Question("There is such a file already", str(path), REPLACE)
    screen.app.push_screen(question, lambda word: write(True) if word == "replace" else None)
