"""What an allowance table amounts to by calculation, for an appliance of the usual kind.

Rows as pressure: they are compared with one another, so that it matters little which gas is taken. Deductions as the
straight pipe that loses as much as the fitting does. The gas is flue gas of natural gas with 35 % excess air at
110 degF (common practice for a condensing appliance, no source), in the first material of the catalog that has the
row's size.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from ventsize.allowance.budget import Losses, RowPressure, implied_pressures
from ventsize.allowance.deduction_remarks import deduction_doubts
from ventsize.allowance.model import AllowanceTable
from ventsize.catalog.library import Catalog
from ventsize.finding import Finding
from ventsize.flow.fittings import local_loss
from ventsize.flow.pieces import SectionFlow, section_flow
from ventsize.flow.stream import Stream, flue_stream
from ventsize.gas.atmosphere import ambient_pressure
from ventsize.gas.flue import flue_gas
from ventsize.run.model import Section

FUEL, EXCESS_AIR, FLUE_TEMPERATURE = "natural gas", 0.35, 316.5  # [-], [K]
ELBOW = "elbow-90-long"  # that an allowance includes, where the page does not say which
OPEN_END = 1.0  # velocity heads that leave with the gas
MOST_FLOWS = 6  # at which a deduction is held against the calculation: the rows' inputs, least to most

IN_THE_RUN = frozenset({"elbow", "tee"})
"""Kinds of fitting whose whole loss stands in the deduction. What an end or a change of size costs may be in the
allowance itself, or hangs on the other size."""


def row_pressures(table: AllowanceTable, catalog: Catalog) -> tuple[RowPressure, ...]:
    """Each row's allowance as pressure [Pa], with doubts on rows far from the others.

    Rows of a size that no material of the catalog has are left out.
    """
    usual = _Usual(catalog)

    def losses_of(*, input: float, size: float, altitude: float) -> Losses | None:
        found = usual.flow(input, size, altitude)
        if found is None:
            return None
        section, at = found
        return Losses(at.gradient, usual.elbow(section, at) * at.dynamic_pressure, OPEN_END * at.dynamic_pressure)

    return implied_pressures(table, losses_of)


def doubts_on_deductions(table: AllowanceTable, catalog: Catalog) -> Iterator[Finding]:
    """Deductions worth a second look, by their order and by what the calculation gives at the rows' inputs."""
    usual = _Usual(catalog)

    @lru_cache(maxsize=64)
    def flows(size: float) -> list[tuple[Section, SectionFlow]]:
        cases = sorted({(row.input, row.size, row.highest_altitude) for row in table.rows_of_size(size)})
        found = []
        for case in (cases[place] for place in few_of(len(cases))):
            try:
                flow = usual.flow(*case)
            except (ValueError, ArithmeticError):  # what is wrong with the row is said of the row
                continue
            if flow is not None:
                found.append(flow)
        return found

    def equivalent_length(name: str, size: float) -> tuple[float, float] | None:
        record = catalog.fittings.get(name)
        if record is None or record.kind not in IN_THE_RUN:
            return None
        lengths: list[float] = []
        for section, at in flows(size):
            loss = local_loss(
                record, bore=section.bore, reynolds=at.reynolds, friction_factor=at.friction_factor,
                roughness=section.roughness, plastic=section.plastic,
            )  # fmt: skip
            lengths += [k * section.bore / at.friction_factor for k in (loss.k_low, loss.k_high)]
        return (min(lengths), max(lengths)) if lengths else None

    yield from deduction_doubts(table, equivalent_length)


def few_of(count: int) -> list[int]:
    """Places of at most so many of a list, the first and the last among them."""
    few = min(count, MOST_FLOWS)
    return [place * (count - 1) // max(few - 1, 1) for place in range(few)]


class _Usual:
    """What flows at an input [W] in a nominal size [m] at an altitude [m]."""

    def __init__(self, catalog: Catalog) -> None:
        self._catalog = catalog
        self._streams: dict[float, Stream] = {}
        self._sections: dict[float, Section | None] = {}
        self._elbows: dict[tuple[float, int], float] = {}

    def flow(self, input: float, size: float, altitude: float) -> tuple[Section, SectionFlow] | None:
        """The flow; None where no material has the size."""
        section = self._section(size)
        if section is None:
            return None
        one = self._stream(altitude)
        stream = Stream(
            mass_flow=one.mass_flow * input, mixture=one.mixture, temperature=one.temperature, pressure=one.pressure
        )
        return section, section_flow(section, stream)

    def elbow(self, section: Section, at: SectionFlow) -> float:
        """Loss coefficient of a 90° elbow [-]; it changes little with the flow."""
        key = (section.nominal, int(at.reynolds // 1000))
        if key not in self._elbows:
            record = self._catalog.fittings.get(ELBOW)
            self._elbows[key] = 0.0 if record is None else local_loss(
                record, bore=section.bore, reynolds=at.reynolds, friction_factor=at.friction_factor,
                roughness=section.roughness, plastic=section.plastic,
            ).k  # fmt: skip
        return self._elbows[key]

    def _section(self, size: float) -> Section | None:
        if size not in self._sections:
            sizes = ((pipe, found) for pipe in self._catalog.pipes.values() if (found := pipe.size(size)))
            pipe, found = next(sizes, (None, None))
            self._sections[size] = None if pipe is None or found is None else Section(material=pipe, size=found)
        return self._sections[size]

    def _stream(self, altitude: float) -> Stream:
        """The flue gas of one watt at an altitude."""
        if altitude not in self._streams:
            ambient = ambient_pressure(altitude=altitude)
            gas = flue_gas(
                mole_fractions=self._catalog.fuels[FUEL].mole_fractions,
                input=1.0,
                excess_air=EXCESS_AIR,
                flue_temperature=FLUE_TEMPERATURE,
                pressure=ambient,
            )
            self._streams[altitude] = flue_stream(gas)
        return self._streams[altitude]
