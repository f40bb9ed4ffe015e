"""How the verbs print an answer, and what becomes of it where it cannot be printed."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

from ventsize.jobfile.letters import plain


def print_answer(options: argparse.Namespace, *, text: Callable[[], str], data: Callable[[], Any]) -> None:
    """The answer as asked for: as text, or as JSON."""
    if options.json:
        print(json_text(data()))
    else:
        print(text().rstrip("\n"))


def print_study(options: argparse.Namespace, study: Any, report: Any) -> None:
    """The answer of a study, by the `render` and `as_object` of the module of ventsize.report that writes it."""
    from ventsize.quantity import System

    system = System(options.units)
    print_answer(options, text=lambda: report.render(study, system), data=lambda: report.as_object(study, system))


def print_path(path: Path) -> None:
    """A file's name in a line of its own, whatever it is called."""
    print(plain(str(path)))


def json_text(data: Any) -> str:
    """JSON, indented. What is no finite number is null; what standard output cannot show is escaped."""
    from pydantic_core import to_json, to_jsonable_python  # ten times as fast as json with an indent

    try:
        told = to_json(data, indent=2, inf_nan_mode="null").decode()
        told.encode(getattr(sys.stdout, "encoding", None) or "utf-8")
    except ValueError:
        return json.dumps(to_jsonable_python(data, inf_nan_mode="null"), indent=2)
    return told


def print_in_color(text: str, end: str) -> None:
    """A text that may begin with a word of ours in a color, up to the end of that color.

    That beginning alone goes past what keeps escape sequences from the terminal.
    """
    beginning, mark, rest = text.partition(end) if text.startswith("\x1b[") else ("", "", text)
    getattr(sys.stdout, "stream", sys.stdout).write(beginning + mark)
    print(rest)


def progress(text: str) -> None:
    """How far it is, in the one line of standard error that the next such text writes over; empty for an end of it."""
    stream = getattr(sys.stderr, "stream", sys.stderr)  # past what keeps the cursor where it is
    stream.write(f"\r{text:<30}" if text else f"\r{'':<30}\r")
    stream.flush()


def flush() -> None:
    """What has been printed goes out now, while it can still be said that it did not."""
    if sys.stdout is not None:
        sys.stdout.flush()


def give_up() -> None:
    """Nothing more is printed: what waits to go out would fail once more at the very end."""
    with suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)
