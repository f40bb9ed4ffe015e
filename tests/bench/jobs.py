"""Invented jobs of a stated size: a vent and an air pipe with two firing rates."""

from __future__ import annotations

from pathlib import Path

PIECES = 40

TABLE = """
title = "Made for the benchmark"
source = "Invented for demonstration"
applies_to = ["flue gas", "combustion air"]
counts = "each run"

[deductions]
elbow-90-long = "3 ft"
elbow-90-short = "8 ft"
increaser = "1 ft"
terminal-open = "0 ft"

[[row]]
input = "60 kBtu/h"
size = "3 in"
altitude = ["0 ft", "6000 ft"]
allowable = "300 ft"

[[row]]
input = "120 kBtu/h"
size = "3 in"
altitude = ["0 ft", "6000 ft"]
allowable = "300 ft"

[[row]]
input = "60 kBtu/h"
size = "4 in"
altitude = ["0 ft", "6000 ft"]
allowable = "400 ft"

[[row]]
input = "120 kBtu/h"
size = "4 in"
altitude = ["0 ft", "6000 ft"]
allowable = "400 ft"
"""

JOB = """
title = "Benchmark {number}"
tables = ["bench-table.toml"]
cooling = false

[site]
altitude = "1200 ft"
outdoor = "5 degF"
indoor = "68 degF"

[[appliance]]
name = "furnace"
fuel = "natural gas"
[[appliance.rate]]
name = "high"
input = "{high:.3f} kBtu/h"
excess_air = 0.35
flue_temperature = "115 degF"
[[appliance.rate]]
name = "low"
input = "{low:.3f} kBtu/h"
excess_air = 0.45
flue_temperature = "102 degF"

[[run]]
name = "vent"
carries = "flue gas"
between = ["furnace", "outdoors"]
size = "3 in"
material = "pvc-40"
table = "bench-table.toml"
pieces = [
{vent}
]

[[run]]
name = "air"
carries = "combustion air"
between = ["furnace", "outdoors"]
size = "3 in"
material = "pvc-40"
table = "bench-table.toml"
pieces = [
{air}
]
"""


def write_jobs(folder: Path, count: int) -> list[Path]:
    """Job files in a folder, no two with the same flow, so that nothing worked out before can be used again."""
    (folder / "bench-table.toml").write_text(TABLE, encoding="utf-8")
    paths = [folder / f"job-{number:04d}.toml" for number in range(count)]
    for number, path in enumerate(paths):
        path.write_text(_job(number), encoding="utf-8")
    return paths


def _job(number: int) -> str:
    high = 80.0 + 0.037 * number
    return JOB.format(
        number=number, high=high, low=0.65 * high, vent=_pieces(grows_at=PIECES // 2), air=_pieces(grows_at=None)
    )


def _pieces(*, grows_at: int | None) -> str:
    """Pipe and fitting by turns, elbows long and short by turns, an open end last."""
    headings = ("up", "east", "up", "north")
    lines = []
    for index in range(PIECES // 2):
        place = 2 * index + 1
        lines.append(f'  {{ pipe = "{3 + index % 5} ft", heading = "{headings[_turns(index, grows_at) % 4]}" }},')
        if place == PIECES - 1:
            lines.append('  { fitting = "terminal-open" },')
        elif grows_at is not None and place == grows_at - 1:
            lines.append('  { fitting = "increaser", size = "4 in" },')
        else:
            lines.append(f'  {{ fitting = "elbow-90-{("long", "short")[index % 2]}" }},')
    return "\n".join(lines)


def _turns(index: int, grows_at: int | None) -> int:
    """Elbows before the pipe of this index: an increaser does not turn."""
    return index - 1 if grows_at is not None and 2 * index >= grows_at else index
