"""The guide: one Markdown file a topic, read in the repository, on screen and by `ventsize guide`."""

from __future__ import annotations

from importlib import resources

TOPICS: dict[str, str] = {
    "verdicts": "what each verdict means, and the conditions of a pass",
    "commands": "every command with an example",
    "open-job": "an open job: areas, keys, variants",
    "tables": "typing an allowance table in, and where tables live",
    "options": "options, repairs, takeoff, cut list and prices",
    "papers": "papers to hand over, and proposals",
    "field": "readings, causes, the check-over, visits",
    "room-air": "appliances that take their air from the room",
    "weather": "cold weather, water, the inducer",
    "teaching": "sweeps, lessons, exercise sheets",
    "settings": "units, looks, keys, folders",
    "programs": "JSON, schemas and Python, for other programs",
}
"""Every topic, and what it is about."""


def topic(name: str) -> str:
    """The text of a topic, Markdown. KeyError for a name that is none."""
    if name not in TOPICS:
        raise KeyError(name)
    return resources.files(__name__).joinpath(f"{name}.md").read_text(encoding="utf-8")
