"""The short list of definitions agrees with pint's own, and is loaded late."""

from __future__ import annotations

import subprocess
import sys

import pint
import pytest

from ventsize.quantity.convert import registry, scale
from ventsize.quantity.dimensions import SI_UNITS, Dimension
from ventsize.quantity.errors import Refusal
from ventsize.quantity.spellings import _SPELLINGS, dimensions_of, find_unit, unit_key, units

# Ours -> pint's, where the names differ; its columns without a temperature are the conventional ones.
THEIRS = {
    "_of_water": "_H2O",
    "_of_mercury": "_Hg",
    "btu": "british_thermal_unit",
    "psi": "pound_force_per_square_inch",
}


@pytest.fixture(scope="module")
def default() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize(
    ("dimension", "unit"), [(dimension, unit) for dimension in Dimension for unit in units(dimension)]
)
def test_every_factor_is_pints(dimension: Dimension, unit: str, default: pint.UnitRegistry) -> None:
    """Our definitions are copied by hand; pint's default registry is the outside check."""
    ours = scale(unit, dimension)
    expression = unit
    for name, theirs in THEIRS.items():
        expression = expression.replace(name, theirs)
    if unit in ("degree_Celsius", "degree_Fahrenheit"):
        assert ours.factor == pytest.approx(default.Quantity(1.0, f"delta_{unit}").to("kelvin").m, rel=1e-13)
        if dimension is Dimension.TEMPERATURE:
            assert ours.offset == pytest.approx(default.Quantity(0.0, unit).to("kelvin").m, rel=1e-13)
    else:
        theirs = default.parse_expression(expression).to(SI_UNITS[dimension]).magnitude
        assert ours.factor == pytest.approx(theirs, rel=1e-13)


def test_no_spelling_means_two_units() -> None:
    """Within a dimension every spelling has one meaning, and is in the form typed text is brought to."""
    for dimension, table in _SPELLINGS.items():
        spellings = [spelling for row in table.values() for spelling in row.split()]
        assert len(spellings) == len(set(spellings))
        for spelling in spellings:
            assert unit_key(spelling).lower() == spelling
            assert dimension in dimensions_of(spelling)


def test_capitals_change_nothing_but_a_prefix() -> None:
    """FT is ft, but m and M in front of a unit are a thousand million apart."""
    assert find_unit("FT", Dimension.LENGTH) == find_unit("ft", Dimension.LENGTH) == "foot"
    assert find_unit("mPa·s", Dimension.VISCOSITY) == "millipascal*second"
    with pytest.raises(Refusal, match="write mPas"):
        find_unit("MPa·s", Dimension.VISCOSITY)


def test_one_registry() -> None:
    """Two registries would not compare."""
    assert registry() is registry()


def test_pint_is_loaded_late() -> None:
    """A command that converts nothing does not pay for pint."""
    code = "import sys, ventsize.quantity; sys.exit('pint' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
