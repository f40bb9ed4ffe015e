"""The questions that keep a job from a pass: the key that leads to where each is answered, and the answers it may have.

Each answer is the job with that answer in it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from ventsize.check.climate import WORDS as SURROUNDINGS
from ventsize.check.result import JobCheck
from ventsize.finding import Finding, Outcome
from ventsize.jobfile.editing import Data, insert_pieces, items, names_of, pieces_of, put, value_at
from ventsize.jobfile.job import OUTDOORS
from ventsize.jobfile.problems import Problem


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
        _, ways = OPEN.get(outcome.because.code, ("", None))
        place = _place(data, outcome.because)
        if ways is not None and place is not None:
            answers = tuple(ways(_Asked(data, outcome.because, place, tables)))
            if answers:
                return OpenQuestion(outcome.because, answers)
    return None


def key_to_complete(outcome: Outcome) -> str:
    """In words; empty where the table itself would have to say more, or nothing is missing."""
    key, _ = OPEN.get(outcome.because.code, ("", None))
    return f"To complete it: {key}." if key and outcome.state == "not known" else ""


def still_needed(problems: Iterable[Problem], data: Data) -> str:
    """The fields that are empty and must not be, each with the key of its part; empty where something else is wrong."""
    found = []
    for problem in problems:
        path = tuple(step - 1 if isinstance(step, int) else step for step in problem.path)
        if not path or value_at(data, path) != "" or path[0] not in _PARTS:
            return ""
        found.append(f"{str(path[-1]).replace('_', ' ')} ({_PARTS[path[0]]})")
    return f"still needed: {', '.join(found)}"


def confirmed(data: Data, text: str) -> Data:
    """The job with one more footnote seen to hold."""
    return put(data, ("confirmed",), [*value_at(data, ("confirmed",), []), text])


@dataclass(frozen=True, slots=True)
class _Asked:
    """A question, and the appliance or run it is about by its place in the data; () for one about the job."""

    data: Data
    question: Finding
    place: tuple[str | int, ...]
    tables: Mapping[str, Any]

    def answer(self, label: str, key: str, value: object) -> Answer:
        return self.named(label, put(self.data, (*self.place, key), value))

    def named(self, label: str, data: Data) -> Answer:
        """With what it is about: nobody is to answer for the other of two appliances."""
        name = self.question.where.appliance or self.question.where.run
        return Answer(f"{name}: {label}" if name else label, data)


def _place(data: Data, question: Finding) -> tuple[str | int, ...] | None:
    where = question.where
    for key, name in (("appliance", where.appliance), ("run", where.run)):
        if name is not None:
            names = names_of(data, (key,))
            return (key, names.index(name)) if name in names else None
    return ()


def _air(asked: _Asked) -> Iterator[Answer]:
    if asked.question.code != "air-contradicts":
        yield asked.answer("air comes from the room it stands in", "air", "room")
    if asked.question.code != "air-run-missing":
        yield asked.answer("air comes through a pipe", "air", "pipe")


def _backflow(asked: _Asked) -> Iterator[Answer]:
    yield asked.answer("something keeps flue gas out of it while it is off", "backflow_prevented", True)
    yield asked.answer("nothing keeps flue gas out of it while it is off", "backflow_prevented", False)


def _to_confirm(question: Finding) -> tuple[str, ...]:
    if question.code == "altitude-not-confirmed":
        return (str(question.values["text"]),)
    left = question.values["footnotes"] if question.code == "footnotes-open" else ()
    assert isinstance(left, tuple)
    return tuple(map(str, left))


def _footnotes(asked: _Asked) -> Iterator[Answer]:
    for text in _to_confirm(asked.question):
        yield Answer(f"Seen to be so: {text}", confirmed(asked.data, text))


def _surroundings(asked: _Asked) -> Iterator[Answer]:
    for where in SURROUNDINGS:
        yield asked.answer(f"runs through {where}", "surroundings", where)


def _table(asked: _Asked) -> Iterator[Answer]:
    for name in value_at(asked.data, ("tables",), []):
        yield asked.answer(f"goes by the table {name}", "table", name)


def _case(asked: _Asked) -> Iterator[Answer]:
    """What the rows of a page hold for: the end of the pipe, or one pipe or two."""
    unknown = asked.question.values.get("unknown", ())
    assert isinstance(unknown, tuple)
    if "ends" in unknown and asked.place:
        table = asked.tables.get(asked.question.where.table or "")
        named = [end for row in table.rows for end in row.holds_for.ends] if table is not None else []
        for end in dict.fromkeys([*named, "terminal-open"]):
            yield asked.named(f"ends outdoors in {end}", _with_end(asked.data, asked.place, end))
    elif "pipes" in unknown:
        for number, appliance in enumerate(items(asked.data, ("appliance",))):
            if appliance.get("air") is None:
                label = f"{appliance.get('name')}: air comes from the room it stands in"
                yield Answer(label, put(asked.data, ("appliance", number, "air"), "room"))


def _with_end(data: Data, place: tuple[str | int, ...], end: str) -> Data:
    typed, run = value_at(data, place), int(place[1])
    if "pieces" not in typed:
        return put(data, (*place, "fittings", end), 1)
    first = value_at(typed, ("between", 0)) == OUTDOORS
    return insert_pieces(data, run, 0 if first else len(pieces_of(data, run)), [{"fitting": end}])


_PARTS: dict[str | int, str] = {"site": "F4", "appliance": "F3", "run": "F2"}
_SITE, _APPLIANCE, _PIECES = "F4, the site", "F3, the appliance", "F2, the pieces of the run"
_LINE, _LAY_OUT, _CONFIRM = "F2, the run's own line", "w, which lays the run out", "y, which confirms footnotes"
OPEN: Mapping[str, tuple[str, Callable[[_Asked], Iterator[Answer]] | None]] = {
    "air-contradicts": (_APPLIANCE, _air),
    "air-not-said": (_APPLIANCE, _air),
    "air-run-missing": ("a, which adds the air pipe as another run", _air),
    "altitude-missing": (_SITE, None),
    "altitude-not-confirmed": (_CONFIRM, _footnotes),
    "backflow-not-known": (_APPLIANCE, _backflow),
    "case-not-said": (_APPLIANCE, _case),
    "counted-apart": (_LINE, None),
    "design-outdoor-missing": (_SITE, None),
    "footnotes-open": (_CONFIRM, _footnotes),
    "level-not-laid-out": (_LAY_OUT, None),
    "level-not-said": (_PIECES, None),
    "no-table-named": (_LINE, None),
    "pipe-without-length": (_PIECES, None),
    "rise-not-laid-out": (_LAY_OUT, None),
    "rise-not-said": (_PIECES, None),
    "several-tables-apply": ("", _table),
    "surroundings-not-said": (_PIECES, _surroundings),
    "turn-not-made": (_PIECES, None),
}
"""By the code of the evidence: the key of the job's screen and what it is, and the answers a choice can give."""
