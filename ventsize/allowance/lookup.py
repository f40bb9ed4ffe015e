"""Looking a run up in an allowance table: which rows answer, what they allow, and whether the run keeps to it.

The conditions stand in this order: what the table is for, sizes, altitude, what the rows hold for, input, deductions,
lengths; and besides, whatever the rows: elbows and other limits, pipe in the cold, footnotes. The first of the look-up
that is not met ends it. Nothing is interpolated and nothing is extrapolated.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from ventsize.allowance.allowing import findings, judged
from ventsize.allowance.altitude import HOLDS_AT_THIS_ALTITUDE, must_be_confirmed
from ventsize.allowance.answer import CASE, CONDITIONS, CONFIRMED_ALTITUDE, FOOTNOTES, TableAnswer
from ventsize.allowance.case import RowCase, Site
from ventsize.allowance.counted import Counted
from ventsize.allowance.exposed import EXPOSED, exposed_allowed
from ventsize.allowance.limits import elbows_allowed, limit_conditions, limits_kept
from ventsize.allowance.model import EACH_RUN, AllowanceTable, Row, by_size
from ventsize.allowance.question import Question, distinct, met, not_met
from ventsize.allowance.row_choice import choose
from ventsize.finding import Finding, Outcome, Value, Where, deciding, length, power
from ventsize.jobfile.job import Carries


def look_up(
    table: AllowanceTable,
    *,
    input: float,
    site: Site,
    counted: Sequence[Counted],
    ends: Collection[str] = (),
    one_way: bool = False,
) -> TableAnswer:
    """What a table says about a run, or about the runs it judges together.

    input: the highest gross input of the appliance [W]
    site: the job around the runs
    counted: one run; the parts of one way out, from the appliance, with `one_way`; or, where the table counts them
        together, the vent and air runs
    ends: names of terminals and entrances besides those that begin with "terminal-" or "entrance-"

    Raises ValueError where several runs are put to a table that counts each run by itself.
    """
    if not counted:
        raise ValueError("no run to look up")
    if table.counts == EACH_RUN and len(counted) > 1 and not one_way:
        raise ValueError("the table counts each run by itself")
    case = Question(table, input, site, tuple(counted), ends)
    before: list[Outcome] = []
    for outcome in _rows_answer(case):
        before.append(outcome)
        if outcome.state != "met":
            return TableAnswer(
                outcomes=(*before, *_besides(case)),
                straight_length=case.straight,
                findings=tuple(findings(case)),
                required=conditions_of(table),
                turns=sum(run.turns for run in counted),
                most_elbows=table.limits.most_elbows,
                note=table.note,
            )
    return judged(case, before, tuple(_besides(case)), conditions_of(table))


def conditions_of(table: AllowanceTable) -> tuple[str, ...]:
    """The conditions that a pass by a table needs, by name; that of a pressure row apart."""
    known: tuple[str, ...] | None = table.memo.get("conditions")
    if known is None:
        asked = (
            (CASE, any(row.holds_for.count for row in table.rows)),
            (CONFIRMED_ALTITUDE, table.altitude_factor is None and not all(row.has_band for row in table.rows)),
            (FOOTNOTES, bool(table.confirm)),
            (EXPOSED, bool(table.exposed)),
        )
        known = (*CONDITIONS, *(name for name, stated in asked if stated), *limit_conditions(table))
        table.memo["conditions"] = known
    return known


# Which rows answer


def _rows_answer(case: Question) -> Iterator[Outcome]:
    """Whether the table has rows for this case, condition by condition; those that answer go into `case.read`."""
    if not case.sizes:
        yield Outcome(condition="size-in-table", state="not known", because=Finding("nothing-to-look-up"))
        return
    yield _gas(case)
    cases = {carries: case.of_gas(carries) for carries in case.gases}
    yield _size(case, cases)
    if case.site.altitude is None:
        yield Outcome(condition="altitude-in-table", state="not known", because=Finding("altitude-missing"))
        return
    refused: list[Outcome] = []
    for run in case.counted:
        for size in run.sizes:
            chosen = choose(
                case.table, cases[run.carries], size=size, label=case.label(size), input=case.input,
                altitude=case.site.altitude,
            )  # fmt: skip
            refused += [] if chosen.refused is None else [chosen.refused]
            case.read.extend((size, row) for row in chosen.rows if (size, row) not in case.read)
    worst = deciding(refused)
    if worst is not None:
        yield worst
        return
    yield from _found(case, case.site.altitude)


def _gas(case: Question) -> Outcome:
    meant: tuple[str, ...] = case.table.applies_to
    for carries in case.gases:
        if carries not in meant:
            values: dict[str, Value] = {"carries": carries, "meant": meant}
            return not_met("gas-in-table", "gas-not-in-table", values, verdict="not covered")
    return met("gas-in-table", "gas-in-table", {"meant": meant})


def _size(case: Question, cases: Mapping[Carries, RowCase]) -> Outcome:
    missing = distinct(
        size
        for run in case.counted
        for size in run.sizes
        if not any(cases[run.carries].fits_size(row, size) for row in case.table.rows)
    )
    if missing:
        listed = tuple(rows[0].size_label for rows in by_size(case.table.rows))
        values: dict[str, Value] = {"sizes": case.labels(missing), "listed": listed}
        return not_met("size-in-table", "size-not-in-table", values, verdict="not covered")
    return met("size-in-table", "size-in-table", {"sizes": case.labels(case.sizes)})


def _found(case: Question, altitude: float) -> Iterator[Outcome]:
    """That rows answer, and which."""
    rows = [row for _, row in case.read]
    bands = tuple(dict.fromkeys(row.band_label for row in rows if row.has_band))
    yield met("altitude-in-table", "altitude-in-table", {"altitude": length(altitude), "bands": bands})
    required = conditions_of(case.table)
    if CASE in required:
        named = tuple(dict.fromkeys(text for row in rows for text in row.holds_for.labels))
        yield met(CASE, "row-for-case", {"conditions": named})
    if CONFIRMED_ALTITUDE in required:
        yield _altitude_confirmed(case, rows, altitude)
    listed = tuple(dict.fromkeys(row.input_label for row in rows))
    yield met("input-in-table", "input-in-table", {"input": power(case.input), "inputs": listed})


def _altitude_confirmed(case: Question, rows: Sequence[Row], altitude: float) -> Outcome:
    asked = next((row for row in rows if must_be_confirmed(case.table, row, altitude)), None)
    values: dict[str, Value] = {"altitude": length(altitude), "text": HOLDS_AT_THIS_ALTITUDE}
    if asked is None or case.site.confirms(HOLDS_AT_THIS_ALTITUDE):
        code = "altitude-needs-no-word" if asked is None else "altitude-confirmed"
        return met(CONFIRMED_ALTITUDE, code, values)
    because = Finding("altitude-not-confirmed", Where(row=asked.number), values)
    return Outcome(condition=CONFIRMED_ALTITUDE, state="not known", because=because)


# What holds whatever the rows


def _besides(case: Question) -> Iterator[Outcome]:
    """Limits, pipe in the cold and footnotes: a page asks for them whichever row answers."""
    required = conditions_of(case.table)
    yield elbows_allowed(case.table, case.counted)
    yield from limits_kept(case.table, case.counted, case.site)
    if EXPOSED in required:
        yield exposed_allowed(case.table, case.counted, case.site)
    if FOOTNOTES in required:
        left = tuple(text for text in case.table.confirm if not case.site.confirms(text))
        because = Finding("footnotes-open" if left else "footnotes-confirmed", Where(), {"footnotes": left})
        yield Outcome(condition=FOOTNOTES, state="not known" if left else "met", because=because)
