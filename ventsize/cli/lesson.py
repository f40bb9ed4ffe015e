"""`ventsize lesson`: a lesson held at the terminal: a guess is asked for before each answer is shown."""

from __future__ import annotations

import argparse
import sys
import textwrap
from pathlib import Path
from typing import TYPE_CHECKING

from ventsize.cli.arguments import add_output, add_plain, read
from ventsize.cli.printing import json_text
from ventsize.cli.status import DONE

if TYPE_CHECKING:
    from ventsize.quantity import System
    from ventsize.studies.lessons import Guess, HeldLesson, Question

WIDTH = 80
NOBODY = "class"


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("name", nargs="?", metavar="NAME", help="a lesson's name or file; without it, the list of them")
    parser.add_argument(
        "--names", default=NOBODY, metavar="NAMES", help="who guesses, with commas between: people or teams"
    )
    parser.add_argument("--answers", action="store_true", help="print it with its answers, and ask nobody")
    parser.add_argument("--score", action="store_true", help="print the class's score")
    parser.add_argument("--new-score", action="store_true", help="begin a new score")
    parser.add_argument("--no-score", action="store_true", help="do not keep what is guessed now")
    parser.add_argument("--html", type=Path, metavar="FILE", help="write the lesson as one HTML file")
    parser.add_argument("--pdf", type=Path, metavar="FILE", help="write the lesson as a PDF")
    parser.add_argument("--large", action="store_true", help="of the papers: a question a page, in large type")
    parser.add_argument("--replace", action="store_true", help="replace files that are there already")
    parser.add_argument("--paper", choices=("letter", "a4"), default="letter", help="size of the page")
    add_plain(parser)
    add_output(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    try:
        if options.new_score or options.score or options.name is None:
            return _list(options)
        return _lesson(options)
    except EOFError:
        print("\nstopped", file=sys.stderr)
        return DONE


def _list(options: argparse.Namespace) -> int:
    """The lessons there are, or the score."""
    from ventsize.jobfile.document import read_toml
    from ventsize.jobfile.letters import plain
    from ventsize.report.lessons import score_lines
    from ventsize.studies.lessons import forget_marks, kept_marks, lessons, totals

    if options.new_score:
        forget_marks()
    if options.new_score or options.score:
        print("\n".join(score_lines(totals((mark.who, mark.points) for mark in kept_marks()))))
        return DONE
    for name, path in lessons().items():
        print(f"{plain(name):<34}{read_toml(path).get('title', '')}")
    return DONE


def _lesson(options: argparse.Namespace) -> int:
    from ventsize.quantity import System
    from ventsize.report.lessons import as_object
    from ventsize.studies.lessons import find_lesson, held_lesson

    system, path = System(options.units), find_lesson(options.name)
    name = path.stem.removeprefix("lesson-")
    lesson = held_lesson(read(path, options), name=name, system=system)
    if options.html or options.pdf:
        _write(lesson, options, system, path)
    elif options.json:
        print(json_text(as_object(lesson)))
    else:
        _hold(lesson, options, system)
    return DONE


def _write(lesson: HeldLesson, options: argparse.Namespace, system: System, path: Path) -> None:
    from ventsize.report.lessons_paper import lesson_paper
    from ventsize.report.paper import write

    files = {kind: file for kind in ("html", "pdf") if (file := getattr(options, kind)) is not None}
    paper = lesson_paper(lesson, system, large=options.large)
    write(paper, files, size=options.paper, replace=options.replace, keep=[path])  # type: ignore[arg-type]


def _hold(lesson: HeldLesson, options: argparse.Namespace, system: System) -> None:
    from ventsize.report.lessons import answer_lines, mark_lines, question_lines, score_lines, story_text
    from ventsize.studies.lessons import KeptMark, keep_marks, kept_marks, marked, totals

    names = [name.strip() for name in options.names.split(",") if name.strip()] or [NOBODY]
    print(story_text(lesson))
    total = len(lesson.questions)
    points: list[tuple[str, int]] = []
    for number, question in enumerate(lesson.questions, start=1):
        print()
        print("\n".join(question_lines(question, number, total, system, width=WIDTH)))
        if options.answers:
            print()
            print("\n".join(answer_lines(question, system, width=WIDTH)))
            continue
        guesses = {who: _guess(question, who, system) for who in names}
        marks = marked(question, guesses)
        print()
        print("\n".join([*answer_lines(question, system, width=WIDTH), "", *mark_lines(question, marks, system)]))
        points += [(mark.who, mark.points) for mark in marks]
        if not options.no_score:
            keep_marks(
                KeptMark(who=mark.who, lesson=lesson.name, question=number, points=mark.points) for mark in marks
            )
    if lesson.notice:
        print("\n" + textwrap.fill(" ".join(lesson.notice.split()), WIDTH))
    if points:
        print("\nThis lesson")
        print("\n".join(score_lines(totals(points))))
        if not options.no_score:
            print("\nThe class so far")
            print("\n".join(score_lines(totals((mark.who, mark.points) for mark in kept_marks()))))


def _guess(question: Question, who: str, system: System) -> Guess:
    """Somebody's guess; asked again until it is one."""
    from ventsize.jobfile.letters import plain
    from ventsize.studies.lessons import read_guess

    while True:
        text = input(f"{plain(who)}, your guess: ")
        try:
            return read_guess(question, text, system)
        except ValueError as error:
            print(f"! {error}")
