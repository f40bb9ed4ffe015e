"""A check as text for a terminal or a file: what a tech wants to know, most important first."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator, Sequence

from ventsize.check.result import JobCheck, RunCheck, RunRate
from ventsize.flow.solve import RunFlow
from ventsize.quantity import (
    System,
    show_feet,
    show_fraction,
    show_length,
    show_power,
    show_pressure,
    show_velocity,
)

WIDTH = 80


def render(check: JobCheck, system: System) -> str:
    """The whole answer as lines no wider than a terminal's 80 columns."""
    return "\n".join(_lines(check, system)) + "\n"


def _lines(check: JobCheck, system: System) -> Iterator[str]:
    verdict = check.verdict.upper()
    yield f"{_shortened(check.title, WIDTH - len(verdict) - 2):<{WIDTH - len(verdict)}}{verdict}"
    yield "=" * WIDTH
    yield from _wrapped(check.reason, "  ")
    for run in check.runs:
        yield ""
        yield from _run(run, system)
    yield ""
    yield from _appliances(check, system)
    yield ""
    yield "Cautions"
    for caution in check.cautions:
        yield from _wrapped(caution, "  - ", "    ")


def _run(check: RunCheck, system: System) -> Iterator[str]:
    run = check.run
    head = f"{run.name}: {run.carries}, {run.start} to {run.end}, {show_power(check.input, system)}"
    yield f"{_shortened(head, WIDTH - len(check.verdict) - 2):<{WIDTH - len(check.verdict)}}{check.verdict}"
    yield "-" * WIDTH
    yield from _by_table(check, system)
    yield from _by_calculation(check, system)
    if check.difference:
        yield from _wrapped(check.difference, "  ")
    yield ""
    yield from _pieces(check, check.worst, system)


def _by_table(check: RunCheck, system: System) -> Iterator[str]:
    if check.table is None:
        yield from _wrapped(f"no answer: {check.reason}", "  By the table     ", " " * 19)
        return
    yield from _wrapped(check.table.reason, "  By the table     ", " " * 19)
    if check.margin is not None:
        yield f"{'':19}{margin(check.margin, system)}"
    for line in check.table.deductions:
        mark = "" if line.origin == "table" else "  (the job's own)"
        yield f"{'':19}{line.count} x {line.fitting} at {show_length(line.each, system)}{mark}"


_ROWS: tuple[tuple[str, Callable[[RunRate, System], str]], ...] = (
    ("pressure drop", lambda rate, system: _pressure_band(rate.flow, system)),
    ("draft", lambda rate, system: show_pressure(rate.flow.draft, system)),
    ("static at appliance", lambda rate, system: _pressure_or_dash(rate.static_pressure_at_appliance, system)),
    ("allowance", lambda rate, system: _pressure_or_dash(rate.allowance_pressure, system)),
    ("equivalent length", lambda rate, system: _length_or_dash(rate.equivalent_length, system)),
    ("  low to high", lambda rate, system: _length_band(rate, system)),
    ("inside allowance", lambda rate, system: _yes_no(rate.within_allowance)),
)


def _by_calculation(check: RunCheck, system: System) -> Iterator[str]:
    """A column for each firing rate, as many as fit side by side."""
    yield f"  By calculation, equivalent to straight {check.reference_section.label} pipe"
    across = 2
    for first in range(0, len(check.rates), across):
        some = check.rates[first : first + across]
        yield f"{'':23}" + "".join(f"{_shortened(rate.name, 27):<28}" for rate in some).rstrip()
        for label, value in _ROWS:
            yield (f"    {label:<19}" + "".join(f"{value(rate, system):<28}" for rate in some)).rstrip()


def _pieces(check: RunCheck, rate: RunRate, system: System) -> Iterator[str]:
    yield f"  Where the pressure goes, at {_shortened(rate.name, 40)}"
    yield f"    {'':24}{'size':<9}{'velocity':>12}{'K':>8}{'loss':>16}{'share':>7}"
    for piece, share in zip(rate.flow.pieces, rate.piece_shares, strict=True):
        name = f"pipe {show_length(piece.piece.length, system)}" if piece.piece.is_pipe else piece.piece.name
        mark = "*" if piece.overridden or piece.piece.implied else ""
        size = piece.piece.section.label
        yield _row(name + mark, size, piece.at.velocity, piece.k, piece.pressure_drop, share, system)
    for loss, share in zip(rate.flow.junctions, rate.junction_shares, strict=True):
        name = f"{loss.fitting} at {loss.joint}"
        yield _row(name, loss.section.label, loss.at.velocity, loss.k, loss.pressure_drop, share, system)
    if any(piece.overridden or piece.piece.implied for piece in rate.flow.pieces):
        yield "    * the job's own figure, or a piece that is there without being listed"


def _row(name: str, size: str, velocity: float, k: float, loss: float, share: float | None, system: System) -> str:
    part = "-" if share is None else f"{share:.0%}"
    return (
        f"    {_shortened(name, 23):<24}{size:<9}{show_velocity(velocity, system):>12}{k:>8.2f}"
        f"{show_pressure(loss, system):>16}{part:>7}"
    )


def _appliances(check: JobCheck, system: System) -> Iterator[str]:
    yield "What the appliances give"
    for appliance in check.appliances:
        for rate in appliance.rates:
            gas = rate.gas
            yield from _wrapped(
                f"{appliance.name} {rate.name}: {show_power(gas.input, system)}, "
                f"excess air {show_fraction(gas.excess_air)}, O2 {show_fraction(gas.oxygen_dry)}, "
                f"CO2 {show_fraction(gas.carbon_dioxide_dry)} (dry)",
                "  ",
                "    ",
            )


def _wrapped(text: str, first: str, rest: str | None = None) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=first if rest is None else rest)


def _shortened(text: str, width: int) -> str:
    return text if len(text) <= width else text[: width - 1] + "…"


def margin(value: float, system: System) -> str:
    """`19.0 ft to spare`, or `3.2 ft too long`; value: of the margin [m]."""
    return f"{show_feet(abs(value), system)} {'too long' if value < 0 else 'to spare'}"


def _pressure_band(flow: RunFlow, system: System) -> str:
    low, high = show_pressure(flow.pressure_drop_low, system), show_pressure(flow.pressure_drop_high, system)
    return f"{show_pressure(flow.pressure_drop, system)} ({_number(low)}-{_number(high)})"


def _length_band(rate: RunRate, system: System) -> str:
    if rate.equivalent_length_low is None or rate.equivalent_length_high is None:
        return "-"
    return f"{show_feet(rate.equivalent_length_low, system)} to {show_feet(rate.equivalent_length_high, system)}"


def _number(shown: str) -> str:
    """A shown quantity without its unit."""
    return shown.split(" ", 1)[0]


def _length_or_dash(value: float | None, system: System) -> str:
    return "-" if value is None else show_feet(value, system)


def _pressure_or_dash(value: float | None, system: System) -> str:
    return "-" if value is None else show_pressure(value, system)


def _yes_no(value: bool | None) -> str:
    return "-" if value is None else "yes" if value else "NO"


def summary(checks: Sequence[tuple[str, JobCheck]]) -> str:
    """One line a job, for a check of several."""
    return "".join(f"{check.verdict:<12} {name}\n" for name, check in checks)
