"""What is typed and is not met in practice: it may be so, and it may be a slip of the finger.

The limits are common practice, no source; nothing is refused by them and no figure depends on them.
"""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.gas.atmosphere import HIGHEST_SITE
from ventsize.jobfile.job import Job, PipePiece, Rate, Run
from ventsize.quantity import System, show_length, show_power, show_temperature

LONGEST_PIPE = 60.96  # m, 200 ft
SHORTEST_PIPE = 0.0254  # m, 1 in
LONGEST_RUN = 152.4  # m, 500 ft
INPUTS = (1465.4, 1172284.0)  # W, 5,000 to 4,000,000 Btu/h
FLUE = (288.71, 477.59)  # K, 60 to 400 °F
_SLIP = "is that so, or a slip of the finger?"


def unusual(job: Job, system: System) -> Iterator[str]:
    """A sentence for each value of a job that is far from what is met in practice.

    system: of units, for the sentences.
    """
    for run in job.runs:
        yield from _run(run, system)
    for appliance in job.appliances:
        for rate in appliance.rates:
            yield from (f"appliance '{appliance.name}', rate '{rate.name}': {said}" for said in _rate(rate, system))
    if job.site.altitude is not None and job.site.altitude > HIGHEST_SITE:
        yield f"the site lies at {show_length(job.site.altitude, system)}; {_SLIP}"


def _run(run: Run, system: System) -> Iterator[str]:
    for number, piece in enumerate(run.pieces or (), start=1):
        if not isinstance(piece, PipePiece):
            continue
        place, length = f"run '{run.name}', piece {number}", show_length(piece.pipe, system)
        if piece.pipe == 0.0:
            yield f"{place}: the pipe has no length yet"
        elif not SHORTEST_PIPE <= piece.pipe <= LONGEST_PIPE:
            yield f"{place}: a pipe of {length}; {_SLIP}"
    if run.straight == 0.0:
        yield f"run '{run.name}': no straight pipe is counted yet"
    elif run.straight is not None and run.straight > LONGEST_RUN:
        yield f"run '{run.name}': {show_length(run.straight, system)} of straight pipe; {_SLIP}"


def _rate(rate: Rate, system: System) -> Iterator[str]:
    if not INPUTS[0] <= rate.input <= INPUTS[1]:
        yield f"an input of {show_power(rate.input, system)}; {_SLIP}"
    if not FLUE[0] <= rate.flue_temperature <= FLUE[1]:
        yield f"flue gas of {show_temperature(rate.flue_temperature, system)}; {_SLIP}"
