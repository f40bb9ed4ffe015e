"""The solver in memory, against a bare loop of its fluids calls and against pandapipes on the same chains.

Against the bare loop `check` is timed whole: combustion, gas properties, every piece at every rate, the low and
high bands, the table and the verdict, for a job that has been read. Against pandapipes the flow alone is timed,
bands included. No job is solved twice, so that no result remembered from another try helps.
"""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.bench import pandapipes_chain
from tests.bench.bare_loop import BarePiece, BareStream, bare_loop
from tests.bench.jobs import PIECES, write_jobs
from tests.bench.measure import Timed, measure_together
from tests.bench.outcome import Outcome
from ventsize.check.appliances import appliance_gases, firings, surroundings
from ventsize.check.inputs import Inputs, read_inputs
from ventsize.check.verdict import check
from ventsize.flow.rate_flow import Firing
from ventsize.flow.solve import solve
from ventsize.run.model import Piece

AT_MOST_BARE = 10.0
AT_LEAST_PANDAPIPES = 50.0
TRIES = 12
BATCH = 5  # jobs a try
AGREEMENT = 1e-3  # of the pressure drop; beyond it two things were timed that are not the same


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """One run at one rate, as ventsize solved it: pressure drop [Pa], and what a yardstick needs to repeat it."""

    pressure_drop: float
    stream: BareStream
    pieces: tuple[BarePiece, ...]
    k: tuple[float, ...]


def against_bare_loop() -> Outcome:
    """Two runs of 40 pieces at two rates, against the fluids calls that these take."""
    inputs = inputs_of(TRIES * (BATCH + 1))
    chains = chains_of(inputs[0])
    fresh = iter(inputs)
    ours, yardstick = measure_together(
        [Timed(lambda: check(next(fresh)), BATCH), Timed(lambda: _loop_all(chains), BATCH)], repeats=TRIES
    )
    return Outcome(
        what=f"job of 2 runs, {PIECES} pieces each, 2 rates, in memory",
        against="bare loop of the same fluids calls",
        ours=ours,
        yardstick=yardstick,
        kind="at most",
        target=AT_MOST_BARE,
        wrong=_disagreement([(bare_loop(c.pieces, c.stream), c) for c in chains]),
    )


def against_pandapipes() -> Outcome:
    """The flow alone, as pandapipes does: one calculation for each run at each rate, for both sides."""
    inputs = inputs_of(TRIES * (BATCH + 1))
    chains = chains_of(inputs[0])
    nets = [net_of(chain) for chain in chains]
    fresh = iter([(one, _firings(one)) for one in inputs])
    ours, yardstick = measure_together(
        [Timed(lambda: _solve_all(*next(fresh)), BATCH), Timed(lambda: pandapipes_chain.solve_all(nets))],
        repeats=TRIES,
    )
    return Outcome(
        what="flow in the same 2 runs at 2 rates",
        against=f"pandapipes pipeflow, Colebrook, {len(nets)} chains",
        ours=ours,
        yardstick=yardstick,
        kind="at least",
        target=AT_LEAST_PANDAPIPES,
        wrong=_disagreement([(pandapipes_chain.pressure_drop(n), c) for n, c in zip(nets, chains, strict=True)]),
    )


def _loop_all(chains: Sequence[Chain]) -> None:
    for chain in chains:
        bare_loop(chain.pieces, chain.stream)


def _firings(inputs: Inputs) -> tuple[Firing, ...]:
    around = surroundings(inputs)
    return firings(appliance_gases(inputs, around), around)


def _solve_all(inputs: Inputs, rates: Sequence[Firing]) -> None:
    for firing in rates:
        solve(inputs.graph, firing)


def inputs_of(count: int) -> list[Inputs]:
    """Jobs of the benchmark, read and looked up."""
    with tempfile.TemporaryDirectory() as folder:
        return [read_inputs(path) for path in write_jobs(Path(folder), count)]


def chains_of(inputs: Inputs) -> list[Chain]:
    """Every run at every rate."""
    chains = []
    for run in check(inputs).runs:
        for rate in run.rates:
            flow = rate.flow
            chains.append(
                Chain(
                    pressure_drop=flow.pressure_drop,
                    stream=BareStream(
                        mass_flow=flow.stream.mass_flow,
                        density=flow.stream.density,
                        viscosity=flow.stream.viscosity,
                    ),
                    pieces=tuple(_bare(piece, leaving=run.run.carries == "flue gas") for piece in run.run.pieces),
                    k=tuple(piece.k for piece in flow.pieces),
                )
            )
    return chains


def _bare(piece: Piece, *, leaving: bool) -> BarePiece:
    return BarePiece(
        name="entrance-open" if piece.name == "terminal-open" and not leaving else piece.name,
        bore=piece.before.bore,
        bore_after=piece.after.bore,
        length=piece.length,
        roughness=piece.before.roughness,
    )


def net_of(chain: Chain) -> Any:
    """A chain for pandapipes: a link for each pipe, with the fittings that follow it."""
    links: list[pandapipes_chain.Link] = []
    is_pipe = [piece.length > 0.0 for piece in chain.pieces]
    starts = [index for index, pipe in enumerate(is_pipe) if pipe]
    for start, stop in zip(starts, [*starts[1:], len(is_pipe)], strict=True):
        piece = chain.pieces[start]
        links.append(
            pandapipes_chain.Link(
                length=piece.length, bore=piece.bore, roughness=piece.roughness, k=sum(chain.k[start + 1 : stop])
            )
        )
    stream = chain.stream
    return pandapipes_chain.build(links, mass_flow=stream.mass_flow, density=stream.density, viscosity=stream.viscosity)


def _disagreement(pairs: Sequence[tuple[float, Chain]]) -> str:
    worst = max(abs(theirs / chain.pressure_drop - 1.0) for theirs, chain in pairs)
    return "" if worst <= AGREEMENT else f"the two pressure drops differ by {worst:.2%}"
