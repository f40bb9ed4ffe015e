"""[[fitting]] records: what a table file holds, checked and made into `FittingRecord`."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Annotated, Literal

from ventsize.catalog.methods import METHODS, Use
from ventsize.catalog.properties import Fault, Source, Written
from ventsize.catalog.records import FittingKind, FittingRecord, Loss
from ventsize.jobfile.document import nearest, record
from ventsize.jobfile.field_types import Angle, Expected, NotNegativeNumber, PositiveNumber

TIGHTEST = 0.5  # centre-line radius over bore at which the inner edge is sharp; methods end there
WIDEST = 10.0
ANGLE_TOLERANCE = 1.0  # degrees; an elbow of 89 is still a 90

_LOSS = "{ method = '…', others = ['…'] } or { k = 0.9, k_low = 0.6, k_high = 1.2 }"


@record
class LossEntry:
    """A loss as typed: a method and the others that spread the band, or a fixed k and its band."""

    method: Written | None = None
    others: tuple[Written, ...] = ()
    k: NotNegativeNumber | None = None
    k_low: NotNegativeNumber | None = None
    k_high: NotNegativeNumber | None = None


OptionalLoss = Annotated[LossEntry | None, Expected(_LOSS)]


@record
class FittingEntry:
    """A [[fitting]] as typed."""

    name: Written
    source: Source
    title: Written | None = None
    kind: Annotated[FittingKind, Expected("elbow, tee, size change, coupling, terminal, entrance or other")] = "other"
    angle: Angle | None = None
    bend_diameters: PositiveNumber | None = None
    tight_bend_diameters: PositiveNumber | None = None
    loss: OptionalLoss = None
    expanding: OptionalLoss = None
    contracting: OptionalLoss = None
    leaving: OptionalLoss = None
    entering: OptionalLoss = None
    branch_angle: Angle | None = None
    becomes: Literal["larger", "smaller"] | None = None
    loss_in_plastic: OptionalLoss = None
    expanding_in_plastic: OptionalLoss = None
    contracting_in_plastic: OptionalLoss = None
    hard: bool = False


_USES: dict[str, Use] = {
    "loss": "turn",
    "expanding": "expansion",
    "contracting": "contraction",
    "leaving": "turn",
    "entering": "turn",
    "loss_in_plastic": "turn",
    "expanding_in_plastic": "expansion",
    "contracting_in_plastic": "contraction",
}


def fitting_faults(entry: FittingEntry) -> Iterator[Fault]:
    """What cannot be in a [[fitting]] though each value by itself could."""
    yield from _geometry_faults(entry)
    for key in _needed(entry):
        if getattr(entry, key) is None:
            yield "", f"the key '{key}' is missing, which the kind '{entry.kind}' needs", _LOSS
    for key, use in _USES.items():
        loss: LossEntry | None = getattr(entry, key)
        if loss is not None:
            for place, problem, expected in _loss_faults(loss, entry, use):
                yield ", ".join(part for part in (key, place) if part), problem, expected


def _geometry_faults(entry: FittingEntry) -> Iterator[Fault]:
    if entry.kind == "elbow" and not entry.angle:
        yield "", "the key 'angle' is missing or zero, which the kind 'elbow' needs", "an angle such as '90 deg'"
    if entry.kind in ("coupling", "size change") and entry.angle:
        yield "angle", f"a {entry.kind} does not turn the gas", "kind = 'elbow', or no angle"
    for key in ("angle", "branch_angle"):
        angle = getattr(entry, key)
        if angle is not None and angle > math.pi + 1e-9:
            yield key, "it turns more than 180 degrees", "an angle up to 180 deg"
    for key in ("bend_diameters", "tight_bend_diameters"):
        bend = getattr(entry, key)
        if bend is not None and not TIGHTEST <= bend <= WIDEST:
            yield key, f"{bend:g} is outside the published range", f"{TIGHTEST:g} to {WIDEST:g}"


def _needed(entry: FittingEntry) -> tuple[str, ...]:
    if entry.kind == "size change":
        return ("expanding", "contracting")
    if entry.kind in ("terminal", "entrance"):
        return ("leaving", "entering")
    return ("loss",)


def _loss_faults(loss: LossEntry, entry: FittingEntry, use: Use) -> Iterator[Fault]:
    if (loss.method is None) == (loss.k is None):
        yield "", "it says neither or both of 'method' and 'k'", _LOSS
        return
    if loss.method is None:
        k_low, k, k_high = (loss.k if v is None else v for v in (loss.k_low, loss.k, loss.k_high))
        if loss.others:
            yield "others", "a fixed k has no other methods", "k_low and k_high"
        if k is not None and k_low is not None and k_high is not None and not k_low <= k <= k_high:
            yield "", f"k_low {k_low:g}, k {k:g} and k_high {k_high:g} are not in order", "k_low <= k <= k_high"
        return
    if loss.k_low is not None or loss.k_high is not None:
        yield "", "a loss by method takes its band from 'others'", "no k_low or k_high"
    for name in (loss.method, *loss.others):
        fault = _method_fault(name, entry, use)
        if fault:
            yield ("method" if name == loss.method else "others"), *fault


def _method_fault(name: str, entry: FittingEntry, use: Use) -> tuple[str, str] | None:
    method = METHODS.get(name)
    if method is None:
        return f"unknown method '{name:.60}'", nearest(name, METHODS)
    if method.use != use:
        return f"method '{name}' is for another use ({method.use})", f"a method for {use}"
    if not method.in_spread:
        return f"method '{name}' is not for results: {method.why_not}", "another method"
    degrees = math.degrees(entry.angle or 0.0)
    if method.angle is not None and abs(degrees - method.angle) > ANGLE_TOLERANCE:
        return f"method '{name}' is for {method.angle:g} degrees, not {degrees:g}", "another method"
    if method.bend == "usual" and entry.bend_diameters is None:
        return f"method '{name}' needs the key 'bend_diameters'", "radius over bore, such as 1.5"
    if method.bend == "tight" and entry.tight_bend_diameters is None:
        return f"method '{name}' needs the key 'tight_bend_diameters'", "radius over bore, such as 0.65"
    return None


def fitting_record(entry: FittingEntry) -> FittingRecord:
    """The record of a [[fitting]] without faults."""
    return FittingRecord(
        name=entry.name,
        title=entry.title or entry.name,
        source=entry.source,
        kind=entry.kind,
        angle=entry.angle,
        bend_diameters=entry.bend_diameters,
        tight_bend_diameters=entry.tight_bend_diameters,
        loss=_loss(entry.loss),
        expanding=_loss(entry.expanding),
        contracting=_loss(entry.contracting),
        leaving=_loss(entry.leaving),
        entering=_loss(entry.entering),
        branch_angle=entry.branch_angle,
        becomes=entry.becomes,
        loss_in_plastic=_loss(entry.loss_in_plastic),
        expanding_in_plastic=_loss(entry.expanding_in_plastic),
        contracting_in_plastic=_loss(entry.contracting_in_plastic),
        hard=entry.hard,
    )


def _loss(loss: LossEntry | None) -> Loss | None:
    if loss is None:
        return None
    if loss.k is None:
        return Loss(method=loss.method, others=loss.others)
    return Loss(
        k=loss.k,
        k_low=loss.k if loss.k_low is None else loss.k_low,
        k_high=loss.k if loss.k_high is None else loss.k_high,
    )
