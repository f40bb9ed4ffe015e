"""How sure is the answer by calculation: everything that may be off, drawn many times over.

Every sample is a whole run at one firing rate: its tape readings, its kinds of fitting somewhere in their bands, its
bore, its gas. What may be off, and by how much, is that of `flow.doubt`, as in the range that `check` gives: there it
is put together by formula, here by the samples. The gas follows excess air and temperature through a few exact points,
between which it is nearly straight; friction is solved for every sample.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ventsize.check.appliances import appliance_gases, firings, surroundings
from ventsize.check.inputs import Inputs
from ventsize.check.verdict import check
from ventsize.flow.doubt import CAUSES, LAYOUT, Cause
from ventsize.flow.rate_flow import RunFlow
from ventsize.flow.solve import solve
from ventsize.jobfile.problems import InputError, Problem
from ventsize.studies.uncertainty.ranges import Ranges, ranges_of
from ventsize.studies.uncertainty.sampling import STEP_AIR, STEP_TEMPERATURE, draw, drops_of

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from ventsize.check.rate import RunRate
    from ventsize.check.result import RunCheck

    Array = NDArray[np.float64]

SAMPLES, SEED = 10_000, 1
FEWEST_SAMPLES = 10
MOST_SAMPLES = 1_000_000
COOLED = "how the gas cools is taken as in the job in every case; only its temperature at the appliance is varied"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """The middle of the samples and the range that holds nine out of ten of them: 5 % and 95 %."""

    low: float
    median: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RunUncertainty:
    """One run at one firing rate, as a range.

    pressure_drop [Pa]; equivalent_length: of straight pipe of the reference size, which gas, bore and friction are in
    doubt of alike, so that only lengths and fittings spread it [m].
    inside: share of the samples that lose no more than the allowance pressure [-]; None without an allowance.
    shares: how much of the spread of the pressure drop comes from each input, adding up to one [-].
    """

    run: str
    rate: str
    pressure_drop: Spread
    equivalent_length: Spread
    budget_pressure: float | None
    inside: float | None
    shares: tuple[tuple[str, float], ...]

    @property
    def matters_most(self) -> str:
        """The input that spreads the result most."""
        return max(self.shares, key=lambda share: share[1])[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Uncertainty:
    """Every run that has flow, at every firing rate."""

    title: str
    samples: int
    seed: int
    ranges: Ranges
    runs: tuple[RunUncertainty, ...]
    cautions: tuple[str, ...]


class Stopped(Exception):
    """Whoever asked does not want the rest."""


def uncertainty(
    inputs: Inputs,
    *,
    ranges: Ranges | None = None,
    samples: int = SAMPLES,
    seed: int = SEED,
    progress: Callable[[float], bool] | None = None,
) -> Uncertainty:
    """The result of a check as a range.

    samples: how many; seed: of the random numbers, so that a result can be had again.
    progress: told the share done so far; its answer says whether to go on.

    Raises ValueError for a number of samples out of bounds, InputError as `check` does, Stopped where `progress` says
    so.
    """
    if not FEWEST_SAMPLES <= samples <= MOST_SAMPLES:
        raise ValueError(f"{samples} samples; a number from {FEWEST_SAMPLES} to {MOST_SAMPLES} is expected")
    import numpy as np

    within = ranges or ranges_of(inputs)
    checked = check(inputs)
    moved = _moved_gases(inputs)
    chance = np.random.default_rng(seed)
    asked = [
        (run, rate, index)
        for run in checked.runs
        for index, rate in enumerate(run.rates)
        if rate.flow.stream.mass_flow > 0.0 and rate.flow.settled
    ]
    found = []
    for done, (run, rate, index) in enumerate(asked):
        if progress is not None and not progress(done / len(asked)):
            raise Stopped
        found.append(_sampled(run, rate, moved, index, within, chance, samples))
    return Uncertainty(
        title=inputs.job.title,
        samples=samples,
        seed=seed,
        ranges=within,
        runs=tuple(found),
        cautions=(
            "each input lies anywhere in its range alike; fittings of one kind are off together, pipes in length by "
            "themselves",
            COOLED if checked.cooling else "the gas is taken at one temperature all along each run",
            "the allowance is that of the gas as the job states it; help from draft is not counted",
            *(("flows are taken to divide as in the job, whatever the sample",) if _divides(inputs) else ()),
        ),
    )


def _divides(inputs: Inputs) -> bool:
    return len({node for run in inputs.graph.runs.values() for node in (run.start, run.end)}) > 2


def _moved_gases(inputs: Inputs) -> tuple[Sequence[dict[str, RunFlow]], ...]:
    """Every run's flow at every rate with a little more air, and with gas a little warmer.

    InputError where a rate's gas cannot be so.
    """
    more_air, warmer = [], []
    for appliance in inputs.job.appliances:
        gases = next(g for g in appliance_gases(inputs, surroundings(inputs)) if g.name == appliance.name)
        air, warm = [], []
        for rate, gas in zip(appliance.rates, gases.rates, strict=True):
            given = gas.gas.excess_air
            plain = replace(rate, oxygen=None, carbon_dioxide=None, excess_air=given + STEP_AIR)
            air.append(plain)
            warm.append(replace(plain, excess_air=given, flue_temperature=rate.flue_temperature + STEP_TEMPERATURE))
        more_air.append(replace(appliance, rates=tuple(air)))
        warmer.append(replace(appliance, rates=tuple(warm)))
    found = []
    for appliances in (more_air, warmer):
        other = replace(inputs, job=replace(inputs.job, appliances=tuple(appliances)))
        around = surroundings(other)
        try:
            fired = firings(appliance_gases(other, around), around)
        except ValueError as error:
            raise InputError(Problem(inputs.file, "appliance", str(error))) from None
        found.append([dict(solve(inputs.graph, firing).runs) for firing in fired])
    return tuple(found)


def _sampled(
    check: RunCheck,
    rate: RunRate,
    moved: Sequence[Sequence[dict[str, RunFlow]]],
    index: int,
    ranges: Ranges,
    chance: np.random.Generator,
    samples: int,
) -> RunUncertainty:
    import numpy as np

    flow = rate.flow
    drawn = draw(chance, flow, ranges, samples)
    streams = [flows[index][check.run.name].stream for flows in moved]
    drops = drops_of(flow, ranges, drawn, streams)
    counted = drops + max(0.0, -flow.draft)
    allowance = rate.budget_pressure
    return RunUncertainty(
        run=check.run.name,
        rate=rate.name,
        pressure_drop=_spread(drops),
        equivalent_length=_spread(drops_of(flow, ranges, drawn, streams, causes=LAYOUT) / rate.reference.gradient),
        budget_pressure=allowance,
        inside=None if allowance is None else float(np.mean(counted <= allowance * (1.0 + 1e-12))),
        shares=_shares(
            {cause: float(np.var(drops_of(flow, ranges, drawn, streams, causes=(cause,)))) for cause in CAUSES}
        ),
    )


def _spread(values: Array) -> Spread:
    import numpy as np

    low, median, high = (float(value) for value in np.percentile(values, (5.0, 50.0, 95.0)))
    return Spread(low=low, median=median, high=high)


def _shares(variances: dict[Cause, float]) -> tuple[tuple[str, float], ...]:
    total = sum(variances.values())
    return tuple((name, variances[name] / total if total else 0.0) for name in CAUSES)
