"""Words for the findings of `finding.codes.FIELD`: readings taken at the appliance."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ventsize.report.wording import Values

_PRACTICE = "(common practice, from memory; the maker's own figure decides)"

WORDS: dict[str, str | Callable[[Values], str]] = {
    "switch-below-setting": (
        "{measured} across the switch is below its setting, {setting}: the switch opens and the burner stops. Do not "
        "bridge or change the switch; find what lowers the pressure"
    ),
    "switch-near-setting": (
        "{measured} across the switch is only {above} above its setting, {setting}: marginal. A gust, a warm vent or "
        f"a worn switch opens it. {{usual_low}} to {{usual_high}} above the setting is usual at full fire {_PRACTICE}"
    ),
    "switch-above-setting": "{above} above the switch's setting, {setting}: enough to hold it closed",
    "no-switch-setting": (
        "the setting of the pressure switch is not known: type the number written on the switch, once for each rate"
    ),
    "not-cooled": (
        "the gas is figured at one temperature all along the pipe; with cooling = true in the job it can be compared"
    ),
    "example-inducer": (
        "the inducer is an example, not the appliance's own, so that there is nothing to compare with: type its own "
        "data over it"
    ),
    "no-fan-curve": "the job does not describe an inducer that holds its flow ([appliance.inducer])",
    "beyond-fan-curve": "no share of top speed puts this flow and head on the curve typed in",
    "pressure-beyond-appliance": (
        "no inducer of such an appliance gives so much: look for a slipped decimal point or another unit"
    ),
    "switch-hoses-exchanged": (
        "the pressure across the switch has the wrong sign: the gauge's two hoses are probably exchanged"
    ),
    "air-pipe-under-pressure": (
        "an air pipe is under suction while the appliance runs, and this is pressure: probably the gauge's hoses are "
        "exchanged. If it is right, something blows into the pipe, such as wind on the inlet"
    ),
    "vent-under-suction": (
        "this vent is under pressure here while the appliance runs, and this is suction: probably the gauge's hoses "
        "are exchanged. If it is right, something draws on the vent: wind across the terminal, or a fan"
    ),
    "oxygen-above-air": "there is no more than {most} oxygen in air: set the analyser to zero in fresh air",
    "oxygen-of-air": (
        "{measured} oxygen is that of air, not of flue gas: the probe is not in the stream, its hose draws air, or "
        "nothing was burning"
    ),
    "carbon-dioxide-beyond-fuel": (
        "this fuel gives no more than {most} carbon dioxide, with no excess air at all: is the analyser set to another "
        "fuel, or is it the oxygen that was read?"
    ),
    "carbon-dioxide-of-air": (
        "it holds no more carbon dioxide than air does: the probe is not in the stream, or nothing was burning"
    ),
    "gases-contradict": (
        "oxygen and carbon dioxide contradict each other: with {oxygen} oxygen goes {goes_with} carbon dioxide in dry "
        "flue gas of this fuel, not {carbon_dioxide} (excess air {by_oxygen} by the one, {by_carbon_dioxide} by the "
        "other)"
    ),
    "temperature-not-of-flue-gas": (
        "no flue gas of a fan-assisted appliance is so hot or so cold: is it the unit, or the probe?"
    ),
    "speed-above-top": "a speed above the inducer's top speed; a share of top speed such as '72 %' is expected",
}
