"""Water between vapour and liquid or ice: saturation pressure and temperature, latent heat."""

from __future__ import annotations

from functools import lru_cache
from math import log

from chemicals.iapws import iapws11_Psub
from chemicals.phase_change import PPDS12
from chemicals.vapor_pressure import Psat_IAPWS, Tsat_IAPWS

from ventsize.gas.components import OutOfRange, gas, gas_table

TRIPLE_POINT = 273.16
"""Temperature at which ice, liquid and vapour meet [K]; ice stands below it, liquid above."""

LOWEST = 50.0
"""Lower end of the sublimation equation [K]."""

_TRIPLE_PRESSURE = Psat_IAPWS(TRIPLE_POINT)
_LOWEST_PRESSURE = iapws11_Psub(LOWEST)


def saturation_pressure(*, temperature: float) -> float:
    """Pressure of water vapour in balance with liquid water, or with ice below the triple point [Pa].

    temperature: [K]; ValueError outside 50 K to the critical point.

    Source: IAPWS R7-97(2012) equation 30 over liquid, IAPWS R14-08(2011) equation 6 over ice. For vapour
    on its own: the presence of air raises it by about 0.4 % at sea level, which is left out.
    """
    critical = _vaporization()[0]
    if not LOWEST <= temperature <= critical:
        raise OutOfRange(
            f"Water has no saturation pressure at {temperature:g} K; "
            f"a temperature between {LOWEST:g} K and {critical:g} K is expected."
        )
    if temperature < TRIPLE_POINT:
        return float(iapws11_Psub(temperature))
    return float(Psat_IAPWS(temperature))


def saturation_temperature(*, pressure: float) -> float:
    """Temperature at which vapour of this pressure is saturated, the inverse of saturation_pressure [K].

    pressure: of the water vapour [Pa]

    No vapour at all (or less than saturation at 50 K) returns 0.0, the limit: such a gas never condenses.
    """
    if pressure < _LOWEST_PRESSURE:
        return 0.0
    if pressure >= _TRIPLE_PRESSURE:
        return float(Tsat_IAPWS(pressure))
    return _frost_temperature(pressure)


def _frost_temperature(pressure: float) -> float:
    """Newton on the logarithm of pressure against 1/T, nearly a straight line: a few steps from anywhere."""
    target = log(pressure)
    inverse = 1.0 / TRIPLE_POINT
    step = 1e-7
    for _ in range(30):
        here = log(iapws11_Psub(1.0 / inverse))
        slope = (log(iapws11_Psub(1.0 / (inverse + step))) - here) / step
        change = (target - here) / slope
        inverse += change
        if abs(change) < 1e-13 * inverse:
            return 1.0 / inverse
    raise ArithmeticError(f"The frost point of water vapour at {pressure:g} Pa was not found.")


def latent_heat(*, temperature: float) -> float:
    """Heat given off by water vapour turning to liquid, or to ice below the triple point [J/kg].

    temperature: [K], 150 K to the critical point.

    Source: VDI Heat Atlas, 2nd ed. (2010), over liquid; over ice the value at the triple point plus the heat of
    fusion, which holds within 0.2 % down to 230 K.
    """
    fusion = gas_table().liquid_water.heat_of_fusion if temperature < TRIPLE_POINT else 0.0
    return (molar_heat_of_vaporization(temperature=max(temperature, TRIPLE_POINT)) + fusion) / gas("water").molar_mass


def molar_heat_of_vaporization(*, temperature: float) -> float:
    """Heat given off by water vapour turning to liquid [J/mol]; temperature [K], above freezing. Source: as above."""
    return float(PPDS12(temperature, *_vaporization()))


@lru_cache(maxsize=1)
def _vaporization() -> tuple[float, ...]:
    water = gas_table().liquid_water
    return (water.critical_temperature, *water.heat_of_vaporisation)
