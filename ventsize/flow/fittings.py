"""Local losses: the loss coefficient of a fitting, with the spread of the published methods around it.

The loss is K times the velocity pressure in the fitting's own pipe; for a change of size, in the smaller one.
It falls on total pressure. For a given gas and pipe it goes with K(Re) Re², which never falls as Re rises: the
flow that a longer vent gets is unique.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, NamedTuple

from ventsize.catalog.methods import METHODS
from ventsize.catalog.records import FittingRecord, Loss
from ventsize.flow.correlations import (
    CORRELATIONS,
    Correlation,
    Situation,
    laminar_contraction,
    laminar_expansion,
)
from ventsize.flow.friction import LAMINAR_LIMIT, SLOWEST, TURBULENT_LIMIT

Role = Literal["loss", "expanding", "contracting", "leaving", "entering"]

TESTED_ABOVE = 1e4  # Reynolds number; most tests on fittings were made above it
LAMINAR_ENERGY = 2.0  # kinetic energy of a parabolic stream over that of an even one

FEW_TESTS = "few-tests"  # the loss and its band are extrapolated from faster flow
LAMINAR = "laminar-fitting"  # losses are rough there, and lie anywhere in a wide band


class LocalLoss(NamedTuple):
    """A loss coefficient and where it comes from.

    k, k_low, k_high: nominal and band, on the velocity in the fitting's pipe, the smaller of two [-]
    method: the nominal method and its source, or the record's own source
    by_method: each method's name and coefficient, the nominal first [-]
    codes: of the findings about the method here
    """

    k: float
    k_low: float
    k_high: float
    method: str
    by_method: tuple[tuple[str, float], ...]
    codes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MethodLoss:
    """What one published method says of a fitting; `why_not` where it takes no part in the band.

    extrapolated: whether the flow is slower than its author states it for.
    """

    name: str
    source: str
    k: float
    nominal: bool
    in_spread: bool
    why_not: str
    extrapolated: bool


@lru_cache(maxsize=65536)
def local_loss(
    record: FittingRecord,
    *,
    bore: float,
    reynolds: float,
    friction_factor: float,
    roughness: float,
    plastic: bool,
    other_bore: float | None = None,
    gas_expands: bool | None = None,
    leaving: bool | None = None,
    with_spread: bool = True,
) -> LocalLoss:
    """The loss coefficient of a fitting.

    bore: inside diameter of the fitting's pipe, the smaller of the two at a change of size [m]
    reynolds, friction_factor: in `bore` [-]
    roughness: of the inside of `bore` [m]
    plastic: whether the pipe is plastic, and the fitting with it
    other_bore: the larger inside diameter at a change of size [m]
    gas_expands: at a change of size, whether the gas goes from the smaller into the larger
    leaving: at an open end, whether the gas leaves the pipe there
    with_spread: False leaves the other methods uncomputed, and the band at the nominal value

    Raises ValueError where the record needs what was not given.
    """
    at = _situation(record, bore, other_bore, reynolds, friction_factor, roughness)
    parts = [
        _part_loss(role, part, at, with_spread=with_spread)
        for role, part in losses_of(record, gas_expands, leaving, plastic)
    ]
    k = sum(part.k for part in parts)
    rest = k - parts[0].k
    return LocalLoss(
        k=k,
        k_low=sum(part.k_low for part in parts),
        k_high=sum(part.k_high for part in parts),
        method=_said(record, gas_expands, leaving, plastic),
        by_method=tuple((name, value + rest) for name, value in parts[0].by_method),
        codes=_codes(reynolds),
    )


def local_loss_methods(
    record: FittingRecord,
    *,
    bore: float,
    reynolds: float,
    friction_factor: float,
    roughness: float,
    plastic: bool,
    other_bore: float | None = None,
    gas_expands: bool | None = None,
    leaving: bool | None = None,
) -> tuple[MethodLoss, ...]:
    """Every published method for this fitting, slow ones and outliers too, the nominal first.

    Arguments as for `local_loss`. Empty where the record states a fixed coefficient.
    """
    _, loss = losses_of(record, gas_expands, leaving, plastic)[0]
    if loss.method is None:
        return ()
    at = _situation(record, bore, other_bore, reynolds, friction_factor, roughness)
    names = [loss.method, *loss.others]
    family = METHODS[loss.method].family
    for method in METHODS.values():
        needs = {"": 1.0, "usual": at.bend, "tight": at.tight_bend}[method.bend]
        if method.family == family and not method.in_spread and not math.isnan(needs):
            names.append(method.name)
    return tuple(
        MethodLoss(
            name=name,
            source=METHODS[name].source,
            k=CORRELATIONS[name](at),
            nominal=name == loss.method,
            in_spread=METHODS[name].in_spread,
            why_not=METHODS[name].why_not,
            extrapolated=reynolds < METHODS[name].least_reynolds,
        )
        for name in names
    )


def _situation(
    record: FittingRecord,
    bore: float,
    other_bore: float | None,
    reynolds: float,
    friction_factor: float,
    roughness: float,
) -> Situation:
    if not bore > 0:
        raise ValueError(f"bore {bore} is not a number above zero")
    if not reynolds >= 0:
        raise ValueError(f"Reynolds number {reynolds} is not a number of zero or more")
    if record.kind == "size change" and (other_bore is None or other_bore < bore):
        raise ValueError(f"{record.name}: a change of size needs the larger bore as other_bore")
    return Situation(
        bore=bore,
        other_bore=bore if other_bore is None else other_bore,
        angle=math.degrees(record.angle or 0.0),
        bend=math.nan if record.bend_diameters is None else record.bend_diameters,
        tight_bend=math.nan if record.tight_bend_diameters is None else record.tight_bend_diameters,
        reynolds=max(reynolds, SLOWEST),
        friction_factor=friction_factor,
        roughness=roughness,
    )


@lru_cache(maxsize=4096)
def losses_of(
    record: FittingRecord, gas_expands: bool | None, leaving: bool | None, plastic: bool
) -> tuple[tuple[Role, Loss], ...]:
    """The losses that add up to the fitting's, by the way the gas goes; one by method first."""
    loss, expanding, contracting = record.loss, record.expanding, record.contracting
    if plastic:
        loss = record.loss_in_plastic or loss
        expanding, contracting = record.expanding_in_plastic or expanding, record.contracting_in_plastic or contracting
    parts: list[tuple[Role, Loss | None]] = [("loss", loss)]
    if record.kind == "size change":
        if gas_expands is None:
            raise ValueError(f"{record.name}: a change of size needs gas_expands")
        parts.append(("expanding", expanding) if gas_expands else ("contracting", contracting))
    if record.kind in ("terminal", "entrance"):
        if leaving is None:
            raise ValueError(f"{record.name}: an open end needs leaving")
        parts.append(("leaving", record.leaving) if leaving else ("entering", record.entering))
    found = [(role, part) for role, part in parts if part is not None]
    if not found:
        raise ValueError(f"{record.name}: the record states no loss")
    return tuple(sorted(found, key=lambda part: part[1].method is None))


@lru_cache(maxsize=4096)
def _correlations(loss: Loss) -> tuple[tuple[str, Correlation], ...]:
    names = (loss.method, *loss.others)
    return tuple((name, CORRELATIONS[name]) for name in names if name is not None)


class _Part(NamedTuple):
    """The loss of one part of a fitting [-]."""

    k: float
    k_low: float
    k_high: float
    by_method: tuple[tuple[str, float], ...]


def _part_loss(role: Role, loss: Loss, at: Situation, *, with_spread: bool) -> _Part:
    by_method: tuple[tuple[str, float], ...]
    if loss.k is not None:
        low = loss.k if loss.k_low is None else loss.k_low
        high = loss.k if loss.k_high is None else loss.k_high
        k, by_method = loss.k, (("fixed", loss.k),)
    else:
        correlations = _correlations(loss) if with_spread else _correlations(loss)[:1]
        by_method = tuple((name, correlation(at)) for name, correlation in correlations)
        values = [value for _, value in by_method]
        k, low, high = values[0], min(values), max(values)
    if not with_spread:
        return _Part(k, k, k, by_method)
    return _Part(k, low, max(high, _laminar_high(role, k, at)), by_method)


def _laminar_high(role: Role, k: float, at: Situation) -> float:
    """What a laminar stream may bring the loss of an open end or a change of size to [-].

    Above Re 2040 it is let fade with Re², so that the upper loss stays level while the flow rises to where the
    other methods overtake it, and never falls.
    """
    reynolds = min(at.reynolds, LAMINAR_LIMIT)
    area_ratio = (at.bore / at.other_bore) ** 2
    if role == "leaving":
        laminar = k + LAMINAR_ENERGY - 1.0
    elif role == "expanding":
        laminar = laminar_expansion(area_ratio)
    elif role == "contracting":
        laminar = laminar_contraction(area_ratio, reynolds=reynolds)
    else:
        return k
    return laminar * (reynolds / at.reynolds) ** 2


@lru_cache(maxsize=4096)
def _said(record: FittingRecord, gas_expands: bool | None, leaving: bool | None, plastic: bool) -> str:
    name = losses_of(record, gas_expands, leaving, plastic)[0][1].method
    return f"fixed coefficient ({record.source})" if name is None else f"{name} ({METHODS[name].source})"


def _codes(reynolds: float) -> tuple[str, ...]:
    if reynolds >= TESTED_ABOVE:
        return ()
    return (FEW_TESTS,) if reynolds >= TURBULENT_LIMIT else (LAMINAR,)
