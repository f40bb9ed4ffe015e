"""What the catalog holds: pipes, fittings and fuels, each with its source. All in SI."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

NOMINAL_TOLERANCE = 1e-5  # m; nominal sizes alike to this are one size, so that "1.5 in" is "1 1/2 in"

Matter = Literal["plastic", "metal"]
FittingKind = Literal["elbow", "tee", "size change", "coupling", "terminal", "entrance", "other"]


def same_size(one: float, other: float) -> bool:
    """Whether two nominal sizes [m] are one size, whichever unit each was typed in."""
    return abs(one - other) <= NOMINAL_TOLERANCE


def larger_size(one: float, other: float) -> bool:
    """Whether a nominal size [m] is larger than another."""
    return one > other + NOMINAL_TOLERANCE


@dataclass(frozen=True, slots=True, kw_only=True)
class PipeSize:
    """One size of a pipe: nominal, outside, wall, bore [m]; label as the trade writes it.

    bore_least, bore_most: between which the bore may lie, by the standard the pipe is made to [m].
    """

    nominal: float
    label: str
    outside: float
    wall: float
    bore: float
    bore_least: float
    bore_most: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PipeRecord:
    """A material in its sizes, smallest first.

    made_of: plastic or metal, which decides how a fitting in it is made.
    roughness: equivalent sand roughness of the inside, the one taken, and the least and the most it may be [m].
    conductivity: of the wall [W/m/K]; expansion: linear [1/K]; None where the record does not say.
    temperature_limit: of the gas inside in lasting service [K]; None where the record does not say.
    joined_by: how lengths are joined, in trade words.
    """

    name: str
    title: str
    source: str
    sizes: tuple[PipeSize, ...]
    roughness: float
    roughness_least: float
    roughness_most: float
    made_of: Matter = "plastic"
    conductivity: float | None = None
    expansion: float | None = None
    temperature_limit: float | None = None
    flexible: bool = False
    joined_by: str = ""

    def size(self, nominal: float) -> PipeSize | None:
        """The size of this nominal diameter [m], or None where the material has no such size."""
        for size in self.sizes:
            if same_size(size.nominal, nominal):
                return size
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """How a fitting's loss coefficient is had: by a named method, or fixed.

    method: the nominal one, a name of `ventsize.catalog.methods.METHODS`; others: those that spread the band.
    k, k_low, k_high: a fixed coefficient and its band [-].
    """

    method: str | None = None
    others: tuple[str, ...] = ()
    k: float | None = None
    k_low: float | None = None
    k_high: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingRecord:
    """A fitting: its geometry, and how its loss follows from it.

    angle: how far it turns the gas [rad], None where it does not.
    bend_diameters, tight_bend_diameters: centre-line radius over bore, the usual one and the shortest sold
        under this name [-].
    loss: of what the gas passes through; expanding, contracting: of a change of size, by the way the gas goes;
    leaving, entering: of an open end, by the way the gas goes, on top of `loss`.
    branch_angle: of the branch where runs meet in it [rad], None where it joins no runs.
    becomes: which way a change of size goes, walking the run as listed; None for either.
    loss_in_plastic, expanding_in_plastic, contracting_in_plastic: in plastic pipe, where its fittings are known to
        differ; None where `loss`, `expanding` or `contracting` holds there too.
    hard: whether it turns the gas at a sharp edge, so that two of them close together may lose more than their sum.
    """

    name: str
    title: str
    source: str
    kind: FittingKind
    angle: float | None = None
    bend_diameters: float | None = None
    tight_bend_diameters: float | None = None
    loss: Loss | None = None
    expanding: Loss | None = None
    contracting: Loss | None = None
    leaving: Loss | None = None
    entering: Loss | None = None
    branch_angle: float | None = None
    becomes: Literal["larger", "smaller"] | None = None
    loss_in_plastic: Loss | None = None
    expanding_in_plastic: Loss | None = None
    contracting_in_plastic: Loss | None = None
    hard: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class FuelRecord:
    """A fuel: mole fractions of gases by name, adding up to one [-]."""

    name: str
    title: str
    source: str
    mole_fractions: Mapping[str, float] = field(hash=False)
