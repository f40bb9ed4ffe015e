"""Tables and runs in feet and inches, for tests that are worked by hand."""

from __future__ import annotations

from ventsize.allowance.counted import Counted, CountedFitting, SizedLength
from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.reading import table_from_text
from ventsize.jobfile.job import Carries

FOOT = 0.3048  # m
INCH = 0.0254  # m
KBTU_H = 1055.056 / 3.6  # W; Btu of ISO 31-4, 1055.056 J

HEAD = """
title = "Invented"
source = "Invented for this test"
applies_to = ["flue gas", "combustion air"]
counts = "each run"
"""

# The worked example of the format: a plain row and an elbow-count row in one table.
EXAMPLE = (
    HEAD
    + """
[deductions]
elbow-90-long = "3 ft"
elbow-90-short = { "2 in" = "5 ft", "3 in" = "8 ft" }
elbow-45 = "1 ft 6 in"
terminal-open = "0 ft"

[[row]]
input = "80 kBtu/h"
size = "3 in"
altitude = ["0 ft", "4500 ft"]
allowable = "90 ft"
minimum = "5 ft"

[[row]]
input = "80 kBtu/h"
size = "2 in"
altitude = ["0 ft", "4500 ft"]
allowable_by_elbows = ["70 ft", "65 ft", "60 ft", "55 ft", "not permitted"]
"""
)


def row(
    allows: str | list[str],
    *,
    input: str = "80 kBtu/h",
    size: str = "3 in",
    band: tuple[str, str] = ("0 ft", "4500 ft"),
    minimum: str = "",
) -> str:
    """One [[row]]; a list of lengths makes it an elbow-count row."""
    key = "allowable" if isinstance(allows, str) else "allowable_by_elbows"
    value = f'"{allows}"' if isinstance(allows, str) else f"{allows}"
    least = f'minimum = "{minimum}"\n' if minimum else ""
    return f'[[row]]\ninput = "{input}"\nsize = "{size}"\naltitude = {list(band)}\n{key} = {value}\n{least}'


def table(*rows: str, deductions: str = "", head: str = HEAD, elbows_each: str = "") -> AllowanceTable:
    """A table of rows; `deductions` and `elbows_each` are the lines of their sections."""
    sections = f"[deductions]\n{deductions}\n" if deductions else ""
    sections += f"[elbows_each]\n{elbows_each}\n" if elbows_each else ""
    return table_from_text(head + sections + "\n".join(rows), file="table.toml")


def fitting(
    name: str, count: int = 1, *, size: float = 3, to: float | None = None, override: float | None = None
) -> CountedFitting:
    """Fittings of a size in inches (`to`: the other size of a size change), an override in feet."""
    kind, angle = KINDS[name]
    return CountedFitting(
        name=name,
        kind=kind,
        angle_degrees=angle,
        sizes=(size * INCH,) if to is None else (size * INCH, to * INCH),
        count=count,
        table_length=None if override is None else override * FOOT,
    )


KINDS: dict[str, tuple[str, float | None]] = {
    "elbow-90-long": ("elbow", 90.0),
    "elbow-90-short": ("elbow", 90.0),
    "elbow-90-mitered": ("elbow", 90.0),
    "elbow-91": ("elbow", 91.0),
    "elbow-60": ("elbow", 60.0),
    "elbow-45": ("elbow", 45.0),
    "elbow-31": ("elbow", 31.0),
    "elbow-30": ("elbow", 30.0),
    "elbow-22": ("elbow", 22.5),
    "return-bend": ("elbow", 180.0),
    "tee-through": ("tee", None),
    "tee-branch": ("tee", 90.0),
    "increaser": ("size change", None),
    "coupling": ("coupling", None),
    "terminal-open": ("terminal", None),
    "terminal-screened": ("terminal", None),
    "terminal-elbow-down": ("terminal", None),
    "entrance-open": ("entrance", None),
    "silencer": ("other", None),
}


def run(
    feet: float | dict[float, float],
    *fittings: CountedFitting,
    size: float = 3,
    carries: Carries = "flue gas",
    outdoors: bool = True,
) -> Counted:
    """A run of so many feet of one size in inches, or {size: feet}."""
    by_size = feet if isinstance(feet, dict) else {size: feet}
    return Counted(
        carries=carries,
        straight_by_size=tuple(SizedLength(s * INCH, f"{s:g} in", f * FOOT) for s, f in by_size.items()),
        fittings=fittings,
        reaches_outdoors=outdoors,
    )
