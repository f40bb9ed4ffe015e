"""The fan of an appliance, as typed: its curve, what it holds, and the drops it works against."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Literal

from pydantic import Field

from ventsize.jobfile.document import nearest, rare_record
from ventsize.jobfile.field_types import Density, Expected, Fraction, Pressure, SignedLength, Text, VolumeFlow

Holds = Literal["pressure", "mass flow"]


@rare_record
class Inducer:
    """The fan of an appliance, for the question whether it can hold its flow.

    source: where the curve comes from. example: whether it is not the appliance's own data.
    curve: points of volume flow [m³/s] and head [Pa] at top speed. curve_density: of the gas it was taken with
    [kg/m³]; curve_altitude: or the altitude it was taken at, with air of 20 °C [m]; None for the gas as it passes.
    curve_pressure: whether its heads are of total or of static pressure at the outlet; None is taken as total.
    switch: the drop across the heat exchanger at each rate by name, which the pressure switch feels: the maker's
    operating value [Pa]. Where the switch opens and closes is the rate's. burner: what burner and cabinet take at each
    rate besides, which the switch does not feel [Pa].
    operating_altitude: where those drops and the excess air hold [m]; None for the job's own.
    adaptive: whether it changes speed to hold what `holds` names. speeds: of one that does not, by rate [-]; top speed
    where none is given.
    """

    source: Text
    curve: Annotated[
        tuple[tuple[VolumeFlow, Pressure], ...], Expected("points such as [['40 ft³/min', '2 in w.c.'], …]")
    ]
    switch: Annotated[dict[str, Pressure], Expected("a setting for each rate, such as { high = '0.9 in w.c.' }")]
    adaptive: bool = True
    example: bool = True
    holds: Annotated[Holds, Expected("'pressure' or 'mass flow'")] = "pressure"
    curve_density: Density | None = None
    curve_altitude: SignedLength | None = None
    curve_pressure: Annotated[Literal["total", "static"], Expected("'total' or 'static'")] | None = None
    burner: Annotated[dict[str, Pressure], Expected("a drop for each rate, such as { high = '0.3 in w.c.' }")] = Field(
        default_factory=dict
    )
    speeds: Annotated[dict[str, Fraction], Expected("a share for each rate, such as { low = '70 %' }")] = Field(
        default_factory=dict
    )
    operating_altitude: SignedLength | None = None


def inducer_faults(inducer: Inducer, appliance: str, rates: Sequence[str]) -> list[tuple[str, str, str]]:
    """What is wrong between its keys: (place, problem, expected). rates: the appliance's, by name."""
    place = f"appliance '{appliance}', inducer"
    found = []
    if not inducer.source.strip():
        found.append((f"{place}, source", "it is empty", "where the curve comes from"))
    for key in ("switch", "burner", "speeds"):
        found += [
            (f"{place}, {key}", f"no firing rate is named '{name}'", nearest(name, rates))
            for name in getattr(inducer, key)
            if name not in rates
        ]
    if missing := [name for name in rates if name not in inducer.switch]:
        found.append((f"{place}, switch", f"no setting for {', '.join(missing)}", "one for each firing rate"))
    for name, speed in inducer.speeds.items():
        if not 0.2 <= speed <= 1.0:
            found.append((f"{place}, speeds", f"a speed of {speed:.0%} at {name}", "20 % to 100 % of top speed"))
    if inducer.adaptive and inducer.speeds:
        found.append((f"{place}, speeds", "an inducer that adapts has no fixed speeds", "adaptive = false"))
    if inducer.curve_density is not None and inducer.curve_altitude is not None:
        found.append((f"{place}, curve_density", "it is given beside curve_altitude", "one of the two"))
    return found + [(f"{place}, curve", *fault) for fault in _curve_faults(inducer)]


def _curve_faults(inducer: Inducer) -> list[tuple[str, str]]:
    found = []
    points = sorted(inducer.curve)
    if len(points) < 3:
        found.append((f"it has {len(points)} points", "three or more"))
    for (flow, head), (next_flow, next_head) in zip(points, points[1:], strict=False):
        if next_flow == flow:
            found.append(("two points have the same flow", "each flow once"))
        elif next_head > head:
            found.append(("the head rises as the flow rises", "heads that fall as the flow rises"))
            break
    return found
