"""What a person has chosen, kept in a TOML file of their own folder, and the jobs they opened last.

The file may be written by hand: comments and order stay when the screens change it, and what cannot be used is said
in a sentence while the usual value holds.
"""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from ventsize.catalog.folders import at_home, settings_file, user_folder
from ventsize.tui.themes import COLOUR_SAFE, THEMES

RECENT = "recent.txt"
MOST_RECENT = 12
CHOICES: dict[str, tuple[str, ...]] = {
    "units": ("us", "si"),
    "theme": tuple(theme.name for theme in THEMES),
    "characters": ("auto", "plain"),
    "elbow": ("elbow-90-long", "elbow-90-short", "elbow-90-mitered"),
}
FOLDERS = ("tables", "jobs")
KNOWN = (*CHOICES, "altitude", "folders", "keys")
KEY = re.compile(r"[^\s,]+(\s*,\s*[^\s,]+)*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """units: "us" or "si". theme: a name of `themes`. characters: "auto" or "plain". keys: keys by action.

    elbow: what a walked route turns by.
    altitude: of the places one works at, as typed; empty where none is set.
    faults: what of the file cannot be used, a sentence each; the usual settings then hold.
    """

    units: str = "us"
    theme: str = COLOUR_SAFE
    characters: str = "auto"
    elbow: str = "elbow-90-long"
    altitude: str = ""
    keys: dict[str, str] = field(default_factory=dict)
    faults: tuple[str, ...] = ()

    @property
    def fault(self) -> str:
        """Everything that cannot be used, in one sentence; empty where all is well."""
        if not self.faults:
            return ""
        more = f" (and {len(self.faults) - 1} more; F10 lists them)" if len(self.faults) > 1 else ""
        return f"Settings: {self.faults[0]}{more}"


def load_settings() -> Settings:
    """The settings, or the usual ones with the reason why."""
    path = settings_file()
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return Settings()
    except OSError as error:
        return Settings(faults=(f"{path} cannot be read ({error.strerror}); the usual settings are used",))
    except (ValueError, RecursionError) as error:
        return Settings(faults=(f"{path} is not TOML ({error}); the usual settings are used",))
    return settings_from(data)


def settings_from(data: Mapping[str, Any]) -> Settings:
    """The settings in the data of a file."""
    chosen = {name: data[name] for name, values in CHOICES.items() if data.get(name) in values}
    altitude = data.get("altitude")
    keys = data.get("keys")
    return Settings(
        **chosen,
        altitude=altitude if isinstance(altitude, str) else "",
        keys={name: text for name, text in keys.items() if _is_key(text)} if isinstance(keys, dict) else {},
        faults=tuple(_faults(data)),
    )


def _is_key(text: Any) -> bool:
    return isinstance(text, str) and bool(KEY.fullmatch(text.strip()))


def _faults(data: Mapping[str, Any]) -> Iterator[str]:
    for key in data:
        if key not in KNOWN:
            yield f"'{key}' is not a setting; {_nearest(str(key), KNOWN)}"
    for name, values in CHOICES.items():
        if name in data and data[name] not in values:
            yield f"{name} = {_shown(data[name])} cannot be used; expected one of: {', '.join(values)}"
    if not isinstance(data.get("altitude", ""), str):
        yield f"altitude = {_shown(data['altitude'])} cannot be used; expected a text such as '5200 ft'"
    yield from _table_faults(data, "folders", _folder_fault)
    yield from _table_faults(data, "keys", _key_fault)


def _table_faults(data: Mapping[str, Any], name: str, fault: Callable[[str, Any], str]) -> Iterator[str]:
    found = data.get(name, {})
    if not isinstance(found, dict):
        yield f"{name} = {_shown(found)} cannot be used; expected a table under [{name}]"
        return
    for key, value in found.items():
        if said := fault(str(key), value):
            yield said


def _folder_fault(key: str, value: Any) -> str:
    if key not in FOLDERS:
        return f"folders: '{key}' is not a folder we use; {_nearest(key, FOLDERS)}"
    if not isinstance(value, str):
        return f"folders: {key} = {_shown(value)}; expected a path in quotes"
    fault = folder_fault(value)
    return f"folders: {fault}" if fault else ""


def folder_fault(text: str) -> str:
    """Why a folder cannot be used, or an empty text. One that is not there yet is made when it is needed."""
    if not text.strip():
        return ""
    path = at_home(text)
    if not path.is_absolute():
        return f"{text} is not a whole path; expected one such as ~/vents"
    try:
        return f"{path} is a file; expected a folder" if path.exists() and not path.is_dir() else ""
    except (OSError, ValueError):
        return f"{text} cannot be used; expected a path such as ~/vents"


def _key_fault(key: str, value: Any) -> str:
    return "" if _is_key(value) else f"keys: {key} = {_shown(value)} cannot be used; expected keys such as 'ctrl+s, f2'"


def _nearest(name: str, known: tuple[str, ...]) -> str:
    close = difflib.get_close_matches(name.lower(), known, n=1, cutoff=0.5)
    return f"expected perhaps '{close[0]}'" if close else f"expected one of: {', '.join(known)}"


def _shown(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 40 else text[:37] + "…"


def save_settings(data: Mapping[str, Any]) -> str:
    """Keep the settings; gives why that failed, or an empty text. Comments and order of the file stay."""
    from ventsize.jobfile.writer import SaveError, save

    path = settings_file()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        save(path, data, known=None)
    except SaveError as error:
        return str(error)
    except OSError as error:
        return f"{path}: {error.strerror}"
    return ""


def recent_jobs() -> list[Path]:
    """The jobs opened last, latest first, as far as they are still there."""
    try:
        lines = (user_folder() / RECENT).read_text(encoding="utf-8").splitlines()
    except (OSError, ValueError):
        return []
    return [Path(line) for line in lines if line and Path(line).is_file()]


def remember_job(path: Path) -> None:
    """Put a job at the head of those opened last. Failing to is no reason to stop anybody."""
    from ventsize.jobfile.atomic_write import write_whole

    with suppress(OSError):
        known = [str(path.resolve()), *map(str, recent_jobs())]
        text = "\n".join(list(dict.fromkeys(known))[:MOST_RECENT]) + "\n"
        user_folder().mkdir(parents=True, exist_ok=True)
        write_whole(user_folder() / RECENT, text.encode("utf-8", "surrogateescape"))
