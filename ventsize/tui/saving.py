"""Saving and closing an open file: the same for a job and for an allowance table."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from ventsize.catalog.folders import user_jobs_folder
from ventsize.jobfile.writer import SaveError
from ventsize.tui.job.session import ChangedOnDisk, Session
from ventsize.tui.judging import OfSession
from ventsize.tui.widgets.file_picker import FilePicker
from ventsize.tui.widgets.question import Question


def folder_for(session: Session) -> Path:
    """Where files of an open job go and come from: beside it, or the folder for jobs where it has none of its own."""
    return user_jobs_folder() if session.path is None or session.shipped else session.path.parent


class FileScreen(OfSession):
    """A screen of an open file.

    Whoever derives from it binds keys to `save`, `save_as` and `back`, and says by which name (`usual_name`), in
    which folder (`folder`) and with which words (`saved`) the file is saved.
    """

    def usual_name(self) -> tuple[str, str]:
        """What is asked where a name is needed, and the name proposed."""
        raise NotImplementedError

    def folder(self) -> Path:
        """Where a bare name is saved."""
        return folder_for(self.session)

    def saved(self) -> None:
        """The file is on disk: say so."""
        raise NotImplementedError

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
        title, usual = self.usual_name()

        def chosen(path: Path | None) -> None:
            if path is not None:
                self._write(path, then)

        self.app.push_screen(FilePicker(title, self.folder(), name=usual, saving=True), chosen)

    def before_saving(self, path: Path) -> None:
        """The file is about to be written under a name of its own."""

    def _write(self, path: Path | None, then: Callable[[], None] | None, *, overwrite: bool = False) -> None:
        if path is not None:
            self.before_saving(path)
        try:
            self.session.save(path, overwrite=overwrite)
        except ChangedOnDisk as error:
            self._ask_overwrite(path, then, str(error))
        except (OSError, SaveError) as error:
            self.notify(f"Not saved: {error}", severity="error", markup=False)
        else:
            self.saved()
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
