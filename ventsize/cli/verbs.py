"""Every verb: what it does in a line, and what prepares its arguments and sets the function it runs.

A verb is a module of its name; what it needs beyond the command line it imports when it is run.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable

from ventsize.cli import (
    check,
    cold,
    condensate,
    headroom,
    inducer,
    open,
    options,
    repairs,
    roomair,
    takeoff,
    uncertainty,
    working,
)

VERBS: dict[str, tuple[str, Callable[[argparse.ArgumentParser], None]]] = {
    "open": ("open the terminal UI, with a job or at the shelf", open.prepare),
    "check": ("print the verdict on jobs", check.prepare),
    "cold": ("cold weather: the outdoor end, frost, and the insulation that cures it", cold.prepare),
    "condensate": ("condensate: how much, whether the pipe leads it back, and the trap", condensate.prepare),
    "inducer": ("the inducer: how hard it works at each rate, and where it runs out", inducer.prepare),
    "options": ("sizes, elbows and size changes that a run may have, those within ranked", options.prepare),
    "repairs": ("the smallest changes that bring a run within, or what can be saved", repairs.prepare),
    "headroom": ("what is left of each run's allowance, in length and in fittings", headroom.prepare),
    "roomair": ("room air: volume, openings and ducts for appliances that breathe from a room", roomair.prepare),
    "takeoff": ("what it takes to build a job: items, an exact cut list, and the cost", takeoff.prepare),
    "uncertainty": ("say how sure the calculation is, as a range", uncertainty.prepare),
    "working": ("how a run's figures come about, line by line", working.prepare),
}
