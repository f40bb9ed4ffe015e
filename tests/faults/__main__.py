"""Prints the study: `python -m tests.faults [jobs] [seed] [processes]`."""

from __future__ import annotations

import sys
from multiprocessing import Pool

from tests.faults.study import one, report, visits


def main() -> None:
    jobs, seed, processes = (int(given) for given in (*sys.argv[1:], *("600", "1", "2")[len(sys.argv) - 1 :]))
    outcomes = []
    with Pool(processes) as pool:
        for number, outcome in enumerate(pool.imap(one, visits(jobs, seed=seed)), start=1):
            outcomes.append(outcome)
            if number % 140 == 0:
                print(report(outcomes), flush=True)
    print(report(outcomes))


if __name__ == "__main__":
    main()
