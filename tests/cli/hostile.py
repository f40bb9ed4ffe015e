"""A job, its table, its prices, its visits and their names, each text of which tries to take the terminal over."""

from __future__ import annotations

import json
import re
from pathlib import Path

FORGED = "WITHIN  forged"
_MOVES = "\x1b]0;t\x07\x1b[2J\x1b[31m\u202e\u2066\u200f\x9b1A\x00\x08\x7f\u061c"
EVIL = f"{_MOVES}\r\n{FORGED}\r{FORGED}\u2028{FORGED}\n{FORGED}"
EVIL_NAME = f"evil\x1b[2J\n{FORGED}\r{FORGED}\u202e.toml"
"""A name that a file may have where files may have any."""

_FREE = ("title", "note", "source", "notice", "ask", "by", "photo", "item", "what")
_NAMED = re.compile(r"^name = \"([^\"\n]+)\"", re.MULTILINE)


def _toml(text: str) -> str:
    """A text as TOML writes it: with every such character spelled out, as TOML demands."""
    return "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in json.dumps(text, ensure_ascii=False)[1:-1])


def hostile(text: str) -> str:
    """A TOML file of ours with every free text and every name in it made hostile."""
    for name in dict.fromkeys(_NAMED.findall(text)):
        if name not in ("high", "low"):
            text = text.replace(f'"{name}"', f'"{name}{_toml(EVIL)}"')
    for key in _FREE:
        text = re.sub(rf'^({key} = "(?!""))', lambda found: found[1] + _toml(EVIL), text, flags=re.MULTILINE)
        text = re.sub(rf'^({key} = """)', lambda found: found[1] + _toml(EVIL), text, flags=re.MULTILINE)
    return text


def hostile_job(scenario: Path, folder: Path, *, name: str = EVIL_NAME) -> Path:
    """The job of a scenario made hostile, with its tables, in a folder."""
    text = scenario.read_text(encoding="utf-8")
    for table in re.findall(r'"([\w-]+\.toml)"', text):
        shipped = scenario.parent.parent / "tables" / table
        if shipped.exists():
            written = hostile(shipped.read_text(encoding="utf-8")) + ""
            (folder / table).write_text(written, encoding="utf-8")
    job = folder / name
    job.write_text(hostile(text), encoding="utf-8")
    return job


def harmful(told: str) -> list[str]:
    """The characters of what was printed that are no letters, and the lines that it begins where none was begun."""
    found = sorted({repr(c) for c in told if not (c == "\n" or c.isprintable() or c in "\u00a0\u202f\u2009")})
    return [*found, *(line for line in told.splitlines() if line.startswith(FORGED))]
