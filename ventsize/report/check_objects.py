"""The shapes of a check's JSON: `check_json` fills them, `ventsize schema result` describes them."""

from __future__ import annotations

from typing import TypedDict

from ventsize.finding import Verdict
from ventsize.jobfile.job import Carries
from ventsize.report.findings_json import ConditionObject, FindingObject


class ApplianceRateObject(TypedDict):
    """What burns and what leaves at one firing rate; input_W as on the plate."""

    name: str
    input_W: float
    gross_input_W: float
    excess_air: float
    oxygen_dry: float
    carbon_dioxide_dry: float
    fuel_mass_flow_kg_s: float
    air_mass_flow_kg_s: float
    flue_mass_flow_kg_s: float
    flue_temperature_K: float
    dew_point_K: float
    condensate_kg_s: float


class ApplianceObject(TypedDict):
    """An appliance."""

    name: str
    rates: list[ApplianceRateObject]


class DeductionObject(TypedDict):
    """What the table charges for a kind of fitting."""

    fitting: str
    count: int
    each_m: float
    total_m: float
    by: str


class TableObject(TypedDict):
    """The answer by the table; null for a run that no table judges."""

    file: str | None
    row_input_W: float | None
    row_size: str | None
    equivalent_length_m: float | None
    allowable_length_m: float | None
    minimum_length_m: float | None
    used: float | None
    reason: str
    verdict: Verdict
    elbows: int | None
    deductions: list[DeductionObject]


class PieceObject(TypedDict):
    """A piece or a junction; k_from: how its loss is known."""

    name: str
    size: str
    length_m: float
    velocity_m_s: float
    reynolds: float
    regime: str
    friction_factor: float
    k: float
    k_low: float
    k_high: float
    k_from: str
    pressure_drop_Pa: float
    draft_Pa: float
    equivalent_length_m: float | None
    implied: bool


class PointObject(TypedDict):
    """The gas and the wall at a place along a run."""

    distance_m: float
    piece: int
    temperature_K: float
    inside_wall_K: float
    outside_surface_K: float
    surroundings_K: float
    condensate_kg_s: float


class CoolingObject(TypedDict, total=False):
    """What a run gives off on its way; keys there are only where the gas is figured as cooling."""

    outlet_temperature_K: float
    heat_loss_W: float
    condensate_kg_s: float
    inside_films: list[str]
    along: list[PointObject]
    piece_temperatures_K: list[float]
    piece_condensate_kg_s: list[float]
    piece_heat_loss_W: list[float]


class RunRateObject(CoolingObject):
    """A run at one firing rate, or at a named combination of rates."""

    name: str
    settled: bool
    mass_flow_kg_s: float
    temperature_K: float
    density_kg_m3: float
    viscosity_Pa_s: float
    pressure_drop_Pa: float
    pressure_drop_low_Pa: float
    pressure_drop_high_Pa: float
    draft_Pa: float
    counted_pressure_Pa: float
    static_pressure_at_appliance_Pa: float | None
    static_pressure_to_room_Pa: float | None
    equivalent_length_m: float | None
    equivalent_length_low_m: float | None
    equivalent_length_high_m: float | None
    allowance_pressure_Pa: float | None
    budget_pressure_Pa: float | None
    within_allowance_pressure: bool | None
    pieces: list[PieceObject]


class RunObject(TypedDict):
    """A run: by the table, and by calculation at each rate."""

    name: str
    carries: Carries
    verdict: Verdict
    reason: str
    difference: str
    straight_length_m: float
    input_W: float
    table: TableObject | None
    reference_size: str
    worst_rate: str
    rates: list[RunRateObject]


class IdleCollarObject(TypedDict):
    """An appliance that is off while others on its vent fire."""

    appliance: str
    run: str
    rate: str
    static_pressure_Pa: float
    static_pressure_without_draft_Pa: float


class CommonVentObject(TypedDict):
    """A run that several appliances share."""

    run: str
    serves: list[str]
    worst_rate: str
    highest_static_pressure_without_draft_Pa: float
    under_pressure: bool


class CheckObject(TypedDict):
    """The whole answer for a job."""

    version: int
    job: str
    verdict: Verdict
    reason: str
    cooling: bool
    cautions: list[str]
    conditions: list[ConditionObject]
    findings: list[FindingObject]
    appliances: list[ApplianceObject]
    runs: list[RunObject]
    idle_collars: list[IdleCollarObject]
    common_vents: list[CommonVentObject]
