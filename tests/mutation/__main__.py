"""Faults made in the core, and which of them no test notices: a score, and the survivors by their lines.

    python -m tests.mutation [LAYER or MODULE ...] [--sample 60] [--seed 1] [--cores 2]

Without a sample every fault of the layers is made, which takes hours.
"""

from __future__ import annotations

import argparse
import os
import random
from collections import Counter
from pathlib import Path

from tests.mutation.faults import Fault, faults_in
from tests.mutation.harmless import HARMLESS
from tests.mutation.judging import NEAREST, judge

ROOT = Path(__file__).resolve().parents[2]


def made(places: list[str]) -> list[Fault]:
    """The faults of some layers or modules, but those that change nothing."""
    files = [
        path.relative_to(ROOT).as_posix()
        for place in places or NEAREST
        for path in sorted((ROOT / "ventsize").glob(f"{place}/*.py" if "." not in place else place))
    ]
    return [fault for file in files for fault in faults_in(ROOT, file) if fault.named(ROOT) not in HARMLESS]


def main() -> None:
    """Make them, and say what survived."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation")
    parser.add_argument("places", nargs="*")
    parser.add_argument("--sample", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--cores", type=int, default=os.cpu_count() or 1)
    given = parser.parse_args()
    faults = made(given.places)
    if given.sample:
        faults = random.Random(given.seed).sample(faults, min(given.sample, len(faults)))
    noticed: Counter[str] = Counter()

    def heard(fault: Fault, seen: bool) -> None:
        noticed[fault.layer] += seen
        if not seen:
            print(fault.shown(ROOT), flush=True)

    judge(ROOT, faults, given.cores, heard)
    for layer, made_there in Counter(fault.layer for fault in faults).items():
        print(f"{layer}: {noticed[layer]} of {made_there} noticed, {noticed[layer] / made_there:.1%}")


if __name__ == "__main__":
    main()
