"""A finding: a code, the place it is about, and SI values. No words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from ventsize.finding.codes import Severity, severity_of
from ventsize.quantity import Dimension


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """The place a finding is about; None where a part does not apply.

    piece, row: counted from 1. way: the names of the runs of a way from an appliance to outdoors, appliance first.
    """

    appliance: str | None = None
    rate: str | None = None
    run: str | None = None
    way: tuple[str, ...] | None = None
    joint: str | None = None
    piece: int | None = None
    table: str | None = None
    row: int | None = None


@dataclass(frozen=True, slots=True)
class Amount:
    """A number in SI with its dimension, so that it can be shown in any system of units."""

    value: float
    dimension: Dimension


Value = Amount | float | str | tuple[str, ...]
"""An SI amount, a count or plain number, a name or what somebody typed, or several of these."""


@dataclass(frozen=True, slots=True)
class Finding:
    """Something to say beside a result.

    code: kebab-case, one of `finding.codes.CODES`; part of the JSON contract.
    values: by name; what the words and other programs need.
    """

    code: str
    where: Where = Where()
    values: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))

    @property
    def severity(self) -> Severity:
        """stop, doubt or note, by its code."""
        return severity_of(self.code)

    @property
    def key(self) -> tuple[object, ...]:
        """What makes it the same finding: code, place and values, hashable."""
        return (self.code, self.where, tuple(sorted(self.values.items(), key=lambda item: item[0])))

    def __hash__(self) -> int:
        return hash(self.key)


def length(value: float) -> Amount:
    """A length [m]."""
    return Amount(value, Dimension.LENGTH)


def pressure(value: float) -> Amount:
    """A pressure [Pa]."""
    return Amount(value, Dimension.PRESSURE)


def power(value: float) -> Amount:
    """A power [W]."""
    return Amount(value, Dimension.POWER)


def temperature(value: float) -> Amount:
    """A temperature [K]."""
    return Amount(value, Dimension.TEMPERATURE)


def difference(value: float) -> Amount:
    """A difference of temperature [K]."""
    return Amount(value, Dimension.TEMPERATURE_DIFFERENCE)


def velocity(value: float) -> Amount:
    """A velocity [m/s]."""
    return Amount(value, Dimension.VELOCITY)


def angle(value: float) -> Amount:
    """An angle [rad]."""
    return Amount(value, Dimension.ANGLE)


def share(value: float) -> Amount:
    """A share or any other plain ratio [-]."""
    return Amount(value, Dimension.FRACTION)
