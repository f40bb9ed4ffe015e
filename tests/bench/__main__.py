"""Run the benchmarks named, or all of them; print the table; leave with 1 if a target is missed."""

from __future__ import annotations

import argparse
import sys

from tests.bench.keystrokes import cooling, long_job, nonsense, snapshot
from tests.bench.many import many_jobs
from tests.bench.network import against_pandapipes_net
from tests.bench.options import ten_thousand_options
from tests.bench.outcome import show
from tests.bench.screens import first_frame, keystroke
from tests.bench.solving import against_bare_loop, against_pandapipes
from tests.bench.startup import cold_start

BENCHMARKS = {
    "bare-loop": against_bare_loop,
    "pandapipes": against_pandapipes,
    "network": against_pandapipes_net,
    "cold-start": cold_start,
    "many-jobs": many_jobs,
    "first-frame": first_frame,
    "keystroke": keystroke,
    "options": ten_thousand_options,
    "long-job": long_job,
    "snapshot": snapshot,
    "cooling": cooling,
    "nonsense": nonsense,
}


def main() -> int:
    """The benchmarks, one after the other: they would disturb one another."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("names", nargs="*", metavar="NAME", help=f"of {', '.join(BENCHMARKS)}; all if none is named")
    names = parser.parse_args().names or list(BENCHMARKS)
    unknown = [name for name in names if name not in BENCHMARKS]
    if unknown:
        parser.error(f"no benchmark '{unknown[0]}'; expected one of {', '.join(BENCHMARKS)}")
    outcomes = [BENCHMARKS[name]() for name in names]
    print(show(outcomes))
    return 0 if all(outcome.met for outcome in outcomes) else 1


if __name__ == "__main__":
    sys.exit(main())
