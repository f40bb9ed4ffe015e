"""Ten thousand options of a run of twenty pieces at two firing rates, against as many single checks."""

from __future__ import annotations

import tempfile
import time
from dataclasses import replace
from pathlib import Path

from tests.bench.jobs import write_jobs
from tests.bench.measure import Timing
from tests.bench.outcome import Outcome
from ventsize.check.inputs import Inputs, prepare, read_inputs
from ventsize.check.verdict import check
from ventsize.jobfile.job import FittingPiece, PipePiece
from ventsize.studies.options import Search
from ventsize.studies.options.choices import Choices, RunChoices

OPTIONS = 10_000
SECONDS = 3.0
SINGLE = 100  # checks timed, from which ten thousand are reckoned


def twenty_pieces(folder: Path) -> Inputs:
    """The vent of the benchmark's job cut to twenty pieces, alone."""
    inputs = read_inputs(write_jobs(folder, 1)[0])
    vent = inputs.job.runs[0]
    pieces = [p for p in vent.pieces or () if isinstance(p, PipePiece) or p.fitting != "increaser"][:19]
    job = replace(
        inputs.job, runs=(replace(vent, pieces=(*_no_headings(pieces), FittingPiece(fitting="terminal-open"))),)
    )
    return prepare(job, file=inputs.file, beside=folder, tables=inputs.tables)


def _no_headings(pieces: list[PipePiece | FittingPiece]) -> list[PipePiece | FittingPiece]:
    return [replace(p, heading=None) if isinstance(p, PipePiece) else p for p in pieces]


def choices(inputs: Inputs) -> Choices:
    """Sizes, ends, elbows one by one: more than ten thousand combinations."""
    run = inputs.job.runs[0].name
    sizes = tuple(sorted({row.size for table in inputs.tables.values() for row in table.rows}))
    ends = ("terminal-open", "terminal-screened", "terminal-elbow-down")
    return Choices(
        runs=(RunChoices(run=run, sizes=sizes, elbows=("short", "long"), each_elbow=True, ends=ends, change_to=sizes),)
    )


def ten_thousand_options() -> Outcome:
    """Options looked at one after the other; the yardstick is as many checks of the whole job. In time of one core."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        inputs = twenty_pieces(folder)
        search = Search(inputs, choices(inputs))
        tries = []
        for _ in range(3):
            started = time.process_time()
            for option in search:
                if option.number == OPTIONS:
                    break
            tries.append(time.process_time() - started)
        started = time.process_time()
        for _ in range(SINGLE):
            check(prepare(inputs.job, file=inputs.file, beside=folder, tables=inputs.tables))
        single = (time.process_time() - started) * OPTIONS / SINGLE
    ours = Timing(least=min(tries), median=sorted(tries)[1], tries=3)
    wrong = "" if search.total >= OPTIONS else f"only {search.total} options"
    return Outcome(
        what="10,000 options",
        against="10,000 single checks",
        ours=ours,
        yardstick=Timing(least=single, median=single, tries=1),
        kind="at most",
        target=SECONDS / single,
        wrong=wrong,
        note=f"asked: {SECONDS:g} s or less on one core; {search.total:,} combinations in all",
    )
