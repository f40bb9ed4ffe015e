"""The table in DEVELOPERS.md of what each figure is held against: whole, and its tests are there."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from ventsize.cli import main

TITLE = "## What each figure is held against"
JOBS = ("attic-in-the-cold", "two-sizes", "common-vent", "counted-run")


def rows(root: Path) -> list[list[str]]:
    """The rows of the table, each as its cells."""
    text = (root / "DEVELOPERS.md").read_text(encoding="utf-8").split(TITLE)[1].split("\n## ")[0]
    lines = [line for line in text.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[2:]]


def numbers(shown: Any) -> set[str]:
    """The keys under which a number stands."""
    found: set[str] = set()
    if isinstance(shown, dict):
        found |= {key for key, one in shown.items() if isinstance(one, int | float) and not isinstance(one, bool)}
    for one in shown.values() if isinstance(shown, dict) else shown if isinstance(shown, list) else ():
        found |= numbers(one)
    return found


def test_every_row_is_whole(root: Path) -> None:
    """A quantity, what it is held against, how near, and tests that exist."""
    found = rows(root)
    assert len(found) > 30
    for cells in found:
        assert len(cells) == 4 and all(cells), cells
        files = re.findall(r"`([\w/]+\.py)`", cells[3])
        assert files and all((root / "tests" / file).exists() for file in files), cells[3]


@pytest.mark.parametrize("job", JOBS)
def test_no_figure_of_a_check_is_without(root: Path, job: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Every number that `check --json` gives of a run, a rate or an appliance stands in the table."""
    main(["check", str(root / "scenarios" / f"{job}.toml"), "--json"])
    shown = json.loads(capsys.readouterr().out)
    told = {key: shown[key] for key in shown if key not in ("findings", "conditions", "version")}
    named = set(re.findall(r"`(\w+)`", " ".join(cells[0] for cells in rows(root))))
    assert numbers(told) <= named
