"""What is different between two states of a job's or a table's data, place by place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from ventsize.jobfile.aligning import align
from ventsize.jobfile.document import place_of
from ventsize.jobfile.history import same

Step = tuple[int | str, ...]


@dataclass(frozen=True, slots=True)
class Difference:
    """One place: what stood there and what stands there now, as typed; None where nothing does.

    moved: of a list, what was in it stands in another order.
    """

    place: str
    was: Any
    now: Any
    moved: bool = False


@dataclass(frozen=True, slots=True)
class _Side:
    """A value in one of the two documents, and the path to it."""

    document: Any
    value: Any
    path: Step = ()

    def at(self, step: int | str) -> _Side:
        return _Side(self.document, self.value[step], (*self.path, step))

    @property
    def place(self) -> str:
        return place_of(self.path, self.document)


def differences(old: Mapping[str, Any], new: Mapping[str, Any]) -> tuple[Difference, ...]:
    """Every place at which two documents differ, in the order of the new one; what went comes last in its table."""
    return tuple(_between(_Side(old, old), _Side(new, new)))


def _between(was: _Side, now: _Side) -> Iterator[Difference]:
    if same(was.value, now.value):
        return
    if isinstance(was.value, Mapping) and isinstance(now.value, Mapping) and was.value.keys() & now.value.keys():
        yield from _of_table(was, now)
    elif _tables(was.value) and _tables(now.value):
        yield from _of_list(was, now)
    else:
        yield Difference(now.place, was.value, now.value)


def _of_table(was: _Side, now: _Side) -> Iterator[Difference]:
    for key, value in now.value.items():
        if key in was.value:
            yield from _between(was.at(key), now.at(key))
        else:
            yield Difference(now.at(key).place, None, value)
    yield from (Difference(was.at(key).place, value, None) for key, value in was.value.items() if key not in now.value)


def _of_list(was: _Side, now: _Side) -> Iterator[Difference]:
    sources = align(was.value, now.value)
    for at, source in enumerate(sources):
        if source is None:
            yield Difference(now.at(at).place, None, now.value[at])
        else:
            yield from _between(was.at(source), now.at(at))
    yield from (Difference(was.at(at).place, item, None) for at, item in enumerate(was.value) if at not in sources)
    stayed = [source for source in sources if source is not None]
    if stayed != sorted(stayed):
        yield Difference(now.place, None, None, moved=True)


def _tables(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(item, Mapping) for item in value)
