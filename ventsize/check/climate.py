"""What a job's pipes run through, as temperatures; what the job leaves out is assumed, and said."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from ventsize.check.appliances import Surroundings
from ventsize.check.inputs import Inputs
from ventsize.finding import Finding, Where, temperature
from ventsize.flow.cooling import UNSAID, Climate
from ventsize.flow.heat import Around
from ventsize.jobfile.document import nearest
from ventsize.jobfile.job import Site
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import Dimension, QuantityError, System, parse, show_temperature
from ventsize.run.model import Piece

WORDS = ("heated space", "attic", "crawlspace", "outdoors")
COLDEST, HOTTEST = 203.15, 393.15  # K; air around pipes is figured between these
ASSUMED_ROOM = 293.15  # K; a heated room, where the job gives no indoor temperature


@dataclass(frozen=True, slots=True, kw_only=True)
class JobClimate:
    """The climate of a job's pipes, and what had to be assumed for it."""

    climate: Climate
    assumed: tuple[Finding, ...]


def job_climate(inputs: Inputs, around: Surroundings) -> JobClimate:
    """What every pipe of a job runs through.

    Raises InputError where a pipe's surroundings are neither one of `WORDS` nor a temperature.
    """
    pipes = [piece for run in inputs.graph.runs.values() for piece in run.pieces if piece.is_pipe]
    used = {piece.surroundings or UNSAID: piece for piece in pipes}
    assumed: list[Finding] = []
    if any(piece.surroundings is None for piece in pipes):
        assumed.append(Finding("heated-space-assumed"))
    places = {text: _around(piece, inputs=inputs, around=around, assumed=assumed) for text, piece in used.items()}
    if "outdoors" in used and inputs.job.site.wind is None:
        assumed.append(Finding("still-air-assumed"))
    climate = Climate(around=places, elsewhere=partial(_around, inputs=inputs, around=around))
    return JobClimate(climate=climate, assumed=tuple(assumed))


def _around(piece: Piece, *, inputs: Inputs, around: Surroundings, assumed: list[Finding] | None = None) -> Around:
    """The air around a piece; what had to be assumed for it goes into `assumed`."""
    text = piece.surroundings or UNSAID
    found = _temperature(text, piece, inputs, around.outdoor, [] if assumed is None else assumed)
    return Around(
        temperature=_usable(found, piece, inputs),
        pressure=around.pressure,
        wind=(inputs.job.site.wind or 0.0) if text == "outdoors" else 0.0,
    )


def _temperature(text: str, piece: Piece, inputs: Inputs, outside: float, assumed: list[Finding]) -> float:
    site = inputs.job.site
    if text == "outdoors":
        return outside
    if text == "heated space":
        if site.indoor is None:
            assumed.append(Finding("indoor-assumed", Where(), {"assumed": temperature(ASSUMED_ROOM)}))
        return ASSUMED_ROOM if site.indoor is None else site.indoor
    if text in ("attic", "crawlspace"):
        given = _space(site, text)
        if given is None:
            assumed.append(Finding("space-assumed", Where(), {"space": text, "assumed": temperature(outside)}))
        return outside if given is None else given
    return _typed_temperature(text, piece, inputs)


def _usable(temperature: float, piece: Piece, inputs: Inputs) -> float:
    if not COLDEST <= temperature <= HOTTEST:
        problem = f"the air around it would be at {show_temperature(temperature, System.SI)}"
        expected = f"between {show_temperature(COLDEST, System.SI)} and {show_temperature(HOTTEST, System.SI)}"
        raise InputError(Problem(inputs.file, f"{piece.place}, surroundings", problem, expected))
    return temperature


def _space(site: Site, text: str) -> float | None:
    return site.attic if text == "attic" else site.crawlspace


def _typed_temperature(text: str, piece: Piece, inputs: Inputs) -> float:
    try:
        return parse(text, Dimension.TEMPERATURE)
    except QuantityError:
        listed = ", ".join(f"'{word}'" for word in WORDS)
        expected = f"one of {listed}, or a temperature such as '40 degF'; {nearest(text, WORDS)}"
        problem = f"'{text:.40}' is not a place a pipe runs through"
        raise InputError(Problem(inputs.file, f"{piece.place}, surroundings", problem, expected)) from None
