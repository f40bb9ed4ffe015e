"""What was probably meant by a reading that is far from anything it could be: another unit, a slipped point.

A slip is named only where what was probably meant lies in the band expected, and what was typed is far outside it: an
ordinary fault of a vent must never be explained away as one. A pressure that is far too low is still a reading, since a
vent that has come apart shows just that; the slip is then only a possibility beside it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ventsize.check.shut_off import meant
from ventsize.finding import Amount, Finding, Value, Where
from ventsize.jobfile.reading import Reading
from ventsize.quantity import Dimension

FAR = 8.0  # times over or under the band; a vent's own faults seldom go so far
MOST_BLOCKED = 750.0  # Pa, 3 in w.c.: what an inducer gives against a closed vent (common practice)
NEAR = 0.3  # of the band's middle, by which what was meant may lie outside it
COLD = 12.0  # K outside its band, from where a temperature is far

INCH, PSI, MM = 249.0889, 6894.757, 9.80665  # Pa

# What a number was typed as, and what it was read off as: the factor from the one to the other.
PRESSURES: tuple[tuple[str, str, float], ...] = (
    ("Pa", "in w.c.", INCH),
    ("in w.c.", "Pa", 1.0 / INCH),
    ("psi", "in w.c.", INCH / PSI),
    ("in w.c.", "psi", PSI / INCH),
    ("in w.c.", "mm w.c.", MM / INCH),
    ("mm w.c.", "in w.c.", INCH / MM),
)
POINT = (0.01, 0.1, 10.0, 100.0, 0.001, 1000.0)
METERS = (
    *((factor, "probably-another-dial") for factor in (0.5, 2.0, 0.25, 4.0, 0.2, 5.0)),
    (60.0, "probably-minutes"),
)
SHARES: tuple[tuple[str, str, float], ...] = (
    ("ppm", "%", 1e4),
    ("%", "ppm", 1e-4),
    ("%", "a share of one", 100.0),
    ("a share of one", "%", 0.01),
    ("a share of one", "ppm", 1e-6),
    ("ppm", "a share of one", 1e6),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """What a reading could be, in the unit of its kind."""

    low: float
    high: float

    def holds(self, value: float) -> bool:
        """Whether a value lies in it, or nearly so."""
        room = NEAR * abs(self.high + self.low) / 2.0
        return self.low - room <= value <= self.high + room

    def off(self, value: float) -> float:
        """How far a value is from its middle, as a ratio."""
        middle = (self.low + self.high) / 2.0
        return abs(math.log(value / middle)) if value / middle > 0.0 else math.inf

    def far(self, value: float) -> bool:
        """Whether a value of the same sign lies so far outside that no fault of a vent would explain it."""
        least, most = sorted((abs(self.low), abs(self.high)))
        if self.low <= 0.0 <= self.high:
            least = 0.0
        return abs(value) > FAR * max(most, 1e-12) or (abs(value) < least / FAR)


def _meant(dimension: Dimension, value: float, meant: float, typed: str, read_as: str) -> dict[str, Value]:
    return {"measured": Amount(value, dimension), "meant": Amount(meant, dimension), "typed": typed, "read_as": read_as}


def scaled(
    value: float, band: Band, at: Where, *, dimension: Dimension, point: Sequence[float] = POINT
) -> Iterator[Finding]:
    """Another unit or a slipped decimal point, where it makes a far value an expected one; what fits best first."""
    if value == 0.0 or not band.far(value):
        return
    low = dimension is Dimension.PRESSURE and abs(value) < abs(band.low)
    if dimension is Dimension.PRESSURE and not low and abs(value) < MOST_BLOCKED:
        return  # a vent that is all but closed shows as much
    word = "perhaps" if low else "probably"
    units = PRESSURES if dimension is Dimension.PRESSURE else SHARES
    ways = [("another-unit", typed, read_as, factor) for typed, read_as, factor in units]
    ways += [("decimal-point", "", "", factor) for factor in point]
    fitting = [way for way in ways if band.holds(value * way[3])]
    for code, typed, read_as, factor in sorted(fitting, key=lambda way: band.off(value * way[3])):
        yield Finding(f"{word}-{code}", at, _meant(dimension, value, value * factor, typed, read_as))


def carbon_monoxide(reading: Reading, at: Where) -> Finding | None:
    """Percent for parts in a million, or the other way: no analyser shows so much, or so little."""
    value, probably = reading.value, meant(reading)
    if probably == value:
        return None
    typed, read_as = ("%", "ppm") if probably < value else ("ppm", "%")
    return Finding("probably-another-unit", at, _meant(Dimension.FRACTION, value, probably, typed, read_as))


def seconds(value: float, band: Band, at: Where) -> Iterator[Finding]:
    """The gas meter's other dial, or minutes for seconds."""
    if band.holds(value):
        return
    for factor, code in METERS:
        if band.low <= value * factor <= band.high:
            yield Finding(
                code,
                at,
                {"measured": Amount(value, Dimension.FRACTION), "meant": Amount(value * factor, Dimension.FRACTION)},
            )


def temperature(value: float, band: Band, at: Where) -> Iterator[Finding]:
    """Degrees Celsius typed as Fahrenheit, or the other way; kelvin."""
    if band.low - COLD <= value <= band.high + COLD:
        return
    celsius, fahrenheit = value - 273.15, (value - 273.15) * 1.8 + 32.0
    ways = (
        ("°F", "°C", fahrenheit + 273.15),
        ("°C", "°F", (celsius - 32.0) / 1.8 + 273.15),
        ("°C", "K", celsius),
        ("°F", "K", fahrenheit),
        ("K", "°C", value + 273.15),
        ("K", "°F", (value - 32.0) / 1.8 + 273.15),
    )
    for typed, read_as, other in ways:
        if band.low - COLD / 2.0 <= other <= band.high + COLD / 2.0:
            yield Finding("probably-another-unit", at, _meant(Dimension.TEMPERATURE, value, other, typed, read_as))
