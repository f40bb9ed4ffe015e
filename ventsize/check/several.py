"""A way out whose runs are looked up at several inputs, or in several tables: it goes by its shortest allowance."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from ventsize.allowance.altitude import share_of
from ventsize.allowance.answer import TableAnswer
from ventsize.allowance.case import Site
from ventsize.allowance.comparing import Comparison, allowable, compare
from ventsize.allowance.counted import Counted
from ventsize.allowance.elbows import elbows_of
from ventsize.allowance.exposed import exposed_allowed
from ventsize.allowance.limits import elbows_allowed, limits_kept
from ventsize.allowance.model import SAME_LENGTH, AllowanceTable, Row
from ventsize.finding import Finding, Outcome, Value, Verdict, Where, deciding, length

WAY = "way-allowed"


@dataclass(frozen=True, slots=True)
class Part:
    """Runs of a way that one look-up judged: their table, the runs from the appliance on, its answer, their site."""

    table: AllowanceTable
    counted: Sequence[Counted]
    answer: TableAnswer
    site: Site


def several_tables(parts: Sequence[Part], ends: Collection[str], *, without_table: Sequence[Counted]) -> Outcome:
    """The outcome that settles a whole way.

    Each table counts its own runs, the elbows that it includes once; the sum is held against the shortest of what the
    rows read allow for the whole way, and each table's limits hold for all of it.

    ends: terminals and entrances, by name. without_table: runs of the way that no table judges
    """
    whole = [*(run for part in parts for run in part.counted), *without_table]
    limits = [outcome for part in parts for outcome in _limits(part, whole)]
    refused = [outcome for part in parts if not part.answer.rows for outcome in part.answer.outcomes]
    if refused or without_table:
        unknown = Outcome(condition=WAY, state="not known", because=Finding("way-length-unknown"))
        worst = deciding([*refused, unknown, *limits])
    else:
        worst = deciding([*_length(parts, whole, ends), *limits])
    assert worst is not None
    return worst


def _limits(part: Part, whole: Sequence[Counted]) -> Iterator[Outcome]:
    yield elbows_allowed(part.table, whole)
    yield from limits_kept(part.table, whole, part.site)
    if part.table.exposed:
        yield exposed_allowed(part.table, whole, part.site)


def _length(parts: Sequence[Part], whole: Sequence[Counted], ends: Collection[str]) -> Iterator[Outcome]:
    by_table: dict[int, list[Part]] = {}
    for part in parts:
        by_table.setdefault(id(part.table), []).append(part)
    total, allowed, minima = 0.0, [], [0.0]
    plain = any(row.allowable is not None for part in parts for row in part.answer.rows)
    for number, alike in enumerate(by_table.values()):
        runs = [run for part in alike for run in part.counted]
        rows = dict.fromkeys(row for part in alike for row in part.answer.rows)
        found = [_compare(alike[0], row if number == 0 else _including_none(row), runs, ends) for row in rows]
        missing = next((finding for one in found for finding in one.charges.missing), None)
        if plain and all(row.allowable is None for row in rows) and any(run.present for run in runs):
            missing = missing or Finding("way-length-unknown")  # fittings that count as no length in rows of this kind
        if missing is not None:  # what is missing only adds to the length
            yield Outcome(condition=WAY, state="not known", because=missing)
        total += max(one.compared for one in found)
        minima += [row.minimum for row in rows if row.minimum is not None]
        for one in found:
            if one.row.by_pressure:
                continue
            elbows = sum(elbows_of(alike[0].table, run) for run in whole) if one.row.counts_elbows else None
            here = allowable(one.row, elbows, one.share)
            if here is None:
                yield _not_met(Finding("way-not-permitted", Where(), {"label": one.row.label}), "over")
            else:
                allowed.append(here)
    yield _held(total, min(allowed, default=math.inf), max(minima), whole)


def _including_none(row: Row) -> Row:
    """A row whose included elbows another table's row has used up."""
    return replace(row, elbows_included=0) if row.elbows_included else row


def _compare(part: Part, row: Row, runs: Sequence[Counted], ends: Collection[str]) -> Comparison:
    assert part.site.altitude is not None  # without it no row is read
    return compare(row, part.table, runs, ends, share=share_of(part.table, row, part.site.altitude))


def _held(total: float, limit: float, least: float, whole: Sequence[Counted]) -> Outcome:
    """The sum of a way against the shortest allowance, and the least length."""
    straight: dict[str, float] = {}
    for run in whole:
        straight[run.carries] = straight.get(run.carries, 0.0) + run.straight
    shortest = min(straight.values())
    values: dict[str, Value] = {"compared": length(total), "allowed": length(limit)}
    if total > limit + SAME_LENGTH:
        return _not_met(Finding("way-over", Where(), {**values, "beyond": length(total - limit)}), "over")
    if shortest < least - SAME_LENGTH:
        return _not_met(Finding("way-short", Where(), {"straight": length(shortest), "least": length(least)}), "short")
    if math.isinf(limit):
        return Outcome(condition=WAY, state="met", because=Finding("pressure-not-length", Where(), {"label": ""}))
    return Outcome(condition=WAY, state="met", because=Finding("way-within", Where(), values))


def _not_met(because: Finding, verdict: Verdict) -> Outcome:
    return Outcome(condition=WAY, state="not met", because=because, if_not=verdict)
