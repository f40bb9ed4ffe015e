"""What appliances that share a vent have to know of each other, as lines of text."""

from __future__ import annotations

from collections.abc import Iterator

from ventsize.check.collars import common_vents, idle_collars
from ventsize.check.result import JobCheck
from ventsize.quantity import System, show_pressure
from ventsize.report.text_parts import indented, table


def common_vent_sentences(check: JobCheck, system: System) -> Iterator[str]:
    """A sentence for each vent that several appliances share."""
    for vent in common_vents(check.runs):
        under = "it stays at or below the pressure outdoors"
        if vent.positive:
            under = f"UNDER PRESSURE, up to {show_pressure(vent.pressure, system)} without help from draft"
        yield (
            f"{vent.run} ({' and '.join(vent.serves)}): {under}. Only where every one of them is listed for a common "
            f"vent under pressure. It loses the most at {vent.rate}."
        )


def common_vent_lines(check: JobCheck, system: System) -> Iterator[str]:
    """The vents that several appliances share, and the pressure at each collar with its appliance off."""
    said = list(common_vent_sentences(check, system))
    if not said:
        return
    yield "Vents that appliances share"
    for sentence in said:
        yield from indented(sentence, "  ", "    ")
    collars = idle_collars(check.runs)
    columns = (("collar of the one that is off", 31), ("static", 15), ("without draft's help", 22))
    rows = [(c.appliance, show_pressure(c.pressure, system), show_pressure(c.without_draft, system)) for c in collars]
    yield from table(columns, rows)
    for collar in collars:
        warned = f"{collar.appliance}: the worst is {collar.rate}"
        if collar.without_draft > 0.0:
            warned += "; flue gas is pushed back into it unless something stops it"
        yield from indented(warned, "    ", "      ")
    yield ""
