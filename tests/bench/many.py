"""Many jobs in one call of `ventsize check`: reading, looking up, solving and writing each."""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.bench.jobs import write_jobs
from tests.bench.measure import Timed, Timing, measure
from tests.bench.outcome import Outcome
from tests.bench.solving import BATCH, TRIES
from ventsize.check.inputs import read_inputs
from ventsize.check.verdict import check

JOBS = 500


def many_jobs() -> Outcome:
    """500 job files in one call, against 500 times one job solved in memory."""
    with tempfile.TemporaryDirectory() as name:
        paths = write_jobs(Path(name), JOBS)
        answers: list[int] = []
        ours = measure(Timed(lambda: answers.append(_check_all(paths))), repeats=1)
        fresh = iter([read_inputs(path) for path in paths[: TRIES * (BATCH + 1)]])
        one = measure(Timed(lambda: check(next(fresh)), BATCH), repeats=TRIES)
    return Outcome(
        what=f"{JOBS} job files in one call, JSON",
        against=f"{JOBS} times one job in memory",
        ours=ours,
        yardstick=Timing(least=JOBS * one.least, median=JOBS * one.median, tries=TRIES),
        kind="told only",
        wrong="" if set(answers) == {JOBS} else f"{answers[-1]} answers, not {JOBS}",
        note=f"{JOBS / ours.median:.0f} jobs a second, start included",
    )


def _check_all(paths: list[Path]) -> int:
    done = subprocess.run(
        [sys.executable, "-m", "ventsize", "check", "--json", *map(str, paths)],
        stdout=subprocess.PIPE,
        check=False,
    )
    if done.returncode not in (0, 1):
        raise RuntimeError(f"ventsize check left with {done.returncode}")
    return len(json.loads(done.stdout))
