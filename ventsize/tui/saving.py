"""Saving and closing an open file: the same for a job and for an allowance table."""

from __future__ import annotations

import re
from abc import abstractmethod
from collections.abc import Callable
from pathlib import Path
from typing import ClassVar

from ventsize.catalog.folders import user_jobs_folder
from ventsize.jobfile.editing import put
from ventsize.jobfile.writer import SaveError
from ventsize.tui.job.session import ChangedOnDisk, Session
from ventsize.tui.session_screen import SessionScreen
from ventsize.tui.widgets.file_picker import FilePicker
from ventsize.tui.widgets.question import Question

NEW_TITLES = ("Count of feet and fittings", "New job")
"""Of a job counted, and of one laid out, until somebody gives it another."""


def folder_for(session: Session) -> Path:
    """Where files of an open job go and come from: beside it, or the folder for jobs where it has none of its own."""
    return user_jobs_folder() if session.path is None or session.shipped else session.path.parent


def name_after(session: Session, path: Path) -> None:
    """Call a job after its file where nobody has given it a title yet."""
    words = re.sub(r"[-_ ]+", " ", path.stem).strip()
    if session.data.get("title") in NEW_TITLES and words:
        session.do(put(session.data, ("title",), f"{words[:1].upper()}{words[1:]}"), "title, after the file's name")


class FileScreen(SessionScreen):
    """A screen of an open file.

    Whoever derives from it binds keys to `save`, `save_as` and `back`. kind: the name of a file that has no title.
    save_title: what is asked where a name is needed.
    """

    kind: ClassVar[str] = "job"
    save_title: ClassVar[str] = "Save the job as"

    def folder(self) -> Path:
        """Where a bare name is saved."""
        return folder_for(self.session)

    def usual_name(self) -> str:
        """The name proposed, out of the title."""
        words = re.findall(r"[a-z0-9]+", str(self.session.data.get("title", "")).lower())
        return f"{'-'.join(words)[:60] or self.kind}.toml"

    @abstractmethod
    def saved(self, path: Path) -> None:
        """The file is on disk: say so."""

    def action_save(self) -> None:
        """Write the file; ask for a name where there is none of one's own."""
        self._save_then(None)

    def action_save_as(self) -> None:
        """Write it under another name."""
        self._ask_name(None)

    def action_back(self) -> None:
        """Close; ask where something is not saved."""
        if not self.session.history.unsaved:
            self._close()
            return
        answers = (("save", "Save and close", "s"), ("drop", "Discard changes", "d"), ("stay", "Keep editing", "k"))

        def answered(word: str | None) -> None:
            if word == "save":
                self._save_then(self._close)
            elif word == "drop":
                self._close()

        self.app.push_screen(Question("Not saved", "There are changes that are not saved.", answers), answered)

    def closed(self) -> None:
        """The file is closed: leave."""
        self.dismiss(None)

    def _close(self) -> None:
        self.session.journal.close()
        self.closed()

    def _save_then(self, then: Callable[[], None] | None) -> None:
        if self.session.path is None or self.session.shipped:
            self._ask_name(then)
        else:
            self._write(None, then)

    def _ask_name(self, then: Callable[[], None] | None) -> None:
        def chosen(path: Path | None) -> None:
            if path is not None:
                self._write(path, then)

        self.app.push_screen(FilePicker(self.save_title, self.folder(), name=self.usual_name(), saving=True), chosen)

    def _write(self, path: Path | None, then: Callable[[], None] | None, *, overwrite: bool = False) -> None:
        if path is not None:
            name_after(self.session, path)
        try:
            there = self.session.save(path, overwrite=overwrite)
        except ChangedOnDisk as error:
            self._ask_overwrite(path, then, str(error))
        except (OSError, SaveError) as error:
            self.notify(f"Not saved: {error}", severity="error", markup=False)
        else:
            self.saved(there)
            if then is not None:
                then()

    def _ask_overwrite(self, path: Path | None, then: Callable[[], None] | None, error: str) -> None:
        answers = (("over", "Write over it", "w"), ("other", "Another name", "a"), ("leave", "Leave it", "l"))

        def answered(word: str | None) -> None:
            if word == "over":
                self._write(path, then, overwrite=True)
            elif word == "other":
                self._ask_name(then)

        title = "There is such a file already" if path is not None else "The file is not as it was"
        self.app.push_screen(Question(title, f"{error}. Write over it?", answers), answered)
