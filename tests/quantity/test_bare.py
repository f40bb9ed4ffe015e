"""A number without a unit gets the one shown beside its entry, everywhere by one rule."""

from __future__ import annotations

import pytest

from ventsize.quantity import Dimension, is_bare, parse, with_feet, with_unit


@pytest.mark.parametrize("text", ["18", " 18 ", "-0.3", "+4", ".5", "5.", "80,000", "1e3", "1,2"])
def test_a_bare_number_gets_the_unit(text: str) -> None:
    """A comma in a wrong place too: reading it with its unit then says what is wrong with it."""
    assert is_bare(text) and with_unit(text, "ft") == f"{text.strip()} ft"


@pytest.mark.parametrize("text", ["", "18 in", "12'", "6 1/2", "nan", "inf", "1_000", "4 ft 6", "½", "two", "80k", "-"])
def test_anything_else_stays_as_it_is(text: str) -> None:
    """What a number alone is not is left to the reading of quantities, with what it refuses."""
    assert not is_bare(text) and with_unit(text, "ft") == text


def test_no_unit_where_none_is_taken_for_granted() -> None:
    """Plain numbers stay plain."""
    assert with_unit("18", "") == "18"


@pytest.mark.parametrize(
    "said,inches",
    [
        ("12 6", 150), ("12-6", 150), ("12 6 1/2", 150.5), ("12 1/2", 150), ("10+2+4", 192), ("10 6+2 8", 158),
        ("27", 324), ("10.5+3", 162),
    ],
)  # fmt: skip
def test_feet_as_people_say_them(said: str, inches: float) -> None:
    """By hand, in inches: a second number is inches, a fraction behind feet is of a foot, plus signs add up."""
    assert parse(with_feet(said), Dimension.LENGTH) == pytest.approx(inches * 0.0254)


@pytest.mark.parametrize("said", ["12 14", "12-", "+5", "-3", "12 ft 6", "3'6", "bananas", "10+", "1 2 3", "12 m"])
def test_what_is_no_number_of_feet_stays_as_typed(said: str) -> None:
    """Inches of a foot or more are a slip, and what has a unit says it for itself."""
    assert with_feet(said) in (said, f"{said} ft")


@pytest.mark.parametrize("said,understood", [
    ("80 000", "80,000 Btu/h"), ("1 200 000", "1,200,000 Btu/h"), ("80 000 Btu/h", "80,000 Btu/h"), ("12 6", "12 6"),
    ("6 100/128", "6 100/128"), ("80 0000", "80 0000"),
])  # fmt: skip
def test_thousands_that_stand_apart_get_their_comma(said: str, understood: str) -> None:
    """As ISO 80000-1 writes them; a second number of another length is none."""
    assert with_unit(said, "Btu/h") == understood


@pytest.mark.parametrize("text", ["-5", "-5 ft"])
def test_below_zero_is_said_before_a_missing_unit(text: str) -> None:
    """The field, which adds the unit, and the line above it, which reads the file, give one reason."""
    with pytest.raises(ValueError, match="below zero"):
        parse(text, Dimension.LENGTH)
