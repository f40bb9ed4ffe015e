"""An invented job told in sentences, as an exercise begins."""

from __future__ import annotations

from ventsize.quantity import System, show_fraction, show_length, show_power, show_temperature
from ventsize.run.model import Piece
from ventsize.studies.exercises.draws import Drawn


def appliance_story(drawn: Drawn, system: System, *, rate: str = "high") -> str:
    """The appliance at a firing rate, and where it stands."""
    appliance, site = drawn.inputs.job.appliances[0], drawn.inputs.job.site
    fired = next(one for one in appliance.rates if one.name == rate)
    return (
        f"A furnace with an input of {show_power(fired.input, system)} burns {appliance.fuel} with "
        f"{show_fraction(fired.excess_air or 0.0)} excess air; its flue gas leaves at "
        f"{show_temperature(fired.flue_temperature, system)}. It stands at an altitude of "
        f"{show_length(site.altitude or 0.0, system)}."
    )


def run_story(drawn: Drawn, system: System, *, name: str = "Its vent") -> str:
    """The vent piece by piece, with the numbers that its symbols have."""
    run = drawn.run.run
    section = run.first_section
    listed = "; ".join(f"{number}) {_piece(piece, system)}" for number, piece in enumerate(run.pieces, start=1))
    return f"{name} is {section.label} pipe ({section.material.title}): {listed}."


def counted_story(drawn: Drawn, system: System, *, name: str = "Its vent") -> str:
    """The vent as a count."""
    run = drawn.run.run
    counts: dict[str, int] = {}
    for piece in run.pieces:
        if piece.fitting is not None and piece.kind != "terminal":
            counts[piece.fitting.title] = counts.get(piece.fitting.title, 0) + 1
    fittings = ", ".join(f"{count} × {title}" for title, count in counts.items())
    straight = f"{show_length(run.straight_length, system)} of straight {run.first_section.label} pipe"
    return f"{name} has {straight}, an open end, and these fittings: {fittings}."


def _piece(piece: Piece, system: System) -> str:
    if piece.fitting is not None:
        return piece.fitting.title[0].lower() + piece.fitting.title[1:]
    return f"{show_length(piece.length, system)} {piece.heading or 'of pipe'}"
