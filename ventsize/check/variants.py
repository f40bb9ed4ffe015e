"""Many variants of one job, each judged as `check` judges it, with what they share worked out once.

A variant differs from the job in the pieces, sizes and materials of its runs. The gas side, the catalog, the
tables, and each piece, size and look-up met before are used again. Where runs meet, or the gas cools along them,
the flow is solved anew.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from ventsize.allowance.answer import TableAnswer, Verdict
from ventsize.check.appliances import appliance_gases, firings, surroundings
from ventsize.check.climate import job_climate
from ventsize.check.inputs import Inputs
from ventsize.check.judging import Answers, Judged, judge
from ventsize.check.verdict import (
    budget_pressure,
    counted_pressure,
    inside,
    length_at,
    margin_of,
    overall,
    reference_sections,
    run_verdict,
    served_by,
)
from ventsize.flow.solve import RateFlow, RunFlow, solve, sum_up
from ventsize.jobfile import job as typed
from ventsize.jobfile.job import OUTDOORS
from ventsize.jobfile.problems import InputError
from ventsize.quantity import System
from ventsize.run.build import Parts, build_run
from ventsize.run.graph import VentGraph, graph_of
from ventsize.run.model import Run, Section

MOST_KEPT = 2_000  # variants of one run whose flow is kept for other combinations


@dataclass(frozen=True, slots=True, kw_only=True)
class VariantRate:
    """One run of a variant at one firing rate.

    equivalent_length: straight pipe of the row's size with the same pressure drop [m].
    spare_length: straight pipe that what is left of the allowance pressure would still carry [m].
    Others as in `check.result.RunRate`.
    """

    name: str
    flow: RunFlow
    counted_pressure: float
    budget_pressure: float | None
    within_allowance: bool | None
    equivalent_length: float | None
    spare_length: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class VariantRun:
    """One run of a variant: the verdict by the table, and the answer by calculation. As in `RunCheck`."""

    run: Run
    verdict: Verdict
    reason: str
    table_file: str | None
    table: TableAnswer | None
    margin: float | None
    rates: tuple[VariantRate, ...]

    @property
    def within_by_calculation(self) -> bool | None:
        """Whether the run is inside its allowance by calculation at every rate."""
        inside_at = [rate.within_allowance for rate in self.rates]
        return None if None in inside_at else all(inside_at)


@dataclass(frozen=True, slots=True, kw_only=True)
class VariantCheck:
    """A variant judged. `runs` is empty where it cannot be built, and the reason says why."""

    verdict: Verdict
    reason: str
    runs: tuple[VariantRun, ...]

    def run(self, name: str) -> VariantRun | None:
        """The run of that name."""
        return next((run for run in self.runs if run.run.name == name), None)

    @property
    def margin(self) -> float | None:
        """The least length left of any run's allowance [m]; None where a run has none."""
        margins = [run.margin for run in self.runs]
        known = [margin for margin in margins if margin is not None]
        return min(known) if known and len(known) == len(margins) else None


class _Solved(NamedTuple):
    """A variant of one run with its flow at each rate; it keeps `typed` alive, by whose id it is found."""

    typed: typed.Run
    run: Run
    flows: tuple[RunFlow, ...]


class Variants:
    """Judges variants of one job. Raises InputError where the job itself contradicts itself or physics."""

    def __init__(self, inputs: Inputs, *, system: System = System.US) -> None:
        self.inputs = inputs
        self._system = system
        self._parts = {run.name: Parts() for run in inputs.job.runs}
        self._solved: dict[int, _Solved] = {}
        self._answers: Answers = {}
        around = surroundings(inputs)
        gases = appliance_gases(inputs, around)
        weather = job_climate(inputs, around, system) if inputs.job.cooling else None
        self._firings = firings(gases, around, weather.climate if weather else None)
        self._highest = {gas.name: gas.highest.gas.input for gas in gases}
        self._graph = self._with(
            {
                r.name: build_run(r, catalog=inputs.catalog, file=inputs.file, parts=self._parts[r.name])
                for r in inputs.job.runs
            }
        )
        self._rates = tuple(solve(self._graph, firing) for firing in self._firings)
        self._served = {run.name: served_by(run, self._rates, inputs) for run in self._graph.runs.values()}
        self._apart = not inputs.job.cooling and _apart(self._graph)

    def judge(self, runs: Mapping[str, typed.Run]) -> VariantCheck:
        """The verdict on the job with these runs in place of those of their names.

        Each must join the same joints and carry the same gas as the one it replaces.
        """
        try:
            graph, rates = self._flow(runs)
        except InputError as error:
            problem = error.problems[0]
            return VariantCheck(verdict="incomplete", reason=f"{problem.place}: {problem.problem}", runs=())
        given = self.inputs  # written out, not by `replace`: ten thousand a second
        inputs = Inputs(job=given.job, file=given.file, catalog=given.catalog, graph=graph, tables=given.tables)
        judged = judge(inputs, served=self._served, highest=self._highest, system=self._system, answers=self._answers)
        sections = reference_sections(judged)
        checked = tuple([_variant_run(judged, run, rates, sections) for run in graph.runs.values()])
        verdict, reason = overall(inputs, checked)
        return VariantCheck(verdict=verdict, reason=reason, runs=checked)

    def _with(self, runs: Mapping[str, Run]) -> VentGraph:
        whole = self.inputs.graph
        return graph_of(runs, junctions=whole.junctions, appliances=whole.appliances)

    def _flow(self, runs: Mapping[str, typed.Run]) -> tuple[VentGraph, tuple[RateFlow, ...]]:
        """The graph with these runs, and its flow at every rate."""
        if not self._apart:
            built = {name: self._build(run) for name, run in runs.items()}
            graph = self._with({**self._graph.runs, **built})
            return graph, tuple(solve(graph, firing) for firing in self._firings)
        found = {name: self._solve(run) for name, run in runs.items()}
        graph = self._with({**self._graph.runs, **{name: one.run for name, one in found.items()}})
        rates = tuple(
            [
                RateFlow(
                    firing=rate.firing,
                    runs={**rate.runs, **{name: one.flows[number] for name, one in found.items()}},
                    cautions=rate.cautions,
                )
                for number, rate in enumerate(self._rates)
            ]
        )
        return graph, rates

    def _build(self, run: typed.Run) -> Run:
        return build_run(run, catalog=self.inputs.catalog, file=self.inputs.file, parts=self._parts[run.name])

    def _solve(self, run: typed.Run) -> _Solved:
        found = self._solved.get(id(run))
        if found is None:
            built = self._build(run)
            flows = []
            for rate in self._rates:
                before = rate.runs[run.name]
                flows.append(sum_up(built, before.stream, before.walk.of_variant(built), (), before.doubts))
            found = _Solved(run, built, tuple(flows))
            if len(self._solved) >= MOST_KEPT:
                self._solved.clear()
            if len(self._parts) > 1:  # a run alone is not met again in another combination
                self._solved[id(run)] = found
        return found


def _apart(graph: VentGraph) -> bool:
    """Whether every run leads from an appliance straight outdoors, the only one there of its kind.

    Then what a run carries does not depend on how any run is built.
    """
    ends = [
        (run.carries, run.start if run.end == OUTDOORS else run.end)
        for run in graph.runs.values()
        if OUTDOORS in (run.start, run.end)
    ]
    return len(ends) == len(graph.runs) == len(set(ends)) and all(joint in graph.appliances for _, joint in ends)


def _variant_run(judged: Judged, run: Run, rates: tuple[RateFlow, ...], sections: Mapping[str, Section]) -> VariantRun:
    judgement = judged.of[run.name]
    answer = judgement.answer
    reference = sections[run.name]
    checked = []
    for rate in rates:
        flow = rate.runs[run.name]
        gradient = flow.at(reference).gradient
        allowed = budget_pressure(answer, gradient)
        counted = counted_pressure(flow)
        checked.append(
            VariantRate(
                name=rate.firing.name,
                flow=flow,
                counted_pressure=counted,
                budget_pressure=allowed,
                within_allowance=None if allowed is None else inside(judged, run, rate, sections),
                equivalent_length=length_at(flow.pressure_drop, gradient),
                spare_length=None if allowed is None else length_at(allowed - counted, gradient),
            )
        )
    verdict, reason = run_verdict(judged, run, checked)
    return VariantRun(
        run=run,
        verdict=verdict,
        reason=reason,
        table_file=judgement.table_file,
        table=answer,
        margin=margin_of(answer),
        rates=tuple(checked),
    )
