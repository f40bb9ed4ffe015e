"""What the allowance tables say of a job's runs: which table judges which run, together with which others."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ventsize.allowance.answer import TableAnswer
from ventsize.allowance.counted import Counted
from ventsize.allowance.lookup import look_up
from ventsize.allowance.model import RUNS_TOGETHER, SAME_LENGTH, AllowanceTable
from ventsize.check.counting import counted, counted_joints
from ventsize.check.inputs import Inputs
from ventsize.check.paths import Way, ways_out, ways_using
from ventsize.finding import Finding, Outcome, Value, Verdict, Where, length
from ventsize.run.model import Run

LEAST_LENGTH = "length-enough"
"""The condition that holds for a whole way out, not for a part of one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    """Runs that one look-up judges: one run, or all that a table counts together.

    serves: the appliances whose gas passes through; input: theirs together at their highest rates [W].
    answer: the table's; None where there is no table, and then `no_table` says why. apart: runs that the table counts
    together with these and something else judges, by name.
    """

    runs: tuple[Run, ...]
    serves: tuple[str, ...]
    input: float
    table_file: str | None
    answer: TableAnswer | None
    no_table: Finding | None = None
    apart: tuple[str, ...] = ()

    def outcomes(self, run: Run) -> list[Outcome]:
        """What the table says of these runs by themselves, condition by condition, for one of them."""
        if self.answer is None:
            assert self.no_table is not None
            because = replace(self.no_table, where=Where(run=run.name))
            return [Outcome(condition="table-named", state="not known", because=because)]
        where = Where(run=run.name, table=self.table_file)
        together = Finding("counted-apart" if self.apart else "counted-with-its-table", where, {"runs": self.apart})
        return [
            Outcome(condition="table-named", state="met", because=Finding("table-named", where)),
            Outcome(condition="counted-together", state="not known" if self.apart else "met", because=together),
            *(_placed(outcome, where) for outcome in self.answer.outcomes),
        ]


def _placed(outcome: Outcome, where: Where) -> Outcome:
    """An outcome of the table at the run it is for."""
    return replace(outcome, because=placed(outcome.because, where))


def placed(finding: Finding, where: Where) -> Finding:
    """A finding of the table at the run it is for; piece and joint stay where they are known."""
    own = finding.where
    run = own.run or where.run
    return replace(finding, where=replace(where, run=run, piece=own.piece, joint=own.joint, row=own.row))


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """Every run's judgement, and the ways out that lead through several runs."""

    inputs: Inputs
    of: Mapping[str, Judgement]
    ways: tuple[Way, ...]

    def outcomes(self, run: Run) -> list[Outcome]:
        """Every condition of a run that tables judge: its own, and that of each whole way out through it."""
        own = self.of[run.name].outcomes(run)
        ways = ways_using(run, self.ways)
        if ways:  # one part of the way may well be shorter than the least length of all of it
            own = [outcome for outcome in own if outcome.condition != LEAST_LENGTH]
        return [*own, *(self._way_outcome(way, run) for way in ways)]

    def judgements(self, way: Way) -> list[Judgement]:
        """The judgements of a way's runs, each once."""
        return list({id(self.of[run.name]): self.of[run.name] for run in way.runs}.values())

    def _way_outcome(self, way: Way, run: Run) -> Outcome:
        settled = self.way(way)
        because = replace(settled.because, where=replace(settled.because.where, run=run.name, way=way.names))
        return replace(settled, condition="way-allowed", because=because)

    def way(self, way: Way) -> Outcome:
        """The verdict on all runs of a way out together: the outcome that settles it."""
        parts = self.judgements(way)
        if any(part.answer is None or part.answer.equivalent_length is None for part in parts):
            return Outcome(condition="way-allowed", state="not known", because=Finding("way-length-unknown"))
        if len({(id(self.inputs.tables[part.table_file or ""]), part.input) for part in parts}) == 1 < len(parts):
            return _settled(self._look_up(parts[0], self._counted(way.runs, way)))
        answers = [self._look_up(part, self._counted([r for r in way.runs if r in part.runs], way)) for part in parts]
        if len(parts) == 1:
            return _settled(answers[0])
        turns, most = sum(answer.turns for answer in answers), [answer.most_elbows for answer in answers]
        limits = [limit for limit in most if limit is not None]
        if limits and turns > min(limits):
            values: dict[str, Value] = {"elbows": turns, "most": min(limits), "together": 1}
            return _not_met(Finding("too-many-elbows", Where(), values), "over")
        missing = next((answer for answer in answers if answer.equivalent_length is None), None)
        return _added_up(answers) if missing is None else _settled(missing)

    def _counted(self, runs: Sequence[Run], way: Way) -> list[Counted]:
        """Runs as their table counts them, each with what joins it to the run before it on a way."""
        table = self.inputs.tables[self.of[runs[0].name].table_file or ""]
        joints = {
            name: fitting
            for path in way.paths
            for name, fitting in counted_joints(path, graph=self.inputs.graph, table=table).items()
        }
        found = []
        for run in runs:
            alone, joined = counted(run), joints.get(run.name)
            found.append(alone if joined is None else replace(alone, fittings=(*alone.fittings, joined)))
        return found if table.counts == RUNS_TOGETHER else [_joined(found)]

    def _look_up(self, part: Judgement, what: Sequence[Counted]) -> TableAnswer:
        assert part.table_file is not None
        return _look_up(self.inputs, part.table_file, part.input, what)


def _settled(answer: TableAnswer) -> Outcome:
    return answer.decides


def _not_met(because: Finding, verdict: Verdict) -> Outcome:
    return Outcome(condition="way-allowed", state="not met", because=because, if_not=verdict)


Answers = dict[tuple[object, ...], TableAnswer]
"""Answers already had, by what was asked."""


def judge(
    inputs: Inputs,
    *,
    served: Mapping[str, tuple[str, ...]],
    highest: Mapping[str, float],
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
        answer = None if file is None else _remembered(inputs, file, total, runs, answers)
        judgement = Judgement(
            runs=tuple(runs), serves=serves, input=total, table_file=file, answer=answer, no_table=why,
            apart=_counted_apart(inputs, file, runs, [r for r in served if served[r] == serves]),
        )  # fmt: skip
        found.update({run.name: judgement for run in runs})

    def counts_both(run: Run) -> bool:
        name = found[run.name].table_file
        return name is not None and inputs.tables[name].counts == RUNS_TOGETHER

    return Judged(inputs=inputs, of=found, ways=ways_out(inputs.graph, counted_together=counts_both))


def _counted_apart(inputs: Inputs, file: str | None, runs: Sequence[Run], alike: Sequence[str]) -> tuple[str, ...]:
    """Runs that a table counts together with these, and something else judges; by name.

    alike: names of the runs that serve the same appliances.
    """
    if file is None or inputs.tables[file].counts != RUNS_TOGETHER:
        return ()
    table, counted_here = inputs.tables[file], {run.name for run in runs}
    others = (inputs.graph.runs[name] for name in alike if name not in counted_here)
    return tuple(run.name for run in others if run.carries in table.applies_to)


def _remembered(inputs: Inputs, file: str, total: float, runs: Sequence[Run], answers: Answers | None) -> TableAnswer:
    what = [counted(run) for run in runs]
    if answers is None:
        return _look_up(inputs, file, total, what)
    key = (file, total, *(_alike(one) for one in what))
    found = answers.get(key)
    if found is None:
        found = _look_up(inputs, file, total, what)
        if found.verdict != "incomplete":  # what is missing is named with its place
            answers[key] = found
    return found


def _alike(one: Counted) -> tuple[object, ...]:
    """What an answer depends on: not where a fitting stands, nor in which order."""
    fittings = frozenset((f.name, f.sizes, f.table_length, f.count, f.implied) for f in one.fittings)
    return (one.name, one.carries, one.reaches_outdoors, frozenset(one.straight_by_size), fittings)


def _look_up(inputs: Inputs, file: str, total: float, what: Sequence[Counted]) -> TableAnswer:
    return look_up(
        inputs.tables[file],
        input=total,
        altitude=inputs.job.site.altitude,
        counted=what,
        ends=[name for name, record in inputs.catalog.fittings.items() if record.kind in ("terminal", "entrance")],
    )


def table_for(run: Run, inputs: Inputs) -> tuple[str | None, Finding | None]:
    """The file of the table that judges a run, or why there is none."""
    if run.table is not None:
        return run.table, None
    tables: dict[str, AllowanceTable] = {name: inputs.tables[name] for name in inputs.job.tables}
    fitting = [name for name, table in tables.items() if run.carries in table.applies_to]
    if len(fitting) == 1:
        return fitting[0], None
    if fitting:
        return None, Finding("several-tables-apply", Where(), {"carries": run.carries, "tables": tuple(fitting)})
    if tables:
        return None, Finding("no-table-applies", Where(), {"carries": run.carries})
    return None, Finding("no-table-named")


def _joined(parts: Sequence[Counted]) -> Counted:
    """Runs as if they were one."""
    return replace(
        parts[0],
        name=" + ".join(part.name for part in parts),
        straight_by_size=tuple(piece for part in parts for piece in part.straight_by_size),
        fittings=tuple(fitting for part in parts for fitting in part.fittings),
        reaches_outdoors=any(part.reaches_outdoors for part in parts),
    )


def _added_up(answers: Sequence[TableAnswer]) -> Outcome:
    """Lengths of runs with different inputs or tables, added up against the shortest of their allowances."""
    allowed = [answer.allowable_length for answer in answers if answer.allowable_length is not None]
    if len(allowed) < len(answers) or any(answer.elbows is not None for answer in answers):
        return Outcome(condition="way-allowed", state="not known", because=Finding("way-not-addable"))
    total = math.fsum(answer.equivalent_length or 0.0 for answer in answers)
    limit = min(allowed)
    least = max(answer.minimum_length or 0.0 for answer in answers)
    values: dict[str, Value] = {"compared": length(total), "allowed": length(limit)}
    if total > limit + SAME_LENGTH:
        return _not_met(Finding("way-over", Where(), {**values, "beyond": length(total - limit)}), "over")
    if total < least - SAME_LENGTH:
        return _not_met(Finding("way-short", Where(), {"compared": length(total), "least": length(least)}), "short")
    return Outcome(condition="way-allowed", state="met", because=Finding("way-within", Where(), values))
