"""Exercises on the allowance table: what it says, when it says nothing, and when only a calculation tells."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import get_args

from ventsize.allowance.answer import TableAnswer
from ventsize.allowance.model import NOT_PERMITTED
from ventsize.finding import Verdict
from ventsize.quantity.board import Kind
from ventsize.studies.exercises.board import Board, choose
from ventsize.studies.exercises.draws import TABLE, Data, DrawAgain, Drawn, Draws
from ventsize.studies.exercises.model import CHAIN, ONE_STEP, Asked, Exercise, Pictured
from ventsize.studies.working.judging import table_steps
from ventsize.studies.working.steps import Given, Step

COUNTING, VERDICT = "table", "verdict"
VERDICTS: tuple[str, ...] = tuple(v for v in get_args(Verdict) if v != "unsafe")  # nothing unsafe is drawn
LONG, SHORT, FORTY_FIVE = "elbow-90-long", "elbow-90-short", "elbow-45"
CLEAR = 0.3  # a margin that rounding by hand does not turn around [m]


def by_deductions(draws: Draws) -> Exercise:
    """Straight pipe and what the table deducts for each fitting."""
    job, table = _job_and_table(draws)
    drawn = draws.solve(job, table)
    _is_clear(drawn, draws.once("by deductions", ("within", "over")))
    return _table_exercise(drawn, COUNTING, 1, "by-deductions", "L[t]", "L[left]")


def by_elbows(draws: Draws) -> Exercise:
    """A row of lengths by number of elbows; two 45° elbows count as one of 90°."""
    job, table = _job_and_table(draws)
    usual = draws.usual
    straight = draws.one_of(usual.allowable)
    counts = {LONG: draws.random.randint(1, 3), FORTY_FIVE: draws.random.randint(0, 3)}
    fittings = {name: count for name, count in counts.items() if count} | {"terminal-open": 1}
    run = {key: value for key, value in job["run"][0].items() if key != "pieces"}
    job["run"] = [{**run, "straight": draws.length(straight), "fittings": fittings}]
    del table["deductions"]
    each = draws.one_of(usual.elbow_short)
    for row in table["row"]:
        most = float(row.pop("allowable").split()[0])
        left = [most - n * each for n in range(5)]
        row["allowable_by_elbows"] = [draws.length(one) if one > 0 else NOT_PERMITTED for one in left] + [NOT_PERMITTED]
    drawn = draws.solve(job, table)
    answer = _is_clear(drawn, draws.once("by elbows", ("within", "over")))
    elbows = Asked(code="elbows-counted", answer=Given("90° elbows counted", "N", float(answer.elbows or 0)))
    allowed = Asked(
        code="straight-allowed",
        answer=Given("length allowed", "L[a]", answer.allowable_length or 0.0, Kind.LENGTH),
        tolerance=ONE_STEP,
    )
    return Exercise(
        topic=COUNTING,
        level=2,
        code="by-elbows",
        tells=("fire", "vents", "elbow-rule"),
        asked=(elbows, allowed, _verdict(drawn)),
        runs=(_pictured(drawn),),
        table=TABLE,
        key=_steps(drawn, "L[t]", "L[left]"),
    )


def between_rows(draws: Draws) -> Exercise:
    """An input between two rows: the shorter of the two governs."""
    job, table = _job_and_table(draws, between=True)
    drawn = draws.solve(job, table)
    answer = _is_clear(drawn, draws.once("between rows", ("within", "over")))
    if answer.row_input is None or len(answer.rows) < 2:
        raise DrawAgain
    rows = sorted({row.input for row in answer.rows})
    shorter = min(rows, key=lambda one: _allowed(answer, one))
    governs = choose("governs", tuple(_named(answer, one) for one in rows), _named(answer, shorter), "shorter")
    each = _deduction(drawn, LONG)
    left = answer.allowable_length - answer.equivalent_length if answer.allowable_length else 0.0  # type: ignore[operator]
    number = left / each
    made = _table_exercise(drawn, COUNTING, 3, "between-rows", "L[t]", "L[left]", first=governs)
    if number < 1 or not math.floor(number) + 0.1 < number < math.floor(number) + 0.9:
        return made
    more = Asked(code="elbows-more", answer=Given("", "N", float(math.floor(number))))
    return replace(made, asked=(*made.asked, more))


def _allowed(answer: TableAnswer, power: float) -> float:
    row = next(row for row in answer.rows if row.input == power)
    return row.allowable if isinstance(row.allowable, float) else 0.0


def _named(answer: TableAnswer, power: float) -> str:
    return next(row.input_label for row in answer.rows if row.input == power)


def _deduction(drawn: Drawn, name: str) -> float:
    stated = drawn.inputs.tables[TABLE].deductions[name].at(drawn.run.run.first_section.nominal)
    return stated or 1.0


def table_decides(level: int, draws: Draws) -> Exercise:
    """Within, over or short: the table alone says it."""
    wanted = draws.once("verdict", ("within", "over", "short") if level > 1 else ("within", "over"))
    job, table = _job_and_table(draws, between=level == 3, minimum=level > 1)
    drawn = draws.solve(job, table)
    _is_clear(drawn, wanted)
    return _table_exercise(drawn, VERDICT, level, "verdict", "L[t]")


def covered_or_not(level: int, draws: Draws) -> Exercise:
    """Whether the table has an answer at all, and which; nothing may be read into it."""
    job, table = _job_and_table(draws)
    site, run, rows = job["site"], job["run"][0], table["row"]
    whats = ("altitude", "size", "input", "deduction")[: level + 1]
    what = draws.once("what", (*whats, *["nothing"] * len(whats)))
    if what == "nothing":
        site["altitude"] = rows[0]["altitude"][1]  # as high as the table goes, and no higher
    elif what == "altitude":
        top = draws.usual.altitudes[len(draws.usual.altitudes) // 2]
        site["altitude"] = draws.altitude(top + draws.one_of(draws.usual.altitudes[1:4]))
        for row in rows:
            row["altitude"] = [draws.altitude(0), draws.altitude(top)]
    elif what == "size":
        table["row"] = [row for row in rows if row["size"] != run["size"]]
    elif what == "input":
        rate = job["appliance"][0]["rate"][0]
        inputs = draws.usual.inputs
        at = inputs.index(rate["input"])
        rate["input"] = inputs[min(at + draws.random.randint(1, 3), len(inputs) - 1)]
    else:
        used = [piece["fitting"] for piece in run["pieces"] if piece.get("fitting", "").startswith("elbow")]
        del table["deductions"][used[0]]
    drawn = draws.solve(job, table)
    if what == "nothing":
        _is_clear(drawn, draws.once("covered", ("within", "over")))
    elif drawn.run.verdict != ("incomplete" if what == "deduction" else "not covered"):
        raise DrawAgain
    return _table_exercise(drawn, VERDICT, level, "table-says")


def two_layouts(level: int, draws: Draws) -> Exercise:
    """Two layouts that the table tells apart by their elbows, or cannot; the calculation can."""
    job, table = _job_and_table(draws)
    alike = draws.once("alike", (True, False))
    if alike:
        each = draws.length(draws.one_of(draws.usual.elbow_short))
        table["deductions"] |= {LONG: each, SHORT: each}
    elbows = [at for at, piece in enumerate(job["run"][0]["pieces"]) if "elbow" in piece.get("fitting", "")]
    shorts = draws.random.sample(elbows, k=draws.random.randint(1, len(elbows)))
    both = [_with_elbows(job, elbows, SHORT, shorts if one else []) for one in (False, True)]
    draws.random.shuffle(both)
    first, second = (draws.solve(one, table) for one in both)
    for drawn in (first, second):
        _is_clear(drawn, "within")
    drops = [drawn.rate("high").flow.pressure_drop for drawn in (first, second)]
    more, less = (1, 0) if drops[1] > drops[0] else (0, 1)
    if drops[more] - drops[less] < 0.02 * drops[less]:
        raise DrawAgain
    board = Board(draws.units)
    pressure = board.given("velocity pressure in both", "q", first.rate("high").reference.dynamic_pressure,
                           Kind.PRESSURE)  # fmt: skip
    sums = [_elbow_sum(board, drawn, name) for drawn, name in ((first, "A"), (second, "B"))]
    lost = [board.line(f"what {name}'s elbows lose", f"Δp[{name}]", "{0} * {1}", pressure, one, kind=Kind.PRESSURE)
            for one, name in zip(sums, "AB", strict=True)]  # fmt: skip
    apart = board.line("how much more", "Δp", "{0} - {1}", lost[more], lost[less], kind=Kind.PRESSURE)
    same = "the same for both"
    choices = ("A", "B", same)
    return Exercise(
        topic=VERDICT,
        level=level,
        code="two-layouts",
        tells=("fire", "vents"),
        givens=tuple(board.givens),
        formulas=tuple(board.lines),
        unprinted=("Δp",),
        asked=(
            choose("longer", choices, same if alike else "AB"[more], "both-alike" if alike else "more-deducted"),
            choose("loses-more", choices, "AB"[more], "larger-sum"),
            board.ask(apart, tolerance=CHAIN, code="how-much-more"),
        ),
        runs=(_pictured(first, "Vent A"), _pictured(second, "Vent B")),
        table=TABLE,
    )


def _job_and_table(draws: Draws, *, between: bool = False, minimum: bool = False) -> tuple[Data, Data]:
    """A job and a table that covers it; its input between two rows if wanted."""
    job = draws.job(draws.layout(elbows=draws.random.randint(1, 3)))
    inputs, sizes = draws.usual.inputs, draws.usual.sizes
    at = inputs.index(job["appliance"][0]["rate"][0]["input"])
    low, high = (at - draws.random.randint(1, 2), at + 1) if between else (at - draws.random.randint(1, 3), at)
    if low < 0 or high >= len(inputs):
        raise DrawAgain
    own = sizes.index(job["run"][0]["size"])
    beside = own + (1 if own + 1 < len(sizes) else -1)
    lengths = sorted(draws.random.sample(draws.usual.allowable, k=4))
    cases = [(high, min(own, beside)), (low, min(own, beside)), (high, max(own, beside)), (low, max(own, beside))]
    top = max(draws.usual.altitudes[-1] + draws.usual.altitudes[1], 1)
    rows: list[Data] = [
        {
            "input": inputs[number],
            "size": sizes[size],
            "altitude": [draws.altitude(0), draws.altitude(top)],
            "allowable": draws.length(length),
        }
        for (number, size), length in zip(cases, lengths, strict=True)
    ]
    if minimum:
        least = draws.length(draws.one_of(draws.usual.lengths[4:8]))
        rows = [{**row, "minimum": least} for row in rows]
    long_, short = draws.one_of(draws.usual.elbow_long), draws.one_of(draws.usual.elbow_short)
    table = {
        "title": "Class table",
        "source": "Invented for this exercise",
        "applies_to": ["flue gas"],
        "counts": "each run",
        "deductions": {
            LONG: draws.length(long_),
            SHORT: draws.length(short),
            FORTY_FIVE: draws.length(long_ / 2),
            "terminal-open": draws.length(0),
        },
        "row": sorted(rows, key=lambda row: (inputs.index(row["input"]), sizes.index(row["size"]))),
    }
    return job, table


def _with_elbows(job: Data, elbows: list[int], name: str, where: list[int]) -> Data:
    """The job with elbows of one kind in some places, and long ones in the others."""
    run = job["run"][0]
    pieces = [
        {**piece, "fitting": name if at in where else LONG} if at in elbows else piece
        for at, piece in enumerate(run["pieces"])
    ]
    return {**job, "run": [{**run, "pieces": pieces}]}


def _elbow_sum(board: Board, drawn: Drawn, name: str) -> Given:
    """The loss coefficients of a vent's elbows."""
    solved = [one for one in drawn.rate("high").flow.pieces if one.piece.kind == "elbow"]
    parts = [board.given(f"loss coefficient of {name}'s elbow {n}", f"K[{name}{n}]", one.k)
             for n, one in enumerate(solved, start=1)]  # fmt: skip
    return board.line(f"{name}'s elbows together", f"K[{name}]", " + ".join(f"{{{n}}}" for n in range(len(parts))),
                      *parts)  # fmt: skip


def _is_clear(drawn: Drawn, wanted: str) -> TableAnswer:
    """The table's answer, if it is the one wanted and no rounding by hand turns it around."""
    answer, margin = drawn.run.table, drawn.run.margin
    if answer is None or drawn.run.verdict != wanted or margin is None or abs(margin) < CLEAR:
        raise DrawAgain
    least = answer.minimum_length
    if least is not None and abs(answer.straight_length - least) < CLEAR:
        raise DrawAgain
    return answer


def _verdict(drawn: Drawn) -> Asked:
    """What the verdict is. Short is among the choices only where the table printed says what that is."""
    least = any(row.minimum is not None for row in drawn.inputs.tables[TABLE].rows)
    choices = tuple(verdict for verdict in VERDICTS if least or verdict != "short")
    return Asked(code="verdict", choices=choices, choice=drawn.run.verdict, because=drawn.run.decides)


def _pictured(drawn: Drawn, title: str = "The vent") -> Pictured:
    return Pictured(title=title, inputs=drawn.inputs, run=drawn.run)


def _steps(drawn: Drawn, *symbols: str) -> tuple[Step, ...]:
    """The lines of the table's answer, to the last of the symbols."""
    steps = table_steps(drawn.run)
    return tuple(step for step in steps if step.symbol in ("L[f]", *symbols)) if symbols else ()


def _table_exercise(
    drawn: Drawn, topic: str, level: int, code: str, *symbols: str, first: Asked | None = None
) -> Exercise:
    key = _steps(drawn, *symbols)
    by_symbol = {step.symbol: step.result for step in key}
    asked = tuple(
        Asked(code="find", values={"symbol": symbol, "name": by_symbol[symbol].name}, answer=by_symbol[symbol],
              tolerance=ONE_STEP)
        for symbol in symbols
    )  # fmt: skip
    return Exercise(
        topic=topic,
        level=level,
        code=code,
        tells=("fire", "vents"),
        asked=(*((first,) if first else ()), *asked, _verdict(drawn)),
        runs=(_pictured(drawn),),
        table=TABLE,
        key=key,
    )
