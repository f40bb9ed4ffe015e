"""Program and naive reading side by side: classes of difference, and the smallest job that still shows one."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from tests.contract.naive import Answer, judge
from tests.contract.physical import not_within
from tests.contract.program import Program
from tests.contract.reading import Beyond, Data
from tests.contract.readings import READINGS

CLOSE = 1e-6  # m; figures of lengths that agree


@dataclass(frozen=True)
class Difference:
    """kind: 'false within', 'refused', 'stricter', 'other verdict', 'figures', 'settled by the other' and so on.

    Settled by the other: of two faults of one run the program names the lesser; by another run: the lesser of two runs.
    name: the class within the kind.
    """

    kind: str
    name: str

    @property
    def false_within(self) -> bool:
        """Whether the program passes what the contract does not."""
        return self.kind == "false within"


def compare(program: Program, job: Data, tables: dict[str, Data]) -> Difference | None:
    """The difference of the two answers, None where they agree or the naive reading has no answer."""
    try:
        naive = judge(job, tables)
    except Beyond:
        return None
    theirs = program.answer(job, tables)
    verdict = theirs["verdict"]
    if verdict == "crash":
        return Difference("crash", theirs["text"])
    if verdict == naive.verdict:
        if verdict == "within" and (why := not_within(job, naive, theirs)):
            return Difference("false within", "by its own figures: " + ", ".join(why))
        return None if verdict == "error" else _figures(job, tables, naive, theirs)
    if verdict == "within":
        return Difference("false within", f"{naive.verdict}: {_reasons(naive)}{_eased(job, tables, 'within')}")
    passed = "within" if naive.verdict == "within" else "not within"
    if verdict == "error":
        problem = theirs["text"].splitlines()[0].rsplit(".toml:", 1)[-1].partition("; expected")[0]
        return Difference("refused", f"naive {passed}; {plain(problem)}")
    if naive.verdict == "within":
        return Difference("stricter", f"{verdict} ({plain(said(theirs))})")
    settled = f"naive {naive.verdict} ({_reasons(naive)}), program {verdict}"
    alike = [fault for fault in naive.faults if fault.verdict == verdict]
    if not alike:
        return Difference("other verdict", settled)
    first = [set(fault.runs) for fault in naive.faults if fault.verdict == naive.verdict]
    one_run = all(not runs or any(not fault.runs or runs & set(fault.runs) for fault in alike) for runs in first)
    return Difference("settled by the other" if one_run else "settled by another run", settled)


def said(theirs: Data) -> str:
    """Which conditions the program finds not met or not known; its words where it has no conditions."""
    open_ones = [one for one in theirs.get("conditions", []) if one["state"] != "met"]
    if open_ones:
        return ", ".join(sorted({f"{one['code']} {one['state']}" for one in open_ones}))
    return str(theirs.get("reason") or "")


def plain(text: str) -> str:
    """A sentence without what differs from job to job."""
    text = re.sub(r"'[^']*'|\"[^\"]*\"", "'…'", text.rpartition(": ")[2])
    text = re.sub(r"(elbow|tee|wye|own|terminal|entrance)-[\w-]+", "a fitting", text)
    text = re.sub(r"\b(up|down|north|south|east|west)\b", "*", re.sub(r"-?\d[\d,./]*", "#", text))
    return re.sub(r"\s+", " ", text).strip()[:110]


def _reasons(naive: Answer) -> str:
    worst = [fault.reason for fault in naive.faults if fault.verdict == naive.verdict]
    return ", ".join(sorted(set(worst)))


def _eased(job: Data, tables: dict[str, Data], verdict: str) -> str:
    """Which reading, eased, makes the naive answer the program's."""
    for name in READINGS:
        if judge(job, tables, frozenset({name})).verdict == verdict:
            return f" [reading: {name}]"
    return " [readings together]" if judge(job, tables, frozenset(READINGS)).verdict == verdict else ""


def _figures(job: Data, tables: dict[str, Data], naive: Answer, theirs: Data) -> Difference | None:
    different = _different(naive, theirs)
    if different is None:
        return None
    for name in READINGS:
        if _different(judge(job, tables, frozenset({name})), theirs) is None:
            return Difference("figures", f"{different} [reading: {name}]")
    return Difference("figures", different)


def _different(naive: Answer, theirs: Data) -> str | None:
    """The first figure that differs, of the runs that are whole ways and looked up in one row."""
    runs = {one["name"]: one for one in theirs["runs"]}
    for name, figures in naive.figures.items():
        table = runs[name]["table"]
        if table is None:
            return "no table"
        for key, mine in (
            ("equivalent_length_m", figures.equivalent),
            ("allowable_length_m", figures.allowable),
            ("minimum_length_m", figures.minimum),
        ):
            other = table[key]
            if other is None and runs[name]["verdict"] != "within":
                continue
            if abs((other or 0.0) - (mine or 0.0)) > CLOSE:
                return key + (" is missing" if other is None else "")
    return None


def shrunk(
    job: Data, tables: dict[str, Data], still: Callable[[Data, dict[str, Data]], bool], tries: int = 400
) -> tuple[Data, dict[str, Data]]:
    """The job with whatever can be left out left out."""
    best: Data = {"job": job, "tables": tables}
    changed = True
    while changed and tries > 0:
        changed = False
        for path in list(_paths(best)):
            candidate = deepcopy(best)
            try:
                _drop(candidate, path)
            except (KeyError, IndexError):
                continue
            tries -= 1
            try:
                smaller = still(candidate["job"], candidate["tables"])
            except Exception:  # a job cut in the wrong place is no job
                smaller = False
            if smaller:
                best, changed = candidate, True
            if tries <= 0:
                break
    return best["job"], best["tables"]


def _paths(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Every part that may be left out, the largest first."""
    if isinstance(value, dict):
        items: list[tuple[Any, Any]] = list(value.items())
    elif isinstance(value, list):
        items = list(enumerate(value))[::-1]
    else:
        return
    for key, _ in items:
        if path or key not in ("job", "tables"):
            yield (*path, key)
    for key, one in items:
        yield from _paths(one, (*path, key))


def _drop(value: Any, path: tuple[Any, ...]) -> None:
    for key in path[:-1]:
        value = value[key]
    del value[path[-1]]
