"""A verdict from a cold start, against merely importing the libraries that the solver stands on."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from tests.bench.measure import Timed, measure_together
from tests.bench.outcome import Outcome

SCENARIO = Path(__file__).resolve().parents[2] / "scenarios" / "simple-pass.toml"
IMPORTS = "import fluids, networkx, pint"
TARGET = 1.5


def cold_start() -> Outcome:
    """`ventsize check` on a scenario, a new process each time, with the same interpreter."""
    ours, yardstick = measure_together([Timed(_check), Timed(_import)], repeats=9)
    return Outcome(
        what="check of a scenario, cold start",
        against=f'python -c "{IMPORTS}"',
        ours=ours,
        yardstick=yardstick,
        kind="at most",
        target=TARGET,
    )


def _check() -> None:
    _run("-m", "ventsize", "check", str(SCENARIO))


def _import() -> None:
    _run("-c", IMPORTS)


def _run(*arguments: str) -> None:
    subprocess.run([sys.executable, *arguments], check=True, stdout=subprocess.DEVNULL)
