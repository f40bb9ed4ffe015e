"""What the rows of an allowance table amount to as pressure, for an appliance of the usual kind.

Rows of one table are compared with one another, so that it matters little which gas is taken: it is flue gas of
natural gas with 35 % excess air at 110 degF (common practice for a condensing appliance, no source), in the first
material of the catalog that has the row's size.
"""

from __future__ import annotations

from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.plausibility import RowPressure, implied_pressures, order_remarks, unknown_fittings
from ventsize.catalog.library import Catalog
from ventsize.flow.pieces import section_flow
from ventsize.flow.stream import Stream
from ventsize.gas.atmosphere import ambient_pressure
from ventsize.gas.flue import flue_gas
from ventsize.gas.mixture import humid_air
from ventsize.run.model import Section

FUEL, EXCESS_AIR, FLUE_TEMPERATURE, AIR_TEMPERATURE = "natural gas", 0.35, 316.5, 288.15  # [-], [K], [K]


def row_pressures(table: AllowanceTable, catalog: Catalog) -> tuple[RowPressure, ...]:
    """Each row's allowance as pressure [Pa], with a remark on rows far from the others.

    Rows of a size that no material of the catalog has are left out.
    """

    def pressure_of(*, input: float, size: float, altitude: float, length: float) -> float:
        sizes = ((pipe, found) for pipe in catalog.pipes.values() if (found := pipe.size(size)))
        pipe, found = next(sizes, (None, None))
        if pipe is None or found is None:
            return 0.0
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
        return section_flow(Section(material=pipe, size=found), stream).gradient * length

    return implied_pressures(table, pressure_of)


def remarks(table: AllowanceTable, catalog: Catalog) -> tuple[str, ...]:
    """Everything worth a second look in a table, the likeliest typing mistakes first."""
    standing_out = tuple(row.remark for row in row_pressures(table, catalog) if row.remark)
    return (*standing_out, *order_remarks(table), *unknown_fittings(table, catalog.fittings))
