"""Every verb and what it does, in a line, by what people want.

A verb is an entry of `questions`, or else the module of its name in this package, whose `prepare` adds its arguments
and sets the function it runs. It is imported when its verb is used, and what it needs beyond the command line when it
is run: a command starts no slower for the verbs beside it.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from functools import partial
from importlib import import_module

GROUPS: dict[str, dict[str, str]] = {
    "Check a run": {
        "check": "the verdict on jobs, in ten lines or in full",
        "headroom": "what is left of each run's allowance, in length and fittings",
        "working": "how a run's figures come about, line by line",
        "uncertainty": "the calculation as a range: its margin of error",
        "along": "temperature and pressure along each run",
        "cold": "cold weather: the end outdoors, frost, insulation",
        "condensate": "how much condensate, whether it drains, and the trap",
        "roomair": "whether a room gives its appliances enough air",
        "checkover": "what a careful installer would verify",
    },
    "Measure and diagnose": {
        "readings": "readings beside what they should be",
        "diagnose": "what could explain readings, the most likely first",
        "inducer": "how hard the inducer works, and where it runs out",
        "visit": "visits to a job, and what has changed since",
    },
    "Choose and build": {
        "options": "the sizes and elbows that will do, ranked",
        "repairs": "the smallest changes that bring a run within",
        "compare": "jobs, or variants of one, side by side",
        "sweep": "change one thing, hold the rest, and draw the result",
        "takeoff": "what it takes to build: items, cut list, cost",
        "paper": "a job to hand over: HTML, PDF, Markdown, CSV",
        "proposal": "up to four ways to do a job, side by side",
        "jobs": "the jobs of a folder: state, verdict, margin, cost",
    },
    "Teach": {
        "lesson": "a lesson: guess first, then the answer",
        "exercises": "exercise sheets for a class, with their key",
        "bench": "an inducer that adapts beside one of fixed speed",
    },
    "Files and this program": {
        "open": "the screens, with a job or at the first screen",
        "tables": "the allowance tables: searched, looked over, written",
        "schema": "what files and answers hold, as JSON Schema",
        "guide": "the guide, topic by topic",
        "completion": "what bash, zsh or fish needs to complete words",
        "selfcheck": "published values worked out anew on this machine",
    },
}
VERBS = {name: help_text for group in GROUPS.values() for name, help_text in group.items()}


def prepare(verb: str) -> Callable[[argparse.ArgumentParser], None]:
    """What prepares a verb's arguments."""
    from ventsize.cli import questions

    if verb in questions.QUESTIONS:
        return partial(questions.prepare, questions.QUESTIONS[verb])
    found: Callable[[argparse.ArgumentParser], None] = import_module(f"ventsize.cli.{verb}").prepare
    return found
