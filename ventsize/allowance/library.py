"""The allowance tables at hand: the user's own and the shipped ones, what each is for, and which jobs name it."""

from __future__ import annotations

import shutil
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ventsize.allowance.model import EACH_RUN
from ventsize.allowance.reading import find_table
from ventsize.catalog.folders import is_shipped, shipped_folder, user_tables_folder
from ventsize.jobfile.document import read_toml
from ventsize.jobfile.editing import rename_table
from ventsize.jobfile.problems import InputError, Problem


@dataclass(frozen=True, slots=True)
class KnownTable:
    """A table file as a list shows it. What cannot be read is empty, and `fault` says why."""

    path: Path
    title: str = ""
    source: str = ""
    note: str = ""
    inputs: tuple[str, ...] = ()
    sizes: tuple[str, ...] = ()
    rows: int = 0
    counts: str = EACH_RUN
    by_elbows: bool = False
    shipped: bool = False
    fault: str = ""

    @property
    def invented(self) -> bool:
        """Whether the table says that its figures are made up."""
        return self.source.lower().startswith("invented")

    @property
    def label(self) -> str:
        """What tells it from other tables, first: a shipped one's title without the words all of them begin with."""
        if not self.shipped:
            return self.title
        return f"{self.title.removeprefix('Demonstration table').lstrip(', ')} (demonstration)"

    def matches(self, wanted: str) -> bool:
        """Whether every word is found in title, source, note, inputs, sizes or file name."""
        text = " ".join((self.path.name, self.title, self.source, self.note, *self.inputs, *self.sizes)).lower()
        return all(word in text.replace(" ", "") for word in wanted.lower().split())


def known_tables(beside: Path | None = None) -> tuple[KnownTable, ...]:
    """Every table a job can name: beside it, the user's own, the shipped ones. The first of a name is the one found.

    beside: the job's folder
    """
    folders = [beside, user_tables_folder(), shipped_folder("tables")]
    found: dict[str, KnownTable] = {}
    for folder in folders:
        if folder is not None and folder.is_dir():
            for path in sorted(folder.glob("*.toml")):
                table = None if path.name in found else known_table(path)
                if table is not None:
                    found[path.name] = table
    return tuple(found.values())


def known_table(path: Path) -> KnownTable | None:
    """What a list says of a table file; None where it is no allowance table."""
    try:
        if "row" not in path.read_text(encoding="utf-8", errors="replace"):
            return None
        data = read_toml(path)
    except OSError:
        return None
    except InputError as error:
        problem = error.problems[0]
        ours = path.parent == user_tables_folder()
        return KnownTable(path, title=path.stem, fault=f"{problem.problem}") if ours else None
    rows = data.get("row")
    if not isinstance(rows, list) or not any(isinstance(row, dict) and "size" in row for row in rows):
        return None
    rows = [row for row in rows if isinstance(row, dict)]
    return KnownTable(
        path=path,
        title=_text(data, "title") or path.stem,
        source=_text(data, "source"),
        note=_text(data, "note"),
        inputs=_distinct(rows, "input"),
        sizes=_distinct(rows, "size"),
        rows=len(rows),
        counts=_text(data, "counts"),
        by_elbows=any("allowable_by_elbows" in row for row in rows),
        shipped=is_shipped(path),
    )


def _text(data: dict[str, Any], key: str) -> str:
    value = data.get(key, "")
    return " ".join(value.split()) if isinstance(value, str) else ""


def _distinct(rows: Sequence[dict[str, Any]], key: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(str(row[key]).strip() for row in rows if row.get(key)))


def jobs_by_table(jobs: Iterable[Path]) -> dict[Path, tuple[Path, ...]]:
    """Which of these jobs are judged by which table file. Jobs that cannot be read name none."""
    found: dict[Path, list[Path]] = {}
    for job in dict.fromkeys(jobs):
        for table in _tables_of(job):
            found.setdefault(table, []).append(job)
    return {table: tuple(naming) for table, naming in found.items()}


def _tables_of(job: Path) -> Iterator[Path]:
    try:
        data = read_toml(job)
    except InputError:
        return
    runs, listed = data.get("run"), data.get("tables")
    names = [run.get("table") for run in runs if isinstance(run, dict)] if isinstance(runs, list) else []
    names += listed if isinstance(listed, list) else []
    for name in dict.fromkeys(str(name) for name in names if name):
        try:
            yield find_table(name, beside=job.parent).resolve()
        except InputError:
            continue


def take_in(path: Path, *, name: str | None = None) -> Path:
    """Copy a table file into the user's own tables. Raises InputError where it is none or the name is taken."""
    data = read_toml(path)
    rows = data.get("row")
    if not isinstance(rows, list) or not rows:
        raise InputError(Problem(str(path), "", "it is no allowance table", "a file with [[row]] tables"))
    target = user_tables_folder() / (name or path.name)
    if target.exists():
        raise InputError(Problem(str(target), "", "there is a table of this name already", "another name"))
    _copy(path, target)
    return target


def _copy(path: Path, target: Path) -> None:
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, target)
    except OSError as error:
        raise InputError(Problem(str(target), "", f"it cannot be written: {error.strerror}", "another place")) from None


def rename_file(path: Path, name: str, jobs: Iterable[Path]) -> tuple[Path, ...]:
    """Give one of the user's tables another file name, in the jobs that name it too. Gives those jobs.

    Raises InputError where the name is taken, and SaveError where a job cannot be saved; the jobs before it are.
    """
    from ventsize.jobfile.writer import open_file, save

    target = path.with_name(Path(name).with_suffix(".toml").name)
    if target.exists():
        raise InputError(Problem(str(target), "", "there is a table of this name already", "another name"))
    naming = jobs_by_table(jobs).get(path.resolve(), ())
    path.rename(target)
    for job in naming:
        opened = open_file(job)
        save(job, rename_table(opened.data, path.name, target.name), known=opened.fingerprint)
    return naming


def jobs_in(folder: Path, *, most: int = 2000) -> list[Path]:
    """The files below a folder that may be jobs, at most so many."""
    found: list[Path] = []
    for path in sorted(folder.rglob("*.toml")):
        if len(found) >= most:
            break
        found.append(path)
    return found


def take_away(path: Path) -> Path:
    """Put one of the user's tables aside, into a folder beside it; gives where it is now. Raises InputError."""
    aside = path.parent / "deleted"
    target = aside / path.name
    number = 1
    while target.exists():
        number += 1
        target = aside / f"{path.stem}-{number}{path.suffix}"
    _move(path, target)
    return target


def bring_back(path: Path, target: Path) -> None:
    """Put a table that was taken away back in its place. Raises InputError where another has taken it."""
    if target.exists():
        raise InputError(Problem(str(target), "", "there is a table of this name already", "another name"))
    _move(path, target)


def _move(path: Path, target: Path) -> None:
    try:
        target.parent.mkdir(exist_ok=True)
        path.rename(target)
    except OSError as error:
        raise InputError(Problem(str(path), "", f"it cannot be moved: {error.strerror}", "a folder of yours")) from None
