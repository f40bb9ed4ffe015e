"""Words for the findings of `finding.codes.APPLIANCE`."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ventsize.report.wording import Values

NO_PERMIT = "A closed switch does not mean the vent is allowed"


def _by_table(values: Values) -> str:
    verdict = str(values["verdict"])
    word = verdict if verdict == "within" else verdict.upper()
    if values.raw["start"] == values.raw["end"]:
        return f"By the table, with {values['start']:decimal} of straight pipe: {word}."
    return f"By the table, from {values['start']:decimal} to {values['end']:decimal} of straight pipe: {word}."


_KINDS = {"adaptive": "the one that adapts", "two-speed": "the one of two speeds", "fixed": "the one of fixed speed"}


def _of_kind(values: Values) -> str:
    return _KINDS[str(values["kind"])]


WORDS: dict[str, str | Callable[[Values], str]] = {
    # the inducer
    "fan-short-of-air": "at {speed} of top speed the fan moves less air than the fuel needs: it must not fire",
    "fan-cannot-hold": "no share of top speed puts this flow and head on the curve typed in",
    "fan-curve-misses-flow": "the curve typed in does not reach the flows of this rate",
    "fan-meets-beyond-curve": "curve and vent would meet beyond the curve typed in",
    "fan-too-much-air": "at {speed} of top speed the fan moves more than five times excess air",
    "fan-over-top-speed": "it needs {speed} of top speed, which is more than there is",
    "fan-switch-opens": (
        "at {speed} of top speed the switch feels {drop} and opens (below {opens}): the burner goes out"
    ),
    "excess-air-not-as-stated": "the excess air is {found}, not {stated} as the job states it",
    "fan-density-not-said": (
        "The job does not say with which gas the fan's curve was taken (curve_density, or curve_altitude). It is used "
        "as it stands; a curve taken with room air gives less head with warm flue gas, in the ratio of the densities."
    ),
    "fan-pressure-not-said": (
        "The job does not say whether the fan's curve is of total or of static pressure (curve_pressure). It is taken "
        "as total."
    ),
    "fan-draft-left-out": (
        "Help from draft is left out, because on a mild day there is none. Draft that hinders is counted."
    ),
    "switch-opening-not-said": (
        "The job does not say where the pressure switch opens (switch_opens of the rate). The drop at this rate is "
        "taken as the point where it opens, which leaves no margin."
    ),
    "fan-curve-example": "its fan curve is an example ({source}), not the appliance's own",
    "inducer-relearns": (
        "An inducer that adapts keeps what it learned until its power is interrupted. After the vent is altered, "
        "interrupt the power and let it learn again at every rate (common practice)."
    ),
    # start-up, step by step
    "start-old-speed": "the fan still turns at the speed that it learned on the vent as it was, {speed}",
    "start-power-returns": "The power returns. Nothing is learned yet.",
    "start-switch-proved-open": "A call for heat. The fan stands still, and the switch must be open.",
    "start-switch-closes": "the fan speeds up with cold air until the switch closes, at {speed} of top speed",
    "start-switch-stays-open": "the switch stays open at {speed} of top speed: the burner does not light",
    "start-purge": "the fan clears the appliance and the vent with air, at {speed} of top speed",
    "start-learns": "the burner lights, the fan settles at {speed} of top speed and learns it",
    "start-burns": "the burner lights, with the fan at {speed} of top speed",
    "start-satisfied": "the call is satisfied: the burner is out, the fan clears the vent at {speed} of top speed",
    "start-keeps": "The fan stands still. What it learned is kept for the next call.",
    "start-power-cut": "The power is interrupted. What it learned is lost: it learns again at the next call.",
    # the bench
    "bench-table-allows": "The table allows {allowable}.",
    "bench-by-table": _by_table,
    "bench-burns-outside-table": lambda values: (
        f"{NO_PERMIT}: with {values['length']:decimal} of straight pipe a switch is still closed, and the table says "
        f"{str(values['verdict']).upper()}."
    ),
    "bench-adapts": (
        "the one that adapts holds its flow from {start:decimal} to {end:decimal} of vent by turning faster: "
        "{slow} to {fast} of top speed. The excess air stays the same."
    ),
    "bench-air-at-switch": (
        "the switch opens where the excess air has fallen from {set} to {air}. It watches the flow and not the flame: "
        "with less than some {little} (common practice, no source) air and gas may mix too unevenly, and the flame "
        "makes carbon monoxide. Only a combustion analyzer shows that."
    ),
    "bench-loses-air": lambda values: (
        f"{_of_kind(values)}, {values['speed']} of top speed, loses flow with every step: excess air from "
        f"{values['most']} to {values['least']} at {values['end']:decimal}."
    ),
    "bench-little-air": lambda values: (
        f"from {values['at']:decimal} on {_of_kind(values)} leaves the flame little excess air, down to "
        f"{values['air']}, and the switch stays closed: carbon monoxide is to be expected."
    ),
    "bench-burns": lambda values: f"{_of_kind(values)} still burns at {values['at']:decimal}, where this stopped.",
    "bench-never-burns": lambda values: f"{_of_kind(values)} does not burn at all, from {values['at']:decimal} on.",
    "bench-goes-out": lambda values: f"{_of_kind(values)}: its burner is out by {values['at']:decimal}.",
    "bench-one-rate-out": lambda values: (
        f"At {values['at']:decimal} {_of_kind(values)} is out at {values['out']} and still burns at {values['on']}: "
        "a furnace that runs at one rate and trips at the other."
    ),
    "bench-one-fan": (
        "All are one fan: from the length at which the one that adapts reaches its top speed, it does the same as the "
        "one of fixed speed."
    ),
    "bench-no-permit": (
        f"{NO_PERMIT}. The switch proves that enough gas flows at this moment; the table decides whether the vent may "
        "be so long. It ends far below the length at which a burner goes out: what is between is for wind, cold, dirt, "
        "wear and the maker's margin."
    ),
    "bench-find-out-why": (
        "When an appliance has stopped on its switch, find out why. A longer vent is only one reason."
    ),
    # cold weather
    "wall-freezes": "the inside wall is below freezing; ice can close the pipe",
    "wall-may-freeze": ("the inside wall may fall below freezing, because the films are known to {doubt} only"),
    "ice-at-terminal": "ice builds up at the terminal; look at it in the cold",
    "moist-gas-freezes": (
        "Moist gas freezes on anything cold it touches at the terminal. Keep it clear of walls, vents and walks."
    ),
    "pipe-sweats": "its outside surface sweats in the room",
    "pipe-may-sweat": "its outside surface may sweat in the room",
    "spaces-as-cold": (
        "On days colder than the job's, attic and crawlspace are taken to be colder by as much as outdoors is."
    ),
    "room-humidity-assumed": (
        "The job gives no humidity of the room ([site] indoor_relative_humidity). {humidity} is assumed for sweating."
    ),
    # water
    "rise-not-given": "no rise is given, so how it falls is not known",
    "pipe-falls-away": "it falls away from the appliance",
    "pipe-falls-too-little": "it does not fall enough to the appliance",
    "water-runs-out": "water runs out at its outdoor end, and freezes there in the cold",
    "trap-seal-to-measure": (
        "The depth of a trap seal is not given (trap_seal of the appliance), or is at a drain: measure it."
    ),
}
