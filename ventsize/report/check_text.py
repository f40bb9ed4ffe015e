"""A check as text for a terminal or a file: what a tech wants to know, most important first."""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Callable, Iterator, Sequence

from ventsize.allowance.answer import TableAnswer
from ventsize.check.rate import RunRate
from ventsize.check.result import JobCheck, RunCheck
from ventsize.flow.rate_flow import RunFlow
from ventsize.jobfile.letters import harmless
from ventsize.quantity import (
    Dimension,
    System,
    display_unit,
    show_feet,
    show_fraction,
    show_length,
    show_number,
    show_power,
    show_pressure,
    show_temperature,
    show_velocity,
)
from ventsize.report.common_vent import common_vent_lines
from ventsize.report.text_parts import WIDTH, as_text, beside, indented, shortened, titled
from ventsize.report.wording import cautions_of, reason, say, verdict_in_words


@as_text
def render(check: JobCheck, system: System) -> Iterator[str]:
    """The whole answer as lines no wider than a terminal's 80 columns."""
    yield from titled(check.title, verdict_in_words(check.verdict, len(check.doubted)).upper())
    yield from indented(reason(check.decides, system), "  ")
    for run in check.runs:
        yield ""
        yield from _run(run, system)
    yield ""
    yield from common_vent_lines(check, system)
    yield from _appliances(check, system)
    yield ""
    yield "Cautions"
    for caution in cautions_of(check, system):
        yield from indented(caution, "  - ", "    ")


def _run(check: RunCheck, system: System) -> Iterator[str]:
    run = check.run
    head = f"{run.name}: {run.carries}, {run.start} to {run.end}, {show_power(check.input, system)}"
    yield beside(head, check.verdict)
    yield "-" * WIDTH
    yield from _by_table(check, system)
    yield from _by_calculation(check, system)
    if check.difference:
        yield from indented(say(check.difference, system, place=False), "  ")
    yield ""
    yield from _pieces(check.worst, system)


def _by_table(check: RunCheck, system: System) -> Iterator[str]:
    if check.table is None:
        yield from indented(
            f"no answer: {reason(check.decides, system, with_run=False)}", "  By the table     ", " " * 19
        )
        return
    yield from indented(reason(check.table.decides, system, with_run=False), "  By the table     ", " " * 19)
    yield from (f"{'':19}{text}" for text in _charges(check.table, system))
    if check.table.note:
        yield from indented(f"The table notes: {check.table.note}", " " * 19)


def _charges(answer: TableAnswer, system: System) -> Iterator[str]:
    """What is added to the straight pipe, and which elbows the row includes."""
    for line in answer.deductions:
        each = show_length(line.each, system)
        if line.origin == "material":
            yield f"{each} more for {line.fitting}, as the table counts it"
            continue
        of, own = "begun pair of " if line.pairs else "", "" if line.origin == "table" else "  (the job's own)"
        yield f"{line.count} x {of}{line.fitting} at {each}{own}"
    if answer.row is not None and answer.row.elbows_included:
        elbows = [f"{count} x {name}" for name, count in answer.free if name.startswith("elbow")]
        if elbows:
            yield f"{', '.join(elbows)} included in the allowance"


def _by_calculation(check: RunCheck, system: System) -> Iterator[str]:
    yield f"  By calculation, as length of straight {check.reference_section.label} pipe"
    beside = len(check.rates) <= 2
    rows = _beside_each_other(check, system) if beside else _below_each_other(check, system)
    yield from (row.rstrip() for row in rows)


def _beside_each_other(check: RunCheck, system: System) -> Iterator[str]:
    """A column for each of one or two firing rates."""
    yield f"   {'':20}" + "".join(f"{shortened(rate.name, 26):<28}" for rate in check.rates)
    for label, value in FIGURES:
        yield f"   {label:<20}" + "".join(f"{value(check, rate, system):<28}" for rate in check.rates)


def _below_each_other(check: RunCheck, system: System) -> Iterator[str]:
    """A line for each of many combinations of rates, as numbers under their unit."""
    unit = display_unit(Dimension.PRESSURE, system)
    yield f"    {'pressures, ' + unit:<30}{'drop':>8}{'draft':>8}{'static':>8}{'allowed':>9}{'length':>9}"
    for rate in check.rates:
        mark = " !" if rate.within_allowance is False else ""
        yield (
            f"    {shortened(rate.name, 29):<30}{show_number(rate.flow.pressure_drop, Dimension.PRESSURE, system):>8}"
            f"{show_number(_draft_known(check, rate), Dimension.PRESSURE, system):>8}"
            f"{show_number(rate.static_pressure_at_appliance, Dimension.PRESSURE, system):>8}"
            f"{show_number(rate.budget_pressure, Dimension.PRESSURE, system):>9}"
            f"{_length_or_dash(rate.equivalent_length, system):>9}{mark}"
        )
    yield "    ! more than the allowance as pressure"


Figure = Callable[[RunCheck, RunRate, System], str]

FIGURES: tuple[tuple[str, Figure], ...] = (
    ("pressure drop", lambda check, rate, system: _pressure_band(rate.flow, system)),
    ("allowance", lambda check, rate, system: _pressure_or_dash(rate.budget_pressure, system)),
    ("inside allowance", lambda check, rate, system: _yes_no(rate.within_allowance)),
    ("equivalent length", lambda check, rate, system: _length_or_dash(rate.equivalent_length, system)),
    ("  low to high", lambda check, rate, system: _length_band(rate, system)),
    ("draft", lambda check, rate, system: _pressure_or_dash(_draft_known(check, rate), system)),
    ("gas at its end", lambda _, rate, system: _end_temperature(rate.flow, system)),
    ("static at appliance", lambda check, rate, system: _pressure_or_dash(rate.static_pressure_at_appliance, system)),
)


def _draft_known(check: RunCheck, rate: RunRate) -> float | None:
    return rate.flow.draft if check.run.rise_known else None


def _pieces(rate: RunRate, system: System) -> Iterator[str]:
    yield f"  Where the pressure goes, at {shortened(rate.name, 40)}"
    yield f"    {'':24}{'size':<9}{'velocity':>11}{'K':>7}{'loss':>14}{'share':>7}"
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
        f"    {shortened(name, 23):<24}{size:<9}{show_velocity(velocity, system):>11}{k:>7.2f}"
        f"{show_pressure(loss, system):>14}{part:>7}"
    )


def _appliances(check: JobCheck, system: System) -> Iterator[str]:
    yield "What the appliances give"
    for appliance in check.appliances:
        for rate in appliance.rates:
            gas = rate.gas
            yield from indented(
                f"{appliance.name} {rate.name}: {show_power(rate.plate, system)}, "
                f"excess air {show_fraction(gas.excess_air)}, O2 {show_fraction(gas.oxygen_dry)}, "
                f"CO2 {show_fraction(gas.carbon_dioxide_dry)} (dry)",
                "  ",
                "    ",
            )


def margin(value: float, system: System) -> str:
    """`19.0 ft to spare`, or `3.2 ft too long`; value: of the margin [m]."""
    return f"{show_feet(abs(value), system)} {'too long' if value < 0 else 'to spare'}"


def _pressure_band(flow: RunFlow, system: System) -> str:
    ends = (flow.pressure_drop_low, flow.pressure_drop_high)
    low, high = (show_number(end, Dimension.PRESSURE, system) for end in ends)
    return f"{show_pressure(flow.pressure_drop, system)} ({low}-{high})"


def _length_band(rate: RunRate, system: System) -> str:
    if rate.equivalent_length_low is None or rate.equivalent_length_high is None:
        return "-"
    return f"{show_feet(rate.equivalent_length_low, system)} to {show_feet(rate.equivalent_length_high, system)}"


def _length_or_dash(value: float | None, system: System) -> str:
    return "-" if value is None else show_feet(value, system)


def _pressure_or_dash(value: float | None, system: System) -> str:
    return "-" if value is None else show_pressure(value, system)


def _end_temperature(flow: RunFlow, system: System) -> str:
    """The gas where it leaves the run; one temperature all along where it is not figured as cooling."""
    at_end = flow.stream if flow.cooling is None else flow.cooling.outlet
    return show_temperature(at_end.temperature, system)


def _yes_no(value: bool | None) -> str:
    return "-" if value is None else "yes" if value else "NO"


def summary_line(name: str, verdict: str) -> str:
    """A job's line in the summary of several."""
    return f"{verdict:<12} {name}"


def totals(verdicts: Sequence[str]) -> str:
    """How many jobs of a call have each verdict."""
    counted = ", ".join(f"{number} {verdict}" for verdict, number in Counter(verdicts).most_common())
    return f"{len(verdicts)} jobs: {counted}"


def as_csv(checks: Sequence[tuple[str, JobCheck]], system: System) -> str:
    """A row for each run of each job, for a spreadsheet; lengths in meters."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("file", "title", "verdict", "run", "run_verdict", "counts_as_m", "allowed_m", "left_m", "reason"))
    for name, check in checks:
        for run in check.runs:
            table = run.table
            lengths = (table and table.equivalent_length, table and table.allowable_length, run.margin)
            numbers = ["" if value is None else f"{value:.3f}" for value in lengths]
            texts = (name, check.title, check.verdict, run.run.name, run.verdict)
            why = harmless(reason(run.decides, system, with_run=False))
            writer.writerow([*map(harmless, texts), *numbers, why])
    return out.getvalue()
