"""Lengths rounded up to a whole step: by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ventsize.quantity import System, rounded_up

INCH = 0.0254
STEP = {System.US: INCH / 8, System.SI: 0.001}


@pytest.mark.parametrize(
    ("length", "system", "rounded"),
    [
        (0.3 * INCH, System.US, 0.375 * INCH),
        (0.5 * INCH, System.US, 0.5 * INCH),
        (0.501 * INCH, System.US, 0.625 * INCH),
        (0.0121, System.SI, 0.013),
        (0.013, System.SI, 0.013),
        (0.0, System.SI, 0.0),
    ],
)
def test_up_to_the_next_step(length: float, system: System, rounded: float) -> None:
    """An eighth of an inch, or a millimetre; what is a whole step already stays."""
    assert rounded_up(length, system, STEP) == pytest.approx(rounded, abs=1e-12)


@given(st.floats(0.0, 10.0), st.sampled_from(System))
def test_never_less_and_less_than_a_step_more(length: float, system: System) -> None:
    """A cut rounded down would leave the run over."""
    over = rounded_up(length, system, STEP) - length
    assert -1e-9 * STEP[system] - 1e-12 <= over < STEP[system]
