"""The sequence of start-up, as text and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ventsize.quantity import Dimension, System, show, show_fraction, show_pressure
from ventsize.report.keys import Keys
from ventsize.report.text_parts import as_text, head, indented
from ventsize.report.wording import say
from ventsize.studies.start_up import Moment, StartUp

ORDER = "The order of the steps is common practice, without a source; the maker's instructions decide."


@as_text
def render(found: StartUp, system: System) -> Iterator[str]:
    """Every step in lines of 80 columns."""
    yield from head(f"Start-up: {found.appliance}")
    for number, moment in enumerate(found.moments, 1):
        yield from moment_lines(number, moment, system)
    yield ""
    yield from indented(ORDER, "", "")


def moment_lines(number: int, moment: Moment, system: System) -> Iterator[str]:
    """A step with its number, and what could be read off."""
    yield from indented(f"{number}. {step(moment, system)}", "  ", "     ")
    for line in figures(moment, system):
        yield f"     {line}"


def step(moment: Moment, system: System) -> str:
    """What happens in a step."""
    text = say(moment.what, system, place=False)
    return f"{moment.rate}: {text}" if moment.what.where.rate else text


def figures(moment: Moment, system: System) -> Iterator[str]:
    """What could be read off in a step."""
    if moment.closed:
        drop, flow = show_pressure(moment.drop, system), show(moment.flow, Dimension.VOLUME_FLOW, system)
        air = "no flame" if moment.excess_air is None else f"excess air {show_fraction(round(moment.excess_air, 3))}"
        yield f"switch closed, it feels {drop}; flow {flow}; {air}"
    else:
        yield "switch open, no flame"
    if moment.learned:
        kept = ", ".join(f"{rate} {show_fraction(round(speed, 3))}" for rate, speed in moment.learned)
        yield f"learned: {kept}"


def as_object(found: StartUp, system: System) -> dict[str, Any]:
    """The sequence in SI units; keys end in their unit."""
    moments = [
        {
            "code": moment.what.code,
            "text": say(moment.what, system, place=False),
            **_MOMENT(moment),
            "learned": dict(moment.learned),
        }
        for moment in found.moments
    ]
    return {"appliance": found.appliance, "adaptive": found.adaptive, "moments": moments, "cautions": [ORDER]}


_MOMENT = Keys(
    Moment,
    "rate share_of_top_speed:speed flow_m3_s exchanger_drop_Pa:drop excess_air switch_closed:closed burning",
)
