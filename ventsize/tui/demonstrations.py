"""The demonstration jobs in the order of what they show, without the names of their files."""

from __future__ import annotations

from pathlib import Path

from ventsize.catalog.folders import shipped_folder

GROUPS: dict[str, tuple[str, ...]] = {
    "First jobs": ("simple-pass", "counted-run", "old-two-inch-run", "no-acceptable-option", "two-pipe-at-altitude"),
    "What tables can say": (
        "page-by-pressure", "paired-sizes", "room-or-pipe", "wall-kit", "high-country", "not-in-the-table",
        "propane-metric", "two-sizes",
    ),
    "Table and calculation differ": (
        "over-by-table-within-by-calculation", "within-by-table-over-by-calculation", "low-fire-near-transition",
    ),
    "Readings, switches, inducers": (
        "trips-on-the-vent", "trips-not-the-vent", "switch-opens-at-high-fire", "second-visit", "long-run-adaptive",
        "long-run-fixed-speed",
    ),
    "Cold, water, room air": (
        "attic-in-the-cold", "bare-pipe-in-the-cold", "sagging-run", "basement-short-of-air",
    ),
    "Several runs and appliances": ("common-vent", "parallel-pipes", "liner-in-the-chimney"),
    "Lessons": (
        "lesson-low-fire", "lesson-one-size-up", "lesson-elbow-in-feet", "lesson-does-order-matter",
        "lesson-the-table-decides", "lesson-up-the-mountain", "lesson-water-in-the-vent",
        "lesson-the-inducer-holds-on", "lesson-between-laminar-and-turbulent",
    ),
}  # fmt: skip
LESSONS, READINGS = "Lessons", "Readings, switches, inducers"


def demonstrations() -> list[tuple[str, Path]]:
    """Every demonstration with its group; one that no group names stands last."""
    folder = shipped_folder("scenarios")
    listed = [(group, folder / f"{name}.toml") for group, names in GROUPS.items() for name in names]
    known = {path for _, path in listed}
    return listed + [("Others", path) for path in sorted(folder.glob("*.toml")) if path not in known]
