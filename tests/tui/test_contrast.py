"""What is drawn can be read: the measure, and every verdict; all other screens are walked for cut text too."""

from __future__ import annotations

import pytest
from rich.color import ColorTriplet

from tests.tui.contrast import EveryLook, contrast
from tests.tui.screens import running, scenario


def test_the_measure_itself() -> None:
    """Black on white is 21:1, #767676 on white 4.54:1 (published with the guideline)."""
    white, black, gray = ColorTriplet(255, 255, 255), ColorTriplet(0, 0, 0), ColorTriplet(0x76, 0x76, 0x76)
    assert contrast(white, black) == pytest.approx(21)
    assert contrast(gray, white) == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("job", ["simple-pass", "no-acceptable-option", "not-in-the-table"])
async def test_every_verdict(job: str) -> None:
    """Within, over, and nothing to go by."""
    async with running(scenario(job), size=(100, 30)) as (app, pilot):
        looks = EveryLook(app, pilot)
        await looks.at(job)
        assert looks.found == {} and len(looks.seen) > 4
