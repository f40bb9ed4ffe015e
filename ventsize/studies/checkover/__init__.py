"""The check-over: what a careful installer would verify, against what the job tells and what has been ticked off.

The rules are data (`rules`), asked of every place of a job where they apply (`places`). What the
job tells is checked (`told`); what it does not is still to be looked at or measured, until it is ticked off
under [[checked]]. A tick never overrules what the job itself says is not so.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ventsize.check.inputs import Inputs
from ventsize.check.result import JobCheck
from ventsize.check.verdict import check
from ventsize.finding import Finding, Outcome
from ventsize.jobfile.document import nearest
from ventsize.jobfile.problems import InputError, Problem
from ventsize.jobfile.ticks import Tick
from ventsize.quantity import Dimension, QuantityError
from ventsize.studies.checkover.places import places_of
from ventsize.studies.checkover.rules import CheckOverRules, Rule, read_rules
from ventsize.studies.checkover.told import Asked, told

MET, NOT_MET, OPEN = "met", "not met", "to measure"
DONE, FAULTY, UNFINISHED = "all met", "something is not met", "not finished"
_ALMOST = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A rule at a place.

    outcome: met, not met, or to measure. by: "job" or "tick" for who says so, "" while it is open.
    told: what the job tells of it; because: the condition of the check that answers, where one does.
    value: told by the job or measured; limit: the least or greatest there may be, both in SI of `dimension`.
    refused: whether it was ticked as met with a value that its limit does not allow. contradicted: whether the job says
    that it is not met where a tick does not.
    """

    rule: Rule
    place: str
    outcome: str
    by: str
    told: tuple[Finding, ...] = ()
    value: float | None = None
    limit: float | None = None
    dimension: Dimension | None = None
    tick: Tick | None = None
    refused: bool = False
    contradicted: bool = False
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
    cautions: tuple[Finding, ...]

    def having(self, outcome: str) -> tuple[Item, ...]:
        """The items of one outcome."""
        return tuple(item for item in self.items if item.outcome == outcome)

    @property
    def verdict(self) -> str:
        """All met, something not met, or not finished."""
        if self.having(NOT_MET):
            return FAULTY
        return UNFINISHED if self.having(OPEN) else DONE


def check_over(inputs: Inputs, *, checked: JobCheck | None = None, rules: CheckOverRules | None = None) -> CheckOver:
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
            asked = Asked(rule, place, inputs, checked)
            try:
                items.append(_item(asked, ticks.get((rule.name, place.name))))
            except QuantityError as error:
                faults.append(Problem(inputs.file, f"checked, {rule.name}, value", error.problem, error.expected))
    if faults:
        raise InputError(faults)
    return CheckOver(
        items=tuple(items),
        left_out=tuple(rule.title for rule in rules.rules.values() if not rule.asked),
        files=rules.files,
        cautions=tuple(_cautions(items, inputs.job.checked, rules)),
    )


def _item(asked: Asked, tick: Tick | None) -> Item:
    said, rule = told(asked), asked.rule
    limit = asked.limit if said.limit is None else said.limit
    value, met, refused = (None, said.met, False) if tick is None else _by_hand(asked, tick, limit)
    contradicted = tick is not None and said.met is False and met is not False
    outcome = OPEN if met is None else MET if met else NOT_MET
    by = "" if met is None else "job" if tick is None else "tick"
    if contradicted:
        by, outcome = "job", NOT_MET
    return Item(
        rule=rule,
        place=asked.place.name,
        outcome=outcome,
        by=by,
        told=said.said,
        value=said.value if value is None else value,
        limit=limit,
        dimension=rule.dimension if value is not None else said.dimension or rule.dimension,
        tick=tick,
        refused=refused,
        contradicted=contradicted,
        because=said.outcome,
    )


def _by_hand(asked: Asked, tick: Tick, limit: float | None) -> tuple[float | None, bool | None, bool]:
    """What was measured in SI, whether it is met, and whether it was ticked as met and is not. Raises QuantityError."""
    rule = asked.rule
    if tick.value is None or rule.dimension is None:
        return None, tick.met, False  # a note by itself leaves it open
    value = rule.read(tick.value)
    fits = meets(rule, value, limit)
    return value, tick.met if fits is None else fits and tick.met is not False, tick.met is True and fits is False


def meets(rule: Rule, value: float, limit: float | None) -> bool | None:
    """Whether a measured value meets a rule's limit; None where that does not follow from the value."""
    if limit is None or rule.told == "expansion":  # an expansion is looked at: its limit says when to look
        return None
    margin = abs(limit) * _ALMOST
    return value >= limit - margin if rule.greatest is None else value <= limit + margin


def _cautions(items: Sequence[Item], ticks: Sequence[Tick], rules: CheckOverRules) -> Iterator[Finding]:
    known = {item.key for item in items}
    for tick in ticks:
        named = {"rule": tick.rule, "at": tick.at}
        if tick.rule not in rules.rules:
            yield Finding("tick-of-no-rule", values={**named, "expected": nearest(tick.rule, rules.rules)})
        elif (tick.rule, tick.at) not in known:
            places = tuple(sorted(place for name, place in known if name == tick.rule))
            yield Finding("tick-not-asked", values={**named, "places": places})
    memory = sum(item.rule.status == "from memory" for item in items if item.limit is not None)
    if memory:
        yield Finding("limits-from-memory", values={"count": memory})
    yield Finding("rules-outranked")
