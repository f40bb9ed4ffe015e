"""What the table counts each fitting as, beside what the calculation makes of it."""

from __future__ import annotations

from ventsize.catalog.records import FittingRecord
from ventsize.finding import Finding, Value, length
from ventsize.jobfile.problems import InputError, Problem
from ventsize.studies.sweeps.elbows import FEET, beside_band
from ventsize.studies.sweeps.model import Bar, Sweep
from ventsize.studies.sweeps.subject import Subject, Worth

OPEN_END = "terminal-open"
NOTHING = 0.03048  # a tenth of a foot [m]; a table's "included" is no deduction to compare


def table_and_calculation(subject: Subject) -> Sweep:
    """Every fitting that the run's table has a length for, in the run's size, at the rate."""
    section = subject.section
    place = f"run '{subject.run.run.name}'"
    if subject.run.table_file is None:
        raise InputError(Problem(subject.inputs.file, place, "no table judges it", "a run with a table"))
    table = subject.inputs.tables[subject.run.table_file]
    catalog = subject.inputs.catalog.fittings
    names = [*table.deductions, *(p.name for p in subject.run.run.pieces if p.kind == "elbow")]
    bars = []
    for name in dict.fromkeys(names):
        record, counted = catalog.get(name), subject.by_table(name, section)
        if record is None or record.kind == "size change" or counted is None or counted < NOTHING:
            continue
        bars.append(_bar(subject, record, counted))
    if not bars:
        problem = f"the table has no length for a fitting in {section.label} pipe"
        raise InputError(Problem(subject.inputs.file, place, problem, "a table that deducts"))
    return subject.sweep(
        "table-and-calculation", across=None, up=FEET, beside="the table", bars=tuple(bars), notice=_notice(bars)
    )


def _notice(bars: list[Bar]) -> tuple[Finding, ...]:
    """Which is furthest apart, and which of the table's lengths lie above, inside and below the methods' band."""

    def apart(bar: Bar) -> float:
        ratio = (bar.beside or 0.0) / bar.value
        return max(ratio, 1.0 / ratio)

    furthest = max(bars, key=apart)
    values: dict[str, Value] = {
        "fitting": furthest.name,
        "table": length(furthest.beside or 0.0),
        "own": length(furthest.value),
    }
    found = [Finding("sweep-furthest-apart" if len(bars) > 1 else "sweep-apart", values=values)]
    places: dict[str, list[str]] = {}
    for bar in bars:
        places.setdefault(beside_band(bar.beside or 0.0, bar.low or 0.0, bar.high or 0.0), []).append(bar.name)
    found += [Finding(code + "-those", values={"fittings": tuple(names)}) for code, names in sorted(places.items())]
    return (*found, Finding("sweep-table-decides"))


def _bar(subject: Subject, record: FittingRecord, counted: float) -> Bar:
    worth = subject.worth(record=record)
    plain = subject.inputs.catalog.fittings.get(OPEN_END)
    included = subject.by_table(OPEN_END, subject.section)
    over = record.kind == "terminal" and plain is not None and included is not None and included < NOTHING
    if over and plain is not None:
        # The table's allowance has the open end in it: what is compared is what this end costs over it.
        off = subject.worth(record=plain).nominal
        worth = Worth(worth.nominal - off, worth.low - off, worth.high - off)
    fixed = record.loss is not None and record.loss.k is not None
    return Bar(name=record.name, value=worth.nominal, low=worth.low, high=worth.high, beside=counted, fixed=fixed,
               over_open_end=over)  # fmt: skip
