"""Compare the program with the naive reading on random jobs: `python -m tests.contract --count 2000 --seed 1`."""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter

from tests.contract.compare import Difference, compare, shrunk
from tests.contract.generate import draw
from tests.contract.program import Program, toml
from tests.contract.reach import reached
from tests.contract.reading import Data


def main() -> int:
    """Status 1 where the program passes what the contract does not, or where a difference is not explained."""
    parser = argparse.ArgumentParser(prog="python -m tests.contract", description=__doc__)
    parser.add_argument("--count", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--start", type=int, default=0, help="number of the first job")
    parser.add_argument("--show", type=int, default=0, help="show the smallest job of so many classes")
    parser.add_argument("--reach", action="store_true", help="say what the draws reach, and how many jobs of each")
    parser.add_argument("--only", default="", help="show only classes that hold this text")
    options = parser.parse_args()
    program, began = Program(), time.perf_counter()
    found: Counter[Difference] = Counter()
    first: dict[Difference, int] = {}
    verdicts: Counter[str] = Counter()
    reach: Counter[str] = Counter()
    for number in range(options.start, options.start + options.count):
        job, tables = draw(options.seed, number)
        difference = compare(program, job, tables)
        verdicts[str(program.last)] += 1
        reach.update(reached(job, tables))
        if difference is not None:
            found[difference] += 1
            first.setdefault(difference, number)
    took = time.perf_counter() - began
    print(f"{options.count} jobs, seed {options.seed}, {took:.0f} s; program: {dict(verdicts.most_common())}")
    open_ones = report(found, first)
    if options.reach:
        print("reached:", "; ".join(f"{name} {count}" for name, count in sorted(reach.items())))
    shown = [one for one in found if options.only in f"{one.kind}: {one.name}"][: options.show]
    for difference in shown:
        _show(program, difference, *draw(options.seed, first[difference]))
    program.close()
    return 1 if open_ones else 0


def report(found: Counter[Difference], first: dict[Difference, int]) -> int:
    """Print every class, explained ones last; how many are not explained."""
    open_ones = 0
    for wanted in (False, True):
        for difference, count in sorted(found.items(), key=lambda item: (item[0].kind != "false within", -item[1])):
            if difference.explained == wanted:
                open_ones += not wanted
                print(f"{count:6} {difference.kind}: {difference.name} (job {first[difference]})")
    return open_ones


def _show(program: Program, difference: Difference, job: Data, tables: dict[str, Data]) -> None:
    def still(one: Data, others: dict[str, Data]) -> bool:
        return compare(program, one, others) == difference

    job, tables = shrunk(job, tables, still)
    print(f"\n######## {difference.kind}: {difference.name}")
    for name, table in tables.items():
        print(f"---- {name}\n{toml(table)}")
    print(f"---- job.toml\n{toml(job)}")


if __name__ == "__main__":
    sys.exit(main())
