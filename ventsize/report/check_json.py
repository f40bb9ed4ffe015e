"""A check as JSON: SI values, keys that end in their unit. The keys are a contract: added to, never renamed."""

from __future__ import annotations

from ventsize.check.appliances import ApplianceGas, RateGas
from ventsize.check.collars import common_vents, idle_collars
from ventsize.check.rate import RunRate
from ventsize.check.result import JobCheck, RunCheck
from ventsize.flow.meeting import LegLoss
from ventsize.flow.pieces import PieceFlow
from ventsize.flow.rate_flow import RunFlow
from ventsize.quantity import System
from ventsize.report.check_objects import (
    ApplianceObject,
    ApplianceRateObject,
    CheckObject,
    CoolingObject,
    PieceObject,
    RunObject,
    RunRateObject,
    TableObject,
)
from ventsize.report.findings_json import conditions_as_objects, findings_as_objects
from ventsize.report.wording import cautions_of, reason, say

VERSION = 2
"""Of this object: 2 has `conditions` and `findings`; what changed in each stands in DEVELOPERS.md."""


def as_object(check: JobCheck, system: System = System.US) -> CheckObject:
    """The whole answer for a job; system: of units, for the texts."""
    return {
        "version": VERSION,
        "job": check.title,
        "verdict": check.verdict,
        "reason": reason(check.decides, system),
        "cooling": check.cooling,
        "cautions": list(cautions_of(check, system)),
        "conditions": conditions_as_objects(check.conditions, system),
        "findings": findings_as_objects(check.findings, system),
        "appliances": [_appliance(appliance) for appliance in check.appliances],
        "runs": [_run(run, system) for run in check.runs],
        "idle_collars": [
            {
                "appliance": collar.appliance,
                "run": collar.run,
                "rate": collar.rate,
                "static_pressure_Pa": collar.pressure,
                "static_pressure_without_draft_Pa": collar.without_draft,
            }
            for collar in idle_collars(check.runs)
        ],
        "common_vents": [
            {
                "run": vent.run,
                "serves": list(vent.serves),
                "worst_rate": vent.rate,
                "highest_static_pressure_without_draft_Pa": vent.pressure,
                "under_pressure": vent.positive,
            }
            for vent in common_vents(check.runs)
        ],
    }


def _appliance(appliance: ApplianceGas) -> ApplianceObject:
    return {"name": appliance.name, "rates": [_appliance_rate(rate) for rate in appliance.rates]}


def _appliance_rate(rate: RateGas) -> ApplianceRateObject:
    gas = rate.gas
    return {
        "name": rate.name,
        "input_W": rate.plate,
        "gross_input_W": gas.input,
        "excess_air": gas.excess_air,
        "oxygen_dry": gas.oxygen_dry,
        "carbon_dioxide_dry": gas.carbon_dioxide_dry,
        "fuel_mass_flow_kg_s": gas.fuel_mass_flow,
        "air_mass_flow_kg_s": gas.air_mass_flow,
        "flue_mass_flow_kg_s": gas.flue_mass_flow,
        "flue_temperature_K": gas.temperature,
        "dew_point_K": gas.dew_point,
        "condensate_kg_s": gas.condensate,
    }


def _run(check: RunCheck, system: System) -> RunObject:
    return {
        "name": check.run.name,
        "carries": check.run.carries,
        "verdict": check.verdict,
        "reason": reason(check.decides, system, with_run=False),
        "difference": "" if check.difference is None else say(check.difference, system, place=False),
        "straight_length_m": check.run.straight_length,
        "input_W": check.input,
        "table": _table(check, system),
        "reference_size": check.reference_section.label,
        "worst_rate": check.worst.name,
        "rates": [_run_rate(rate) for rate in check.rates],
    }


def _table(check: RunCheck, system: System) -> TableObject | None:
    answer = check.table
    if answer is None:
        return None
    return {
        "file": check.table_file,
        "row_input_W": answer.row_input,
        "row_size": answer.row_size,
        "equivalent_length_m": answer.equivalent_length,
        "allowable_length_m": answer.allowable_length,
        "minimum_length_m": answer.minimum_length,
        "used": answer.used,
        "reason": reason(answer.decides, system, with_run=False),
        "verdict": answer.verdict,
        "elbows": answer.elbows,
        "deductions": [
            {
                "fitting": line.fitting,
                "count": line.count,
                "each_m": line.each,
                "total_m": line.total,
                "by": line.origin,
            }
            for line in answer.deductions
        ],
    }


def _run_rate(rate: RunRate) -> RunRateObject:
    flow = rate.flow
    return {
        "name": rate.name,
        "settled": flow.settled,
        "mass_flow_kg_s": flow.stream.mass_flow,
        "temperature_K": flow.stream.temperature,
        "density_kg_m3": flow.stream.density,
        "viscosity_Pa_s": flow.stream.viscosity,
        "pressure_drop_Pa": flow.pressure_drop,
        "pressure_drop_low_Pa": flow.pressure_drop_low,
        "pressure_drop_high_Pa": flow.pressure_drop_high,
        "draft_Pa": flow.draft,
        "counted_pressure_Pa": rate.counted_pressure,
        "static_pressure_at_appliance_Pa": rate.static_pressure_at_appliance,
        "static_pressure_to_room_Pa": rate.static_pressure_to_room,
        "equivalent_length_m": rate.equivalent_length,
        "equivalent_length_low_m": rate.equivalent_length_low,
        "equivalent_length_high_m": rate.equivalent_length_high,
        "allowance_pressure_Pa": rate.allowance_pressure,
        "budget_pressure_Pa": rate.budget_pressure,
        "within_allowance_pressure": rate.within_allowance,
        **_cooling(flow),
        "pieces": [
            *(_piece(piece, length) for piece, length in zip(flow.pieces, rate.piece_lengths, strict=True)),
            *(_junction(j, length) for j, length in zip(flow.junctions, rate.junction_lengths, strict=True)),
        ],
    }


def _cooling(flow: RunFlow) -> CoolingObject:
    cooling = flow.cooling
    if cooling is None:
        return {}
    return {
        "outlet_temperature_K": cooling.outlet.temperature,
        "heat_loss_W": cooling.heat,
        "condensate_kg_s": cooling.condensate,
        "inside_films": list(cooling.films),
        "along": [
            {
                "distance_m": point.distance,
                "piece": point.piece,
                "temperature_K": point.temperature,
                "inside_wall_K": point.inside_wall,
                "outside_surface_K": point.outside_surface,
                "surroundings_K": point.surroundings,
                "condensate_kg_s": point.condensate,
            }
            for point in cooling.points
        ],
        "piece_temperatures_K": [stream.temperature for stream in cooling.streams],
        "piece_condensate_kg_s": list(cooling.piece_condensate),
        "piece_heat_loss_W": list(cooling.piece_heat),
    }


def _piece(flow: PieceFlow, equivalent_length: float | None) -> PieceObject:
    return {
        "name": flow.piece.name,
        "size": flow.piece.section.label,
        "length_m": flow.piece.length,
        "velocity_m_s": flow.at.velocity,
        "reynolds": flow.at.reynolds,
        "regime": flow.at.regime,
        "friction_factor": flow.at.friction_factor,
        "k": flow.k,
        "k_low": flow.k_low,
        "k_high": flow.k_high,
        "k_from": flow.method,
        "pressure_drop_Pa": flow.pressure_drop,
        "draft_Pa": flow.draft,
        "equivalent_length_m": equivalent_length,
        "implied": flow.piece.implied,
    }


def _junction(loss: LegLoss, equivalent_length: float | None) -> PieceObject:
    return {
        "name": f"{loss.fitting} '{loss.joint}'",
        "size": loss.section.label,
        "length_m": 0.0,
        "velocity_m_s": loss.at.velocity,
        "reynolds": loss.at.reynolds,
        "regime": loss.at.regime,
        "friction_factor": loss.at.friction_factor,
        "k": loss.k,
        "k_low": loss.k,
        "k_high": loss.k,
        "k_from": loss.method,
        "pressure_drop_Pa": loss.pressure_drop,
        "draft_Pa": 0.0,
        "equivalent_length_m": equivalent_length,
        "implied": False,
    }
