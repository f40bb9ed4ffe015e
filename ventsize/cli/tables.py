"""`ventsize tables`: the allowance tables at hand, searched; one looked over row by row, or written as a sheet."""

from __future__ import annotations

import argparse
from pathlib import Path

from ventsize.cli.arguments import add_output
from ventsize.cli.printing import print_answer
from ventsize.cli.status import DONE, NOT_WITHIN, WITHIN


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("words", nargs="*", metavar="WORD", help="words of title, source, input, size or file name")
    one = parser.add_mutually_exclusive_group()
    one.add_argument("--look", type=Path, metavar="TABLE", help="what each row comes to as pressure, and what is wrong")
    one.add_argument("--sheet", type=Path, metavar="TABLE", help="the table as CSV, for a spreadsheet")
    add_output(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """List, look over or write out. The exit status of a look is 1 where the table cannot be used as it stands."""
    if options.sheet is not None:
        return _sheet(options.sheet)
    return _look(options) if options.look is not None else _list(options)


def _list(options: argparse.Namespace) -> int:
    from ventsize.allowance.library import jobs_by_table, known_tables
    from ventsize.catalog.folders import shipped_folder, user_jobs_folder
    from ventsize.report.tables import list_object, list_text

    tables = [table for table in known_tables(Path.cwd()) if table.matches(" ".join(options.words))]
    folders = (Path.cwd(), user_jobs_folder(), shipped_folder("scenarios"))
    used = jobs_by_table(path for folder in folders for path in sorted(folder.glob("*.toml")))
    print_answer(options, text=lambda: list_text(tables, used), data=lambda: list_object(tables, used))
    return DONE if tables else NOT_WITHIN


def _look(options: argparse.Namespace) -> int:
    from ventsize.catalog.library import load_catalog
    from ventsize.jobfile.document import read_toml
    from ventsize.quantity import System
    from ventsize.report.tables import look_object, look_text
    from ventsize.studies.typed_table import look_over

    system = System(options.units)
    found = look_over(read_toml(_path(options.look)), load_catalog())
    print_answer(options, text=lambda: look_text(found, system), data=lambda: look_object(found, system))
    return WITHIN if found.usable else NOT_WITHIN


def _sheet(table: Path) -> int:
    from ventsize.allowance.sheet import as_sheet
    from ventsize.jobfile.document import read_toml
    from ventsize.jobfile.letters import plain

    data = read_toml(_path(table))
    told = {key: plain(value) if isinstance(value, str) else value for key, value in data.items()}  # a line each
    print(as_sheet(told), end="")
    return DONE


def _path(table: Path) -> Path:
    """A file as it stands, or a table found by its name as a job finds it."""
    from ventsize.allowance.reading import find_table

    return table if table.exists() else find_table(str(table), beside=Path.cwd())
