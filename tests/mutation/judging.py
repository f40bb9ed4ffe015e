"""One fault at a time in the running program, and whether the tests nearest to it fail.

pytest collects the tests once. A first round without any fault says which lines each of them runs, and how long it
takes. Then a fork for each fault puts the changed code into the functions that stand in memory, and runs the tests
that come by the changed lines, the quick ones first, until one fails. What is worked out at import cannot be changed
so: such a fault goes into a copy of the tree, whose modules are imported anew.
"""

from __future__ import annotations

import functools
import gc
import os
import pickle
import resource
import sys
import time
import traceback
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import accumulate
from pathlib import Path
from types import CodeType, FrameType, FunctionType, MappingProxyType
from typing import Any, NamedTuple

import pytest

from tests.mutation.copying import PLAIN, copied, noticed
from tests.mutation.faults import Fault

SECONDS = 90.0  # of CPU time, as in the first round, for the tests of one fault: those beyond are not run
HANGS = 5  # times that long, and the fault counts as noticed
ENOUGH = 200  # calls of a function, to see which of its lines a test runs
EXAMPLES = 12  # of a property
BROKEN = 3  # the status of a fork that could not judge
NEAREST = {
    "allowance": ("tests/allowance", "tests/check", "tests/contract", "tests/cli/test_tables.py"),
    "check": (
        "tests/check",
        "tests/run",
        "tests/cli/test_check_contract.py",
        "tests/contract",
        "tests/studies/test_cold.py",
        "tests/studies/test_safety.py",
    ),
    "flow": ("tests/flow", "tests/published", "tests/check"),
    "gas": ("tests/gas", "tests/published"),
    "run": ("tests/run", "tests/check", "tests/flow", "tests/studies/test_condensate.py"),
}


class Ran(NamedTuple):
    """A test without any fault. item: the test. seconds: of CPU time. lines: of each file watched, those it ran."""

    item: pytest.Item
    seconds: float
    lines: Mapping[str, set[int]]


def judge(root: Path, faults: Sequence[Fault], cores: int, heard: Callable[[Fault, bool], None]) -> None:
    """Run the tests nearest to these faults against each. heard: is told whether it was noticed."""
    layers = {fault.layer for fault in faults}
    places = sorted({place for layer in layers for place in NEAREST[layer]})
    os.environ["CI"] = "true"
    pytest.main([*PLAIN, "-s", "--rootdir", str(root), *places], plugins=[_Judge(root, faults, cores, heard)])


class _Judge:
    def __init__(self, root: Path, faults: Sequence[Fault], cores: int, heard: Callable[[Fault, bool], None]) -> None:
        self._root, self._faults, self._cores, self._heard = root, faults, cores, heard
        self._running: dict[int, Fault] = {}
        self._texts = {file: (root / file).read_text(encoding="utf-8") for file in {fault.file for fault in faults}}

    def pytest_collection(self) -> None:
        """An example that fails is enough: nobody needs the smallest one."""
        from hypothesis import Phase, settings

        quick = settings(
            settings.get_profile("ci"),
            max_examples=EXAMPLES,
            phases=(Phase.explicit, Phase.generate),
            report_multiple_bugs=False,
        )
        settings.register_profile("faults", quick)
        settings.load_profile("faults")

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """In place of pytest's own loop: every fault in a fork of its own, as many at a time as there are cores."""
        assert not session.testsfailed, "not all tests could be collected"
        files = {str(self._root / fault.file) for fault in self._faults}
        functions = [thing for thing in gc.get_objects() if isinstance(thing, FunctionType)]
        functions = [function for function in functions if function.__code__.co_filename in files]
        ran = _first_round(session, files, self._cores)
        for fault in self._faults:
            while len(self._running) >= self._cores:
                self._wait()
            if child := os.fork():
                self._running[child] = fault
            else:
                _quietly(lambda: self._survives(fault, ran, functions))  # noqa: B023
        while self._running:
            self._wait()
        return True

    def _survives(self, fault: Fault, ran: Sequence[Ran], functions: Sequence[FunctionType]) -> bool:
        """In a fork: whether no test notices the fault."""
        file = str(self._root / fault.file)
        text = self._texts[fault.file]
        codes = changed(file, text, fault.applied(text))
        those = [function for function in functions if function.__code__ in codes]
        lines = set(fault.lines(text))
        near = [one for one in ran if one.item.nodeid.startswith(NEAREST[fault.layer])]
        loaded = any(getattr(module, "__file__", None) == file for module in list(sys.modules.values()))
        passing = [one for one in near if not lines.isdisjoint(one.lines.get(file, ()))]
        at_import = (
            loaded and not passing
        )  # what is called by nothing but its own module; a constant may be used anywhere
        if loaded and (at_import or not those):
            near.sort(key=lambda one: file not in one.lines)
        else:
            near = passing
        spent = list(accumulate(one.seconds for one in near))
        near = [one for one, seconds in zip(near, spent, strict=True) if seconds <= SECONDS]
        allowed = int(10 + HANGS * sum(one.seconds for one in near))
        resource.setrlimit(resource.RLIMIT_CPU, (allowed, allowed))
        if (those and at_import) or (not those and not (loaded and _constants_changed(file, fault.applied(text)))):
            with copied(self._root) as copy:
                return not near or not noticed(copy, fault, [one.item.nodeid for one in near])
        for function in those:
            function.__code__ = codes[function.__code__]
        _forget()
        return all(_passes(one.item) for one in near)

    def _wait(self) -> None:
        child, status = os.wait()
        assert os.waitstatus_to_exitcode(status) != BROKEN, f"could not judge {self._running[child]}"
        self._heard(self._running.pop(child), status != 0)


def _quietly(work: Callable[[], bool]) -> None:
    """In a fork: whether the work went well is its status, and nothing is printed."""
    nowhere, seen = os.open(os.devnull, os.O_WRONLY), os.dup(2)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    status = BROKEN
    try:
        status = 0 if work() else 1
    except BaseException:  # the fork must not go on as its parent would
        os.write(seen, traceback.format_exc().encode())
    os._exit(status)


def _passes(item: pytest.Item) -> bool:
    """Run a test with fixtures of its own; whether it passes."""
    item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
    return not item.session.testsfailed


def _first_round(session: pytest.Session, files: set[str], cores: int) -> list[Ran]:
    """Every test without a fault, in forks that share them out; the quickest first. None may fail."""
    shares = []
    for number in range(cores):
        items = session.items[number::cores]
        here, there = os.pipe()
        if not os.fork():
            _quietly(lambda: bool(os.fdopen(there, "wb").write(pickle.dumps(_watched(items, files)))))  # noqa: B023
        os.close(there)
        shares.append((items, here))
    ran = []
    for items, here in shares:
        with os.fdopen(here, "rb") as answers:
            found = pickle.load(answers)
        os.wait()
        assert len(found) == len(items), f"without any fault this fails: {items[len(found) - 1].nodeid}"
        ran += [Ran(item, *one) for item, one in zip(items, found, strict=True)]
    return sorted(ran, key=lambda one: one.seconds)


def _watched(items: Sequence[pytest.Item], files: set[str]) -> list[tuple[float, dict[str, set[int]]]]:
    """Seconds and lines of these tests up to the first that fails. Nothing is kept from one to the next."""
    found = []
    for item in items:
        _forget()
        lines: dict[str, set[int]] = defaultdict(set)
        calls: Counter[CodeType] = Counter()

        def enters(frame: FrameType, _event: str, _argument: Any) -> Callable[..., Any] | None:
            if frame.f_code.co_filename not in files or calls[frame.f_code] > ENOUGH:  # noqa: B023
                return None
            calls[frame.f_code] += 1  # noqa: B023
            return at_line

        def at_line(frame: FrameType, _event: str, _argument: Any) -> Callable[..., Any]:
            lines[frame.f_code.co_filename].add(frame.f_lineno)  # noqa: B023
            return at_line  # noqa: B023

        start = time.process_time()
        sys.settrace(enters)
        try:
            passes = _passes(item)
        finally:
            sys.settrace(None)
        found.append((time.process_time() - start, dict(lines)))
        if not passes:
            break
    return found


def _forget() -> None:
    """Empty every cache of the layers and of the tests."""
    for thing in _caches():
        thing.cache_clear()


@functools.cache
def _caches() -> list[Any]:
    gc.unfreeze()
    ours = ("tests.", *(f"ventsize.{layer}." for layer in NEAREST))
    return [
        thing
        for thing in gc.get_objects()
        if isinstance(thing, functools._lru_cache_wrapper) and thing.__module__.startswith(ours)
    ]


def changed(file: str, was: str, now: str) -> dict[CodeType, CodeType]:
    """The code of each function that is another after a change of the text, by what it was."""
    before, after = (list(_codes(compile(text, file, "exec", dont_inherit=True))) for text in (was, now))
    return {old: new for old, new in zip(before, after, strict=True) if old != new}


def _constants_changed(file: str, now: str) -> bool:
    """Put the constants of a module that are others by a new text of it wherever it stands; whether there are any."""
    module = next(one for one in list(sys.modules.values()) if getattr(one, "__file__", None) == file)
    again = dict(vars(module))
    exec(compile(now, file, "exec", dont_inherit=True), again)
    others = {name: was for name, was in vars(module).items() if _plain(was) and was != again[name]}
    for name, was in others.items():
        for holder in [one for one in list(sys.modules.values()) if getattr(one, name, None) is was]:
            setattr(holder, name, again[name])
    return bool(others)


def _plain(value: object) -> bool:
    if isinstance(value, dict | MappingProxyType):
        return all(_plain(part) for pair in value.items() for part in pair)
    if isinstance(value, tuple | frozenset):
        return all(map(_plain, value))
    return value is None or isinstance(value, bool | int | float | str)


def _codes(code: CodeType) -> Iterator[CodeType]:
    for inside in code.co_consts:
        if isinstance(inside, CodeType):
            yield inside
            yield from _codes(inside)
