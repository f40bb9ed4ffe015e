"""The question that keeps a job from a pass, and the answers it may have: each is the job with that answer in it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from ventsize.check.climate import WORDS as SURROUNDINGS
from ventsize.check.result import JobCheck
from ventsize.finding import Finding
from ventsize.jobfile.editing import Data, insert_pieces, items, names_of, pieces_of, put, value_at
from ventsize.jobfile.job import OUTDOORS


@dataclass(frozen=True, slots=True)
class Answer:
    """label: what a person says. data: the job with it."""

    label: str
    data: Data


@dataclass(frozen=True, slots=True)
class OpenQuestion:
    """question: what is not known, as a finding; answers: at least one."""

    question: Finding
    answers: tuple[Answer, ...]


def open_question(check: JobCheck, data: Data, *, tables: Mapping[str, Any]) -> OpenQuestion | None:
    """The first thing a pass needs that the job does not say and that a choice can answer; None where there is none.

    data: the job that was checked. tables: the allowance tables it names, for the ends their rows hold for.
    """
    for outcome in check.conditions:
        ways = _ANSWERS.get(outcome.because.code)
        place = _place(data, outcome.because)
        if ways is not None and place is not None:
            answers = tuple(ways(_Asked(data, outcome.because, place, tables)))
            if answers:
                return OpenQuestion(outcome.because, answers)
    return None


@dataclass(frozen=True, slots=True)
class _Asked:
    """A question, and the appliance or run it is about by its place in the data; () for one about the job."""

    data: Data
    question: Finding
    place: tuple[str | int, ...]
    tables: Mapping[str, Any]

    def answer(self, label: str, key: str, value: object) -> Answer:
        return Answer(label, put(self.data, (*self.place, key), value))


def _place(data: Data, question: Finding) -> tuple[str | int, ...] | None:
    where = question.where
    for key, name in (("appliance", where.appliance), ("run", where.run)):
        if name is not None:
            names = names_of(data, (key,))
            return (key, names.index(name)) if name in names else None
    return ()


def _air(asked: _Asked) -> Iterator[Answer]:
    if asked.question.code != "air-contradicts":
        yield asked.answer("Air comes from the room the appliance stands in", "air", "room")
    if asked.question.code != "air-run-missing":
        yield asked.answer("Air comes through a pipe", "air", "pipe")


def _backflow(asked: _Asked) -> Iterator[Answer]:
    yield asked.answer("Something keeps flue gas out of it while it is off", "backflow_prevented", True)
    yield asked.answer("Nothing keeps flue gas out of it while it is off", "backflow_prevented", False)


def _confirmed(asked: _Asked) -> Iterator[Answer]:
    left = asked.question.values.get("footnotes", (asked.question.values.get("text"),))
    for text in left if isinstance(left, tuple) else ():
        confirmed = [*value_at(asked.data, ("confirmed",), []), text]
        yield Answer(f"Seen to be so: {text}", put(asked.data, ("confirmed",), confirmed))


def _surroundings(asked: _Asked) -> Iterator[Answer]:
    for where in SURROUNDINGS:
        yield asked.answer(f"Its pipe runs through: {where}", "surroundings", where)


def _table(asked: _Asked) -> Iterator[Answer]:
    for name in value_at(asked.data, ("tables",), []):
        yield asked.answer(f"The page for this run: {name}", "table", name)


def _case(asked: _Asked) -> Iterator[Answer]:
    """What the rows of a page hold for: the end of the pipe, or one pipe or two."""
    unknown = asked.question.values.get("unknown", ())
    assert isinstance(unknown, tuple)
    if "ends" in unknown and asked.place:
        table = asked.tables.get(asked.question.where.table or "")
        named = [end for row in table.rows for end in row.holds_for.ends] if table is not None else []
        for end in dict.fromkeys([*named, "terminal-open"]):
            yield Answer(f"The pipe ends outdoors in: {end}", _with_end(asked.data, asked.place, end))
    elif "pipes" in unknown:
        for number, appliance in enumerate(items(asked.data, ("appliance",))):
            if appliance.get("air") is None:
                label = f"One pipe: {appliance.get('name')} takes its air from the room"
                yield Answer(label, put(asked.data, ("appliance", number, "air"), "room"))


def _with_end(data: Data, place: tuple[str | int, ...], end: str) -> Data:
    typed, run = value_at(data, place), int(place[1])
    if "pieces" not in typed:
        return put(data, (*place, "fittings", end), 1)
    first = value_at(typed, ("between", 0)) == OUTDOORS
    return insert_pieces(data, run, 0 if first else len(pieces_of(data, run)), [{"fitting": end}])


_ANSWERS: Mapping[str, Callable[[_Asked], Iterator[Answer]]] = {
    "air-not-said": _air, "air-run-missing": _air, "air-contradicts": _air, "backflow-not-known": _backflow,
    "footnotes-open": _confirmed, "altitude-not-confirmed": _confirmed, "surroundings-not-said": _surroundings,
    "several-tables-apply": _table, "case-not-said": _case,
}  # fmt: skip
