"""Quantities: what a tradesperson types <-> SI numbers.

Text is read by a small grammar of our own and converted by pint; it is shown in the trade's style.
Everything between is plain SI floats.
"""

from ventsize.quantity.bare import is_bare, with_commas, with_feet, with_unit
from ventsize.quantity.dimensions import Dimension, System, examples
from ventsize.quantity.errors import QuantityError, Unusable
from ventsize.quantity.reading import parse, parse_number_or_text
from ventsize.quantity.rounding import rounded_up
from ventsize.quantity.showing import (
    display_unit,
    display_value,
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

__all__ = [
    "Dimension",
    "QuantityError",
    "System",
    "Unusable",
    "display_unit",
    "display_value",
    "examples",
    "is_bare",
    "parse",
    "parse_number_or_text",
    "rounded_up",
    "show",
    "show_apart",
    "show_condensate",
    "show_feet",
    "show_fraction",
    "show_length",
    "show_number",
    "show_power",
    "show_pressure",
    "show_size",
    "show_temperature",
    "show_velocity",
    "with_commas",
    "with_feet",
    "with_unit",
]
