"""A check in a few lines: the verdict, a line a run, whether the calculation agrees, and what must not be missed."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from ventsize.check.result import JobCheck, RunCheck
from ventsize.quantity import Dimension, System, display_unit, show_feet, show_number
from ventsize.report.text_parts import as_text, shortened, wrapped
from ventsize.report.wording import reason, say_all

WIDTH = 80
MOST_REASONS = 3  # conditions that are not met or not known; the rest is counted
ESTIMATE = "An estimate: the maker and the local code decide; carbon monoxide can kill."


@as_text
def render(check: JobCheck, system: System) -> Iterator[str]:
    """The answer in at most ten lines for one or two runs, and a line or two for each stop and doubt."""
    yield shortened(f"{check.verdict.upper()}  {check.title}".rstrip(), WIDTH)
    if check.verdict != "within":
        yield from _reasons(check, system)
    yield from (_run(run, system) for run in check.runs)
    yield from _calculation(check, system)
    settled = reason(check.decides, system)  # said above already, where a stop settles the job
    for finding in say_all(check.doubted, system):
        if finding != settled:
            yield from _two_lines(finding, "! ")
    derated = [finding for finding in check.findings if finding.code == "derating-not-applied"]
    if check.verdict == "within":  # of any other verdict the reasons come first, in ten lines
        for finding in say_all(derated[:1], system, place=False):
            yield from _two_lines(finding, "  ")
    notes = len(check.findings) - len(check.stops) - len(check.doubts)
    yield ESTIMATE
    yield f"{notes} note{'s' * (notes != 1)}, and every figure: ventsize check --full"


def beside_runs(check: JobCheck, system: System) -> str:
    """What settles the whole job where that is no run's length, as lines before what is said of its runs."""
    if check.verdict == "within" or check.decides.run is not None:
        return ""
    said = f"{check.verdict.upper()}. {reason(check.decides, system)}"
    return "\n".join([*wrapped(said, "  "), ""])


def _reasons(check: JobCheck, system: System) -> Iterator[str]:
    """What stops a pass: what settles the verdict first."""
    failed = [outcome for outcome in check.conditions if outcome.state != "met"]
    first = sorted(failed, key=lambda outcome: outcome != check.decides)
    shown = list(dict.fromkeys(reason(outcome, system) for outcome in first)) or [reason(check.decides, system)]
    for text in shown[:MOST_REASONS] if len(shown) <= MOST_REASONS else shown[: MOST_REASONS - 1]:
        yield from _two_lines(text, "  ") if text == shown[0] else [shortened(f"  {text}", WIDTH)]
    if len(shown) > MOST_REASONS:
        yield f"  and {len(shown) - MOST_REASONS + 1} more conditions that are not met or not known"


def _two_lines(text: str, mark: str) -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=mark, subsequent_indent=" " * len(mark), max_lines=2, placeholder=" …"
    )


def _run(run: RunCheck, system: System) -> str:
    """What of what, what is left, and the row that says so."""
    answer = run.table
    name = shortened(run.run.name, 20)
    unit = display_unit(Dimension.LENGTH, system)
    if answer is None or answer.equivalent_length is None:
        return shortened(f"  {name}  no length by a table", WIDTH)
    used = show_number(answer.equivalent_length, Dimension.LENGTH, system)
    if answer.allowable_length is None or run.margin is None:
        return shortened(f"  {name}  {used} {unit}{_elbows(run)}, {run.verdict}{_row(run)}", WIDTH)
    left = "left" if run.margin >= 0.0 else "too long"
    allowed = show_feet(answer.allowable_length, system)
    margin = show_feet(abs(run.margin), system)
    return shortened(f"  {name}  {used} of {allowed}{_elbows(run)}, {margin} {left}{_row(run)}", WIDTH)


def _elbows(run: RunCheck) -> str:
    count = None if run.table is None else run.table.elbows
    return "" if count is None else f" with {count} elbow{'s' * (count != 1)}"


def _row(run: RunCheck) -> str:
    if run.table is None:
        return ""
    governing = (run.table.row_input, run.table.row_size)
    row = next((row for row in run.table.rows if (row.input, row.size_label) == governing), None)
    return "" if row is None else f" (row {row.number}: {row.input_label}, {row.size_label})"


def _calculation(check: JobCheck, system: System) -> Iterator[str]:
    """The pressures, where the table's permission comes to one; the words say whether the two agree."""
    judged = [run for run in check.runs if run.worst.budget_pressure is not None]
    if not judged:
        return
    outside = any(rate.within_allowance is False for run in judged for rate in run.rates)
    agrees = outside is (check.verdict == "over")
    unit = display_unit(Dimension.PRESSURE, system)
    figures = ", ".join(
        f"{run.run.name} {show_number(run.worst.counted_pressure, Dimension.PRESSURE, system)} of "
        f"{show_number(run.worst.budget_pressure, Dimension.PRESSURE, system)}"
        for run in judged
    )
    rates = {run.worst.name for run in judged}
    at = f" at {next(iter(rates))}" if len(rates) == 1 else ""
    said = "agrees" if agrees else "is outside" if outside else "is inside"
    text = f"Calculation {said}: {figures} {unit}{at}"
    yield from _two_lines(text, "  ") if check.verdict == "within" else [shortened(f"  {text}", WIDTH)]
