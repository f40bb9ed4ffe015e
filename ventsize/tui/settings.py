"""What a person has chosen, kept in a TOML file of their own folder, and the jobs they opened last."""

from __future__ import annotations

import os
import tomllib
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from ventsize.catalog.folders import user_folder
from ventsize.tui.themes import COLOUR_SAFE, THEMES

FILE, RECENT = "settings.toml", "recent.txt"
MOST_RECENT = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """units: "us" or "si". theme: a name of `themes`. characters: "auto" or "plain". keys: keys by action.

    fault: why the file could not be read, if so; the usual settings then hold.
    """

    units: str = "us"
    theme: str = COLOUR_SAFE
    characters: str = "auto"
    keys: dict[str, str] = field(default_factory=dict)
    fault: str = ""


def settings_file() -> Path:
    """Where the settings are kept."""
    return user_folder() / FILE


def load_settings() -> Settings:
    """The settings, or the usual ones with the reason why."""
    path = settings_file()
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return Settings()
    except (OSError, ValueError) as error:
        return Settings(fault=f"{path}: {error}; the usual settings are used")
    return _checked(data)


def _checked(data: dict[str, Any]) -> Settings:
    usual = Settings()
    allowed = {"units": ("us", "si"), "theme": tuple(t.name for t in THEMES), "characters": ("auto", "plain")}
    chosen = {name: data[name] for name, values in allowed.items() if data.get(name) in values}
    wrong = [name for name in allowed if name in data and name not in chosen]
    keys = data.get("keys", {})
    good = {k: v for k, v in keys.items() if isinstance(v, str)} if isinstance(keys, dict) else {}
    fault = f"settings: {', '.join(wrong)} cannot be used; the usual ones are" if wrong else ""
    return replace(usual, **chosen, keys=good, fault=fault)


def save_settings(settings: Settings) -> str:
    """Keep the settings; gives why that failed, or an empty text."""
    lines = [f'{name} = "{getattr(settings, name)}"' for name in ("units", "theme", "characters")]
    lines += ["", "# An action's name (F1 lists them) and the keys it is to have, with commas between.", "[keys]"]
    lines += [f'"{name}" = "{keys}"' for name, keys in settings.keys.items()]
    return _written(settings_file(), "\n".join(lines) + "\n")


def recent_jobs() -> list[Path]:
    """The jobs opened last, latest first, as far as they are still there."""
    try:
        lines = (user_folder() / RECENT).read_text(encoding="utf-8").splitlines()
    except (OSError, ValueError):
        return []
    return [Path(line) for line in lines if line and Path(line).is_file()]


def remember_job(path: Path) -> None:
    """Put a job at the head of those opened last. Failing to is no reason to stop anybody."""
    known = [str(path.resolve()), *map(str, recent_jobs())]
    _written(user_folder() / RECENT, "\n".join(list(dict.fromkeys(known))[:MOST_RECENT]) + "\n")


def _written(path: Path, text: str) -> str:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        beside = path.with_suffix(".part")
        beside.write_text(text, encoding="utf-8")
        os.replace(beside, path)
    except OSError as error:
        return f"{path}: {error.strerror}"
    return ""
