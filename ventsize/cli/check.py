"""`ventsize check`: the verdict on jobs."""

from __future__ import annotations

import argparse
import os
import sys
from contextlib import closing
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from ventsize.cli.arguments import add_output, add_plain, read
from ventsize.cli.printing import json_text, print_in_color
from ventsize.cli.status import NOT_WITHIN, UNREADABLE, WITHIN

if TYPE_CHECKING:
    from ventsize.check.result import JobCheck

GREEN, YELLOW, RED, PLAIN = "\x1b[1;32m", "\x1b[1;33m", "\x1b[1;31m", "\x1b[0m"


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer to one job: text or JSON, and its line in the summary of several; or what is wrong with its file."""

    verdict: str = ""
    text: str = ""
    line: str = ""
    fault: str = ""


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("jobs", nargs="+", type=Path, metavar="JOB", help="a job file, or a folder of them")
    parser.add_argument("--full", action="store_true", help="print every figure, condition and caution")
    parser.add_argument("--csv", action="store_true", help="print a line for each run, as CSV")
    add_plain(parser)
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Answer every job as soon as it is checked; one that cannot be read does not keep the others from it."""
    from ventsize.cli.many import answers

    jobs = _with_folders(options.jobs)
    listed = _Listed(array=options.json and len(jobs) > 1, table=options.csv)
    colored = _has_colors()
    asked = argparse.Namespace(**{**vars(options), "jobs": ()})  # each goes to another process: not with all the others
    with closing(answers(partial(answer, options=asked, colored=colored), jobs)) as every:
        for each in every:
            if each.fault:
                print(each.fault, file=sys.stderr)
            else:
                listed.add(each)
    listed.end(summary=not (options.json or options.csv))
    if len(listed.lines) < len(jobs):
        return UNREADABLE
    return WITHIN if set(listed.verdicts) <= {"within"} else NOT_WITHIN


def answer(job: Path, *, options: argparse.Namespace, colored: bool) -> Answer:
    """Check one job, and put it into words."""
    from ventsize.check.verdict import check
    from ventsize.jobfile.letters import plain
    from ventsize.jobfile.problems import InputError
    from ventsize.quantity import System
    from ventsize.report import check_brief, check_text

    system = System(options.units)
    try:
        found = check(read(job, options))
    except InputError as error:
        return Answer(fault=str(error))
    name = plain(str(job))
    if options.json:
        from ventsize.report.check_json import as_object

        text = json_text(as_object(found, system))
    elif options.csv:
        text = check_text.as_csv([(name, found)], system)
    elif options.full:
        text = check_text.render(found, system)
    else:
        text = check_brief.render(found, system)
        text = _in_color(text, found) if colored else text
    return Answer(verdict=found.verdict, text=text.rstrip("\n"), line=check_text.summary_line(name, found.verdict))


def _with_folders(paths: list[Path]) -> list[Path]:
    """The jobs named, those of a folder in its place. Raises InputError for a folder without any."""
    if not any(path.is_dir() for path in paths):
        return paths  # without what a folder of jobs needs, which takes a while to import
    from ventsize.jobfile.problems import InputError, Problem
    from ventsize.studies.jobs_of_folder import job_files

    found: list[Path] = []
    for path in paths:
        inside = job_files(path) if path.is_dir() else [path]
        if not inside:
            raise InputError(Problem(str(path), "", "there are no jobs in it", "a folder of job files"))
        found += inside
    return found


def _has_colors() -> bool:
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM", "dumb") != "dumb"


def _in_color(text: str, found: JobCheck) -> str:
    """The verdict's word in color; a pass with a doubt is not green."""
    passed = YELLOW if found.doubts else GREEN
    color = {"within": passed, "not covered": YELLOW, "incomplete": YELLOW}.get(found.verdict, RED)
    word = found.verdict.upper()
    return f"{color}{word}{PLAIN}{text.removeprefix(word)}"


class _Listed:
    """Answers printed one after the other: for several jobs as an array, or with a summary at the end.

    Of each only a line is kept. It is an array even where only some of them, or none, could be read.
    array: whether they are JSON of several jobs. table: whether they are CSV, with a head of which one is enough.
    """

    def __init__(self, *, array: bool, table: bool) -> None:
        self.array, self.table = array, table
        self.lines: list[str] = []
        self.verdicts: list[str] = []

    def add(self, each: Answer) -> None:
        """Print one."""
        if self.array:
            print(",\n" if self.lines else "[\n", end="")
            print("\n".join(f"  {line}" for line in each.text.splitlines()), end="")
        elif self.table:
            print("\n".join(each.text.splitlines()[bool(self.lines) :]))
        else:
            print("\n" * bool(self.lines), end="")
            print_in_color(each.text, PLAIN)
        self.lines.append(each.line)
        self.verdicts.append(each.verdict)

    def end(self, *, summary: bool) -> None:
        """Print what comes after the last."""
        if self.array:
            print("\n]" if self.lines else "[]")
        elif summary and len(self.lines) > 1:
            from ventsize.report.check_text import totals

            print("\n".join(["", *self.lines, totals(self.verdicts)]))
