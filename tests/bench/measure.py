"""Timing: what a call takes, warmed up, as the least and the median of several tries."""

from __future__ import annotations

import gc
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing:
    """What one call took: the least and the median over the tries [s]."""

    least: float
    median: float
    tries: int


@dataclass(frozen=True, slots=True)
class Timed:
    """What is timed: a call, and how many of them make a try. Each try follows one call that is not counted,
    since what was timed before has filled the processor's caches with its own.
    """

    call: Callable[[], object]
    calls: int = 1

    def seconds(self) -> float:
        """One try: what a call takes on average [s]."""
        self.call()
        started = time.perf_counter()
        for _ in range(self.calls):
            self.call()
        return (time.perf_counter() - started) / self.calls


def measure(timed: Timed, *, repeats: int) -> Timing:
    """What a call takes, over `repeats` tries."""
    return measure_together([timed], repeats=repeats)[0]


def measure_together(what: list[Timed], *, repeats: int) -> tuple[Timing, ...]:
    """Time several calls by turns, so that whatever else the machine does meets all of them alike."""
    tries: list[list[float]] = [[] for _ in what]
    collecting = gc.isenabled()
    gc.disable()
    try:
        for _ in range(repeats):
            for timed, seconds in zip(what, tries, strict=True):
                gc.collect()
                seconds.append(timed.seconds())
    finally:
        if collecting:
            gc.enable()
    return tuple(Timing(least=min(each), median=statistics.median(each), tries=repeats) for each in tries)
