"""Tries one after the other: what was fed, what came of it, how long it took, and how much memory there is in use."""

from __future__ import annotations

import contextlib
import io
import random
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.fuzz.targets import Target, targets
from tests.memory import peak_memory
from ventsize.jobfile.problems import Refused

MOST_MB = 300  # of memory, of the whole process
LIMIT = 4_000_000_000  # bytes of address space; libraries for arrays reserve far more than they use
STOP_AFTER = 60  # s of CPU time; what takes longer is a hang


@dataclass(frozen=True, slots=True)
class Found:
    """What must not be: a traceback, or a file that takes too long."""

    target: str
    text: str
    fault: str


class Hung(BaseException):
    """It does not come to an end."""


def tried(target: Target, text: str, folder: Path) -> tuple[str, str]:
    """One text read: the sketch of what came of it, and what must not be; either may be empty."""
    began = time.process_time()
    said = io.StringIO()
    try:
        with contextlib.redirect_stderr(said), _stopped_in_time():
            came = target.read(text, folder)
    except Refused as error:
        came = str(error)[:80]
    except (Hung, Exception):
        return "", traceback.format_exc(limit=-6)
    spent = time.process_time() - began
    if "Traceback" in said.getvalue():
        return came, said.getvalue()
    return came, f"it took {spent:.1f} s" if spent > target.most_seconds else ""


@contextlib.contextmanager
def _stopped_in_time() -> Iterator[None]:
    if not hasattr(signal, "SIGPROF"):
        yield
        return

    def stop(*_: Any) -> None:
        raise Hung(f"it took more than {STOP_AFTER} s")

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, STOP_AFTER)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def tries(seed: str, number: int | None = None, *, seconds: float | None = None) -> Iterator[Found | None]:
    """So many tries, or as many as go into the time; what was found at each, mostly nothing.

    The same seed gives the same tries.
    """
    every = list(targets())
    turns = [target for target in every for _ in range(target.share)]
    chance = random.Random(seed)
    end = None if seconds is None else time.monotonic() + seconds
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        done = 0
        while (number is None or done < number) and (end is None or time.monotonic() < end):
            target = chance.choice(turns)
            pool: Sequence[str] = (*target.seeds, *target.kept)
            text = target.make(chance.choice(pool), tuple(pool), chance)
            if text is None:
                continue
            done += 1
            came, fault = tried(target, text, folder)
            if came and came not in target.seen and len(target.kept) < 2_000:
                target.seen.add(came)
                target.kept.append(text)
            yield Found(target.name, text, fault) if fault else None


def chunk(seed: str, number: int) -> tuple[int, list[Found]]:
    """One process's share: the most memory it had, and what it found."""
    if sys.platform != "win32":
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (LIMIT, LIMIT))
    found = [one for one in tries(seed, number) if one is not None]
    return peak_memory() // 1024, found
