"""Where reference data and demonstration jobs are: shipped with the program, and the user's own."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any, Literal

_PACKAGE = Path(__file__).resolve().parent.parent
USER_FOLDER_VARIABLE = "VENTSIZE_FOLDER"
SETTINGS = "settings.toml"
_NOWHERE = Path(os.devnull) / "ventsize"


@lru_cache
def shipped_folder(kind: Literal["tables", "scenarios"]) -> Path:
    """The shipped folder of this kind: inside the package when installed, else at the top of the tree."""
    installed = _PACKAGE / kind
    return installed if installed.is_dir() else _PACKAGE.parent / kind


def shipped_table(name: str) -> Path:
    """A file of the shipped tables."""
    return shipped_folder("tables") / name


def is_shipped(path: Path) -> bool:
    """Whether a file came with the program, and is not to be changed."""
    return path.resolve().parent in (shipped_folder("tables"), shipped_folder("scenarios"))


def user_folder() -> Path:
    """The user's own folder. The environment variable VENTSIZE_FOLDER overrides where it is."""
    chosen = os.environ.get(USER_FOLDER_VARIABLE)
    if chosen:
        return at_home(chosen)
    from platformdirs import user_config_path

    return _kept_in(lambda: user_config_path("ventsize", appauthor=False))


def at_home(text: str) -> Path:
    """The path that a text means, where ~ is one's own folder; a ~ that leads to nobody's stays as it is."""
    return Path(os.path.expanduser(text))  # Path.expanduser raises where there is no such home


def _kept_in(find: Callable[[], Path]) -> Path:
    """The folder found; where whoever runs this has no home, one that is nowhere: nothing is kept, or found there."""
    try:
        found = find()
    except RuntimeError:  # some releases of platformdirs say so; others give a path that begins with ~
        return _NOWHERE
    return found if found.is_absolute() else _NOWHERE


def settings_file() -> Path:
    """The user's settings; it need not exist."""
    return user_folder() / SETTINGS


def user_tables_folder() -> Path:
    """The user's own reference data and allowance tables; it need not exist."""
    return _chosen("tables") or user_folder() / "tables"


def user_jobs_folder() -> Path:
    """Where jobs saved under a bare name go; it need not exist."""
    if chosen := _chosen("jobs"):
        return chosen
    from platformdirs import user_documents_path

    return _kept_in(lambda: user_documents_path() / "ventsize")


def _chosen(kind: Literal["tables", "jobs"]) -> Path | None:
    """A folder named under [folders] in the settings. Faults in the settings are for the screens to say."""
    path = settings_file()
    try:
        text = _chosen_at(path, path.stat().st_mtime_ns).get(kind)
    except (OSError, ValueError):
        return None
    return at_home(text) if isinstance(text, str) and text.strip() else None


@lru_cache(maxsize=4)
def _chosen_at(path: Path, _written: int) -> dict[str, Any]:
    """Read anew only when it has been written since."""
    found = tomllib.loads(path.read_text(encoding="utf-8")).get("folders")
    return found if isinstance(found, dict) else {}
