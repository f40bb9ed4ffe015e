"""Published values worked out anew on this machine: whether the program and the libraries under it are sound here.

A handful, one from each part of the way to a verdict: units, air, fuel, flue gas, friction, fittings, pipe. The
sources stand beside the values; `tests/published/` has these and many more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from ventsize.gas.constants import FREEZING

_ATMOSPHERE = 101_325.0  # Pa
_INCH = 0.0254  # m


@dataclass(frozen=True, slots=True)
class Known:
    """A published value: what of, its unit, who published it, and how far ours may be from it."""

    what: str
    unit: str
    source: str
    published: float
    tolerance: float


@dataclass(frozen=True, slots=True)
class Verified:
    """A published value beside ours; found is None where it could not be worked out, and fault says why."""

    known: Known
    found: float | None
    fault: str = ""

    @property
    def agrees(self) -> bool:
        """Whether ours is within the tolerance."""
        return self.found is not None and abs(self.found - self.known.published) <= self.known.tolerance


def verify() -> tuple[Verified, ...]:
    """Every one of them. Whatever goes wrong in one is its fault, and keeps no other from being verified."""
    found = []
    for known, work in _values():
        try:
            found.append(Verified(known, float(work())))
        except Exception as error:  # a library that is broken may raise anything
            found.append(Verified(known, None, f"{type(error).__name__}: {error}"))
    return tuple(found)


def _values() -> Iterator[tuple[Known, Callable[[], float]]]:
    yield (
        Known("one inch of water column", "Pa", "NIST SP 811, appendix B.8", 249.0889, 0.0001),
        lambda: _parsed("1 in w.c.", "PRESSURE"),
    )
    yield Known("one Btu/h", "W", "NIST SP 811, appendix B.8", 0.2930711, 1e-6), lambda: _parsed("1 Btu/h", "POWER")
    yield (
        Known("12 ft 6 1/2 in", "m", "the foot of 0.3048 m", 3.8227, 1e-9),
        lambda: _parsed("12 ft 6 1/2 in", "LENGTH"),
    )
    yield (
        Known("pressure of the air at 5,280 ft", "Pa", "U.S. Standard Atmosphere, 1976", 83_432.0, 17.0),
        _pressure,
    )
    yield Known("air that methane needs", "vol/vol", "stoichiometry by hand", 9.548, 0.03), _air
    yield Known("most carbon dioxide of propane", "%", "analyser handbooks, from memory", 13.75, 0.15), _carbon_dioxide
    yield Known("vapour pressure of water at 25 degC", "Pa", "IAPWS-95", 3_169.9, 2.0), _vapour
    yield Known("dew point of flue gas, 30 % excess air", "degC", "reckoned with IAPWS-95", 54.12, 0.2), _dew_point
    yield Known("density of flue gas at 50 degC", "kg/m3", "Cantera, GRI-Mech 3.0", 1.0560, 0.003), _density
    yield (
        Known("laminar friction factor at Re 1,000", "-", "Hagen 1839, Poiseuille 1840", 0.064, 1e-9),
        lambda: _friction(1e3),
    )
    yield (
        Known("smooth friction factor at Re 100,000", "-", "Colebrook 1939, solved apart", 0.017990, 1e-5),
        lambda: _friction(1e5),
    )
    yield Known("head lost in 150 m of duct", "m", "Cengel and Cimbala, example 8-4", 20.0, 0.1), _duct
    yield Known("k of a short elbow, 3 in", "-", "Hooper 1981, by hand", 0.5384, 0.0005), _elbow
    yield Known("bore of 3 in PVC schedule 40", "in", "ASTM D1785, average wall", 3.042, 0.0011), _bore


def _parsed(text: str, dimension: str) -> float:
    from ventsize.quantity import Dimension, parse

    return parse(text, Dimension[dimension])


def _pressure() -> float:
    from ventsize.gas.atmosphere import ambient_pressure

    return ambient_pressure(altitude=5_280 * 0.3048)


def _air() -> float:
    from ventsize.gas.combustion import stoichiometric_air

    return stoichiometric_air({"methane": 1.0})


def _carbon_dioxide() -> float:
    from ventsize.gas.combustion import maximum_carbon_dioxide

    return 100.0 * maximum_carbon_dioxide({"propane": 1.0})


def _vapour() -> float:
    from ventsize.gas.water import saturation_pressure

    return saturation_pressure(temperature=25.0 + FREEZING)


def _dew_point() -> float:
    from ventsize.gas.flue import flue_gas

    gas = flue_gas(
        mole_fractions={"methane": 1.0},
        input=29_307.0,
        excess_air=0.3,
        flue_temperature=100.0 + FREEZING,
        pressure=_ATMOSPHERE,
    )
    return gas.dew_point - FREEZING


def _density() -> float:
    from ventsize.gas.mixture import density, mixture_of

    # One of methane with 1.3 times its air, in moles: CO2, H2O, O2, N2, Ar.
    burnt = {"carbon dioxide": 1.004, "water": 2.0, "oxygen": 0.6, "nitrogen": 9.692, "argon": 0.116}
    return density(mixture_of(burnt), temperature=50.0 + FREEZING, pressure=_ATMOSPHERE)


def _friction(reynolds: float) -> float:
    from ventsize.flow.friction import friction_factor

    return friction_factor(reynolds=reynolds, relative_roughness=0.0)


def _duct() -> float:
    from ventsize.flow.friction import friction_factor, pressure_gradient

    bore, density, viscosity = 0.26726, 1.145, 1.895e-5
    velocity = 0.35 / (3.14159265 * bore**2 / 4.0)
    factor = friction_factor(reynolds=density * velocity * bore / viscosity, relative_roughness=0.0)
    gradient = pressure_gradient(friction_factor=factor, bore=bore, density=density, velocity=velocity)
    return 150.0 * gradient / (density * 9.81)


def _elbow() -> float:
    from ventsize.catalog.library import load_catalog
    from ventsize.flow.fittings import local_loss_methods

    # Hooper's threaded 90: 800/Re + 0.40 (1 + 1/bore in inches); at Re 100,000 in 3.068 in: 0.008 + 0.5304.
    every = local_loss_methods(
        load_catalog(user=False).fitting("elbow-90-short"),
        bore=3.068 * _INCH,
        reynolds=1e5,
        friction_factor=0.018,
        roughness=1.5e-6,
        plastic=False,
    )
    return next(method.k for method in every if method.name == "Hooper threaded 90")


def _bore() -> float:
    from ventsize.catalog.library import load_catalog

    size = load_catalog(user=False).pipe("pvc-40").size(3 * _INCH)
    if size is None:
        raise LookupError("there is no such size")
    return size.bore / _INCH
