"""One command: its words read, its verb run, its exit status."""

from __future__ import annotations

import argparse
import gc
import sys
from collections.abc import Callable, Sequence
from difflib import get_close_matches
from pathlib import Path

from ventsize import __version__
from ventsize.cli.status import NOT_WITHIN, UNREADABLE
from ventsize.cli.verbs import VERBS, prepare

# Starting makes objects by the hundred thousand, nearly all of which stay. Python would look through them for rubbish
# some two hundred times, a sixth of the time a verdict takes from a cold start.
_NEW_OBJECTS_BEFORE_A_LOOK = 50_000

DESCRIPTION = (
    "Sizes the vent and combustion-air pipe of a fan-assisted gas appliance: by the maker's allowance table, and "
    "beside it by calculation. The maker's instructions and the local code decide."
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command. Returns the exit status: 0 all within, 1 not so, 2 input that cannot be read."""
    gc.set_threshold(_NEW_OBJECTS_BEFORE_A_LOOK, *gc.get_threshold()[1:])
    words = list(sys.argv[1:] if arguments is None else arguments)
    if not words or (words[0] not in VERBS and not words[0].startswith("-")):
        if len(words) > 1 and (mistaken := _mistyped_verb(words[0])):
            print(mistaken, file=sys.stderr)
            return UNREADABLE
        words = ["open", *words]
    options = _parser(words[0]).parse_args(words)
    run: Callable[[argparse.Namespace], int] = options.run
    try:
        return run(options)
    except BrokenPipeError:  # the reader of a pipe has seen enough
        sys.stderr.close()
        return NOT_WITHIN
    except KeyboardInterrupt:
        return 130
    finally:
        gc.freeze()  # at its end Python would look through it all once more: another sixth


def _mistyped_verb(word: str) -> str:
    """A sentence, where a first word is neither a verb nor a file and others follow it; else nothing."""
    if Path(word).exists() or Path(word).suffix:
        return ""
    near = get_close_matches(word, VERBS, n=1)
    expected = f"perhaps '{near[0]}'" if near else "one that ventsize --help lists"
    return f"there is no verb '{word:.40}'; expected {expected}"


def _parser(asked: str) -> argparse.ArgumentParser:
    """Knows every verb by name, and the arguments of the one that is asked for."""
    parser = argparse.ArgumentParser(
        prog="ventsize", description=DESCRIPTION, epilog="ventsize JOB opens a job; ventsize alone opens the shelf."
    )
    parser.add_argument("--version", action="version", version=f"ventsize {__version__}")
    verbs = parser.add_subparsers(metavar="VERB", required=True)
    for name, help_text in VERBS.items():
        verb = verbs.add_parser(name, help=help_text, description=help_text)
        if name == asked:
            prepare(name)(verb)
    return parser
