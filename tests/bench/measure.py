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


def measure(call: Callable[[], object], *, repeats: int, calls: int = 1) -> Timing:
    """Time `call`, `repeats` tries of `calls` calls each, after one call that is not counted."""
    return measure_together([call], repeats=repeats, calls=calls)[0]


def measure_together(what: list[Callable[[], object]], *, repeats: int, calls: int = 1) -> tuple[Timing, ...]:
    """Time several calls by turns, so that whatever else the machine does meets all of them alike."""
    for call in what:
        call()
    tries: list[list[float]] = [[] for _ in what]
    collecting = gc.isenabled()
    gc.disable()
    try:
        for _ in range(repeats):
            for call, seconds in zip(what, tries, strict=True):
                seconds.append(_seconds(call, calls))
            gc.collect()
    finally:
        if collecting:
            gc.enable()
    return tuple(Timing(least=min(seconds), median=statistics.median(seconds), tries=repeats) for seconds in tries)


def _seconds(call: Callable[[], object], calls: int) -> float:
    started = time.perf_counter()
    for _ in range(calls):
        call()
    return (time.perf_counter() - started) / calls
