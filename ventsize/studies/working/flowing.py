"""The working of a stream in pipe of one size, and of a loss."""

from __future__ import annotations

from collections.abc import Mapping

from ventsize.flow.friction import in_ramp
from ventsize.flow.pieces import SectionFlow
from ventsize.gas.constants import GRAVITY
from ventsize.quantity.board import Kind
from ventsize.run.model import Section
from ventsize.studies.working.steps import Given, Step, line

PIPE = "the pipe's record"


def section_steps(
    section: Section, at: SectionFlow, stream: Mapping[str, Given], mark: str, *, where: str, ramped: bool
) -> list[Step]:
    """From the area to the velocity pressure: five steps.

    stream: its mass flow, density and viscosity by letter. mark: what the symbols of this place end in.
    where: what the names end in. ramped: whether the step between laminar and turbulent friction is taken as a ramp.
    """
    bore = Given(f"bore of {section.label} pipe", f"D{mark}", section.bore, Kind.BORE, PIPE)
    area = line(f"area inside {section.label} pipe", f"A{mark}", "3.14159265 / 4 * {0}^2", bore, powers=(2,),
                value=section.area, kind=Kind.AREA, source="circle", part="flow")  # fmt: skip
    velocity = line(f"velocity{where}", f"v{mark}", "{0} / ({1} * {2})", stream["m"], stream["ρ"], area.result,
                    powers=(1, -1, -1), value=at.velocity, kind=Kind.VELOCITY, source="mass is kept",
                    part="flow")  # fmt: skip
    reynolds = line(f"Reynolds number{where}", f"Re{mark}", "{0} * {1} * {2} / {3}", stream["ρ"], velocity.result, bore,
                    stream["µ"], powers=(1, 1, 1, -1), value=at.reynolds, source="definition", part="flow")  # fmt: skip
    friction = _friction(section, at, mark, reynolds.result, bore, where=where, ramped=ramped)
    pressure = line(f"velocity pressure{where}", f"q{mark}", "{0} * {1}^2 / 2", stream["ρ"], velocity.result,
                    powers=(1, 2), value=at.dynamic_pressure, kind=Kind.PRESSURE, source="definition",
                    part="flow")  # fmt: skip
    return [area, velocity, reynolds, friction, pressure]


def _friction(
    section: Section, at: SectionFlow, mark: str, reynolds: Given, bore: Given, *, where: str, ramped: bool
) -> Step:
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
    return line(f"friction factor{where}", symbol, template, *inputs, value=at.friction_factor, source=source,
                part="flow")  # fmt: skip


def loss_step(name: str, symbol: str, k: Given, pressure: Given, value: float) -> Step:
    """The pressure drop [Pa] of something with a loss coefficient."""
    return line(name, symbol, "{0} * {1}", k, pressure, value=value, kind=Kind.PRESSURE,
                source="loss coefficient × velocity pressure")  # fmt: skip


def draft_step(outside_density: float, density: Given, rise: float, *, value: float) -> Step:
    """The buoyancy over a rise along the flow [m], of a gas in air of a density [kg/m³]."""
    outside = Given("density of the air outdoors", "ρ[air]", outside_density, Kind.DENSITY, "ideal gas")
    gravity = Given("standard gravity", "g[0]", GRAVITY, Kind.ACCELERATION, "ISO 80000-3")
    height = Given("rise along the flow", "h[up]", rise, Kind.LENGTH, "the job")
    return line("draft", "B", "({0} - {1}) * {2} * {3}", outside, density, gravity, height, powers=(1, 0, 1, 1),
                value=value, kind=Kind.PRESSURE, source="buoyancy; positive helps the gas along")  # fmt: skip
