"""Many variants of one job, each judged as `check` judges it, with what they share worked out once.

A variant differs from the job in the pieces, sizes and materials of its runs. The gas side, the catalog, the
tables, and each piece, size and look-up met before are used again. Where runs meet, the flow is solved anew.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from ventsize.check.appliances import appliance_gases, firings, surroundings
from ventsize.check.climate import job_climate
from ventsize.check.inputs import Inputs
from ventsize.check.judging import Answers, judge
from ventsize.check.result import RunCheck
from ventsize.check.verdict import (
    appliance_outcomes,
    highest_inputs,
    low_spots_of,
    run_checks,
    served_by,
    settles_job,
)
from ventsize.finding import Finding, Outcome, Verdict, Where
from ventsize.finding.halting import go_on
from ventsize.flow.rate_flow import RateFlow, RunFlow, straight_outdoors, sum_up
from ventsize.flow.solve import solve
from ventsize.jobfile import job as typed
from ventsize.jobfile.job import OUTDOORS
from ventsize.jobfile.problems import InputError
from ventsize.run.build import Parts, build_run
from ventsize.run.graph import VentGraph, graph_of
from ventsize.run.model import Run

MOST_KEPT = 2_000  # variants of one run whose flow is kept for other combinations


@dataclass(frozen=True, slots=True, kw_only=True)
class VariantCheck:
    """A variant judged: the outcome that settles it. `runs` is empty where it cannot be built."""

    decides: Outcome
    runs: tuple[RunCheck, ...]

    @property
    def verdict(self) -> Verdict:
        """Only `within` is a pass."""
        return self.decides.verdict

    def run(self, name: str) -> RunCheck | None:
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

    def __init__(self, inputs: Inputs) -> None:
        self.inputs = inputs
        self._parts = {run.name: Parts() for run in inputs.job.runs}
        self._solved: dict[int, _Solved] = {}
        self._answers: Answers = {}
        around = surroundings(inputs)
        gases = appliance_gases(inputs, around)
        weather = job_climate(inputs, around) if inputs.job.cooling else None
        self._firings = firings(gases, around, weather.climate if weather else None)
        self._highest = highest_inputs(gases)
        self._graph = self._with(
            {
                r.name: build_run(r, catalog=inputs.catalog, file=inputs.file, parts=self._parts[r.name])
                for r in inputs.job.runs
            }
        )
        self._rates = tuple(solve(self._graph, firing) for firing in self._firings)
        self._served = {run.name: served_by(run, self._rates, inputs) for run in self._graph.runs.values()}
        self._apart = _apart(self._graph)

    def judge(self, runs: Mapping[str, typed.Run]) -> VariantCheck:
        """The verdict on the job with these runs in place of those of their names.

        Each must join the same joints and carry the same gas as the one it replaces.
        """
        go_on()
        try:
            graph, rates = self._flow(runs)
        except InputError as error:
            fault = error.problems[0]
            because = Finding("cannot-be-built", Where(), {"text": f"{fault.place}: {fault.problem}"})
            return VariantCheck(decides=Outcome(condition="can-be-built", state="not known", because=because), runs=())
        given = self.inputs  # written out, not by `replace`: ten thousand a second
        inputs = Inputs(job=given.job, file=given.file, catalog=given.catalog, graph=graph, tables=given.tables)
        judged = judge(inputs, served=self._served, highest=self._highest, answers=self._answers)
        checked = run_checks(judged, rates, low_spots_of(graph))
        conditions = [*(o for run in checked for o in run.outcomes), *appliance_outcomes(judged, checked)]
        return VariantCheck(decides=settles_job(checked, conditions), runs=checked)

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
                    findings=rate.findings,
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
                alone = sum_up(built, before.stream, before.walk.of_variant(built), (), before.doubts)
                wind = rate.firing.ends.wind.get(run.name, 0.0)
                flows.append(straight_outdoors(alone, wind=wind, room=before.room))
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
    ends = {
        (run.carries, run.start if run.end == OUTDOORS else run.end)
        for run in graph.runs.values()
        if OUTDOORS in (run.start, run.end)
    }
    return len(ends) == len(graph.runs) and all(joint in graph.appliances for _, joint in ends)
