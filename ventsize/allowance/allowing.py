"""What the rows that answer allow, and whether the runs keep to it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from ventsize.allowance.altitude import share_of
from ventsize.allowance.answer import PRESSURE, DeductionLine, TableAnswer
from ventsize.allowance.comparing import Comparison, compare, permitted, shares
from ventsize.allowance.model import EACH_RUN, NOT_PERMITTED, SAME_LENGTH, SHARES, Row
from ventsize.allowance.question import Question, distinct, met, not_met
from ventsize.allowance.shares import SizeShare
from ventsize.catalog.records import same_size
from ventsize.finding import Finding, Outcome, Value, Where, length, power, share


def judged(
    case: Question, before: Sequence[Outcome], besides: Sequence[Outcome], required: Sequence[str]
) -> TableAnswer:
    """The answer by the rows read: the strictest comparison governs."""
    found = [
        (size, compare(row, case.table, case.counted, case.ends, share=_share(case, row))) for size, row in case.read
    ]
    comparisons = [comparison for _, comparison in found]
    added_up = _shares(case, found)
    governing = _governing(comparisons, added_up)
    missing = list(dict.fromkeys(finding for c in comparisons for finding in c.charges.missing))
    minima = [c.row.minimum for c in comparisons if c.row.minimum is not None]
    pressures = [c.pressure for c in comparisons if c.pressure is not None]
    about = [Outcome(condition="fittings-in-table", state="not known", because=finding) for finding in missing]
    within = _shares_kept(added_up, governing) if added_up else _length(governing, _pair(governing, found))
    about += [] if missing else [met("fittings-in-table", "fittings-in-table", {})]
    about += [within] if within.state == "not met" or not missing else []  # what is missing only adds to it
    about.append(_least(max(comparisons, key=lambda comparison: comparison.shortfall)))
    turns, most = sum(run.turns for run in case.counted), case.table.limits.most_elbows
    too_many = most is not None and turns > most
    allowed = None if too_many else _allowed(governing, added_up)
    return TableAnswer(
        outcomes=(*before, *about, *besides),
        straight_length=case.straight,
        findings=(*findings(case), *_used_rows(case, governing, found), *_overrides(governing)),
        required=(*required, *([PRESSURE] if pressures else ())),
        rows=tuple(dict.fromkeys(comparison.row for comparison in comparisons)),
        row=governing.row,
        pipe_size=next(size for size, comparison in found if comparison is governing),
        row_input=governing.row.input,
        row_size=governing.row.size_label,
        equivalent_length=None if missing else governing.compared,
        allowable_length=allowed,
        minimum_length=max(minima, default=None),
        used=governing.compared / allowed if allowed and not missing else None,
        deductions=_lines(governing),
        elbows=governing.elbows,
        budget_length=None if governing.row.budget is None else governing.row.budget * governing.share,
        permitted=tuple(permitted(governing.row, governing.share)) if governing.row.counts_elbows else None,
        allowable_pressure=min(pressures, default=None),
        altitude_share=governing.share,
        free=tuple(governing.charges.free.items()),
        shares=tuple(added_up),
        turns=turns,
        most_elbows=most,
        note=case.table.note,
    )


def _share(case: Question, row: Row) -> float:
    return share_of(case.table, row, case.site.altitude or 0.0)


def _shares(case: Question, found: Sequence[tuple[float, Comparison]]) -> list[SizeShare]:
    """What each size uses of its own allowance, where the table adds shares and there are several sizes."""
    sizes = distinct(size for size, comparison in found if not comparison.row.by_pressure)
    if case.table.mixed_sizes != SHARES or len(sizes) < 2:
        return []
    return shares(
        [(size, [c for other, c in found if same_size(other, size) and not c.row.by_pressure]) for size in sizes],
        case.counted,
    )


def _governing(comparisons: Sequence[Comparison], added_up: Sequence[SizeShare]) -> Comparison:
    """The comparison that leaves least; where shares are added up, that of the size that uses most."""
    if added_up:
        most = max(added_up, key=lambda one: one.used)
        return next(comparison for comparison in comparisons if comparison.row is most.row)
    return min(comparisons, key=lambda comparison: comparison.margin)


def _allowed(governing: Comparison, added_up: Sequence[SizeShare]) -> float | None:
    """The length allowed [m]; where shares are added up, of pipe divided over the sizes as here."""
    if not added_up:
        return governing.allowable
    used = math.fsum(one.used for one in added_up)
    return governing.compared / used if 0.0 < used < math.inf else governing.allowable if used == 0.0 else None


def _length(governing: Comparison, between: Mapping[str, Value]) -> Outcome:
    """Whether the length compared is within the governing row. between: the inputs of the rows around the case's."""
    row, allowed = governing.row, governing.allowable
    if row.by_pressure:
        return met("length-allowed", "pressure-not-length", {"label": row.label}, row.number)
    if allowed is None:
        code, values = _not_permitted(governing)
        return not_met("length-allowed", code, values, row.number)
    values = {**_compared(governing), **between, "allowed": length(allowed)}
    if governing.fits:
        return met("length-allowed", "length-within", {**values, "left": length(governing.margin)}, row.number)
    return not_met("length-allowed", "length-over", {**values, "beyond": length(-governing.margin)}, row.number)


def _shares_kept(added_up: Sequence[SizeShare], governing: Comparison) -> Outcome:
    """Whether the shares of the sizes add up to no more than one."""
    used = math.fsum(one.used for one in added_up)
    values: dict[str, Value] = {
        "used": share(min(used, 1e6)), "sizes": tuple(one.row.size_label for one in added_up),
        "label": governing.row.label,
    }  # fmt: skip
    hair = SAME_LENGTH / min((one.allowable for one in added_up if one.allowable), default=math.inf)
    if used <= 1.0 + hair:
        return met("length-allowed", "shares-within", values, governing.row.number)
    return not_met("length-allowed", "shares-over", values, governing.row.number)


def _compared(comparison: Comparison) -> dict[str, Value]:
    values: dict[str, Value] = {"compared": length(comparison.compared), "label": comparison.row.label}
    if comparison.elbows is not None:
        values["elbows"] = comparison.elbows
        values["added"] = length(comparison.charges.total)
    return values


def _not_permitted(comparison: Comparison) -> tuple[str, dict[str, Value]]:
    """The row permits no length with so many elbows."""
    row, count = comparison.row, comparison.elbows or 0
    listed = [number for number, entry in enumerate(row.allowable_by_elbows or (), start=row.first_elbows)
              if entry != NOT_PERMITTED]  # fmt: skip
    values: dict[str, Value] = {"label": row.label, "elbows": count}
    if comparison.share <= 0.0:
        return "nothing-left-at-altitude", values
    if not listed:
        return "no-pipe-permitted", values
    values["most"] = listed[-1]
    return ("elbows-not-permitted" if row.entry(count) == NOT_PERMITTED else "elbows-not-listed"), values


def _least(shortest: Comparison) -> Outcome:
    """Whether each pipe is as long as the rows' minimum asks: straight pipe, as it stands."""
    least = shortest.row.minimum
    if least is None:
        return met("length-enough", "no-minimum", {})
    values: dict[str, Value] = {
        "straight": length(shortest.straight), "label": shortest.row.label, "least": length(least)
    }  # fmt: skip
    if shortest.shortfall <= SAME_LENGTH:
        return met("length-enough", "length-enough", values, shortest.row.number)
    values["short"] = length(shortest.shortfall)
    return not_met("length-enough", "length-short", values, shortest.row.number, verdict="short")


def _lines(governing: Comparison) -> tuple[DeductionLine, ...]:
    """Charges of one name, figure and origin put together."""
    counts: dict[tuple[str, float, str, bool], int] = {}
    for charge in governing.charges.charges:
        key = (charge.name, charge.each, charge.origin, charge.pairs)
        counts[key] = counts.get(key, 0) + charge.count
    return tuple(
        DeductionLine(fitting=name, count=count, each=each, total=count * each, origin=origin, pairs=pairs)  # type: ignore[arg-type]
        for (name, each, origin, pairs), count in counts.items()
    )


def _pair(governing: Comparison, found: Sequence[tuple[float, Comparison]]) -> dict[str, Value]:
    """The inputs of the two rows that the input lies between; nothing where it has a row of its own."""
    size = next(size for size, comparison in found if comparison is governing)
    pair = sorted((c.row for other, c in found if same_size(other, size)), key=lambda row: row.input)
    if pair[0].input == pair[-1].input:
        return {}
    return {"lower": pair[0].input_label, "higher": pair[-1].input_label}


# What is worth knowing besides


def _used_rows(case: Question, governing: Comparison, found: Sequence[tuple[float, Comparison]]) -> Iterator[Finding]:
    """Where the input stands between two rows, which of the two was used; and what altitude takes off."""
    if pair := _pair(governing, found):
        values: dict[str, Value] = {"input": power(case.input), **pair, "used": governing.row.input_label}
        yield Finding("input-between-rows", Where(row=governing.row.number), values)
    if governing.share < 1.0:
        values = {"share": share(governing.share), "altitude": length(case.site.altitude or 0.0)}
        yield Finding("altitude-factor-applied", Where(row=governing.row.number), values)


def findings(case: Question) -> Iterator[Finding]:
    """What is worth knowing whichever the verdict."""
    if len(case.sizes) > 1:
        code = "mixed-sizes-shared" if case.table.mixed_sizes == SHARES else "mixed-sizes"
        yield Finding(code, Where(), {"sizes": case.labels(case.sizes)})
    if case.table.counts != EACH_RUN and set(case.gases) < set(case.table.applies_to):
        left_out: tuple[str, ...] = tuple(sorted(set(case.table.applies_to) - set(case.gases)))
        yield Finding("counted-without", Where(), {"gases": left_out})


def _overrides(governing: Comparison) -> Iterator[Finding]:
    """The job's own lengths, always named."""
    for charge in governing.charges.charges:
        if charge.origin == "override":
            yield Finding("length-from-job", Where(), {"fitting": charge.name, "length": length(charge.each)})
