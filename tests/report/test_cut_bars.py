"""Cut lists as bars: to one scale, every length named, and no wider than there is room."""

from __future__ import annotations

import pytest

from ventsize.quantity import System
from ventsize.report.cut_bars import KEPT, WASTE, cut_bars
from ventsize.studies.takeoff.cutting import cut_list
from ventsize.studies.takeoff.tally import PipeCuts

FOOT = 0.3048


def drawn(pieces: list[float], stocks: list[float], width: int, usable: float = 1.0) -> list[str]:
    """A cut list of pieces in feet, drawn."""
    plan = cut_list([p * FOOT for p in pieces], stocks=[s * FOOT for s in stocks], usable=usable * FOOT)
    cuts = PipeCuts(material="pvc-40", label="3 in", cuts=(), plan=plan)
    return list(cut_bars(cuts, System.US, width=width))


@pytest.mark.parametrize("width", [60, 76, 116])
def test_bars_fit_and_are_to_scale(width: int) -> None:
    """A whole length fills its bar, half of one half of it; nothing is wider than asked for."""
    lines = drawn([10.0, 5.0], [10.0], width)
    whole, half = (line for line in lines if "×" in line)
    assert max(map(len, lines)) <= width
    assert whole.count("█") == pytest.approx(2 * half.count("█"), abs=1) and half.count(KEPT) > 0


def test_every_length_is_named_and_the_rest_said() -> None:
    """Also where a piece is too short for its name; a rest too short to keep is waste."""
    lines = drawn([6.0, 3.0, 0.25, 0.25], [10.0], 60)
    text = " ".join(lines)
    assert text.count("3 in") == 2 and "6 ft" in text and "rest 6 in" in text
    assert WASTE in text and KEPT not in text
