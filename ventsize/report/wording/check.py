"""Words for the findings of `finding.codes.CHECK`, and the cautions that go with every result."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from ventsize.finding import Amount, Value
from ventsize.quantity import show_apart

if TYPE_CHECKING:
    from ventsize.report.wording import Values

ALWAYS = (
    "This is an estimate. The appliance maker's instructions and the local code decide, and the work belongs to a "
    "licensed installer. Use only pipe and fittings that those instructions list.",
    "A vent that is too long, blocked, leaking or wrongly built can put carbon monoxide in a building. After any "
    "change to a vent: a combustion check, a leak check, and a working CO alarm.",
    "For appliances whose fan pushes the flue gas out under pressure. A natural-draft appliance with a draft hood "
    "must not be sized this way.",
)


def apart(values: Values, first: str, second: str) -> tuple[str, str]:
    """Two amounts of one dimension with as many digits as tell them apart."""
    one, other = values.raw[first], values.raw[second]
    assert isinstance(one, Amount) and isinstance(other, Amount)
    return show_apart(one.value, other.value, one.dimension, values.system)


def _over_by_calculation(values: Values) -> str:
    counted, budget = apart(values, "counted", "budget")
    return (
        f"Ask the maker: within by the table, but the calculated loss, {counted}, exceeds what the table allows, "
        f"{budget}."
    )


def _within_by_calculation(values: Values) -> str:
    counted, budget = apart(values, "counted", "budget")
    return f"Over by the table, inside it by calculation ({counted} against {budget}). The table decides."


def _lengths(values: Values) -> str:
    draft = f" ({values['draft']:decimal} of it for draft against the gas)" if _seen(values.raw["draft"]) else ""
    return f"by the table {values['by_table']:decimal}, by calculation {values['by_calculation']:decimal}{draft}"


def _seen(length: Value) -> bool:
    return isinstance(length, Amount) and length.value > 0.015  # 0.05 ft, the last digit shown


def _agree(values: Values) -> str:
    return f"At {values.where.rate} the two agree: {_lengths(values)}."


def _by_draft(values: Values) -> str:
    return f"At {values.where.rate} {_lengths(values)}: the gas is heavier than what it rises through, or is led down."


def _by_fitting(values: Values) -> str:
    count = values.raw["count"]
    name = f"{count} x {values['name']}" if count != 1 else f"{values['name']}"
    return (
        f"At {values.where.rate} {_lengths(values)}: mostly {name}, which the table counts as "
        f"{values['share_by_table']:decimal} and the calculation as {values['share_by_calculation']:decimal}."
    )


def _by_pipe(values: Values) -> str:
    return (
        f"At {values.where.rate} {_lengths(values)}: mostly the {values['name']}, whose "
        f"{values['share_by_table']:decimal} cost as much as {values['share_by_calculation']:decimal} of the size in "
        "the table."
    )


def _readings(values: Values) -> str:
    count = values.raw["readings"]
    kept = "1 reading is" if count == 1 else f"{count} readings are"
    return (
        f"{kept} kept with this job, and the verdict asks them only whether to shut it off. Look at their diagnosis "
        "before you rely on it."
    )


def _mach(values: Values) -> str:
    mach, limit = values.raw["mach"], values.raw["limit"]
    assert isinstance(mach, Amount) and isinstance(limit, Amount)
    return (
        f"The gas would move at Mach {mach.value:.2f}. The calculation has no answer beyond {limit.value:g}: the "
        "pipe is far too small for this input, or a figure is mistyped."
    )


def _hot(values: Values) -> str:
    gas, limit = apart(values, "gas", "limit")
    return f"Gas at {gas} is above the limit of {values['material']}, {limit}. This pipe must not be used there."


def _cool(values: Values) -> str:
    gas, limit = apart(values, "gas", "limit")
    return f"Gas at up to {gas}; {values['material']} may have {limit}."


_UNUSUAL = "is outside the usual range; check the entry."

WORDS: dict[str, str | Callable[[Values], str]] = {
    "air-by-pipe": "An air pipe brings its combustion air.",
    "air-contradicts": "The job says that its air comes from the room, and a combustion-air run reaches it.",
    "air-from-room": "Its combustion air comes from the room. Whether the room has enough is not judged here.",
    "air-not-said": "The table adds vent and air lengths together, and the job does not say where the combustion air "
    "comes from. Enter an air run, or say that it comes from the room.",
    "air-run-missing": "The job says that a pipe brings its combustion air, and no such run is entered.",
    "air-taken-as-from-room": "No air run is entered: the combustion air is taken to come from the room. Whether the "
    "room has enough is not judged here.",
    "air-taken-from-room": "No air run is entered: the combustion air is taken to come from the room.",
    "altitude-not-given": "The job gives no altitude. The calculation is for sea level, and no table can be read.",
    "backflow": "While this appliance is idle its collar is under up to {pressure}, and nothing keeps flue gas from "
    "being pushed back into it.",
    "backflow-not-known": "While this appliance is idle its collar is under up to {pressure} (help from draft left "
    "out). Say whether something keeps flue gas from being pushed back into it.",
    "backflow-stopped": "While this appliance is idle its collar is under up to {pressure}. The job says that "
    "something keeps flue gas from being pushed back into it.",
    "bore-not-of-size": "A bore of {bore:bore} is not that of {size} pipe; one of the two is wrong.",
    "cannot-be-built": "{text}.",
    "combinations-left-out": "Of {every} combinations of firing rates {figured} are calculated: all at their highest "
    "and all at their lowest, each one lower or off beside the others at their highest, and each alone.",
    "condition-not-looked-at": "Not looked at: {conditions}.",
    "cooling-followed": "The gas cools, or the air warms, along each run. Films and insulation are known to some 20 %; "
    "water that has left the gas is not taken up again.",
    "derating-not-applied": "Altitude: the code asks for {whole_altitude} (4 % per 1000 ft) or {part_above} (only "
    "above 2000 ft) unless the maker says otherwise, not {input}.",
    "draft-hinders": "Draft works against the gas with {draft}, and is counted against the allowance by calculation.",
    "ends-not-counted": "Wind at the ends of the pipes and the pressure of the room are not in these pressures: the "
    "job does not state them.",
    "fall-not-known": "Counted, not laid out: how it falls is not judged.",
    "fast-gas": "The gas moves at {velocity}, faster than a vent usually is ({limit}); check size and input.",
    "flow-found": "The calculation found the flow at every rate.",
    "flue-gas-led-out": "A run carries its flue gas outdoors.",
    "too-many-ways": "Its gas has more than {most} ways to the open air. The others were not compared with a table.",
    "ways-counted": "Every way out is compared with a table.",
    "gas-below-limit": _cool,
    "gas-has-several-ways": "The gas divides over several pipes here, and an allowance table is for one.",
    "gas-has-one-way": "The gas has one way out.",
    "gas-limit-not-given": "No temperature limit is given for {materials}.",
    "gas-too-hot": _hot,
    "heated-space-assumed": "Where the job does not say what a pipe runs through, a heated space is assumed.",
    "indoor-assumed": "The job gives no indoor temperature ([site] indoor); {assumed} is assumed around the pipe.",
    "inside-envelope": "Speed, loss and bores are inside what the calculation holds for.",
    "lengths-agree": _agree,
    "lengths-differ-by-draft": _by_draft,
    "lengths-differ-by-fitting": _by_fitting,
    "lengths-differ-by-pipe": _by_pipe,
    "little-wind-at-collar": "While this appliance is idle its collar has only {spare} to spare: a wind of {wind} "
    "against the end of the pipe, or as much suction in the room, pushes flue gas back into it.",
    "little-wind-at-trap": "The trap has only {spare} to spare: a wind of {wind} against the end of the pipe, or as "
    "much suction in the room, pushes flue gas through it.",
    "limit-not-known": "The record of {material} gives no temperature limit. Whether it may carry this gas is not "
    "judged.",
    "loss-from-job": "The loss of {fittings} is the job's own figure, not the catalog's.",
    "loss-too-large": "The calculated loss, {loss}, is more than a tenth of the air pressure. The calculation has no "
    "answer there: the pipe is far too small for this input, or a figure is mistyped.",
    "no-backflow": "No pressure reaches its collar from other appliances.",
    "no-condensate": "It carries no flue gas.",
    "no-flow-found": "The flow did not converge; do not use these pressures.",
    "no-pressure-found": "The pressure drop could not be calculated.",
    "no-vent": "No run carries its flue gas.",
    "nothing-says-shut-off": "No reading and no symptom kept with this job says to shut it off.",
    "no-water-seal": "No low spot can be closed by its own water.",
    "one-temperature": "The gas is taken not to cool along the run. Flue gas that cools loses a "
    "little less; cold air that warms loses more.",
    "outdoor-assumed": "The job gives no outdoor temperature; {assumed} is assumed for draft and for the combustion "
    "air.",
    "over-by-calculation": _over_by_calculation,
    "pipe-larger-than-collar": "The run starts at {size} on a collar of {collar:size}. The loss of the size change is "
    "counted only if the run lists an increaser or reducer.",
    "pipe-smaller-than-collar": "The run starts at {size} on a collar of {collar:size}: smaller pipe than the "
    "appliance's own outlet. Check that the maker permits it.",
    "readings-not-asked": _readings,
    "rise-not-known": "The run is counted, not laid out. How far it rises is not known, so draft is left out.",
    "room-air-as-outdoors": "The job gives no indoor temperature; air from the room is taken as humid air at the "
    "outdoor one.",
    "room-air-not-judged": "Its combustion air comes from the room. Whether the room has enough is not judged here.",
    "room-pressure-not-counted": "The pressure of the room is not in these pressures: the job does not state it.",
    "shared-vent": "Each of {serves} must be listed for a common vent.",
    "shared-vent-under-pressure": "Each of {serves} must be listed for a common vent under pressure, here up to "
    "{pressure}.",
    "space-assumed": "The job gives no temperature of the {space} ([site] {space}); it is assumed as cold as outdoors, "
    "{assumed}.",
    "still-air-assumed": "The job gives no wind ([site] wind). Pipe outdoors is calculated in still air, and cools "
    "more in wind.",
    "too-fast": _mach,
    "trap-blows-out": "The vent pressure, {pressure}, is at or above what the {seal:fine} water seal of the trap "
    "holds. Flue gas escapes at the drain.",
    "trap-holds": "The {seal:fine} water seal of the trap holds the vent pressure, {pressure}.",
    "trap-margin-small": "The {seal:fine} water seal of the trap holds the vent pressure, {pressure}, with only "
    "{spare:opening} to spare. {margin:opening} is common practice.",
    "trap-not-judged": "The flow did not converge, so the pressure at the trap is not known.",
    "trap-not-stated": "The depth of the trap's water seal is not stated, so it is not judged.",
    "trap-seal-not-stated": "The depth of the trap's water seal is not stated. The vent pressure asks for at least "
    "{needed:opening} of water.",
    "unusual-altitude": f"An altitude of {{altitude:altitude}} {_UNUSUAL}",
    "unusual-bore": "A bore of {bore:bore} is unusual for {size} pipe; check the entry.",
    "unusual-flue-temperature": f"A flue gas temperature of {{temperature}} {_UNUSUAL}",
    "unusual-input": f"An input of {{input}} {_UNUSUAL}",
    "unusual-length": f"A straight length of {{length}} {_UNUSUAL}",
    "unusual-pipe": f"A pipe of {{length}} {_UNUSUAL}",
    "water-closes-pipe": "A low spot without a drain can fill with {depth:opening} of water and close the pipe (bore "
    "{bore:opening}).",
    "water-narrows-pipe": "A low spot without a drain holds up to {depth:opening} of water, which narrows the pipe "
    "(bore {bore:opening}).",
    "wind-not-counted": "Wind at the ends of the pipes is not in these pressures: the job does not state it all.",
    "within-by-calculation": _within_by_calculation,
    "worst-combination": "Of the combinations of firing rates, {runs} loses the most at this one.",
}
