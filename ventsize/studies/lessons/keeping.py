"""Where lessons are found, and the class's score in the user's own folder."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from pydantic import Field

from ventsize.catalog.folders import shipped_folder, user_folder
from ventsize.jobfile.document import nearest, read_toml, record, validate
from ventsize.jobfile.problems import InputError, Problem
from ventsize.jobfile.writer import save

START = "lesson-"
SCORE = "class-score.toml"


@record
class KeptMark:
    """Points of somebody in one question of a lesson."""

    who: str
    lesson: str
    question: int
    points: int


@record
class _Score:
    marks: Annotated[tuple[KeptMark, ...], Field(alias="mark")] = ()


def lessons() -> dict[str, Path]:
    """Every lesson by name: those in the user's own folder of lessons, and those shipped."""
    shipped = {p.stem.removeprefix(START): p for p in sorted(shipped_folder("scenarios").glob(f"{START}*.toml"))}
    return {**shipped, **{p.stem.removeprefix(START): p for p in own_lessons()}}


def own_lessons() -> list[Path]:
    """Those in the user's own folder of lessons."""
    return sorted((user_folder() / "lessons").glob("*.toml"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """A lesson in the list of them; place and minutes where its teacher gave them."""

    name: str
    title: str
    place: int | None
    minutes: int | None


def path_of_lessons() -> tuple[Listed, ...]:
    """Every lesson, from easy to hard; those without a place last."""
    listed = []
    for name, path in lessons().items():
        data = read_toml(path)
        lesson = data.get("lesson", {})
        notes = lesson.get("teacher", {})
        listed.append(Listed(name=name, title=str(data.get("title", "")), place=_count(lesson.get("place")),
                             minutes=_count(notes.get("minutes"))))  # fmt: skip
    return tuple(sorted(listed, key=lambda one: (one.place is None, one.place or 0, one.name)))


def _count(value: object) -> int | None:
    return value if isinstance(value, int) else None


def find_lesson(name: str) -> Path:
    """The file of a lesson, by its name or as a path. InputError where there is none."""
    known = lessons()
    if name in known:
        return known[name]
    path = Path(name)
    if path.is_file():
        return path
    if known.get(path.stem.removeprefix(START)):
        return known[path.stem.removeprefix(START)]
    raise InputError(Problem(name, "", "there is no such lesson", nearest(name, known)))


def score_file() -> Path:
    """Where the score of the class is kept."""
    return user_folder() / SCORE


def kept_marks() -> tuple[KeptMark, ...]:
    """All that has been kept. InputError where the file cannot be read."""
    path = score_file()
    if not path.exists():
        return ()
    return validate(read_toml(path), _Score, file=str(path)).marks


def keep_marks(marks: Iterable[KeptMark]) -> None:
    """Keep these too; who guesses again in the same question has the newer mark.

    Raises InputError where what is there cannot be read, SaveError where it cannot be written.
    """
    kept = {(mark.who, mark.lesson, mark.question): mark for mark in (*kept_marks(), *marks)}
    _write(kept.values())


def forget_marks() -> None:
    """Begin a new score. Raises SaveError."""
    _write(())


def _write(marks: Iterable[KeptMark]) -> None:
    path = score_file()
    path.parent.mkdir(parents=True, exist_ok=True)
    rows = [
        {"who": mark.who, "lesson": mark.lesson, "question": mark.question, "points": mark.points} for mark in marks
    ]
    save(path, {"mark": rows}, known=None)
