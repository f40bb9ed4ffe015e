"""A paper of what a screen shows, written to a file that is named."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual.screen import Screen

from ventsize.tui.job.session import Session
from ventsize.tui.questions.asking import once_given, once_replaceable
from ventsize.tui.saving import folder_for
from ventsize.tui.widgets.file_picker import FilePicker

if TYPE_CHECKING:
    from ventsize.report.paper.blocks import Paper


def save_paper(screen: Screen[Any], session: Session, name: str, make: Callable[[], Paper]) -> None:
    """Ask for a file, PDF or HTML, and write it. name: what it is called at first. make: the paper."""

    def chosen(path: Path) -> None:
        once_replaceable(screen, path, lambda replaced: begin(path, replaced))

    def begin(path: Path, replaced: bool) -> None:
        screen.run_worker(lambda: write_it(path, replaced), thread=True, exclusive=False)

    def write_it(path: Path, replaced: bool) -> None:
        from ventsize.report.paper import PaperNotWritten, write

        keep = [session.path] if session.path else []
        kind: Any = "html" if path.suffix.lower() in (".html", ".htm") else "pdf"
        try:
            write(make(), {kind: path}, size="letter", replace=replaced, keep=keep)
        except (PaperNotWritten, ValueError) as error:
            screen.app.call_from_thread(screen.app.notify, str(error), severity="warning", markup=False)
        else:
            screen.app.call_from_thread(screen.app.notify, f"Written: {path}", markup=False)

    picker = FilePicker("Write PDF or HTML to", folder_for(session), suffixes=(".pdf", ".html"), name=f"{name}.pdf",
                        saving=True)  # fmt: skip
    screen.app.push_screen(picker, once_given(chosen))
