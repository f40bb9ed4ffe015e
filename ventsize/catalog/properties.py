"""Field types of table files beyond those of a job: material properties, sizes as labelled, sources."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, PlainValidator

from ventsize.jobfile.field_types import TEXT, Expected, Positive, read_quantity
from ventsize.quantity import Dimension, Unusable

Fault = tuple[str, str, str]  # place, problem, expected


@dataclass(frozen=True, slots=True)
class Nominal:
    """A nominal size: length [m], and the label it was typed as."""

    length: float
    label: str


def _reader(dimension: Dimension) -> Callable[[Any], float]:
    return lambda value: read_quantity(value, dimension)


def _nominal(value: Any) -> Nominal:
    if isinstance(value, Nominal):
        return value
    length = read_quantity(value, Dimension.LENGTH)
    if length <= 0:
        raise Unusable("it must be more than zero")
    return Nominal(length, " ".join(value.split()))


def _written(value: str) -> str:
    if not value.strip():
        raise Unusable("it is empty", "text that says something")
    return " ".join(value.split())


Conductivity = Annotated[
    float,
    BeforeValidator(_reader(Dimension.CONDUCTIVITY)),
    Positive,
    Expected("a conductivity such as '0.16 W/(m K)'", TEXT),
]
Expansion = Annotated[
    float,
    BeforeValidator(_reader(Dimension.EXPANSION)),
    Positive,
    Expected("an expansion such as '5.4e-5 1/K'", TEXT),
]
NominalSize = Annotated[Nominal, PlainValidator(_nominal), Expected("a nominal size such as '3 in' or '80 mm'", TEXT)]
Written = Annotated[str, AfterValidator(_written), Expected("text in quotes")]
Source = Annotated[
    str,
    AfterValidator(_written),
    Expected("where the record comes from, or source = 'common practice'"),
]
