"""One fault at a time in a copy of the tree, and whether the tests named fail.

A process that has the libraries loaded already forks for each fault, so that a fault costs its tests and little else.
"""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path

from tests.mutation.faults import Fault

SECONDS = 150  # of CPU time for the tests of one fault; a fault that makes them hang is noticed too
PLAIN = ("-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-o", "addopts=--import-mode=importlib", "--tb=no")


@contextmanager
def copied(root: Path) -> Iterator[Path]:
    """A copy of what the tests need, in a folder of its own that goes again."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder)
        for name in ("ventsize", "tests", "tables", "scenarios"):
            shutil.copytree(root / name, copy / name)
        for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
            shutil.copy2(root / name, copy)
        yield copy


def load_libraries() -> None:
    """What every child would load again otherwise."""
    import scipy.optimize  # noqa: F401


def noticed(copy: Path, fault: Fault, tests: Sequence[str]) -> bool:
    """Whether a test fails with this fault in the copy. The copy is afterwards as it was."""
    file = copy / fault.file
    text, times = file.read_text(encoding="utf-8"), file.stat()
    file.write_text(fault.applied(text), encoding="utf-8")
    os.utime(file, (times.st_atime, times.st_mtime + 1_000))  # what was compiled before does not hold
    try:
        return fails(copy, tests)
    finally:
        file.write_text(text, encoding="utf-8")
        os.utime(file, (times.st_atime, times.st_mtime))


def fails(copy: Path, tests: Sequence[str]) -> bool:
    """Whether any of these tests of the copy fails."""
    child = os.fork()
    if child:
        _, status = os.waitpid(child, 0)
        return status != 0
    status = 2
    with suppress(BaseException):
        status = _run_here(copy, tests)
    os._exit(status)


def _run_here(copy: Path, tests: Sequence[str]) -> int:
    """In the child: the tests of the copy, as if nothing of the tree had been imported."""
    import resource

    import pytest

    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    os.environ["CI"] = "true"
    sys.dont_write_bytecode = True
    os.chdir(copy)
    sys.path.insert(0, str(copy))
    for name in [name for name in sys.modules if name.partition(".")[0] in ("ventsize", "tests")]:
        del sys.modules[name]
    # The order given is kept, and a second mention of the same file is not run twice.
    return int(pytest.main([*PLAIN, "-x", "--rootdir", str(copy), *tests]) != 0)
