"""One command: its words read, its verb run, its exit status."""

from __future__ import annotations

import argparse
import gc
import sys
from collections.abc import Callable, Sequence
from difflib import get_close_matches
from pathlib import Path

from ventsize import __version__
from ventsize.cli.letters import shown
from ventsize.cli.parsing import Parser
from ventsize.cli.printing import flush, give_up
from ventsize.cli.status import UNREADABLE
from ventsize.cli.verbs import GROUPS, VERBS, prepare
from ventsize.jobfile.problems import Refused

# Starting makes objects by the hundred thousand, nearly all of which stay. Python would look through them for rubbish
# some two hundred times, a sixth of the time a verdict takes from a cold start.
_NEW_OBJECTS_BEFORE_A_LOOK = 50_000

HELP = """\
Usage: ventsize [JOB]                 open the screens, with or without a job
       ventsize VERB ... [--help]     answer on the command line

Sizes the vent and combustion-air pipe of a fan-assisted gas appliance: by the
maker's allowance table, and beside it by calculation. The maker's instructions
and the local code decide.
{verbs}

Examples
  ventsize check job.toml            the verdict; --full prints everything
  ventsize headroom job.toml         how much longer the runs may be
  ventsize diagnose job.toml         why a pressure switch may trip
  ventsize options job.toml          which sizes and elbows will do

Exit status
  0  every job is within; for other commands, done
  1  a job is not within
  2  a file cannot be read, or a word is not understood

  -h, --help and --version may stand alone.
"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command. Returns the exit status: 0 all within, 1 not so, 2 input that cannot be read."""
    gc.set_threshold(_NEW_OBJECTS_BEFORE_A_LOOK, *gc.get_threshold()[1:])
    words = list(sys.argv[1:] if arguments is None else arguments)
    out, err = sys.stdout, sys.stderr
    sys.stdout, sys.stderr = shown(out), shown(err)
    try:
        return _answer(words)
    finally:
        sys.stdout, sys.stderr = out, err
        gc.freeze()  # at its end Python would look through it all once more: another sixth


class _Whole(Parser):
    """The parser of all verbs; its help has them by what people want."""

    def format_help(self) -> str:
        """Verbs, examples and what the exit status means."""
        lines = (
            line
            for group, verbs in GROUPS.items()
            for line in (f"\n{group}", *(f"  {name:<13}{help_text}" for name, help_text in verbs.items()))
        )
        return HELP.format(verbs="\n".join(lines))


def _answer(words: list[str]) -> int:
    """Run the verb; what goes wrong is a sentence and a status."""
    if not words or (words[0] not in VERBS and not words[0].startswith("-")):
        if words and not Path(words[0]).exists():
            print(_no_verb(words[0]), file=sys.stderr)
            return UNREADABLE
        words = ["open", *words]
    try:
        try:
            return _run(words)
        finally:
            flush()
    except Refused as error:
        print(error, file=sys.stderr)
    except BrokenPipeError:  # the reader of a pipe has seen enough
        give_up()
    except OSError as error:
        give_up()
        where = f"{error.filename}: " if error.filename else ""
        print(f"{where}it cannot be read or written: {error.strerror or error}", file=sys.stderr)
    except ArithmeticError as error:
        print(f"{words[0]}: it cannot be worked out with these figures ({error}); expected usual ones", file=sys.stderr)
    except (MemoryError, RecursionError):
        print(f"{words[0]}: it is too large to be worked out; expected a smaller job", file=sys.stderr)
    except KeyboardInterrupt:
        return 130
    return UNREADABLE


def _run(words: Sequence[str]) -> int:
    parser, verb = _parsers(words[0])
    if verb is None and not any(word in ("-h", "--help", "--version") for word in words):
        parser.error(f"'{words[0]:.40}' stands before the verb; expected a verb that {parser.prog} --help lists")
    options, rest = parser.parse_known_args(words)
    if rest:
        (verb or parser).unknown(rest)
    run: Callable[[argparse.Namespace], int] = options.run
    return run(options)


def _no_verb(word: str) -> str:
    """A sentence on a first word that is neither a verb nor a file."""
    near = get_close_matches(word[:80], VERBS, n=1)
    expected = f"perhaps '{near[0]}'" if near else "one that ventsize --help lists"
    if Path(word).suffix or Path(word).name != word:
        return f"there is no file '{word:.200}', and no such verb; expected a job file, or a verb: {expected}"
    return f"there is no verb '{word:.40}'; expected {expected}"


def whole_parser() -> Parser:
    """One that knows every verb with its arguments."""
    parser, _ = _parsers(None)
    return parser


def _parsers(asked: str | None) -> tuple[Parser, Parser | None]:
    """One that knows the verb asked for, with its arguments, else every verb by name; where none is asked for, all."""
    parser = _Whole(prog="ventsize")
    parser.add_argument("--version", action="version", version=f"ventsize {__version__}")
    verbs = parser.add_subparsers(metavar="VERB", required=True, parser_class=Parser)
    found = None
    named = {name: help_text for name, help_text in VERBS.items() if name == asked} or VERBS
    for name, help_text in named.items():
        verb = verbs.add_parser(name, help=help_text, description=help_text)
        if asked in (name, None):
            prepare(name)(verb)
            found = verb
    return parser, found
