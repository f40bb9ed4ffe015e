"""What the allowance tables say of a job's runs: which table judges which run, together with which others."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from ventsize.allowance.answer import TableAnswer
from ventsize.allowance.case import Site
from ventsize.allowance.counted import Counted
from ventsize.allowance.lookup import look_up
from ventsize.allowance.model import RUNS_TOGETHER, AllowanceTable
from ventsize.check.counting import counted, counted_joints, ends_of, materials_of
from ventsize.check.inputs import Inputs
from ventsize.check.job_around import Around
from ventsize.check.paths import Way, ways_out, ways_using
from ventsize.check.several import Part, several_tables
from ventsize.finding import Finding, Outcome, Where
from ventsize.run.joints import joint_between
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
    """Every run's judgement, and the ways out that lead through several runs. cut: appliances with more than these."""

    inputs: Inputs
    of: Mapping[str, Judgement]
    ways: tuple[Way, ...]
    cut: frozenset[str]
    around: Around
    _of_ways: dict[int, Outcome] = field(default_factory=dict, init=False, repr=False, compare=False)  # every run asks

    def outcomes(self, run: Run) -> list[Outcome]:
        """Every condition of a run that tables judge: its own, and that of each whole way out through it."""
        part, ways = self.of[run.name], ways_using(run, self.ways)
        own = part.outcomes(run)
        if any(ways_using(one, self.ways) for one in part.runs):  # parts may be shorter than the least of all their way
            own = [outcome for outcome in own if outcome.condition != LEAST_LENGTH]
            if not ways:  # it is a whole way, counted with parts of another
                where, alone = Where(table=part.table_file, run=run.name), self._look_up(part, [self._alone(run)])
                own += [_placed(one, where) for one in alone.outcomes if one.condition == LEAST_LENGTH]
        return [*own, *(self._way_outcome(way, run) for way in ways)]

    def judgements(self, way: Way) -> list[Judgement]:
        """The judgements of a way's runs, each once."""
        return list({id(self.of[run.name]): self.of[run.name] for run in way.runs}.values())

    def _way_outcome(self, way: Way, run: Run) -> Outcome:
        settled = self._of_ways.get(id(way)) or self._of_ways.setdefault(id(way), self.way(way))
        because = replace(settled.because, where=replace(settled.because.where, run=run.name, way=way.names))
        return replace(settled, condition="way-allowed", because=because)

    def way(self, way: Way) -> Outcome:
        """The verdict on all runs of a way out together: the outcome that settles it."""
        parts, whole = self.judgements(way), self._as_one(way)
        if whole is not None:
            return whole.decides
        judged = [
            Part(self._table(part), self._counted([run for run in way.runs if run in part.runs], way),
                 self._answer_on(way, part, part.answer), self.around.site(self._table(part), part.serves))
            for part in parts if part.answer is not None
        ]  # fmt: skip
        known = [run for part in parts if part.answer is not None for run in part.runs]
        without = [self._alone(run) for run in way.runs if run not in known]
        return several_tables(judged, _ends_known(self.inputs), without_table=without)

    def _as_one(self, way: Way) -> TableAnswer | None:
        """What one table says of all of a way; None where it takes several look-ups, or has runs by no table."""
        parts = self.judgements(way)
        asked = {None if part.answer is None else (id(self._table(part)), part.input) for part in parts}
        return None if None in asked or len(asked) > 1 else self._look_up(parts[0], self._counted(way.runs, way))

    def pressures(self, way: Way) -> list[float]:
        """What rows that give a pressure allow on a way, looked up as a whole and part by part [Pa]."""
        parts = [(part, part.answer) for part in self.judgements(way) if part.answer is not None]
        if not any(row.by_pressure for part, _ in parts for row in self._table(part).rows):
            return []
        answers = [self._as_one(way), *(answer for _, answer in parts)]
        answers += [self._answer_on(way, part, answer) for part, answer in parts]
        found = (answer.allowable_pressure for answer in answers if answer is not None)
        return [pressure for pressure in found if pressure is not None]

    def _table(self, part: Judgement) -> AllowanceTable:
        return self.inputs.tables[part.table_file or ""]

    def _counted(self, runs: Sequence[Run], way: Way) -> list[Counted]:
        """Runs as their table counts them, each with what joins it to the run before it on a way."""
        table = self.inputs.tables[self.of[runs[0].name].table_file or ""]
        found = []
        for path in way.paths:
            joints = counted_joints(path, graph=self.inputs.graph, table=table)
            for number, run in enumerate(path):
                if run not in runs:
                    continue
                near = {joint_between(path[number - 1], run)} if number else self.inputs.graph.appliances
                alone = counted(run, table, outward=run.start in near)
                found.append(replace(alone, fittings=(*alone.fittings, *joints.get(run.name, ()))))
        return found

    def _alone(self, run: Run) -> Counted:
        return _by_itself(self.inputs, run, self.inputs.tables.get(self.of[run.name].table_file or ""))

    def _answer_on(self, way: Way, part: Judgement, answer: TableAnswer) -> TableAnswer:
        """What the table of a part says of it as a part of this way, made of all its runs that tables judge."""
        asks = any(row.holds_for.materials or row.holds_for.ends for row in self._table(part).rows)
        if not asks and all(run.name in way.names for run in part.runs):
            return answer
        what = []
        for path in way.paths:
            made = frozenset().union(*(materials_of(run) for run in path if self.of[run.name].answer is not None))
            last = ends_of(path[-1])
            what += [replace(self._alone(run), materials=made, ends=last) for run in path if run in part.runs]
        return self._look_up(part, what)

    def _look_up(self, part: Judgement, what: Sequence[Counted]) -> TableAnswer:
        assert part.table_file is not None
        site = self.around.site(self._table(part), part.serves)
        return _look_up(self.inputs, part.table_file, part.input, site, what, one_way=True)


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
    around = Around(inputs)
    for runs in waiting.values():
        file, why = chosen[runs[0].name]
        serves = served[runs[0].name]
        total = math.fsum(highest[name] for name in serves)
        answer = None if file is None else _remembered(inputs, file, total, runs, around, serves, answers)
        judgement = Judgement(
            runs=tuple(runs), serves=serves, input=total, table_file=file, answer=answer, no_table=why,
            apart=_counted_apart(inputs, file, [r for r in served if set(served[r]) & set(serves)], chosen),
        )  # fmt: skip
        found.update({run.name: judgement for run in runs})

    def together_by(run: Run) -> str | None:
        name = found[run.name].table_file
        return name if name is not None and inputs.tables[name].counts == RUNS_TOGETHER else None

    out = ways_out(inputs.graph, together=together_by)
    return Judged(inputs=inputs, of=found, ways=out.ways, cut=out.cut, around=around)


def _counted_apart(
    inputs: Inputs,
    file: str | None,
    beside: Sequence[str],
    chosen: Mapping[str, tuple[str | None, Finding | None]],
) -> tuple[str, ...]:
    """Runs that a table counts together with these, and something else judges; by name.

    beside: names of the runs that serve an appliance of these; chosen: the table of each run.
    """
    if file is None or inputs.tables[file].counts != RUNS_TOGETHER:
        return ()
    table = inputs.tables[file]
    others = (inputs.graph.runs[name] for name in beside if chosen[name][0] != file)
    return tuple(run.name for run in others if run.carries in table.applies_to)


def _remembered(
    inputs: Inputs,
    file: str,
    total: float,
    runs: Sequence[Run],
    around: Around,
    serves: tuple[str, ...],
    answers: Answers | None,
) -> TableAnswer:
    table = inputs.tables[file]
    site = around.site(table, serves)
    what = [_with_ends(_by_itself(inputs, run, table), run, table, around, serves) for run in runs]
    if answers is None:
        return _look_up(inputs, file, total, site, what)
    beside = (site.pipes, tuple(site.sizes.items()), site.difference)
    key = (file, total, beside, *(_alike(one) for one in what))
    found = answers.get(key)
    if found is None:
        found = _look_up(inputs, file, total, site, what)
        if found.verdict != "incomplete":  # not kept: the evidence names the piece that lacks something
            answers[key] = found
    return found


def _by_itself(inputs: Inputs, run: Run, table: AllowanceTable | None) -> Counted:
    return counted(run, table, outward=inputs.graph.leads_out(run))


def _with_ends(one: Counted, run: Run, table: AllowanceTable, around: Around, serves: tuple[str, ...]) -> Counted:
    """A run with the ends of the ways through it, its own where it has one: for rows that ask for an end."""
    if not any(row.holds_for.ends for row in table.rows):
        return one
    ends = [ends_of(last) for last in around.ends(run, serves)]
    known = tuple(dict.fromkeys(name for listed in ends if listed for name in listed))
    return replace(one, ends=None if None in ends or not ends else known)


def _alike(one: Counted) -> tuple[object, ...]:
    """What an answer depends on: not where a fitting stands, but for the order of elbows that a table may ask for."""
    fittings = frozenset((f.name, f.sizes, f.table_length, f.count, f.implied, f.order) for f in one.fittings)
    lie = (one.laid_out, one.level, one.rising, one.unsaid, one.cold, one.cold_unsaid)
    made = (one.materials, one.ends)
    return (one.name, one.carries, one.reaches_outdoors, frozenset(one.straight_by_size), fittings, lie, made)


def _look_up(
    inputs: Inputs, file: str, total: float, site: Site, what: Sequence[Counted], *, one_way: bool = False
) -> TableAnswer:
    return look_up(
        inputs.tables[file], input=total, site=site, counted=what, ends=_ends_known(inputs), one_way=one_way
    )  # fmt: skip


def _ends_known(inputs: Inputs) -> list[str]:
    """Names of terminals and entrances."""
    return [name for name, record in inputs.catalog.fittings.items() if record.kind in ("terminal", "entrance")]


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
