"""What the table counts each fitting as, beside what the calculation makes of it."""

from __future__ import annotations

from ventsize.catalog.records import FittingRecord
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import show_feet
from ventsize.studies.sweeps.elbows import FEET
from ventsize.studies.sweeps.model import Bar, Sweep
from ventsize.studies.sweeps.subject import Subject, Worth

OPEN_END = "terminal-open"
NOTHING = 0.03048  # a tenth of a foot [m]; a table's "included" is no deduction to compare


def table_and_calculation(subject: Subject) -> Sweep:
    """Every fitting that the run's table has a length for, in the run's size, at the rate."""
    system, section = subject.system, subject.section
    place = f"run '{subject.run.run.name}'"
    if subject.run.table_file is None:
        raise InputError(Problem(subject.inputs.file, place, "no table judges it", "a run with a table"))
    table = subject.inputs.tables[subject.run.table_file]
    catalog = subject.inputs.catalog.fittings
    names = [*table.deductions, *(p.name for p in subject.run.run.pieces if p.kind == "elbow")]
    bars = []
    for name in dict.fromkeys(names):
        record, length = catalog.get(name), subject.by_table(name, section)
        if record is None or record.kind == "size change" or length is None or length < NOTHING:
            continue
        bars.append(_bar(subject, record, length))
    if not bars:
        problem = f"the table has no length for a fitting in {section.label} pipe"
        raise InputError(Problem(subject.inputs.file, place, problem, "a table that deducts"))
    ratios = [(bar.beside or 0.0) / bar.value for bar in bars]
    furthest = max(zip(ratios, bars, strict=True), key=lambda pair: max(pair[0], 1.0 / pair[0]))
    inside = [bar.name for bar in bars if bar.low is not None and bar.high is not None and bar.beside is not None
              and bar.low <= bar.beside <= bar.high]  # fmt: skip
    notice = (
        f"At {subject.rate.name} in {section.label} pipe the table counts {furthest[1].name} as "
        f"{show_feet(furthest[1].beside or 0.0, system)}, the calculation as {show_feet(furthest[1].value, system)}: "
        f"{furthest[0]:.1f} times. Of all, these are furthest apart.",
        f"Inside the band of the published methods: {', '.join(inside) if inside else 'none'}. A table is made for "
        "every rate and for safety, and counts in round feet; it decides all the same.",
    )
    return Sweep(
        kind="table-and-calculation",
        title=f"Fittings by the table and by calculation, {section.label} pipe, at {subject.rate.name}",
        across=None,
        up=FEET,
        beside="the table",
        bars=tuple(bars),
        notice=notice,
    )


def _bar(subject: Subject, record: FittingRecord, length: float) -> Bar:
    found = subject.worth(record=record)
    source = "fixed coefficient" if record.loss and record.loss.k is not None else "published methods"
    plain = subject.inputs.catalog.fittings.get(OPEN_END)
    included = subject.by_table(OPEN_END, subject.section)
    if record.kind == "terminal" and plain is not None and included is not None and included < NOTHING:
        # The table's allowance has the open end in it: what is compared is what this end costs over it.
        off = subject.worth(record=plain)
        found = Worth(found.nominal - off.nominal, found.low - off.low, found.high - off.low)
        source += ", over a plain open end, which the table includes"
    return Bar(name=record.name, value=found.nominal, low=found.low, high=found.high, beside=length, source=source)
