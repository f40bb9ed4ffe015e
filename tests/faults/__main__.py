"""Prints the study: `python -m tests.faults [jobs] [seed]`."""

from __future__ import annotations

import sys

from tests.faults.study import report, study


def main() -> None:
    jobs = int(sys.argv[1]) if len(sys.argv) > 1 else 600
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    print(report(study(jobs, seed=seed)))


if __name__ == "__main__":
    main()
