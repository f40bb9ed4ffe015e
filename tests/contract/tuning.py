"""Setting the figures of a drawn table to what its job comes to, exactly or a hair beside it."""

from __future__ import annotations

from typing import Any

from tests.contract.drawing import FT, Draw
from tests.contract.naive import judge
from tests.contract.reading import Beyond, Data, length


def tuned(d: Draw) -> None:
    """Set an allowance to what the run comes to, exactly or a hair beside it, in whatever unit."""
    try:
        answer = judge(d.job, d.tables)
    except Beyond:
        return
    for name, figures in answer.figures.items():
        run = next(one for one in d.job["run"] if one["name"] == name)
        page = d.tables.get(run.get("table", ""))
        if page is None or figures.row is None or figures.equivalent is None or not figures.allowable:
            continue
        row = page["row"][figures.row - 1]
        beside = d.rng.choice((0.0, 0.0, 0.02 / 12, -0.02 / 12, 0.5, -0.5))
        feet = figures.equivalent / FT + beside
        if feet > 0 and "altitude_factor" not in page:
            _set(d, row, feet, figures.allowable / FT)
    for page in d.tables.values():
        _tuned_limits(d, page)


def _tuned_limits(d: Draw, page: Data) -> None:
    """Limits at what the first laid-out run comes to, or a hair beside it."""
    runs = [run for run in d.job["run"] if "pieces" in run]
    if not runs:
        return
    pipes = [piece for piece in runs[0]["pieces"] if "pipe" in piece]
    beside = d.rng.choice((0.0, 0.0, 0.02 / 12, -0.02 / 12))
    limits = page.get("limits", {})
    level = sum(length(one["pipe"]) for one in pipes if one.get("heading") not in ("up", "down"))
    up = sum(length(one["pipe"]) for one in pipes if one.get("heading") == "up")
    for name, value in (("longest_level", level), ("longest_rise", up)):
        if name in limits and value / FT + beside > 0:
            limits[name] = d.feet(value / FT + beside)
    if "most_elbows" in limits:
        turning = [one for one in runs[0]["pieces"] if str(one.get("fitting")).startswith(("elbow-9", "elbow-4"))]
        limits["most_elbows"] = max(0, len(turning) - d.rng.choice((0, 0, 1)))
    other = [run for run in runs if run["carries"] != runs[0]["carries"]]
    if "longest_difference" in limits and other:
        theirs = sum(length(one["pipe"]) for one in other[0]["pieces"] if "pipe" in one)
        value = abs(sum(length(one["pipe"]) for one in pipes) - theirs) / FT + beside
        limits["longest_difference"] = d.feet(max(0.0, value))
    cold = [one for one in pipes if one.get("surroundings") in ("attic", "crawlspace", "outdoors", "49 degF")]
    if cold and "exposed" in page:
        value = sum(length(one["pipe"]) for one in cold) / FT + beside
        for row in page["exposed"]:
            row["allowable"] = d.feet(max(1 / 12, value))


def _set(d: Draw, row: Data, feet: float, before: float) -> None:
    """Set what a row allows, without a minimum that it no longer allows."""
    if length(row.get("minimum", "0 ft")) / FT > feet:
        del row["minimum"]
    if "allowable" in row:
        row["allowable"] = d.feet(feet)
        return
    lengths: list[Any] = row.get("allowable_by_elbows", [])
    for place, text in enumerate(lengths):
        if text != "not permitted" and abs(length(text) / FT - before) < 1e-9:
            lengths[place] = d.feet(feet)
