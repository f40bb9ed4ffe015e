"""Options: every combination of what may be chosen for a job's runs, each judged by table and by calculation.

`Search` streams the options one by one: stop by no longer asking for more. Each is judged by the steps of a
check (`ventsize.check.variants`), and only those `within` by the table are acceptable.
`ventsize.studies.options.ranking` ranks them and says why the others fail.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from ventsize.check.inputs import Inputs
from ventsize.check.variants import VariantCheck, Variants
from ventsize.jobfile.editing import Data, units_of
from ventsize.jobfile.job import Job, Run
from ventsize.jobfile.problems import Refused
from ventsize.run.graph import VentGraph
from ventsize.studies.altering.run_data import apply_piping, apply_runs, run_data
from ventsize.studies.options.choices import Choices, Chosen, Piping
from ventsize.studies.options.combining import MOST_OPTIONS, Base, Variant, bases_of, combinations, count_of, product_of
from ventsize.studies.pricing import Pricer
from ventsize.studies.pricing.prices import Cost
from ventsize.studies.takeoff import fittings_at_joints
from ventsize.studies.takeoff.joints import joints_of
from ventsize.studies.takeoff.pipework import AtJoints
from ventsize.studies.takeoff.practice import Practice, read_practice


class TooManyOptions(Refused):
    """More combinations than are worth looking through; the message says how many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One combination, judged.

    job: the job with it. check: what a check of that job says.
    joints: as the takeoff counts them, those where runs meet left out. largest: the largest size [m].
    cost: of the whole job, where there is a price list and the option is acceptable.
    """

    number: int
    piping: Piping
    chosen: tuple[Chosen, ...]
    runs: Mapping[str, Run]
    check: VariantCheck
    joints: int
    largest: float
    cost: Cost | None

    @property
    def acceptable(self) -> bool:
        """Whether the table has every run within."""
        return self.check.verdict == "within"

    @property
    def by_calculation(self) -> bool | None:
        """The other answer: whether every run is inside its allowance by calculation."""
        answers = [run.within_by_calculation for run in self.check.runs]
        return None if None in answers or not answers else all(answers)

    @property
    def routes(self) -> tuple[str | None, ...]:
        """The route chosen for each run, None for the one it has."""
        return tuple(one.route for one in self.chosen)


class Search:
    """All options of a job. `total` is known from the start; iterate for the options themselves.

    pricer: says what an option costs. Only acceptable options are priced. practice: by which joints are counted;
    without it the pricer's, or the user's own.
    Raises TooManyOptions, and InputError where the job itself is at fault.
    """

    def __init__(
        self,
        inputs: Inputs,
        choices: Choices,
        *,
        pricer: Pricer | None = None,
        practice: Practice | None = None,
        beside: Path | None = None,
    ) -> None:
        self._pricer = pricer
        self._practice = practice or (pricer.practice if pricer else read_practice())
        self._ranged: dict[int, Cost] = {}
        self._bases = bases_of(inputs, choices, beside)
        self.total = sum(product_of(count_of(base, one) for one in base.choices) for base in self._bases)
        if self.total > MOST_OPTIONS:
            raise TooManyOptions(
                f"these choices make more combinations than are looked through; expected {MOST_OPTIONS:,} or fewer"
            )

    def __iter__(self) -> Iterator[Option]:
        number = 0
        for base in self._bases:
            judge = Variants(base.inputs)
            at_joints = fittings_at_joints(base.inputs.graph, base.inputs.catalog)
            for combination in combinations(base):
                number += 1
                yield self._option(number, base, judge, combination, at_joints)

    def ranged_cost(self, option: Option) -> Cost | None:
        """What an option costs, with the range that estimated fitting lengths leave open."""
        if self._pricer is None or option.cost is None:
            return None
        if option.number not in self._ranged:
            base = next(base for base in self._bases if base.piping == option.piping)
            inputs = inputs_with(base.inputs, option.runs, option.check)
            self._ranged[option.number] = self._pricer.cost(inputs, ranged=True)
        return self._ranged[option.number]

    def _option(
        self, number: int, base: Base, judge: Variants, combination: tuple[Variant, ...], at_joints: AtJoints
    ) -> Option:
        runs = {variant.run.name: variant.run for variant in combination}
        check = judge.judge(runs)
        cost = None
        if self._pricer is not None and check.verdict == "within":
            cost = self._pricer.cost(inputs_with(base.inputs, runs, check))
        return Option(
            number=number,
            piping=base.piping,
            chosen=tuple(variant.chosen for variant in combination),
            runs=runs,
            check=check,
            joints=sum(joints_of(run.run, self._practice, at_joints) for run in check.runs),
            largest=max([piece.after.nominal for run in check.runs for piece in run.run.pieces], default=0.0),
            cost=cost,
        )

    def apply(self, data: Data, option: Option) -> Data:
        """An open job's data with an option: one edit."""
        base = next(base for base in self._bases if base.piping == option.piping)
        catalog = base.inputs.catalog
        added = {run.name: option.runs.get(run.name, run) for run in base.added}
        new = [run_data(run, catalog=catalog, typed_in=units_of(data)) for run in added.values()]
        data = apply_piping(data, drop=base.dropped, add=new)
        changed = {name: run for name, run in option.runs.items() if name not in added}
        return apply_runs(data, before=base.inputs.job, after=changed, catalog=catalog)


def job_with(job: Job, runs: Mapping[str, Run]) -> Job:
    """The job with these runs in place of those of their names."""
    return replace(job, runs=tuple(runs.get(run.name, run) for run in job.runs))


def inputs_with(inputs: Inputs, runs: Mapping[str, Run], check: VariantCheck) -> Inputs:
    """A variant that was judged, as the inputs of other studies; nothing is looked up again."""
    graph = VentGraph(
        runs={run.run.name: run.run for run in check.runs},
        junctions=inputs.graph.junctions,
        appliances=inputs.graph.appliances,
    )
    return replace(inputs, job=job_with(inputs.job, runs), graph=graph)
