"""`ventsize lesson`: a lesson held at the terminal: a guess is asked for before each answer is shown."""

from __future__ import annotations

import argparse
import sys
import textwrap
from typing import TYPE_CHECKING

from ventsize.cli.arguments import add_output, add_plain, read
from ventsize.cli.printing import json_text
from ventsize.cli.status import DONE
from ventsize.cli.writing import add_files, write_files

if TYPE_CHECKING:
    from ventsize.quantity import System
    from ventsize.report.paper import Paper
    from ventsize.studies.lessons import Guess, HeldLesson, Question

WIDTH = 80
NOBODY = "class"


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("name", nargs="?", metavar="NAME", help="a lesson's name or file; without it, the list of them")
    parser.add_argument(
        "--names",
        default=NOBODY,
        metavar="NAMES",
        help="who guesses, commas between; a guess may be: pass, back",
    )
    parser.add_argument("--answers", action="store_true", help="print it with its answers, and ask nobody")
    parser.add_argument("--notes", action="store_true", help="print the teacher's page of notes")
    parser.add_argument("--check", action="store_true", help="say what looks silly in a lesson you have written")
    parser.add_argument("--score", action="store_true", help="print the class's score")
    parser.add_argument("--new-score", action="store_true", help="begin a new score")
    parser.add_argument("--no-score", action="store_true", help="do not keep what is guessed now")
    parser.add_argument("--large", action="store_true", help="of the papers: a question a page, in large type")
    add_files(parser, ("html", "pdf"))
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
    from ventsize.jobfile.letters import plain
    from ventsize.report.lessons import path_lines, score_lines
    from ventsize.studies.lessons import forget_marks, kept_marks, path_of_lessons, totals

    if options.new_score:
        forget_marks()
    if options.new_score or options.score:
        print("\n".join(score_lines(totals((mark.who, mark.points) for mark in kept_marks()))))
        return DONE
    print("\n".join(plain(line) for line in path_lines(path_of_lessons())))
    return DONE


def _lesson(options: argparse.Namespace) -> int:
    from ventsize.quantity import System
    from ventsize.report.lessons import as_object
    from ventsize.studies.lessons import find_lesson, held_lesson

    system, path = System(options.units), find_lesson(options.name)
    name = path.stem.removeprefix("lesson-")
    lesson = held_lesson(read(path, options), name=name)
    if options.check:
        return _doubted(lesson, system)
    if write_files(options, lambda: _paper(lesson, options, system), keep=[path]):
        return DONE
    if options.notes:
        from ventsize.report.lessons import notes_lines

        print("\n".join([lesson.title, "", *notes_lines(lesson, width=WIDTH)]))
    elif options.json:
        print(json_text(as_object(lesson)))
    else:
        _hold(lesson, options, system)
    return DONE


def _doubted(lesson: HeldLesson, system: System) -> int:
    """What looks silly in it; 1 where something does."""
    from ventsize.report.wording import say_all
    from ventsize.studies.lessons import lesson_doubts

    doubts = lesson_doubts(lesson)
    print("\n".join(say_all(doubts, system)) or "nothing looks silly in it: it can be held")
    return 1 if any(one.severity == "doubt" for one in doubts) else DONE


def _paper(lesson: HeldLesson, options: argparse.Namespace, system: System) -> Paper:
    from ventsize.report.lessons_paper import lesson_paper, notes_paper

    return notes_paper(lesson) if options.notes else lesson_paper(lesson, system, large=options.large)


def _hold(lesson: HeldLesson, options: argparse.Namespace, system: System) -> None:
    from ventsize.report.lessons import answer_lines, mark_lines, question_lines, score_lines, story_text
    from ventsize.studies.lessons import KeptMark, keep_marks, kept_marks, marked, totals

    names = list(dict.fromkeys(n.strip() for n in options.names.split(",") if n.strip())) or [NOBODY]
    print(story_text(lesson, system))
    points: list[tuple[str, int]] = []
    for number, question in enumerate(lesson.questions, start=1):
        print()
        print("\n".join(question_lines(lesson, number, system, width=WIDTH)))
        if options.answers:
            print()
            print("\n".join(answer_lines(question, system, width=WIDTH)))
            continue
        marks = marked(question, _guesses(question, names, system))
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


def _guesses(question: Question, names: list[str], system: System) -> dict[str, Guess | None]:
    """Everybody's guess, asked again until it is one; "back" goes back to the one before."""
    from ventsize.jobfile.letters import plain
    from ventsize.report.lesson_words import read_guess

    guesses: dict[str, Guess | None] = {}
    while len(guesses) < len(names):
        who = names[len(guesses)]
        text = input(f"{plain(who)}, your guess: ")
        if text.strip().lower() == "back":
            guesses.pop(names[max(0, len(guesses) - 1)], None)
            continue
        try:
            guesses[who] = read_guess(question, text, system)
        except ValueError as error:
            print(f"! {error}")
    return guesses
