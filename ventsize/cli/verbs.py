"""Every verb and what it does, in a line.

A verb is the module of its name in this package, whose `prepare` adds its arguments and sets the function it runs.
It is imported when its verb is used, and what it needs beyond the command line when it is run: a command starts no
slower for the verbs beside it.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from importlib import import_module

VERBS: dict[str, str] = {
    "open": "open the terminal UI, with a job or at the first screen",
    "bench": "an inducer that adapts beside one of fixed speed, the vent made longer step by step",
    "check": "print the verdict on jobs",
    "along": "temperature and pressure along each run, with cooling and without",
    "compare": "set jobs, or variants of one, side by side: what differs, and what made the difference",
    "cold": "cold weather: the outdoor end, frost, and the insulation that cures it",
    "condensate": "condensate: how much, whether the pipe leads it back, and the trap",
    "inducer": "the inducer: how hard it works at each rate, and where it runs out",
    "options": "sizes, elbows and size changes that a run may have, those within ranked",
    "repairs": "the smallest changes that bring a run within, or what can be saved",
    "readings": "readings beside what they should be, and what a surplus amounts to",
    "diagnose": "what could explain readings, most likely first, and what to read next",
    "headroom": "what is left of each run's allowance, in length and in fittings",
    "checkover": "what a careful installer would verify: checked where the job tells, listed where it does not",
    "paper": "write a job as a paper to hand over: HTML, PDF, Markdown, CSV",
    "proposal": "write up to four ways to do a job as a proposal, side by side",
    "roomair": "room air: volume, openings and ducts for appliances that breathe from a room",
    "sweep": "change one thing of a job, hold the rest, and draw what comes of it",
    "jobs": "the jobs of a folder at a glance: state, verdict, margin and cost; copied, renamed, put away",
    "lesson": "a lesson: a guess is asked for before each answer, and the class's score is kept",
    "tables": "the allowance tables at hand, searched; one looked over, or written as a sheet",
    "takeoff": "what it takes to build a job: items, an exact cut list, and the cost",
    "uncertainty": "say how sure the calculation is, as a range",
    "visit": "visits to a job: readings, check-over and verdict by date, and what has changed since",
    "guide": "the guide, topic by topic",
    "selfcheck": "published values worked out anew on this machine, to see that the installation is sound",
    "schema": "what a job, a table or an answer may hold, as JSON Schema, for editors and other programs",
    "completion": "what bash, zsh or fish needs to complete verbs, options and file names",
    "exercises": "exercise sheets for a class, another for each student, with their key",
    "working": "how a run's figures come about, line by line",
}


def prepare(verb: str) -> Callable[[argparse.ArgumentParser], None]:
    """What prepares a verb's arguments."""
    found: Callable[[argparse.ArgumentParser], None] = import_module(f"ventsize.cli.{verb}").prepare
    return found
