"""What the figures rest on: cautions, methods, sources, versions; and the lines to be signed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from ventsize.check.findings import LAST
from ventsize.flow.pieces import PieceFlow
from ventsize.quantity import show_fraction, show_power, show_temperature
from ventsize.report.common_vent import common_vent_sentences
from ventsize.report.job_paper.customer import runs_table, verdict_of
from ventsize.report.job_paper.material import Material, versions
from ventsize.report.job_paper.room_and_ticks import warnings
from ventsize.report.paper import Blanks, Block, Bullets, Checklist, Column, Heading, Paragraph, Table
from ventsize.report.wording import say_all
from ventsize.report.wording.check import ALWAYS

METHODS = (
    "Both answers stand side by side. The verdict is the table's; the calculation explains and warns.",
    "Flue gas: complete combustion of the fuel with the excess air stated; gross input. Temperatures and excess air "
    "are the job's.",
    "Outdoor pressure by altitude: U.S. Standard Atmosphere, 1976.",
    "Friction: Darcy-Weisbach, with 64/Re up to a Reynolds number of 2040 and Colebrook's equation above.",
    "Fittings: loss coefficients by the published methods named below; in plastic pipe as molded fittings were "
    "measured. Low and high hold nine in ten truths: fittings of one kind, bore, roughness, friction, lengths, firing "
    "rate and excess air may each be off.",
    "Pressure drop is the loss of total pressure over the run, its end included, buoyancy apart. Static at the "
    "appliance is what a manometer at the collar shows against the outdoors.",
)
AFTER = (
    "Combustion checked with an analyser at each firing rate",
    "Every joint checked for leaks",
    "A working CO alarm is in the building",
    "Pipe, fittings and their supports are as listed here",
    "Pipe and fittings are of a kind that the maker's instructions list",
)
_SIGNED = ("Address", "Permit number", "Installer", "License number", "Signature", "Date")


def permit_head(material: Material) -> Iterator[Block]:
    """Verdict, runs and appliances at a glance, for a file that has the appendix alone."""
    yield verdict_of(material.check, material.system)
    yield from warnings(material)
    yield runs_table(material.check, material.system)
    yield appliances_table(material)


def appliances_table(material: Material) -> Table:
    """What each appliance gives at each rate."""
    system = material.system
    columns = (
        Column("Appliance", share=1.3),
        Column("Rate"),
        Column("Input", "right", 1.2),
        Column("Excess air", "right"),
        Column("O2, dry", "right", 0.8),
        Column("CO2, dry", "right", 0.8),
        Column("Flue gas", "right"),
        Column("Dew point", "right"),
    )
    rows = tuple(
        (
            appliance.name,
            rate.name,
            show_power(rate.plate, system),
            show_fraction(rate.gas.excess_air),
            show_fraction(rate.gas.oxygen_dry),
            show_fraction(rate.gas.carbon_dioxide_dry),
            show_temperature(rate.gas.temperature, system),
            show_temperature(rate.gas.dew_point, system),
        )
        for appliance in material.check.appliances
        for rate in appliance.rates
    )
    return Table(columns, rows, "What the appliances give")


def shared_vents(material: Material) -> Iterator[Block]:
    """What appliances that share a vent have to know of each other."""
    said = tuple(common_vent_sentences(material.check, material.system))
    if said:
        yield Heading("Vents that appliances share")
        yield Bullets(said)


def ground_pages(material: Material) -> Iterator[Block]:
    """Cautions, what it goes by, sources, versions, and what is ticked off and signed after the work."""
    yield Heading("Cautions and what was assumed")
    told = (finding for finding in material.check.findings if finding.code not in LAST)
    yield Bullets((*say_all(told, material.system), *ALWAYS))
    yield Heading("What the calculation goes by")
    yield Bullets(METHODS)
    yield Heading("Sources")
    columns = (Column("What", share=1.2), Column("Source", share=2.4))
    named: dict[str, list[str]] = {}
    for what, source in dict.fromkeys(_sources(material)):
        named.setdefault(source, []).append(what)
    rows = tuple(("; ".join(whats), source) for source, whats in named.items())
    yield Table(columns, rows, "Where each figure comes from")
    made_by = ", ".join(f"{name} {version}" for name, version in versions())
    job_file = f" Job file: {Path(material.inputs.file).name}." if material.inputs.file else ""
    yield Paragraph(f"Versions: {made_by}.{job_file}", small=True)
    yield Heading("After the work")
    yield Checklist(AFTER)
    yield Blanks(_SIGNED)


def _sources(material: Material) -> Iterator[tuple[str, str]]:
    inputs = material.inputs
    for run in material.check.runs:
        table = inputs.tables.get(run.table_file or "")
        if table is not None:
            yield f"Allowance table: {table.title}", table.source
    for appliance in inputs.job.appliances:
        fuel = inputs.catalog.fuel(appliance.fuel)
        yield f"Fuel: {fuel.title}", fuel.source
    flows = [flow for run in material.check.runs for flow in run.worst.flow.pieces]
    for flow in flows:
        pipe = flow.piece.section.material
        yield f"Pipe: {pipe.title}", pipe.source
    for flow in flows:
        yield from _fitting_sources(flow)


def _fitting_sources(flow: PieceFlow) -> Iterator[tuple[str, str]]:
    fitting = flow.piece.fitting
    if fitting is None:
        return
    yield fitting.name, flow.method
