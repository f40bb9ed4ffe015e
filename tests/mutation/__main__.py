"""Faults made in the core, and which of them no test notices: a score, and the survivors by their lines.

    python -m tests.mutation [LAYER or MODULE ...] [--sample 60] [--seed 1] [--cores 2]

Without a sample every fault of the layers is made, which takes hours.
"""

from __future__ import annotations

import argparse
import os
import random
from concurrent.futures import ThreadPoolExecutor
from multiprocessing import get_context
from pathlib import Path

from tests.mutation.faults import Fault, faults_in
from tests.mutation.judging import NEAREST, share_of

ROOT = Path(__file__).resolve().parents[2]


def chosen(places: list[str], sample: int, seed: int) -> list[Fault]:
    """The faults of some layers or modules, or so many of them drawn."""
    files = [
        path.relative_to(ROOT).as_posix()
        for place in places or NEAREST
        for path in sorted((ROOT / "ventsize").glob(f"{place}/*.py" if "." not in place else place))
    ]
    faults = [fault for file in files for fault in faults_in(ROOT, file)]
    return random.Random(seed).sample(faults, min(sample, len(faults))) if sample else faults


def main() -> None:
    """Make them, and say what survived."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation")
    parser.add_argument("places", nargs="*")
    parser.add_argument("--sample", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--cores", type=int, default=os.cpu_count() or 1)
    given = parser.parse_args()
    faults = chosen(given.places, given.sample, given.seed)
    context = get_context("spawn")
    killed = 0

    def answers_of(number: int) -> None:
        nonlocal killed
        here, there = context.Pipe(duplex=False)
        context.Process(target=share_of, args=(ROOT, faults[number :: given.cores], there)).start()
        there.close()  # so that a process that dies is the end of its answers
        for fault in faults[number :: given.cores]:
            seen = here.recv()
            killed += seen
            if not seen:
                print(fault.shown((ROOT / fault.file).read_text(encoding="utf-8")), flush=True)

    with ThreadPoolExecutor(given.cores) as pool:
        list(pool.map(answers_of, range(given.cores)))
    print(f"{killed} of {len(faults)} noticed, {killed / max(1, len(faults)):.1%}")


if __name__ == "__main__":
    main()
