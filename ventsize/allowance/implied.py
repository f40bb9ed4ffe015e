"""What an allowance table amounts to by calculation, for an appliance of the usual kind.

Rows as pressure: they are compared with one another, so that it matters little which gas is taken. Deductions as the
straight pipe that loses as much as the fitting does. The gas is flue gas of natural gas with 35 % excess air at
110 degF (common practice for a condensing appliance, no source), in the first material of the catalog that has the
row's size.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from ventsize.allowance.deduction_remarks import DeductionRemark, deduction_remarks
from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.plausibility import RowPressure, implied_pressures
from ventsize.catalog.library import Catalog
from ventsize.flow.fittings import local_loss
from ventsize.flow.pieces import SectionFlow, section_flow
from ventsize.flow.stream import Stream
from ventsize.gas.atmosphere import ambient_pressure
from ventsize.gas.flue import flue_gas
from ventsize.gas.mixture import humid_air
from ventsize.quantity import System
from ventsize.run.model import Section

FUEL, EXCESS_AIR, FLUE_TEMPERATURE, AIR_TEMPERATURE = "natural gas", 0.35, 316.5, 288.15  # [-], [K], [K]

IN_THE_RUN = frozenset({"elbow", "tee"})
"""Kinds of fitting whose whole loss stands in the deduction. What an end or a change of size costs may be in the
allowance itself, or hangs on the other size."""


def row_pressures(table: AllowanceTable, catalog: Catalog) -> tuple[RowPressure, ...]:
    """Each row's allowance as pressure [Pa], with a remark on rows far from the others.

    Rows of a size that no material of the catalog has are left out.
    """
    flow = _usual_flow(catalog)

    def pressure_of(*, input: float, size: float, altitude: float, length: float) -> float:
        found = flow(input, size, altitude)
        return found[1].gradient * length if found else 0.0

    return implied_pressures(table, pressure_of)


def remarks_on_deductions(
    table: AllowanceTable, catalog: Catalog, system: System = System.US
) -> tuple[DeductionRemark, ...]:
    """Deductions worth a second look, by their order and by what the calculation gives at the rows' inputs.

    system: of units, for the sentences
    """
    flow = _usual_flow(catalog)

    def equivalent_length(name: str, size: float) -> tuple[float, float] | None:
        record = catalog.fittings.get(name)
        if record is None or record.kind not in IN_THE_RUN:
            return None
        lengths: list[float] = []
        for row in table.rows_of_size(size):
            try:
                found = flow(row.input, row.size, row.altitude[1])
                if found is None:
                    return None
                section, at = found
                loss = local_loss(
                    record, bore=section.bore, reynolds=at.reynolds, friction_factor=at.friction_factor,
                    roughness=section.roughness, plastic=section.plastic,
                )  # fmt: skip
            except (ValueError, ArithmeticError):  # what is wrong with the row is said of the row
                continue
            lengths += [k * section.bore / at.friction_factor for k in (loss.k_low, loss.k_high)]
        return (min(lengths), max(lengths)) if lengths else None

    return deduction_remarks(table, equivalent_length, system)


def _usual_flow(catalog: Catalog) -> Callable[[float, float, float], tuple[Section, SectionFlow] | None]:
    """What flows at an input [W] in a nominal size [m] at an altitude [m]; None where no material has the size."""

    @lru_cache(maxsize=256)
    def flow(input: float, size: float, altitude: float) -> tuple[Section, SectionFlow] | None:
        sizes = ((pipe, found) for pipe in catalog.pipes.values() if (found := pipe.size(size)))
        pipe, found = next(sizes, (None, None))
        if pipe is None or found is None:
            return None
        pressure = ambient_pressure(altitude=altitude)
        gas = flue_gas(
            mole_fractions=catalog.fuels[FUEL].mole_fractions,
            input=input,
            excess_air=EXCESS_AIR,
            flue_temperature=FLUE_TEMPERATURE,
            pressure=pressure,
            air=humid_air(relative_humidity=0.0, temperature=AIR_TEMPERATURE, pressure=pressure),
        )
        stream = Stream(
            mass_flow=gas.flue_mass_flow, mixture=gas.mixture, temperature=gas.temperature, pressure=pressure
        )
        section = Section(material=pipe, size=found)
        return section, section_flow(section, stream)

    return flow
