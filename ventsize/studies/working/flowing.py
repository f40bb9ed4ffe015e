"""The working of a stream in pipe of one size, and of a loss."""

from __future__ import annotations

from collections.abc import Mapping

from ventsize.flow.laws import in_ramp
from ventsize.flow.pieces import SectionFlow
from ventsize.gas.constants import GRAVITY
from ventsize.quantity.board import Kind
from ventsize.run.model import Section
from ventsize.studies.working.steps import Given, Step

PIPE = "the pipe's record"


def section_steps(
    section: Section, at: SectionFlow, stream: Mapping[str, Given], mark: str, *, ramped: bool
) -> list[Step]:
    """From the area to the velocity pressure: five steps.

    stream: its mass flow, density and viscosity by symbol. mark: what the symbols of this size end in.
    ramped: whether the step between laminar and turbulent friction is taken as a ramp.
    """
    label = section.label
    bore = Given("bore", f"D{mark}", section.bore, Kind.BORE, PIPE)
    area = Step(
        name=f"area inside {label} pipe",
        symbol=f"A{mark}",
        template="3.14159265 / 4 * {0}^2",
        inputs=(bore,),
        powers=(2,),
        value=section.area,
        kind=Kind.AREA,
        source="circle",
    )
    velocity = Step(
        name=f"velocity in {label} pipe",
        symbol=f"v{mark}",
        template="{0} / ({1} * {2})",
        inputs=(stream["m"], stream["ρ"], area.result),
        powers=(1, -1, -1),
        value=at.velocity,
        kind=Kind.VELOCITY,
        source="mass is kept",
    )
    reynolds = Step(
        name="Reynolds number",
        symbol=f"Re{mark}",
        template="{0} * {1} * {2} / {3}",
        inputs=(stream["ρ"], velocity.result, bore, stream["µ"]),
        powers=(1, 1, 1, -1),
        value=at.reynolds,
        kind=Kind.NUMBER,
        source="definition",
    )
    friction = _friction(section, at, mark, reynolds.result, bore, ramped=ramped)
    pressure = Step(
        name="velocity pressure",
        symbol=f"q{mark}",
        template="{0} * {1}^2 / 2",
        inputs=(stream["ρ"], velocity.result),
        powers=(1, 2),
        value=at.dynamic_pressure,
        kind=Kind.PRESSURE,
        source="definition",
    )
    return [area, velocity, reynolds, friction, pressure]


def _friction(section: Section, at: SectionFlow, mark: str, reynolds: Given, bore: Given, *, ramped: bool) -> Step:
    symbol = f"f{mark}"
    inputs: tuple[Given, ...]
    template, inputs, source = "64 / {0}", (reynolds,), "laminar flow, Hagen and Poiseuille"
    if at.regime != "laminar":
        template = "(-2 * log10({0} / (3.7 * {1}) + 2.51 / ({2} * sqrt({3}))))^-2"
        rough = Given("roughness", f"ε{mark}", section.roughness, Kind.BORE, PIPE)
        itself = Given("friction factor", symbol, at.friction_factor, source="so that both sides agree")
        inputs, source = (rough, bore, reynolds, itself), "Colebrook 1939"
    if ramped and in_ramp(at.reynolds):
        template, source = "{0}", "between laminar and turbulent, as the loop settled"
        inputs = (Given("friction factor", symbol, at.friction_factor, source=source),)
    return Step(name="friction factor", symbol=symbol, template=template, inputs=inputs, value=at.friction_factor,
                kind=Kind.NUMBER, source=source)  # fmt: skip


def loss_step(name: str, symbol: str, k: Given, pressure: Given, value: float) -> Step:
    """The pressure drop [Pa] of something with a loss coefficient."""
    return Step(
        name=name,
        symbol=symbol,
        template="{0} * {1}",
        inputs=(k, pressure),
        value=value,
        kind=Kind.PRESSURE,
        source="loss coefficient × velocity pressure",
    )


def draft_step(outside_density: float, density: Given, rise: float, *, value: float) -> Step:
    """The buoyancy over a rise along the flow [m], of a gas in air of a density [kg/m³]."""
    return Step(
        name="draft",
        symbol="B",
        template="({0} - {1}) * {2} * {3}",
        inputs=(
            Given("density of the air outdoors", "ρ[air]", outside_density, Kind.DENSITY, "ideal gas"),
            density,
            Given("standard gravity", "g", GRAVITY, Kind.ACCELERATION, "ISO 80000-3"),
            Given("rise along the flow", "h", rise, Kind.LENGTH, "the job"),
        ),
        powers=(1, 0, 1, 1),
        value=value,
        kind=Kind.PRESSURE,
        source="buoyancy; positive helps the gas along",
    )
