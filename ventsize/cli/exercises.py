"""`ventsize exercises`: sheets for a class, with their key."""

from __future__ import annotations

import argparse
from functools import partial
from typing import TYPE_CHECKING

from ventsize.cli.status import DONE
from ventsize.cli.writing import add_files, write_files

if TYPE_CHECKING:
    from ventsize.report.paper import Paper
    from ventsize.studies.exercises import Sheet

MOST_STUDENTS = 60
PARTS = ("sheet", "key", "answers", "all")


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("--seed", type=int, default=1, help="which sheet: the same number gives the same one again")
    parser.add_argument("--topic", default="mixed", help="what it is about (default: mixed; --topics lists them)")
    parser.add_argument("--topics", action="store_true", help="list the topics")
    parser.add_argument("--level", type=int, default=1, help="1 a formula, 2 several, 3 the other way about")
    parser.add_argument("--exercises", type=int, default=6, metavar="NUMBER", help="how many on a sheet (default: 6)")
    parser.add_argument("--students", type=int, default=1, metavar="NUMBER", help="so many sheets, each with its own")
    parser.add_argument("--names", metavar="NAMES", help="the students' names, with commas between")
    parser.add_argument(
        "--part", choices=PARTS, default="all",
        help="the sheets, their keys, the grid of all answers, or all (default), in files of their own",
    )  # fmt: skip
    parser.add_argument("--units", choices=("us", "si"), default="us", help="units of the class (default: us)")
    add_files(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from ventsize.jobfile.problems import InputError, Problem
    from ventsize.quantity import System
    from ventsize.studies.exercises import TOPICS, sheet

    if options.topics:
        print("\n".join(TOPICS))
        return DONE
    names = [name.strip() for name in (options.names or "").split(",") if name.strip()]
    options.students = len(names) or options.students
    if not 1 <= options.students <= MOST_STUDENTS:
        problem = f"{options.students} students cannot have sheets"
        raise InputError(Problem("", "--students", problem, f"1 to {MOST_STUDENTS}"))
    try:
        sheets = [
            sheet(
                seed=options.seed,
                topic=options.topic,
                level=options.level,
                student=student,
                exercises=options.exercises,
                units=System(options.units),
            )
            for student in range(1, options.students + 1)
        ]
    except ValueError as error:
        raise InputError(Problem("", "", str(error))) from None
    return _give(sheets, names or [""] * len(sheets), options)


def _give(sheets: list[Sheet], names: list[str], options: argparse.Namespace) -> int:
    """Each part in a file of its own: class.pdf, class-key.pdf, class-answers.pdf."""
    from ventsize.report.exercises.as_text import grid, key_text, sheet_text

    parts = PARTS[:3] if options.part == "all" else (options.part,)
    written = [write_files(_named(options, part), partial(_paper, part, sheets, names)) for part in parts]
    if any(written):
        return DONE
    texts = {"sheet": sheet_text, "key": key_text}
    for part in parts:
        if part in texts:
            print("\n\n\n".join(texts[part](one, name) for one, name in zip(sheets, names, strict=True)) + "\n\n")
        else:
            heads, rows = grid(sheets, names)
            wide = [max(len(row[at]) for row in (heads, *rows)) + 2 for at in range(len(heads))]
            print("\n".join("".join(f"{cell:<{w}}" for cell, w in zip(row, wide, strict=True)).rstrip()
                            for row in (heads, *rows)))  # fmt: skip
    return DONE


def _named(options: argparse.Namespace, part: str) -> argparse.Namespace:
    """The options with the part in the files' names, where there are several."""
    own = argparse.Namespace(**vars(options))
    for kind in ("html", "pdf", "markdown", "csv"):
        path = getattr(options, kind)
        if path is not None and options.part == "all" and part != "sheet":
            setattr(own, kind, path.with_stem(f"{path.stem}-{part}"))
    return own


def _paper(part: str, sheets: list[Sheet], names: list[str]) -> Paper:
    from ventsize.report.exercises.as_paper import PAPERS

    return PAPERS[part](sheets, names)
