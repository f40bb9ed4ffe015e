"""The check-over: what a careful installer would verify, against what the job tells and what has been ticked off.

The rules are data (`checkover_rules`), asked of every place of a job where they apply (`checkover_places`). What the
job tells is checked (`checkover_told`); what it does not is still to be looked at or measured, until it is ticked off
under [[checked]]. A tick never overrules what the job itself says is not so.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ventsize.check.inputs import Inputs
from ventsize.check.result import JobCheck
from ventsize.check.verdict import check
from ventsize.finding import Outcome
from ventsize.jobfile.document import nearest
from ventsize.jobfile.problems import InputError, Problem
from ventsize.jobfile.ticks import Tick
from ventsize.quantity import (
    Dimension,
    QuantityError,
    System,
    display_unit,
    display_value,
    show,
    show_length,
    with_unit,
)
from ventsize.studies.checkover.places import places_of
from ventsize.studies.checkover.rules import CheckOverRules, Rule, read_rules
from ventsize.studies.checkover.told import Asked, Said, told

MET, NOT_MET, OPEN = "met", "not met", "to measure"
DONE, FAULTY, UNFINISHED = "all met", "something is not met", "not finished"
_ALMOST = 1e-9
_HAIR = 1e-6  # of the last digit shown; what is beyond by less is rounding of the number
_LONG = 0.5  # m; limits from here on are measured in feet, shorter ones in inches
_DECIMALS = {Dimension.SLOPE: 3, Dimension.TEMPERATURE: 1}
_LENGTHS = {  # unit, its size [m], and how many decimals of it are shown
    (True, System.US): ("ft", 0.3048, 2),
    (True, System.SI): ("m", 1.0, 2),
    (False, System.US): ("in", 0.0254, 2),
    (False, System.SI): ("cm", 0.01, 1),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A rule at a place.

    outcome: met, not met, or to measure. by: "job" or "tick" for who says so, "" while it is open.
    said: what the job tells of it, and what a tick adds, in a sentence. told: what the job alone tells.
    because: the condition of the check that answers, where one does; its words go with `said`.
    value: told by the job or measured; limit: the least or greatest there may be, both in SI of `dimension`.
    """

    rule: Rule
    place: str
    outcome: str
    by: str
    said: str
    value: float | None = None
    limit: float | None = None
    dimension: Dimension | None = None
    tick: Tick | None = None
    told: str = ""
    because: Outcome | None = None

    @property
    def key(self) -> tuple[str, str]:
        """What a tick refers to: the rule's name and the place."""
        return self.rule.name, self.place


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckOver:
    """The whole list, in the order of the rules. left_out: titles of rules that are not asked. files: of the rules."""

    items: tuple[Item, ...]
    left_out: tuple[str, ...]
    files: tuple[str, ...]
    cautions: tuple[str, ...]

    def having(self, outcome: str) -> tuple[Item, ...]:
        """The items of one outcome."""
        return tuple(item for item in self.items if item.outcome == outcome)

    @property
    def verdict(self) -> str:
        """All met, something not met, or not finished."""
        if self.having(NOT_MET):
            return FAULTY
        return UNFINISHED if self.having(OPEN) else DONE


def check_over(
    inputs: Inputs, *, checked: JobCheck | None = None, rules: CheckOverRules | None = None, system: System = System.US
) -> CheckOver:
    """The check-over of a job. Raises InputError where a tick's value cannot be read, and as `check` does.

    checked: the check of the same job, where there is one already.
    """
    rules = rules or read_rules()
    checked = checked or check(inputs)
    ticks = {(tick.rule, tick.at): tick for tick in inputs.job.checked}
    items: list[Item] = []
    faults: list[Problem] = []
    for rule in (rule for rule in rules.rules.values() if rule.asked):
        for place in places_of(rule, inputs, checked):
            asked = Asked(rule, place, inputs, checked, system)
            try:
                items.append(_item(asked, ticks.get((rule.name, place.name))))
            except QuantityError as error:
                problem, _, expected = str(error).partition("; expected ")
                faults.append(Problem(inputs.file, f"checked, {rule.name}, value", problem, expected))
    if faults:
        raise InputError(faults)
    return CheckOver(
        items=tuple(items),
        left_out=tuple(rule.title for rule in rules.rules.values() if not rule.asked),
        files=rules.files,
        cautions=tuple(_cautions(items, inputs.job.checked, rules)),
    )


def _item(asked: Asked, tick: Tick | None) -> Item:
    said = told(asked)
    rule, place = asked.rule, asked.place
    if tick is None:
        outcome = OPEN if said.met is None else MET if said.met else NOT_MET
        limit = asked.limit if said.limit is None else said.limit
        return Item(
            rule=rule,
            place=place.name,
            outcome=outcome,
            by="" if said.met is None else "job",
            said=said.said,
            value=said.value,
            limit=limit,
            dimension=said.dimension or rule.dimension,
            told=said.said,
            because=said.outcome,
        )
    return _ticked(asked, said, tick)


def _ticked(asked: Asked, said: Said, tick: Tick) -> Item:
    rule = asked.rule
    limit = asked.limit if said.limit is None else said.limit
    value, met, words = _by_hand(asked, tick, limit)
    by, outcome = "tick", OPEN if met is None else MET if met else NOT_MET
    if said.met is False and met is not False:
        by, outcome = "job", NOT_MET
        words += "; the job still says otherwise: change it where it is wrong"
    parts = [part for part in (said.said, words) if part]
    return Item(
        rule=rule,
        place=asked.place.name,
        outcome=outcome,
        by=by if outcome != OPEN else "",
        said="; ".join(parts),
        value=said.value if value is None else value,
        limit=limit,
        dimension=rule.dimension if value is not None else said.dimension or rule.dimension,
        tick=tick,
        told=said.said,
        because=said.outcome,
    )


def _by_hand(asked: Asked, tick: Tick, limit: float | None) -> tuple[float | None, bool | None, str]:
    """What was measured in SI, whether it is met, and the words for it. Raises QuantityError."""
    rule, met = asked.rule, tick.met
    value = None
    shown = ""
    if tick.value is not None and rule.dimension is not None:
        value = rule.read(tick.value)
        shown = f"measured {_measured(value, rule.dimension, limit, asked.system)}"
        # An expansion is looked at, not measured: its limit says when to look.
        if limit is not None and rule.told != "expansion":
            fits = _fits(rule, value, limit)
            if met is True and not fits:
                shown += ", which its limit does not allow"
            met = fits and met is not False
    elif tick.value is not None:
        shown = tick.value
    words = ", ".join(filter(None, (shown, tick.note))) or "looked at"
    return value, met, f"{words} ({tick.date.isoformat()})"  # a note by itself leaves it open


def _fits(rule: Rule, value: float, limit: float) -> bool:
    margin = abs(limit) * _ALMOST
    return value >= limit - margin if rule.greatest is None else value <= limit + margin


def _shown(value: float, dimension: Dimension, system: System) -> str:
    return show_length(value, system) if dimension is Dimension.LENGTH else show(value, dimension, system)


def _measured(value: float, dimension: Dimension, limit: float | None, system: System) -> str:
    """A value in the unit its limit is stated in, so that the unit never changes between limit, figure and result."""
    if limit is None or dimension is not Dimension.LENGTH:
        return _shown(value, dimension, system)
    unit, size, decimals = _LENGTHS[limit >= _LONG, system]
    shown = f"{value / size:.{decimals}f}"
    return f"{shown.rstrip('0').rstrip('.') if '.' in shown else shown} {unit}"


def limit_words(item: Item, system: System) -> str:
    """The limit as a phrase; empty where there is none."""
    if item.limit is None or item.dimension is None:
        return ""
    if item.rule.told == "expansion":
        return f"to be looked at where it grows more than {_shown(item.limit, item.dimension, system)}"
    most = item.rule.greatest is not None or item.rule.told == "temperature"
    return f"{'no more than' if most else 'at least'} {_limit_shown(item, system, most=most)}"


def unit_meant(item: Item, system: System) -> str:
    """The unit of a bare number typed for a rule, which its limit is stated in too; empty where nothing is measured."""
    dimension = item.rule.dimension or item.dimension
    if dimension is None:
        return ""
    if dimension is not Dimension.LENGTH:
        return display_unit(dimension, system)
    long = item.limit is not None and item.limit >= _LONG
    return _LENGTHS[long, system][0]


def _limit_shown(item: Item, system: System, *, most: bool) -> str:
    """A limit in the unit that a bare number typed for it is read in, so rounded that what is shown meets it."""
    assert item.limit is not None and item.dimension is not None
    if item.dimension is Dimension.LENGTH:
        unit, size, decimals = _LENGTHS[item.limit >= _LONG, system]
        value = item.limit / size
    else:
        unit, decimals = display_unit(item.dimension, system), _DECIMALS[item.dimension]
        value = display_value(item.limit, item.dimension, system)
    steps = value * 10**decimals
    whole = math.floor(steps + _HAIR) if most else math.ceil(steps - _HAIR)
    shown = f"{whole / 10**decimals:.{decimals}f}"
    return f"{shown.rstrip('0').rstrip('.') if decimals else shown} {unit}"


def as_typed(item: Item, text: str, system: System) -> str:
    """What is typed for a rule, a bare number with the unit meant."""
    return with_unit(text, unit_meant(item, system))


def judged(item: Item, text: str, system: System) -> tuple[bool | None, str]:
    """Whether a value just typed would meet a rule, and how it is understood. Raises QuantityError."""
    assert item.rule.dimension is not None
    value = item.rule.read(text)
    shown = _measured(value, item.rule.dimension, item.limit, system)
    if item.limit is None or item.rule.told == "expansion":
        return None, shown
    return _fits(item.rule, value, item.limit), shown


def _cautions(items: Sequence[Item], ticks: Sequence[Tick], rules: CheckOverRules) -> Iterator[str]:
    known = {item.key for item in items}
    for tick in ticks:
        where = f"'{tick.rule}'" + (f" at '{tick.at}'" if tick.at else "")
        if tick.rule not in rules.rules:
            yield f"ticked off by a rule that is not here: {where}; {nearest(tick.rule, rules.rules)}"
        elif (tick.rule, tick.at) not in known:
            places = [place or "the job as a whole" for name, place in known if name == tick.rule]
            asked = f"it is asked of {', '.join(sorted(places))}" if places else "it is not asked of this job"
            yield f"ticked off where it is not asked: {where}; {asked}"
    memory = sum(item.rule.status == "from memory" for item in items if item.limit is not None)
    if memory:
        yield f"limits from memory, to be checked before use: {memory}"
    yield "the maker's instructions and the local code outrank every rule here, and differ by place and edition"
