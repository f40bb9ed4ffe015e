"""Words for the findings of `finding.codes.ROOM`."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ventsize.report.wording import Values

_CLAUSE = "(NFPA 54 9.3.1, from memory)"
_OF_A_ROOM = {
    "enough-from-memory": "that it is enough rests on a figure from memory: check it before use",
    "no-fan-listed": "no fan or dryer is listed that takes air out; if there is one, it competes for this air",
    "fans-take-air": "{fans} takes air out as well; with all of it running, measure whether flues still draw",
    "fans-may-turn-flue": "it may pull hard enough to turn a flue of natural draft round",
    "blown-in-for-fans": "air blown in is figured to make up for {fans} as well",
    "fan-interlock": "the fan that blows air in must be interlocked with every appliance",
    "air-piped": f"{{name}} has a combustion-air pipe: direct vent, left out of this room {_CLAUSE}",
    "appliance-not-category-one": f"{{name}} is no Category I: its maker says what air it needs from a room {_CLAUSE}",
    "direct-vent-left-out": f"{{name}} is direct vent, left out of this room {_CLAUSE}",
    "category-missing": f"the category of {{name}} is not given; the rule is for Category I only {_CLAUSE}",
    "category-other": f"{{name}} is Category {{category}}: its maker says what air it needs {_CLAUSE}",
    "infiltration-not-given": (
        "the infiltration is not given; in a house built tight the standard method may not be used"
    ),
    "infiltration-at-most": "no more than {greatest:.2f} air changes per hour may be used, and are",
}


def _place_missing(values: Values) -> str:
    places = values.raw["places"]
    assert isinstance(places, tuple)
    return f"no opening is said to be at the {' or the '.join(places)} (at = '{places[0]}')"


WORDS: dict[str, str | Callable[[Values], str]] = {
    **{code: f"room '{{room}}': {text}" for code, text in _OF_A_ROOM.items()},
    "air-in-no-room": "{name} has no combustion-air pipe, and no room names it",
    "openings-permanent": (
        "openings are permanent, without dampers, and no less than 3 in either way; input is not reduced for altitude"
    ),
    "openings-for-all-input": (
        "openings indoors are for the input of all appliances in the room, not only for what its volume lacks"
    ),
    "room-code-decides": "which code and edition is in force is for you to say; the local code and the maker decide",
    "infiltration-too-low": "infiltration is known to be below {least:.2f} air changes per hour",
    "infiltration-missing": "the infiltration is not given",
    "volume-too-small": "the volume is too small",
    "room-beside-has-appliances": "it has appliances of its own; describe both as one room",
    "no-opening": "it has no opening",
    "two-openings-needed": "two openings are asked for",
    "openings-too-small": "its openings together are too small",
    "openings-too-few-large": "fewer than two of its openings are large enough",
    "opening-place-missing": _place_missing,
    "no-opening-large-at": "no opening at the {place} is large enough",
    "no-opening-large": "no opening is large enough",
    "connector-size-missing": "the size of a vent connector is not given",
    "opening-top-missing": "the opening is not said to be at the top (at = 'top')",
    "opening-at-bottom": "the opening is at the bottom",
    "no-air-blown-in": "no fan blows air in",
    "blown-in-too-little": "the fan blows in too little",
}
