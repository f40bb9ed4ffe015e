"""What the allowance tables say of a job's runs: which table judges which run, together with which others."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ventsize.allowance.answer import TableAnswer, Verdict
from ventsize.allowance.counted import Counted
from ventsize.allowance.lookup import look_up
from ventsize.allowance.model import RUNS_TOGETHER, SAME_LENGTH, AllowanceTable
from ventsize.check.counting import counted, counted_joints
from ventsize.check.inputs import Inputs
from ventsize.check.paths import Path, paths, through
from ventsize.quantity import System, show_length
from ventsize.run.model import Run

SEVERITY: tuple[Verdict, ...] = ("over", "short", "not covered", "incomplete", "within")
"""Verdicts, the one that settles a job first: what fails cannot be mended by filling in the rest."""

Said = tuple[Verdict, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    """Runs that one look-up judges: one run, or all that a table counts together.

    serves: the appliances whose gas passes through; input: theirs together at their highest rates [W].
    answer: the table's; None where there is no table, and then `why_no_table` says why. apart: what the table counts
    together with these runs and something else judges, in a sentence; empty where there is no such run.
    """

    runs: tuple[Run, ...]
    serves: tuple[str, ...]
    input: float
    table_file: str | None
    answer: TableAnswer | None
    why_no_table: str
    apart: str = ""

    @property
    def said(self) -> Said:
        """The verdict on these runs by themselves, and why."""
        if self.answer is None:
            return "incomplete", self.why_no_table
        own = (self.answer.verdict, self.answer.reason)
        return worst([own, ("incomplete", self.apart)]) if self.apart else own


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """Every run's judgement, and the ways out that lead through several runs."""

    inputs: Inputs
    of: Mapping[str, Judgement]
    ways: tuple[Path, ...]
    system: System

    def said(self, run: Run) -> Said:
        """The verdict on a run: its own, or that of a whole way out through it where that is worse."""
        own = self.of[run.name].said
        ways = through(run, self.ways)
        if not ways:
            return own
        if own[0] == "short":  # one part of the way may well be shorter than the least length of all of it
            own = ("within", own[1])
        return worst([*(self.said_of_way(way) for way in ways), own])

    def judgements(self, way: Path) -> list[Judgement]:
        """The judgements of a way's runs, each once."""
        return list({id(self.of[run.name]): self.of[run.name] for run in way}.values())

    def said_of_way(self, way: Path) -> Said:
        """The verdict on all runs of a way out together."""
        parts = self.judgements(way)
        names = " + ".join(run.name for run in way)
        if any(part.answer is None or part.answer.equivalent_length is None for part in parts):
            return "incomplete", f"{names}: one of these runs has no length by its table, so the whole way has none"
        if len({(id(self.inputs.tables[part.table_file or ""]), part.input) for part in parts}) == 1 < len(parts):
            answer = self._look_up(parts[0], [_joined(self._counted(way, way))])
            return answer.verdict, f"{names}: {answer.reason}"
        answers = [self._look_up(part, self._counted(part.runs, way)) for part in parts]
        if len(parts) == 1:
            return worst([parts[0].said, (answers[0].verdict, f"{names}: {answers[0].reason}")])
        turns, most = sum(answer.turns for answer in answers), [answer.most_elbows for answer in answers]
        limits = [limit for limit in most if limit is not None]
        if limits and turns > min(limits):
            return "over", f"{names}: together {turns} elbows of more than 30°, more than the {min(limits)} permitted"
        missing = next((answer for answer in answers if answer.equivalent_length is None), None)
        if missing is not None:
            return "incomplete", f"{names}: {missing.reason}"
        return _added_up(names, answers, self.system)

    def _counted(self, runs: Sequence[Run], way: Path) -> list[Counted]:
        """Runs as a table counts them, each with what joins it to the run before it on a way."""
        table = self.inputs.tables[self.of[runs[0].name].table_file or ""]
        joints = counted_joints(way, graph=self.inputs.graph, table=table)
        found = []
        for run in runs:
            alone, joined = counted(run), joints.get(run.name)
            found.append(alone if joined is None else replace(alone, fittings=(*alone.fittings, joined)))
        return found

    def _look_up(self, part: Judgement, what: Sequence[Counted]) -> TableAnswer:
        assert part.table_file is not None
        return _look_up(self.inputs, part.table_file, part.input, what, self.system)


def worst(said: Sequence[Said]) -> Said:
    """The verdict that settles the matter, and why; the first of equals."""
    return min(said, key=lambda one: SEVERITY.index(one[0]))


Answers = dict[tuple[object, ...], TableAnswer]
"""Answers already had, by what was asked."""


def judge(
    inputs: Inputs,
    *,
    served: Mapping[str, tuple[str, ...]],
    highest: Mapping[str, float],
    system: System,
    answers: Answers | None = None,
) -> Judged:
    """Every run of a job put to its table.

    served: the appliances whose gas passes through each run.
    highest: each appliance's highest input [W]: the one that is looked up.
    answers: had from these tables at this site already; new ones are added.
    """
    waiting: dict[tuple[object, ...], list[Run]] = {}
    chosen = {run.name: table_for(run, inputs) for run in inputs.graph.runs.values()}
    for run in inputs.graph.runs.values():
        file, _ = chosen[run.name]
        together = file is not None and inputs.tables[file].counts == RUNS_TOGETHER
        key = (id(inputs.tables[file]), served[run.name]) if together and file is not None else (run.name,)
        waiting.setdefault(key, []).append(run)
    found: dict[str, Judgement] = {}
    for runs in waiting.values():
        file, why = chosen[runs[0].name]
        serves = served[runs[0].name]
        total = math.fsum(highest[name] for name in serves)
        answer = None if file is None else _remembered(inputs, file, total, runs, system, answers)
        judgement = Judgement(
            runs=tuple(runs), serves=serves, input=total, table_file=file, answer=answer, why_no_table=why,
            apart=_counted_apart(inputs, file, runs, [r for r in served if served[r] == serves]),
        )  # fmt: skip
        found.update({run.name: judgement for run in runs})
    return Judged(inputs=inputs, of=found, ways=paths(inputs.graph), system=system)


def _counted_apart(inputs: Inputs, file: str | None, runs: Sequence[Run], alike: Sequence[str]) -> str:
    """What a table that counts runs together should count with these, and something else judges.

    alike: names of the runs that serve the same appliances.
    """
    if file is None or inputs.tables[file].counts != RUNS_TOGETHER:
        return ""
    table, counted_here = inputs.tables[file], {run.name for run in runs}
    others = (inputs.graph.runs[name] for name in alike if name not in counted_here)
    apart = [f"'{run.name}'" for run in others if run.carries in table.applies_to]
    if not apart:
        return ""
    return (
        f"The table counts vent and air lengths together, and run {' and '.join(apart)} is not judged by it: "
        "one table must judge them all."
    )


def _remembered(
    inputs: Inputs, file: str, total: float, runs: Sequence[Run], system: System, answers: Answers | None
) -> TableAnswer:
    what = [counted(run) for run in runs]
    if answers is None:
        return _look_up(inputs, file, total, what, system)
    key = (file, total, system, *(_alike(one) for one in what))
    found = answers.get(key)
    if found is None:
        found = _look_up(inputs, file, total, what, system)
        if found.verdict != "incomplete":  # what is missing is named with its place
            answers[key] = found
    return found


def _alike(one: Counted) -> tuple[object, ...]:
    """What an answer depends on: not where a fitting stands, nor in which order."""
    fittings = frozenset((f.name, f.sizes, f.table_length, f.count, f.implied) for f in one.fittings)
    return (one.name, one.carries, one.reaches_outdoors, frozenset(one.straight_by_size), fittings)


def _look_up(inputs: Inputs, file: str, total: float, what: Sequence[Counted], system: System) -> TableAnswer:
    return look_up(
        inputs.tables[file],
        input=total,
        altitude=inputs.job.site.altitude,
        counted=what,
        system=system,
        ends=[name for name, record in inputs.catalog.fittings.items() if record.kind in ("terminal", "entrance")],
    )


def table_for(run: Run, inputs: Inputs) -> tuple[str | None, str]:
    """The file of the table that judges a run, or why there is none."""
    if run.table is not None:
        return run.table, ""
    tables: dict[str, AllowanceTable] = {name: inputs.tables[name] for name in inputs.job.tables}
    fitting = [name for name, table in tables.items() if run.carries in table.applies_to]
    if len(fitting) == 1:
        return fitting[0], ""
    if fitting:
        return None, f"several of the job's tables apply to {run.carries}; name the run's own with table = '…'"
    if tables:
        return None, f"none of the job's tables applies to {run.carries}"
    return None, "the job names no allowance table"


def _joined(parts: Sequence[Counted]) -> Counted:
    """Runs as if they were one."""
    return replace(
        parts[0],
        name=" + ".join(part.name for part in parts),
        straight_by_size=tuple(piece for part in parts for piece in part.straight_by_size),
        fittings=tuple(fitting for part in parts for fitting in part.fittings),
        reaches_outdoors=any(part.reaches_outdoors for part in parts),
    )


def _added_up(names: str, answers: Sequence[TableAnswer], system: System) -> Said:
    """Lengths of runs with different inputs or tables, added up against the shortest of their allowances."""
    allowed = [answer.allowable_length for answer in answers if answer.allowable_length is not None]
    if len(allowed) < len(answers) or any(answer.elbows is not None for answer in answers):
        return (
            "incomplete",
            f"{names}: the tables give no lengths that can be added up over these runs; judge the whole way out by "
            "the maker's instructions for a common vent",
        )
    total = math.fsum(answer.equivalent_length or 0.0 for answer in answers)
    limit = min(allowed)
    least = max(answer.minimum_length or 0.0 for answer in answers)
    together = f"{names}: together {show_length(total, system)}"
    if total > limit + SAME_LENGTH:
        beyond = show_length(total - limit, system)
        return "over", f"{together}, {beyond} over the shortest allowance on the way, {show_length(limit, system)}"
    if total < least - SAME_LENGTH:
        return "short", f"{together}, below the least length of {show_length(least, system)}"
    return "within", f"{together}, within the shortest allowance on the way, {show_length(limit, system)}"
