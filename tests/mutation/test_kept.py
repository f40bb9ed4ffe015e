"""The kept faults are noticed by the tests named beside them, and the maker of faults makes what it says."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.mutation.copying import copied, fails, load_libraries, noticed
from tests.mutation.faults import faults_in
from tests.mutation.harmless import HARMLESS
from tests.mutation.kept import KEPT

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="a fault is tried in a fork of this process")


def test_kept_faults_are_noticed(root: Path) -> None:
    """Each by the tests named, which pass without it; a text that has moved has to be moved here too."""
    load_libraries()
    with copied(root) as copy:
        every = sorted({test for kept in KEPT for test in kept.tests})
        assert not fails(copy, every), "without any fault"
        missed = [kept.name for kept in KEPT if not noticed(copy, kept.fault(root), kept.tests)]
    assert not missed


def test_what_is_said_to_change_nothing_is_still_made(root: Path) -> None:
    """A line that has changed leaves the list."""
    files = {f"ventsize/{file}" for file, _ in HARMLESS}
    assert set(HARMLESS) <= {fault.named(root) for file in files for fault in faults_in(root, file)}


def test_faults_of_a_line(tmp_path: Path) -> None:
    """By hand: what is made of a few lines, and where."""
    (tmp_path / "some.py").write_text("def f(x: int = 3) -> bool:\n    return not x < 2.0 and min(x, -x) == x + 1\n")
    text = (tmp_path / "some.py").read_text()
    made = [fault.applied(text).splitlines()[1].strip() for fault in faults_in(tmp_path, "some.py")]
    assert sorted(made) == sorted([
        "return  x < 2.0 and min(x, -x) == x + 1",
        "return not x <= 2.0 and min(x, -x) == x + 1",
        "return not x < 2.2 and min(x, -x) == x + 1",
        "return not x < 2.0 or min(x, -x) == x + 1",
        "return not x < 2.0 and max(x, -x) == x + 1",
        "return not x < 2.0 and min(x, x) == x + 1",
        "return not x < 2.0 and min(x, -x) != x + 1",
        "return not x < 2.0 and min(x, -x) == x - 1",
    ])  # fmt: skip
