"""The most memory that a process has had, for the tests that hold it to a limit."""

from __future__ import annotations

from pathlib import Path

STATUS = Path("/proc/self/status")


def peak_memory() -> int:
    """Return the most memory this process has had so far [kB]; 0 where the system does not tell.

    Linux keeps a peak that starts with the process. The one of getrusage does not: it starts with that of the
    process it was forked from, so that under a large test runner every small process looks large.
    """
    if STATUS.exists():
        return next(int(line.split()[1]) for line in STATUS.read_text().splitlines() if line.startswith("VmHWM"))
    try:
        import resource
    except ImportError:
        return 0
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
