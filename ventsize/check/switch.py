"""A pressure switch beside its setting: what is read across it against the number written on it.

The number is where it opens; it closes some 0.15 in w.c. higher. An appliance that breathes freely runs well above it.
"""

from __future__ import annotations

from typing import Literal

from ventsize.check.inputs import Inputs
from ventsize.finding import Finding, Where, pressure
from ventsize.jobfile.job import Rate

Stand = Literal["below", "near", "above"]

# Common practice, from memory: 0.10 to 0.25 in w.c. above the setting at full fire; less than 0.10 is at the edge.
EDGE = 25.0  # Pa
USUAL = (25.0, 60.0)  # Pa, above the setting


def rate_of(inputs: Inputs, appliance: str, rate: str | None) -> Rate | None:
    """An appliance's firing rate by name."""
    found = next(one for one in inputs.job.appliances if one.name == appliance)
    return next((one for one in found.rates if one.name == rate), None)


def setting_of(inputs: Inputs, appliance: str, rate: str | None, stated: float | None = None) -> float | None:
    """Where the switch of an appliance's rate opens [Pa]; None where nothing says so.

    The rate's own key first, then what a reading states, then the switch of an inducer that is no example.
    """
    typed = rate_of(inputs, appliance, rate)
    if typed is not None and typed.switch_opens is not None:
        return typed.switch_opens
    if stated is not None:
        return stated
    inducer = next(one.inducer for one in inputs.job.appliances if one.name == appliance)
    return inducer.switch.get(rate or "") if inducer is not None and not inducer.example else None


def stand(value: float, setting: float) -> Stand:
    """How a pressure across a switch stands beside its setting [Pa]."""
    if value < setting:
        return "below"
    return "near" if value < setting + EDGE else "above"


_CODES: dict[Stand, str] = {
    "below": "switch-below-setting",
    "near": "switch-near-setting",
    "above": "switch-above-setting",
}


def stand_finding(value: float, setting: float, where: Where) -> Finding:
    """The same as a finding."""
    values = {
        "measured": pressure(value),
        "setting": pressure(setting),
        "above": pressure(value - setting),
        "usual_low": pressure(USUAL[0]),
        "usual_high": pressure(USUAL[1]),
    }
    return Finding(_CODES[stand(value, setting)], where, values)
