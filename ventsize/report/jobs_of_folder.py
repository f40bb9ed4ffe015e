"""The jobs of a folder as text, CSV and an object for JSON."""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any

from ventsize.jobfile.letters import harmless
from ventsize.quantity import System, show_feet
from ventsize.report.keys import Keys
from ventsize.report.money import cost_object, total_words
from ventsize.report.text_parts import as_text, indented, shortened
from ventsize.studies.jobs_of_folder import JobLine


@as_text
def render(lines: Sequence[JobLine], system: System) -> Iterator[str]:
    """A line a job, and a last one that counts them."""
    if lines:
        yield f"{'Job':<20}{'State':<11}{'Verdict':<12}{'Left':>11}{'Cost':>24}"
    for line in lines:
        name = shortened(line.path.stem, 19)
        if line.fault is not None:
            yield f"{name:<20}{'':<11}cannot be read"
            yield from indented(f"{line.fault.place}: {line.fault.problem}".lstrip(": "), "    ")
            continue
        cost = "" if line.cost is None else shortened(total_words(line.cost), 23)
        verdict = f"{'? ' if line.doubted else ''}{line.verdict or ''}".upper()
        yield f"{name:<20}{line.state or '-':<11}{verdict:<12}{margin_of(line, system):>11}{cost:>24}".rstrip()
    yield counted(lines)


def margin_of(line: JobLine, system: System) -> str:
    """What is left of the allowance; too long with a minus."""
    if line.margin is None:
        return "-"
    return f"{'−' if line.margin < 0 else ''}{show_feet(abs(line.margin), system)}"


def counted(lines: Sequence[JobLine]) -> str:
    """`10 jobs: 7 within, 2 over, 1 cannot be read`."""
    found = Counter(
        "cannot be read" if line.fault is not None else f"{line.verdict}{' with a doubt' if line.doubted else ''}"
        for line in lines
    )
    parts = ", ".join(f"{number} {what}" for what, number in found.most_common())
    return f"{len(lines)} job{'' if len(lines) == 1 else 's'}" + (f": {parts}" if parts else "")


COLUMNS = ("file", "title", "state", "verdict", "margin_m", "cost", "at_least", "currency", "fault")


def as_csv(lines: Sequence[JobLine]) -> str:
    """A row a job, for a spreadsheet; the margin in meters."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for line in lines:
        cost = ["", "", ""]
        if line.cost is not None:
            cost = [f"{line.cost.total:f}", "yes" if line.cost.at_least else "no", harmless(line.cost.currency)]
        margin = "" if line.margin is None else f"{line.margin:.3f}"
        texts = [harmless(text) for text in (line.path.name, line.title, line.state or "", line.verdict or "")]
        writer.writerow([*texts, margin, *cost, harmless(str(line.fault)) if line.fault else ""])
    return out.getvalue()


def as_object(lines: Sequence[JobLine]) -> list[dict[str, Any]]:
    """The jobs for JSON (SI)."""
    return [
        {
            "file": line.path.name,
            **_LINE(line),
            "cost": None if line.cost is None else cost_object(line.cost),
            "fault": None if line.fault is None else str(line.fault),
        }
        for line in lines
    ]


_LINE = Keys(JobLine, "title state verdict doubts margin_m")
