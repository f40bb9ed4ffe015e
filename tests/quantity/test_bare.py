"""A number without a unit gets the one shown beside its entry, everywhere by one rule."""

from __future__ import annotations

import pytest

from ventsize.quantity import is_bare, with_unit


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
