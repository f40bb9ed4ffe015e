"""Keys of a job for what was seen, heard or looked at: [[symptom]].

[[symptom]]
what = "switch chatters"      # one of SYMPTOMS; the last of them say what was looked at and is right
rate = "high"                 # where it is seen at one rate
"""

from __future__ import annotations

from typing import Annotated, Literal, get_args

from ventsize.jobfile.document import rare_record
from ventsize.jobfile.field_types import Expected, Text

Symptom = Literal[
    "switch open",
    "switch closed",
    "switch chatters",
    "trips now and then",
    "trips before ignition",
    "trips after ignition",
    "trips at the change to high fire",
    "trips when warm",
    "trips in wind",
    "flame goes out",
    "rumbles or howls",
    "gurgles",
    "loud after a power cut",
    "flue gas in the room",
    "carbon monoxide alarm sounds",
    "length and fittings are right",
    "pipe size is right",
    "no water in the vent",
    "vent is clear inside",
    "terminal is clear",
    "air pipe is clear",
    "no joint leaks",
    "switch tubing is clear",
    "room pressure is right",
    "no wind at the ends",
    "gas input is right",
    "no flue gas at the inlet",
    "exchanger and inducer are clean",
]

SYMPTOMS: tuple[Symptom, ...] = get_args(Symptom)


@rare_record
class Seen:
    """Something seen or heard that is no number."""

    what: Annotated[Symptom, Expected(f"one of {', '.join(SYMPTOMS)}")]
    rate: Text = ""
    appliance: Text | None = None
    when: Text = ""
    note: Text = ""
