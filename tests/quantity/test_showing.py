"""Quantities are shown in the trade's style, and what is shown can be typed back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ventsize.quantity import (
    Dimension,
    System,
    display_unit,
    display_value,
    parse,
    show,
    show_apart,
    show_condensate,
    show_feet,
    show_fraction,
    show_length,
    show_number,
    show_power,
    show_pressure,
    show_size,
    show_temperature,
    show_velocity,
)
from ventsize.quantity.showing import _FORMS, NO_VALUE

INCH = 0.0254
US, SI = System.US, System.SI


@pytest.mark.parametrize(
    ("inches", "us"),
    [
        (150, "12 ft 6 in"), (150.5, "12 ft 6 1/2 in"), (144, "12 ft"), (6.5, "6 1/2 in"), (0.75, "3/4 in"),
        (0, "0 ft"), (143.99, "12 ft"), (0.01, "0 ft"), (-0.01, "0 ft"), (-18, "-1 ft 6 in"),
        (1 / 16, "1/16 in"), (12 * 5280, "5,280 ft"), (12.0625, "1 ft 1/16 in"),
    ],
)  # fmt: skip
def test_building_lengths(inches: float, us: str) -> None:
    """Feet, inches and sixteenths in lowest terms; never 12 inches, never a negative zero."""
    assert show_length(inches * INCH, US) == us


def test_each_kind_in_both_systems() -> None:
    """The forms the screens and reports count on."""
    assert show_length(3.81, SI) == "3.81 m"
    assert show_length(0.165, SI) == "0.165 m"
    assert (show_feet(19.02, US), show_feet(19.02, SI)) == ("62.4 ft", "19.02 m")
    assert (show_pressure(77.7, US), show_pressure(77.7, SI)) == ("0.312 in w.c.", "77.7 Pa")
    power = 80_000 * 1055.056 / 3600
    assert (show_power(power, US), show_power(power, SI)) == ("80,000 Btu/h", "23.4 kW")
    assert (show_temperature(316.4833, US), show_temperature(316.4833, SI)) == ("110 °F", "43.3 °C")
    assert show_fraction(0.084) == "8.4 %"
    assert show_fraction(0.35) == "35 %"
    assert (show_velocity(4.58, US), show_velocity(4.58, SI)) == ("902 ft/min", "4.58 m/s")
    assert (show_condensate(6e-4, US), show_condensate(6e-4, SI)) == ("0.57 gal/h", "2.16 L/h")
    assert show(1585, Dimension.LENGTH, US, style="altitude") == "5,200 ft"


@pytest.mark.parametrize("text", ["3 in", "1 1/2 in", "2 in", "80 mm", "110 mm", "75 mm", "12.7 cm"])
def test_a_size_keeps_its_name(text: str) -> None:
    """A 3 in pipe measures 3 in nowhere, so its name is not converted to millimetres, nor the reverse."""
    expected = {"12.7 cm": "5 in"}.get(text, text)
    assert show_size(parse(text, Dimension.LENGTH)) == expected


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
@pytest.mark.parametrize("system", System)
def test_what_is_no_number_is_said_so(value: float, system: System) -> None:
    """A missing result must not look like one, nor stop the screen."""
    assert show_length(value, system) == NO_VALUE
    assert show_pressure(value, system) == NO_VALUE
    assert show_size(value) == NO_VALUE


def test_no_negative_zero() -> None:
    """-0.000 looks like a fault."""
    assert show_pressure(-0.01, US) == "0.000 in w.c."
    assert show_temperature(273.15 - 0.001, SI) == "0 °C"


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize(("dimension", "style"), _FORMS)
@given(size=st.floats(-4.0, 7.0), sign=st.sampled_from([1, -1]))
def test_what_is_shown_reads_back(
    dimension: Dimension, style: str | None, system: System, size: float, sign: int
) -> None:
    """To the resolution shown, for every dimension, style and system."""
    value = sign * 10.0**size
    if dimension is Dimension.TEMPERATURE:
        value = abs(value) + 0.1  # what rounds to below absolute zero is no temperature
    text = show(value, dimension, system, style=style)
    back = parse(text, dimension, signed=True)
    resolution = 10.0 ** -_FORMS[dimension, style][system is SI].decimals
    exact = display_value(value, dimension, system, style=style)
    assert text.endswith(display_unit(dimension, system, style=style))
    assert display_value(back, dimension, system, style=style) == pytest.approx(
        exact, abs=0.5001 * resolution, rel=1e-12
    )


@given(value=st.floats(-1e5, 1e5), system=st.sampled_from(System))
def test_building_lengths_read_back(value: float, system: System) -> None:
    """To half of a sixteenth of an inch, or half a millimetre."""
    back = parse(show_length(value, system), Dimension.LENGTH, signed=True)
    assert back == pytest.approx(value, abs=INCH / 32 + 1e-9 if system is US else 0.0005 + 1e-9)


@given(st.integers(1, 12 * 16 * 500))
def test_sixteenths_survive_exactly(sixteenths: int) -> None:
    """A length typed in sixteenths comes back as it was typed, and shows the same again."""
    text = show_length(sixteenths / 16 * INCH, US)
    assert parse(text, Dimension.LENGTH) == pytest.approx(sixteenths / 16 * INCH, rel=1e-12)
    assert show_length(parse(text, Dimension.LENGTH), US) == text


@pytest.mark.parametrize("value", [1e13, -4.2e20, 1e300])
@pytest.mark.parametrize("system", System)
def test_a_huge_figure_takes_no_line(value: float, system: System) -> None:
    """Nobody counts a hundred digits."""
    for text, back in ((show_length(value, system), value), (show_feet(value, system), value)):
        assert len(text) < 30
        assert parse(text, Dimension.LENGTH, signed=True) == pytest.approx(back, rel=1e-5)
    assert len(show_size(abs(value))) < 30


def test_two_figures_are_shown_apart() -> None:
    """An inch of water is 249.08891 Pa: 0.0158 of it and 0.0163 differ in the fourth digit only."""
    inch = 249.08891
    assert show_apart(0.0158 * inch, 0.0163 * inch, Dimension.PRESSURE, US) == ("0.0158 in w.c.", "0.0163 in w.c.")
    assert show_apart(0.0158 * inch, 0.0173 * inch, Dimension.PRESSURE, US) == ("0.016 in w.c.", "0.017 in w.c.")
    assert show_apart(77.7, 77.7, Dimension.PRESSURE, SI) == ("77.7 Pa", "77.7 Pa")


@pytest.mark.parametrize(
    ("value", "dimension", "shown"),
    [(None, Dimension.PRESSURE, "-"), (249.089, Dimension.PRESSURE, "1.000"), (3.048, Dimension.LENGTH, "10.0")],
)
def test_a_number_without_its_unit(value: float | None, dimension: Dimension, shown: str) -> None:
    """As a column has it whose head names the unit; a dash where there is none."""
    assert show_number(value, dimension, System.US) == shown
