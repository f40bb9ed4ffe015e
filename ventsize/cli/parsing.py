"""A command's words read; what is wrong with them is one sentence, like everything else that cannot be read."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Sequence
from difflib import get_close_matches
from typing import NoReturn

from ventsize.cli.status import UNREADABLE

_KINDS = {"int": "a whole number", "float": "a number"}


class Parser(argparse.ArgumentParser):
    """Says in one line what is wrong and what is expected; how a verb is used in full is what --help tells."""

    def error(self, message: str) -> NoReturn:
        """Leave with the sentence."""
        self.exit(UNREADABLE, f"{self.prog}: {self._sentence(' '.join(message.split()))}\n")

    def unknown(self, words: Sequence[str]) -> NoReturn:
        """Leave because of words that no argument takes."""
        known = [option for action in self._actions for option in action.option_strings]
        word = next((word for word in words if word.startswith("-")), words[0])
        near = get_close_matches(word, known, n=1)
        what = "option" if word.startswith("-") else "argument"
        expected = f"perhaps '{near[0]}'" if near else f"what {self.prog} --help lists"
        self.exit(UNREADABLE, f"{self.prog}: there is no {what} '{word:.40}'; expected {expected}\n")

    def _sentence(self, message: str) -> str:
        for pattern, told in _SENTENCES:
            found = re.fullmatch(pattern, message, re.DOTALL)
            if found:
                return told(self.prog, *found.groups())
        return message if "; expected " in message else f"{message}; expected what {self.prog} --help lists"


def _choice(_: str, argument: str, given: str, choices: str) -> str:
    return f"{argument}: {given} is none of its values; expected one of: {choices.replace(chr(39), '')}"


def _kind(_: str, argument: str, kind: str, given: str) -> str:
    wanted = _KINDS.get(kind, f"a {kind}")
    return f"{argument}: {given} is not {wanted}; expected {wanted}"


_SENTENCES: tuple[tuple[str, Callable[..., str]], ...] = (
    (r"argument (.+?): invalid choice: (.+) \(choose from (.+)\)", _choice),
    (r"argument (.+?): invalid (\w+) value: (.+)", _kind),
    (
        r"the following arguments are required: (.+)",
        lambda prog, names: f"nothing is given for {names}; expected {prog} {names.replace(', ', ' ')}",
    ),
    (
        r"argument (.+?): expected (?:one|at least one|\d+) arguments?",
        lambda _, argument: f"{argument}: nothing is given for it; expected a value after it",
    ),
    (
        r"argument (.+?): not allowed with argument (.+)",
        lambda _, argument, other: f"{argument}: it cannot stand beside {other}; expected one of the two",
    ),
    (
        r"argument (.+?): ignored explicit argument (.+)",
        lambda _, argument, given: f"{argument}: it takes no value, and {given} is given; expected it alone",
    ),
    (
        r"ambiguous option: (.+) could match (.+)",
        lambda _, given, options: f"{given} may be short for {options}; expected one of these in full",
    ),
)
