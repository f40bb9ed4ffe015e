"""Values that are far from what is met in practice: it may be so, and it may be a slip in typing.

The limits are common practice, no source; nothing is refused by them and no figure depends on them.
"""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.finding import Finding, Where, length, power, temperature
from ventsize.gas.atmosphere import HIGHEST_SITE
from ventsize.jobfile.job import Job, PipePiece, Rate, Run

LONGEST_PIPE = 60.96  # m, 200 ft
SHORTEST_PIPE = 0.0254  # m, 1 in
LONGEST_RUN = 152.4  # m, 500 ft
INPUTS = (1465.3, 1172285.0)  # W, 5,000 to 4,000,000 Btu/h, which are usual themselves
FLUE = (288.70, 477.60)  # K, 60 to 400 °F


def input_doubts(job: Job) -> Iterator[Finding]:
    """A finding for each value of a job that is far from what is met in practice."""
    for run in job.runs:
        yield from _run(run)
    for appliance in job.appliances:
        for rate in appliance.rates:
            yield from _rate(rate, Where(appliance=appliance.name, rate=rate.name))
    if job.site.altitude is not None and job.site.altitude > HIGHEST_SITE:
        yield Finding("unusual-altitude", Where(), {"altitude": length(job.site.altitude)})


def _run(run: Run) -> Iterator[Finding]:
    for number, piece in enumerate(run.pieces or (), start=1):
        if isinstance(piece, PipePiece) and piece.pipe and not SHORTEST_PIPE <= piece.pipe <= LONGEST_PIPE:
            yield Finding("unusual-pipe", Where(run=run.name, piece=number), {"length": length(piece.pipe)})
    if run.straight is not None and run.straight > LONGEST_RUN:
        yield Finding("unusual-length", Where(run=run.name), {"length": length(run.straight)})


def _rate(rate: Rate, where: Where) -> Iterator[Finding]:
    if not INPUTS[0] <= rate.input <= INPUTS[1]:
        yield Finding("unusual-input", where, {"input": power(rate.input)})
    if not FLUE[0] <= rate.flue_temperature <= FLUE[1]:
        yield Finding("unusual-flue-temperature", where, {"temperature": temperature(rate.flue_temperature)})
