"""Many files answered at once, on the cores there are: in their order, each as soon as it is there, and none kept."""

from __future__ import annotations

import os
import signal
from collections import deque
from collections.abc import Callable, Generator, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from concurrent.futures import Future

Given = TypeVar("Given")
Answer = TypeVar("Answer")

FEW = 100  # files; fewer are answered sooner than other processes have started
AHEAD = 16  # files under way for each core; what is printed slowly does not pile up


def answers(work: Callable[[Given], Answer], files: Sequence[Given]) -> Generator[Answer, None, None]:
    """What the work makes of each file, in order.

    work: a function of a module, or a partial of one, so that another process can be handed it.
    """
    cores = _cores()
    if len(files) < FEW or cores < 2:
        yield from map(work, files)
        return
    import multiprocessing  # late, with the pool: a check of one job needs neither
    from concurrent.futures import ProcessPoolExecutor

    pool = ProcessPoolExecutor(cores, mp_context=multiprocessing.get_context("spawn"))
    try:
        waiting: deque[Future[Answer]] = deque()
        with _interrupts_held():  # the others are stopped by this one, not by the key itself
            for file in files[:cores]:
                waiting.append(pool.submit(work, file))
        for file in files[cores:]:
            while len(waiting) >= AHEAD * cores:
                yield waiting.popleft().result()
            waiting.append(pool.submit(work, file))
        while waiting:
            yield waiting.popleft().result()
    except BaseException:
        pool.shutdown(wait=False, cancel_futures=True)
        for child in multiprocessing.active_children():
            child.kill()
        raise
    pool.shutdown()


def _cores() -> int:
    """How many of them this process may use."""
    affinity = getattr(os, "sched_getaffinity", None)
    return len(affinity(0)) if affinity else os.cpu_count() or 1


@contextmanager
def _interrupts_held() -> Iterator[None]:
    """An interrupt that comes meanwhile is raised at the end; a process started meanwhile never sees one.

    Neither is lost: a key pressed while the others start must stop the work as one pressed later does. A program that
    was started deaf to interrupts, as one in the background of a script is, stays so.
    """
    came: list[int] = []
    before = signal.signal(signal.SIGINT, lambda number, _: came.append(number))
    hold = getattr(signal, "pthread_sigmask", None)  # not on Windows
    mask = hold(signal.SIG_BLOCK, {signal.SIGINT}) if hold else None
    try:
        yield
    finally:
        if hold:
            hold(signal.SIG_SETMASK, mask)
        signal.signal(signal.SIGINT, before)
        if came and before is not signal.SIG_IGN:
            raise KeyboardInterrupt
