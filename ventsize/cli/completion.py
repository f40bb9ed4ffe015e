"""`ventsize completion`: what a shell needs to complete verbs, options and file names."""

from __future__ import annotations

import argparse
from pathlib import Path

from ventsize.cli.status import DONE

SHELLS = ("bash", "zsh", "fish")


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("shell", choices=SHELLS, metavar="SHELL", help=", ".join(SHELLS))
    parser.epilog = (
        'bash: eval "$(ventsize completion bash)" in ~/.bashrc; zsh: the output in a file _ventsize of a folder of '
        "fpath; fish: the output in ~/.config/fish/completions/ventsize.fish"
    )
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print the shell's own script. Raises InputError where the package that makes it is not installed."""
    from ventsize.cli.command import whole_parser
    from ventsize.jobfile.problems import InputError, Problem

    try:
        import shtab
    except ImportError:
        problem = Problem("", "completion", "the package shtab makes it, and it is not here", "ventsize[completion]")
        raise InputError(problem) from None
    parser = whole_parser()
    for one in _parsers(parser):
        for action in one._actions:
            if action.type is Path:
                action.complete = shtab.FILE  # type: ignore[attr-defined]
    print(shtab.complete(parser, options.shell))
    return DONE


def _parsers(parser: argparse.ArgumentParser) -> list[argparse.ArgumentParser]:
    found = [parser]
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            found += action.choices.values()
    return found
