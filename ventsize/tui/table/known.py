"""The jobs known here, to say which of them a table judges."""

from __future__ import annotations

from pathlib import Path

from ventsize.catalog.folders import shipped_folder, user_jobs_folder
from ventsize.tui.settings import recent_jobs


def known_jobs() -> list[Path]:
    """The jobs opened last, those in the folder for jobs, and the demonstrations."""
    folders = (user_jobs_folder(), shipped_folder("scenarios"))
    return [*recent_jobs(), *(path for folder in folders for path in sorted(folder.glob("*.toml")))]
