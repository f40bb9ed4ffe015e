"""Material properties as a table file states them, turned into SI floats.

Only the units such data are published in, each with the factor to SI; nothing a person types on site.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator

from ventsize.jobfile.fields import Expected

# 1 Btu = 1055.056 J (ISO 31-4, International Table); 1 ft = 0.3048 m.
CONDUCTIVITY_UNITS = {
    "W/(m K)": 1.0,
    "Btu/(h ft degF)": 1055.056 / 3600 / 0.3048 * 1.8,
    "Btu in/(h ft2 degF)": 1055.056 / 3600 / 0.3048 * 1.8 / 12,
}
EXPANSION_UNITS = {"1/K": 1.0, "1/degF": 1.8}

_NUMBER_AND_UNIT = re.compile(r"\s*([0-9]*\.?[0-9]+(?:[eE][+-]?[0-9]{1,3})?)\s+(\S.*?)\s*")


def _reader(units: Mapping[str, float]) -> Callable[[Any], float]:
    expected = f"a number and one of the units {', '.join(units)}"

    def read(value: Any) -> float:
        match = _NUMBER_AND_UNIT.fullmatch(value[:80]) if isinstance(value, str) else None
        factor = units.get(match[2]) if match else None
        if match is None or factor is None:
            raise ValueError(f"{value!r:.40} cannot be read; expected {expected}")
        number = float(match[1]) * factor
        if not (math.isfinite(number) and number > 0):
            raise ValueError(f"{value!r:.40} must be more than zero")
        return number

    return read


def _written(value: str) -> str:
    if not value.strip():
        raise ValueError("it is empty; expected text that says something")
    return " ".join(value.split())


Conductivity = Annotated[
    float, BeforeValidator(_reader(CONDUCTIVITY_UNITS)), Expected("a conductivity such as '0.16 W/(m K)'")
]
Expansion = Annotated[
    float, BeforeValidator(_reader(EXPANSION_UNITS)), Expected("an expansion such as '3.0e-5 1/degF'")
]
Written = Annotated[str, AfterValidator(_written), Expected("text in quotes")]
Source = Annotated[
    str,
    AfterValidator(_written),
    Expected("where the record comes from, or source = 'common practice'"),
]
