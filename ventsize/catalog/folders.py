"""Where reference data and demonstration jobs are: shipped with the program, and the user's own."""

from __future__ import annotations

import os
from functools import lru_cache
from pathlib import Path
from typing import Literal

_PACKAGE = Path(__file__).resolve().parent.parent
USER_FOLDER_VARIABLE = "VENTSIZE_FOLDER"


@lru_cache
def shipped_folder(kind: Literal["tables", "scenarios"]) -> Path:
    """The shipped folder of this kind: inside the package when installed, else at the top of the tree."""
    installed = _PACKAGE / kind
    return installed if installed.is_dir() else _PACKAGE.parent / kind


def shipped_table(name: str) -> Path:
    """A file of the shipped tables."""
    return shipped_folder("tables") / name


def user_folder() -> Path:
    """The user's own folder. The environment variable VENTSIZE_FOLDER overrides where it is."""
    chosen = os.environ.get(USER_FOLDER_VARIABLE)
    if chosen:
        return Path(chosen).expanduser()
    from platformdirs import user_config_path

    return user_config_path("ventsize", appauthor=False)


def user_tables_folder() -> Path:
    """The user's own reference data and allowance tables; it need not exist."""
    return user_folder() / "tables"
