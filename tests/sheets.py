"""`python -m tests.sheets [NUMBER]`: exercise sheets, a thousand unless told, each solved from its print alone.

Every result on the way is rounded to three digits (tests/studies/marking.py).
"""

from __future__ import annotations

import sys
import time

from tests.studies.marking import mark
from ventsize.quantity import System
from ventsize.studies.exercises import LEVELS, TOPICS, sheet


def main() -> None:
    """Mark them, and say how many there were."""
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    seen: set[str] = set()
    exercises, started = 0, time.perf_counter()
    for seed in range(number):
        system = (System.US, System.SI)[seed % 2]
        level = LEVELS[seed // 2 % len(LEVELS)]
        made = sheet(seed=seed, topic=TOPICS[seed // 6 % len(TOPICS)], level=level, units=system)
        body = mark(made).split("\n", 1)[1]
        assert body not in seen, f"sheet {seed} is one that was there before"
        seen.add(body)
        exercises += len(made.exercises)
    took = time.perf_counter() - started
    print(f"{number} sheets of {exercises} exercises: all right from print, no two alike ({took:.0f} s)")


if __name__ == "__main__":
    main()
