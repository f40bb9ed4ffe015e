"""Words for the causes of the diagnosis: what each is, where it would be, and what a look would show."""

from __future__ import annotations

from ventsize.studies.diagnosis.result import Cause, Form, Part

_WHAT: dict[Form, str] = {
    "terminal-blocked": "the terminal of{run} is partly blocked",
    "narrowed-inside": "something narrows{run} inside",
    "water-puddle": "water stands in a low spot of{run} and narrows it",
    "water-closed": "water closes a low spot of{run}: gas bubbles through",
    "longer-pipe": "{run} is longer, or has more fittings, than the job says",
    "more-elbows": "{run} has more fittings, or is longer, than the job says",
    "other-pipe": "{much} of{run} is other pipe than the job says",
    "air-restricted": "the air pipe{run} is restricted, or longer than the job says; not the vent",
    "leak": "flue gas leaves{run} before its terminal",
    "recirculation": "flue gas gets back into the air inlet",
    "switch-tubing": "the pressure switch's tubing or ports leak or are plugged; it is not the pipe",
    "switch-water": "water in the pressure switch's tubing; it is not the pipe",
    "switch-water-low-side": "water in the tubing of the switch's low side; it is not the pipe",
    "input": "the appliance burns more or less gas than its plate says (gas pressure, orifice)",
    "flow": "the appliance moves more or less gas than the job says (inducer, air setting)",
    "warmth": "the flue gas is warmer or cooler than the job says (what it heats, a dirty exchanger)",
    "room-pressure": "the room is not at the pressure of the open air: stack effect, exhaust fans",
    "wind-at-terminal": "wind at the terminal",
    "wind-at-inlet": "wind at the air inlet",
}
_LOOK: dict[Form, str] = {
    "longer-pipe": "measure {run} again, and count its fittings",
    "more-elbows": "count the fittings of {run} again, and measure it",
    "water-puddle": "put a level on {run}: water stands where it sags or slopes the wrong way",
    "water-closed": "put a level on {run}: water stands where it sags or slopes the wrong way",
    "other-pipe": "read the marking on the pipe of {run}: it says size and schedule; look at its fittings too",
    "input": "clock the gas meter: seconds for one turn, with nothing else burning",
    "room-pressure": "read the room against outdoors, fans on and off; or open a window and read again",
    "wind-at-terminal": "read again on a calm day",
    "wind-at-inlet": "read again on a calm day",
}
_ELSEWHERE: dict[Form, str] = {
    "recirculation": "between terminal and inlet",
    "switch-tubing": "tubing or ports of the switch",
    "switch-water": "tubing of the switch",
    "switch-water-low-side": "tubing of the switch's low side",
    "input": "gas valve and orifice",
    "flow": "inducer and air setting",
    "warmth": "exchanger, and what it heats",
    "room-pressure": "the room",
    "wind-at-terminal": "outside, at the terminal",
    "wind-at-inlet": "outside, at the inlet",
}


def what(form: Form, part: Part) -> str:
    """A cause in words, without its size."""
    unnamed = "" if form == "air-restricted" else " the vent"
    run = unnamed if part.run is None else f" '{part.run}'"
    return _WHAT[form].format(run=run, much="all" if part.whole else "part").strip()


def look(cause: Cause) -> str:
    """What to look at that shows it without any reading; empty where there is none, and where somebody has looked."""
    return "" if cause.looked_for else _LOOK.get(cause.form, "").format(run=f"'{cause.run}'")


def where(form: Form, part: Part) -> str:
    """The place of a cause in words."""
    if part.run is None:
        return _ELSEWHERE[form]
    if part.size:
        return _other(part)
    if part.counted and part.behind:
        return f"somewhere along '{part.run}'"
    here = _named(part, part.first, part.name)
    return f"behind {here}" if part.behind else here


def _named(part: Part, number: int | None, name: str) -> str:
    if part.counted or number is None:
        return f"{'a pipe' if part.pipe else name} of '{part.run}'"
    return f"piece {number} of '{part.run}' ({name})"


def _other(part: Part) -> str:
    size = f"in {part.size}" + (f" {part.material}" if part.material else "")
    if part.whole:
        return f"all of '{part.run}' {size}, fittings and all"
    if part.counted:
        found = f"the straight pipe of '{part.run}' {size}"
    elif part.first == part.last:
        found = f"{_named(part, part.first, part.name)} {size}"
    else:
        found = f"piece {part.first} to {_named(part, part.last, part.last_name)} {size}"
    return f"{part.share:.0%} of {found}" if part.share is not None else found
