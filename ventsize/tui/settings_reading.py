"""How the texts typed into the settings are understood."""

from __future__ import annotations

from ventsize.catalog.folders import at_home
from ventsize.tui.settings import folder_fault
from ventsize.tui.widgets.field import Reading


def altitude_read(text: str) -> Reading:
    """How the usual altitude is understood: feet without a unit. Raises ValueError."""
    from ventsize.quantity import Dimension, QuantityError, System, parse, show, with_unit

    full = with_unit(text, "ft")
    try:
        value = parse(full, Dimension.LENGTH, signed=True)
    except QuantityError as error:
        raise ValueError(str(error)) from None
    return Reading(full, f"= {show(value, Dimension.LENGTH, System.US, style='altitude')}, for new jobs")


def folder_read(text: str) -> Reading:
    """How a folder is understood. Raises ValueError."""
    if said := folder_fault(text):
        raise ValueError(said)
    return Reading(text.strip(), "there" if at_home(text.strip()).is_dir() else "is made when needed")
