"""`ventsize exercises`: sheets for a class, with their key."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from ventsize.cli.status import DONE
from ventsize.cli.writing import add_files, write_files

if TYPE_CHECKING:
    from ventsize.report.paper import Paper
    from ventsize.studies.exercises import Sheet

MOST_STUDENTS = 60
PARTS = ("sheet", "key", "both")


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("--seed", type=int, default=1, help="which sheet: the same number gives the same one again")
    parser.add_argument("--topic", default="mixed", help="what it is about (default: mixed; --topics lists them)")
    parser.add_argument("--topics", action="store_true", help="list the topics")
    parser.add_argument("--level", type=int, default=1, help="1 a formula, 2 several, 3 from the firing rate on")
    parser.add_argument("--exercises", type=int, default=6, metavar="NUMBER", help="how many on a sheet (default: 6)")
    parser.add_argument("--students", type=int, default=1, metavar="NUMBER", help="so many sheets, each with its own")
    parser.add_argument("--part", choices=PARTS, default="both", help="the sheet, its key, or both (default)")
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
                system=System(options.units),
            )
            for student in range(1, options.students + 1)
        ]
    except ValueError as error:
        raise InputError(Problem("", "", str(error))) from None
    return _give(sheets, options)


def _give(sheets: list[Sheet], options: argparse.Namespace) -> int:
    tasks, key = options.part != "key", options.part != "sheet"

    def paper() -> Paper:
        from ventsize.report.exercises.as_paper import paper_of

        return paper_of(sheets, exercises=tasks, key=key)

    if write_files(options, paper):
        return DONE
    from ventsize.report.exercises.as_text import key_text, sheet_text

    texts = [sheet_text(one) for one in sheets] if tasks else []
    texts += [key_text(one) for one in sheets] if key else []
    print("\n\n\n".join(texts))
    return DONE
