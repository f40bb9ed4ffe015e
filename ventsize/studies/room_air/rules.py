"""The rules of room air as figures, read from a file that the user may replace. Each has its source and status."""

from __future__ import annotations

from dataclasses import fields
from pathlib import Path
from typing import Annotated, Literal

from ventsize.catalog.folders import shipped_table, user_tables_folder
from ventsize.catalog.properties import Source
from ventsize.jobfile.document import read_toml, record, validate
from ventsize.jobfile.field_types import (
    AirChanges,
    Expected,
    Fraction,
    PositiveArea,
    PositiveLength,
    PositivePower,
    PositiveVolume,
    VolumeFlow,
)
from ventsize.jobfile.problems import InputError, Problem

FILE_NAME = "room-air.toml"

Status = Annotated[Literal["published", "from memory"], Expected("'published' or 'from memory'")]


@record
class VolumeRule:
    """volume [m³] for each `per` [W]; not to be used where infiltration is known to be less [1/s]."""

    source: Source
    status: Status
    volume: PositiveVolume
    per: PositivePower
    least_infiltration: AirChanges


@record
class InfiltrationRule:
    """natural, fan: what each kind of draft asks [m³/s] for each `per` [W]; greatest: rate that may be used [1/s]."""

    source: Source
    status: Status
    natural: VolumeFlow
    fan: VolumeFlow
    per: PositivePower
    greatest: AirChanges


@record
class AreaRule:
    """Free area [m²] for each `per` [W], and no less than `least` [m²]."""

    source: Source
    status: Status
    area: PositiveArea
    per: PositivePower
    least: PositiveArea | None = None

    def needed(self, power: float, *, factor: float = 1.0) -> float:
        """The free area for this input [m²]; power: [W]; factor: share of it asked [-]."""
        return max(self.area * power / self.per * factor, self.least or 0.0)


@record
class Combination:
    """Whether openings outdoors may be reduced by what volume there is: it may."""

    source: Source
    status: Status


@record
class SupplyRule:
    """flow [m³/s] for each `per` [W]."""

    source: Source
    status: Status
    flow: VolumeFlow
    per: PositivePower


@record
class LouverRule:
    """The share of a louver that is free, where nobody says more [-]."""

    source: Source
    status: Status
    metal: Fraction
    wood: Fraction


@record
class DimensionRule:
    """The least width or height of an opening [m]."""

    source: Source
    status: Status
    least: PositiveLength


@record
class RoomRules:
    """All of them."""

    source: Source
    volume: VolumeRule
    infiltration: InfiltrationRule
    same_storey: AreaRule
    other_storey: AreaRule
    direct: AreaRule
    horizontal_duct: AreaRule
    single: AreaRule
    combination: Combination
    supply: SupplyRule
    louver: LouverRule
    dimension: DimensionRule

    def sources(self) -> tuple[tuple[str, str], ...]:
        """Source and status of each rule."""
        rules = (getattr(self, field.name) for field in fields(self))
        return tuple((rule.source, rule.status) for rule in rules if hasattr(rule, "status"))

    def standard_volume(self, power: float) -> float:
        """The volume the standard method asks [m³]; power: of all appliances [W]."""
        return self.volume.volume * power / self.volume.per

    def infiltration_volume(self, *, fan: float, natural: float, air_changes: float) -> float:
        """The volume asked where the air change rate is known [m³].

        fan, natural: input of the fan-assisted and of the other appliances [W]. air_changes: [1/s].
        """
        rule = self.infiltration
        flow = (rule.fan * fan + rule.natural * natural) / rule.per
        return flow / min(air_changes, rule.greatest)


def read_rules(path: Path | None = None) -> RoomRules:
    """The rules in a file; without one the user's own, or those shipped. Raises InputError with every fault."""
    if path is None:
        own = user_tables_folder() / FILE_NAME
        path = own if own.is_file() else shipped_table(FILE_NAME)
    rules = validate(read_toml(path), RoomRules, file=str(path))
    louver = rules.louver
    if not all(0 < share <= 1 for share in (louver.metal, louver.wood)):
        raise InputError(Problem(str(path), "louver", "a share is not between 0 and 1", "a share such as 0.75"))
    known = rules.infiltration
    for place, figure in (("natural", known.natural), ("fan", known.fan), ("greatest", known.greatest)):
        if figure <= 0:
            raise InputError(Problem(str(path), f"infiltration, {place}", "it is zero", "a figure above zero"))
    if rules.supply.flow <= 0:
        raise InputError(Problem(str(path), "supply, flow", "it is zero", "a figure above zero"))
    return rules
