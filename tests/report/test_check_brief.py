"""The short answer of `check`: how long it may be, and what must be in it (design of the command line)."""

from __future__ import annotations

from pathlib import Path

import pytest

from ventsize.check.inputs import read_inputs
from ventsize.check.verdict import check
from ventsize.quantity import System
from ventsize.report.check_brief import render
from ventsize.report.wording import say_all

SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.stem)
def test_ten_lines_of_eighty_columns(path: Path, system: System) -> None:
    """The verdict and the title first, --full last; a line or two besides for each stop and doubt."""
    found = check(read_inputs(path))
    lines = render(found, system).splitlines()
    assert lines[0].startswith(found.verdict.upper()) and found.title[:40] in lines[0]
    assert "--full" in lines[-1]
    assert all(len(line) <= 80 for line in lines)
    if len(found.runs) <= 2:
        assert len(lines) <= 10 + 2 * len(found.stops + found.doubts)
    assert any("carbon monoxide" in line for line in lines)
    said = " ".join(" ".join(lines).split())
    assert all(said.count(text[:60]) == 1 for text in say_all((*found.stops, *found.doubts), system))


def test_a_doubt_is_among_them() -> None:
    """A pass by the table that the calculation does not share never looks like a plain one."""
    path = next(path for path in SCENARIOS if path.stem == "within-by-table-over-by-calculation")
    found = check(read_inputs(path))
    assert found.verdict == "within" and found.doubts
    assert any(line.startswith("! ") for line in render(found, System.US).splitlines())


def test_what_the_altitude_asks_for_is_on_the_first_screen() -> None:
    """Both readings of the clause (NFPA 54, from memory): 80,000 Btu/h at 7,800 ft less 4 % for each 1,000 ft."""
    path = next(path for path in SCENARIOS if path.stem == "two-pipe-at-altitude")
    found = check(read_inputs(path))
    text = " ".join(render(found, System.US).split())
    input, altitude = (80_000, 7_800)
    whole, part = (input * (1 - 0.04 * feet / 1000) for feet in (altitude, altitude - 2000))
    assert found.verdict == "within" and f"{whole:,.0f} Btu/h" in text and f"{part:,.0f} Btu/h" in text
