"""What people type is understood, and what could be misunderstood is refused in one sentence."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ventsize.quantity import Dimension, QuantityError, System, examples, parse, parse_number_or_text

FOOT, INCH = 0.3048, 0.0254
BTU_PER_HOUR = 1055.056 / 3600
INCH_OF_WATER = 249.08891


@pytest.mark.parametrize(
    "text",
    [
        "12' 6\"", "12'6", "12'6\"", "12'-6\"", "12' - 6\"", "12 ft 6 in", "12ft6in", "12 ft. 6 in.",
        "12 feet 6 inches", "12 FT 6 IN", "12’ 6”", "12‘6“", "12′ 6″", "12′6′′", "12' 6''", "12.5ft",
        "12.5 ft", "12 1/2 ft", "12½'", "150 in", "150\"", "  12   ft\t6 in ", "12\u00a0ft 6\u00a0in",
        "12.5 feet", "12 ft 6.0 in", "+12.5 ft", "3.81 m", "381 cm", "3810 mm",
        "3,810 mm", "0.00381 km", "3.81e3 mm", "3.81 M", "3.81 metres",
    ],
)  # fmt: skip
def test_one_length_in_many_spellings(text: str) -> None:
    """Feet and inches are added, never multiplied, however they are punctuated."""
    assert parse(text, Dimension.LENGTH) == pytest.approx(12.5 * FOOT, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("6 1/2 in", 6.5), ("6-1/2 in", 6.5), ("6½ in", 6.5), ("1½ in", 1.5), ("1 ½\"", 1.5), ("½ in", 0.5),
        ("3 1/4\"", 3.25), ("3/4 in", 0.75), ("3⁄4 in", 0.75), (".5 in", 0.5), ("0 in", 0.0),
        ("12' 6 1/2\"", 150.5), ("12'6½", 150.5), ("12' 1/2\"", 144.5), ("12'-6 1/2\"", 150.5),
        ("12 ft 6-1/2 in", 150.5), ("0 ft 3 in", 3.0), ("1,200 ft 0 in", 14400.0),
    ],
)  # fmt: skip
def test_fractions_of_an_inch(text: str, inches: float) -> None:
    """Rules and tape measures read in fractions."""
    assert parse(text, Dimension.LENGTH) == pytest.approx(inches * INCH, rel=1e-12)


@pytest.mark.parametrize(
    "text",
    ["80 MBH", "80 mbh", "80,000 Btu/h", "80 kBtu/h", "80000 BTUH", "80000 btu/hr", "80,000 Btu / hour",
     "80000 Btu per hour", "80 kBTUH", "0.08 MMBtu/h", "8e4 Btuh", "80000 Btuhr"],
)  # fmt: skip
def test_one_input_in_many_spellings(text: str) -> None:
    """MBH is a thousand Btu an hour in this trade."""
    assert parse(text, Dimension.POWER) == pytest.approx(80_000 * BTU_PER_HOUR, rel=1e-12)


@pytest.mark.parametrize(
    "text",
    ["0.31 in w.c.", "0.31 inwc", "0.31 in wc", "0.31 in. w.c.", '0.31 "wc', '0.31" w.c.', "0.31” WC",
     "0.31 in H2O", "0.31 in H₂O", "0.31 inWC", "0.31 inches of water", "0.31 IN. W.C.", ".31 in. of w.c."],
)  # fmt: skip
def test_one_pressure_in_many_spellings(text: str) -> None:
    """The inch of water column is written in as many ways as there are makers of gauges."""
    assert parse(text, Dimension.PRESSURE) == pytest.approx(0.31 * INCH_OF_WATER, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("20 Pa", Dimension.PRESSURE, 20.0),
        ("1.2 mbar", Dimension.PRESSURE, 120.0),
        ("1.2 hPa", Dimension.PRESSURE, 120.0),
        ("0.12 kPa", Dimension.PRESSURE, 120.0),
        ("10 mm H2O", Dimension.PRESSURE, 98.0665),
        ("24 kW", Dimension.POWER, 24e3),
        ("24 KW", Dimension.POWER, 24e3),
        ("110 °F", Dimension.TEMPERATURE, 316.48333333),
        ("110 degF", Dimension.TEMPERATURE, 316.48333333),
        ("110F", Dimension.TEMPERATURE, 316.48333333),
        ("110 deg F", Dimension.TEMPERATURE, 316.48333333),
        ("-5 degF", Dimension.TEMPERATURE, 252.59444444),
        ("−40 °F", Dimension.TEMPERATURE, 233.15),
        ("-40 °C", Dimension.TEMPERATURE, 233.15),
        ("45 degC", Dimension.TEMPERATURE, 318.15),
        ("45 ℃", Dimension.TEMPERATURE, 318.15),
        ("318 K", Dimension.TEMPERATURE, 318.0),
        ("18 °F", Dimension.TEMPERATURE_DIFFERENCE, 10.0),
        ("10 °C", Dimension.TEMPERATURE_DIFFERENCE, 10.0),
        ("8.4 %", Dimension.FRACTION, 0.084),
        ("8.4%", Dimension.FRACTION, 0.084),
        ("0.35", Dimension.FRACTION, 0.35),
        ("1/2", Dimension.FRACTION, 0.5),
        ("45 deg", Dimension.ANGLE, 0.78539816),
        ("45°", Dimension.ANGLE, 0.78539816),
        ("22.5 degrees", Dimension.ANGLE, 0.39269908),
        ("1/4 in/ft", Dimension.SLOPE, 1 / 48),
        ("1/4 in per ft", Dimension.SLOPE, 1 / 48),
        ("0.36 per hour", Dimension.AIR_CHANGES, 1e-4),
        ("0.36 ACH", Dimension.AIR_CHANGES, 1e-4),
        ("1.5e-6 m", Dimension.LENGTH, 1.5e-6),
        ("1.5 µm", Dimension.LENGTH, 1.5e-6),
        ("1 gal/hr", Dimension.VOLUME_FLOW, 3.785411784e-3 / 3600),
        ("0.2 W/(m·K)", Dimension.CONDUCTIVITY, 0.2),
        ("0.2 W/m K", Dimension.CONDUCTIVITY, 0.2),
    ],
)
def test_every_kind_of_quantity(text: str, dimension: Dimension, value: float) -> None:
    """Each dimension is read in the units the trade uses for it."""
    assert parse(text, dimension) == pytest.approx(value, rel=1e-8)


REFUSED = [
    ("", Dimension.LENGTH, "empty"),
    ("   ", Dimension.LENGTH, "empty"),
    ("12", Dimension.LENGTH, "no unit"),
    ("12 Pa", Dimension.LENGTH, "is a pressure, not a length"),
    ("0.3 in", Dimension.PRESSURE, "is a length, not a pressure"),
    ("12' 6\"", Dimension.PRESSURE, "is a length, not a pressure"),
    ("80000 Btu", Dimension.POWER, "is an energy, not a power"),
    ("45°", Dimension.TEMPERATURE, "is an angle"),
    ("12 ft3", Dimension.LENGTH, "is a volume"),
    ("12 parsecs", Dimension.LENGTH, "not a unit of length"),
    ("-3 ft", Dimension.LENGTH, "below zero"),
    ("-0.3 in w.c.", Dimension.PRESSURE, "below zero"),
    ("nan ft", Dimension.LENGTH, "no number"),
    ("inf ft", Dimension.LENGTH, "no number"),
    ("9**9**9 ft", Dimension.LENGTH, "arithmetic"),
    ("2*3 ft", Dimension.LENGTH, "arithmetic"),
    ("1e400 m", Dimension.LENGTH, "too large"),
    ("1e308 km", Dimension.LENGTH, "too large"),
    ("1e99999999999999 m", Dimension.LENGTH, "too large"),
    ("1e-400 m", Dimension.LENGTH, "too small"),
    ("9" * 10_000, Dimension.LENGTH, "10,000 characters"),
    ("12 ft 14 in", Dimension.LENGTH, "12 inches or more"),
    ("12 ft 12 in", Dimension.LENGTH, "12 inches or more"),
    ("12 ft -6 in", Dimension.LENGTH, "sign before the inches"),
    ("12' -6\"", Dimension.LENGTH, "sign before the inches"),
    ("12.5 ft 6 in", Dimension.LENGTH, "not a whole number"),
    ("12 1/2 ft 6 in", Dimension.LENGTH, "not a whole number"),
    ("12 ft 6", Dimension.LENGTH, "second number without a unit"),
    ("12 ft 6 cm", Dimension.LENGTH, "after the inches"),
    ("12 ft 6 in 3", Dimension.LENGTH, "after the inches"),
    ("12 in 6 ft", Dimension.LENGTH, "not a unit"),
    ("1/0 in", Dimension.LENGTH, "zero"),
    ("6 1/0 in", Dimension.LENGTH, "zero"),
    ("6 3/2 in", Dimension.LENGTH, "fraction"),
    ("6.5 1/2 in", Dimension.LENGTH, "fraction"),
    ("3,8 m", Dimension.LENGTH, "comma"),
    ("0,312 in w.c.", Dimension.PRESSURE, "comma"),
    ("12,34,567 m", Dimension.LENGTH, "comma"),
    ("1234,567 m", Dimension.LENGTH, "comma"),
    ("1.000,5 m", Dimension.LENGTH, "comma"),
    ("1.2.3 m", Dimension.LENGTH, "two decimal points"),
    ("80 000 Btu/h", Dimension.POWER, "second number"),
    ("12² m", Dimension.LENGTH, "not a unit"),
    ("--3 ft", Dimension.LENGTH, "no number"),
    ("ft", Dimension.LENGTH, "no number"),
    ("12\x00ft", Dimension.LENGTH, "not a unit"),
    ("١٢ ft", Dimension.LENGTH, "no number"),
    ("-460 °F", Dimension.TEMPERATURE, "absolute zero"),
    ("-274 °C", Dimension.TEMPERATURE, "absolute zero"),
    ("-1 K", Dimension.TEMPERATURE, "absolute zero"),
    ("110", Dimension.TEMPERATURE, "no unit"),
    ("80 MBtu", Dimension.POWER, "MBH"),
    ("80 MBtu/h", Dimension.POWER, "MBH"),
    ("80 mBtu/hr", Dimension.POWER, "MBH"),
    ("80 MBTUH", Dimension.POWER, "MBH"),
    ("80 mW", Dimension.POWER, "kW"),
    ("80 MW", Dimension.POWER, "kW"),
    ("80 MPa", Dimension.PRESSURE, "kPa"),
    ("80 Mbar", Dimension.PRESSURE, "mbar"),
    ("80 mJ", Dimension.ENERGY, "MJ"),
]


@pytest.mark.parametrize(("text", "dimension", "why"), REFUSED, ids=lambda value: str(value)[:16])
def test_refused_in_one_sentence(text: str, dimension: Dimension, why: str) -> None:
    """The sentence says what was typed, what is wrong and what is expected, on one line of sane length."""
    with pytest.raises(QuantityError, match=why) as caught:
        parse(text, dimension)
    sentence = str(caught.value)
    assert sentence.isprintable()
    assert len(sentence) < 300
    assert f"expected {dimension.with_article}" in sentence
    assert examples(dimension, System.US)[0] in sentence
    assert sentence == f"{caught.value.problem}; expected {caught.value.expected}"


def test_only_a_signed_quantity_may_be_below_zero() -> None:
    """Altitudes and static pressures may be negative, and the sign covers the feet and the inches."""
    assert parse("-1 ft 6 in", Dimension.LENGTH, signed=True) == pytest.approx(-1.5 * FOOT)
    assert parse("-0.3 in w.c.", Dimension.PRESSURE, signed=True) == pytest.approx(-0.3 * INCH_OF_WATER)
    assert str(parse("-0 ft", Dimension.LENGTH)) == "0.0"


def test_a_plain_number_from_a_file_is_a_fraction_or_nothing() -> None:
    """A missing unit is never guessed."""
    assert parse_number_or_text(0.35, Dimension.FRACTION) == 0.35
    assert parse_number_or_text(0, Dimension.FRACTION) == 0.0
    assert parse_number_or_text("35 %", Dimension.FRACTION) == pytest.approx(0.35)
    with pytest.raises(QuantityError, match="12 has no unit.*in quotes"):
        parse_number_or_text(12, Dimension.LENGTH)


@pytest.mark.parametrize("value", [True, None, [1], {}, float("nan"), float("inf"), -0.1, 10**400, b"1 ft"])
def test_other_values_from_a_file_are_refused(value: object) -> None:
    """Whatever a file holds ends in the same kind of sentence."""
    with pytest.raises(QuantityError) as caught:
        parse_number_or_text(value, Dimension.FRACTION)
    assert "expected a fraction" in str(caught.value)


@pytest.mark.parametrize("dimension", Dimension)
@pytest.mark.parametrize("system", System)
def test_examples_are_read(dimension: Dimension, system: System) -> None:
    """A hint that the program itself refuses would be worse than none."""
    assert examples(dimension, system)
    for text in examples(dimension, system):
        assert parse(text, dimension) > 0.0


@given(st.text(max_size=100), st.sampled_from(Dimension), st.booleans())
def test_any_text_ends_in_a_number_or_one_sentence(text: str, dimension: Dimension, signed: bool) -> None:
    """No text whatever escapes as another error."""
    try:
        value = parse(text, dimension, signed=signed)
    except QuantityError as error:
        assert "\n" not in str(error)
    else:
        assert abs(value) < float("inf")


@given(st.text(alphabet="0123456789 .,/-+e'\"ftinmhBu°½″’", max_size=80))
def test_texts_close_to_a_length_end_well(text: str) -> None:
    """Random pieces of the grammar itself reach the corners that plain random text misses."""
    try:
        assert 0.0 <= parse(text, Dimension.LENGTH) < float("inf")
    except QuantityError as error:
        assert "\n" not in str(error)


@pytest.mark.parametrize("text", ["1 " * 40, "," * 80, "1/" * 40, "'" * 80, "1e" * 40, "x" * 5_000_000])
def test_refused(text: str) -> None:
    """No text makes the reader search back and forth: it would be at it for hours. `tests.bench nonsense` times it."""
    with pytest.raises(QuantityError):
        parse(text, Dimension.LENGTH)
