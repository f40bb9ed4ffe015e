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
from tests.contract.ways import ORDER

CLOSE = 1e-6  # m; figures of lengths that agree
BY_THE_FLOW = {
    "trap-holds": "unsafe", "backflow-stopped": "unsafe", "no-water-seal": "unsafe", "gas-below-limit": "unsafe",
    "pressure-allowed": "over", "inside-envelope": "incomplete", "flow-found": "incomplete",
}  # fmt: skip
"""Conditions that hang on the flow, which is not read here, and the verdict each gives where it is not met."""


@dataclass(frozen=True)
class Difference:
    """kind: 'false within', 'refused', 'verdict', 'figures', 'crash', or 'by the flow', which is explained.

    name: the class within the kind.
    """

    kind: str
    name: str

    @property
    def explained(self) -> bool:
        """Whether the program's verdict is the worse for a condition that hangs on the flow."""
        return self.kind == "by the flow"


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
        different = None if verdict == "error" else _different(naive, theirs)
        return None if different is None else Difference("figures", different)
    if verdict == "within":
        return Difference("false within", f"{naive.verdict}: {_reasons(naive)}")
    if verdict == "error":
        problem = theirs["text"].splitlines()[0].rsplit(".toml:", 1)[-1].partition("; expected")[0]
        kind = "by the flow" if "cannot be followed as it cools" in problem else "refused"
        return Difference(kind, f"naive {naive.verdict}; {plain(problem)}")
    flow = _by_the_flow(theirs)
    if flow and naive.error is None and ORDER.index(verdict) < ORDER.index(naive.verdict):
        return Difference("by the flow", f"{verdict}: {', '.join(flow)}")
    return Difference("verdict", f"{verdict} ({_open(theirs)}), naive {naive.verdict} ({_reasons(naive)})")


def _by_the_flow(theirs: Data) -> list[str]:
    """Conditions not met or not known that hang on the flow and give the program's verdict."""
    found = set()
    for one in theirs["conditions"]:
        if one["state"] != "met" and one["code"] in BY_THE_FLOW:
            comes_to = BY_THE_FLOW[one["code"]] if one["state"] == "not met" else "incomplete"
            found |= {one["code"]} if comes_to == theirs["verdict"] else set()
    return sorted(found)


def _open(theirs: Data) -> str:
    """Which conditions the program finds not met or not known."""
    return ", ".join(sorted({f"{one['code']} {one['state']}" for one in theirs["conditions"] if one["state"] != "met"}))


def plain(text: str) -> str:
    """A sentence without what differs from job to job."""
    text = re.sub(r"'[^']*'|\"[^\"]*\"", "'…'", text.rpartition(": ")[2])
    text = re.sub(r"(elbow|tee|wye|own|terminal|entrance)-[\w-]+", "a fitting", text)
    text = re.sub(r"\b(up|down|north|south|east|west)\b", "*", re.sub(r"-?\d[\d,./]*", "#", text))
    return re.sub(r"\s+", " ", text).strip()[:110]


def _reasons(naive: Answer) -> str:
    worst = [fault.reason for fault in naive.faults if fault.verdict == naive.verdict]
    return ", ".join(sorted(set(worst)))


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
