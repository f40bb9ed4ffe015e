"""Run the benchmarks named, or all of them; print the table; leave with 1 if a target is missed or a ratio slipped."""

from __future__ import annotations

import argparse
import cProfile
import os
import pstats
import sys
from collections.abc import Callable
from pathlib import Path

from tests.bench.keystrokes import cooling, long_job, nonsense, snapshot
from tests.bench.many import many_jobs
from tests.bench.network import against_pandapipes_net
from tests.bench.options import ten_thousand_options
from tests.bench.outcome import Outcome, keep, kept_ratios, show
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
    parser.add_argument("--keep", action="store_true", help="keep these ratios as what later runs are held against")
    parser.add_argument("--profile", type=int, default=0, metavar="N", help="where the time goes in the slowest N, too")
    given = parser.parse_args()
    names = given.names or list(BENCHMARKS)
    unknown = [name for name in names if name not in BENCHMARKS]
    if unknown:
        parser.error(f"no benchmark '{unknown[0]}'; expected one of {', '.join(BENCHMARKS)}")
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # modules are compiled as on anybody's machine, not at every start
    outcomes = {name: BENCHMARKS[name]() for name in names}
    kept = kept_ratios()
    print(show(list(outcomes.values()), kept))
    if given.keep:
        keep(list(outcomes.values()))
    slowest = sorted(outcomes, key=lambda name: -outcomes[name].ours.median)
    for name in slowest[: given.profile]:
        print(f"\n{name}, by time of its own in ventsize (s):\n{profiled(BENCHMARKS[name])}")
    held = all(outcome.met and not outcome.slipped(kept.get(outcome.what)) for outcome in outcomes.values())
    return 0 if held else 1


def profiled(benchmark: Callable[[], Outcome]) -> str:
    """The ten functions of ventsize that take longest by themselves. What runs in another process is not seen."""
    profile = cProfile.Profile()
    profile.runcall(benchmark)
    times: dict[tuple[str, int, str], tuple[int, int, float, float, object]] = pstats.Stats(profile).stats  # type: ignore[attr-defined]
    ours = [(took[2], took[1], place) for place, took in times.items() if f"{os.sep}ventsize{os.sep}" in place[0]]
    return "\n".join(
        f"  {own:7.3f}  {calls:9,} calls  {Path(file).name}:{line} {function}"
        for own, calls, (file, line, function) in sorted(ours, reverse=True)[:10]
    )


if __name__ == "__main__":
    sys.exit(main())
