"""Files made up to break what reads them: what once did, and a short search for more."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.fuzz.targets import targets
from tests.fuzz.trying import tried, tries

FOUND = Path(__file__).parent / "found"
SECONDS = float(os.environ.get("VENTSIZE_FUZZ", "8"))


@pytest.mark.parametrize("path", sorted(FOUND.glob("*.txt")), ids=lambda path: path.stem)
def test_what_once_broke_something(path: Path, tmp_path: Path) -> None:
    """Each is answered or refused now."""
    target = next(target for target in targets() if path.stem.startswith(target.name.replace(" ", "-") + "-"))
    text = path.read_bytes().decode("utf-8", "surrogatepass")
    assert tried(target, text, tmp_path)[1] == ""


def test_a_short_search() -> None:
    """The same few hundred files at every run; `python -m tests.fuzz` looks further."""
    found = [one for one in tries("suite", 600, seconds=SECONDS) if one is not None]
    assert [(one.target, one.fault) for one in found] == []


def test_the_search_goes_where_it_has_not_been() -> None:
    """What is made up is read as far as a verdict, is refused for many reasons, and is kept where it does new."""
    every = list(targets())
    assert {target.name for target in every} >= {"job", "table", "prices", "settings", "quantity", "paste", "verb"}
    assert all(target.seeds for target in every)
