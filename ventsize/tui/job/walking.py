"""Walking a route: a line of steps made into pieces, with the elbows that are wanted from there on."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from ventsize.jobfile.editing import Data, EditError, insert_pieces, pieces_of, put, value_at, walk
from ventsize.jobfile.editing.routes import still_to_place, take_from_count
from ventsize.quantity import Dimension, parse, with_feet

ASKED = "Walk: up 3, 90, north 12 6; short, two 45s; size 2 in; elbow-45, on 4; end"
HEADING_WORDS = {"u": "up", "d": "down", "n": "north", "s": "south", "e": "east", "w": "west"}
TURNS = {
    "short": ("elbow-90-short",),
    "long": ("elbow-90-long",),
    "mitered": ("elbow-90-mitered",),
    "two 45s": ("elbow-45", "elbow-45"),
}
"""What a right angle may be made of, by the word that asks for it."""

_NEXT = re.compile(r"\s*[,;]\s*(?=[a-z]|90\b)", re.IGNORECASE)  # a comma before a digit may mark thousands
_STEP = re.compile(r"^\s*([a-z]+)\s+(.+)$", re.IGNORECASE)
_EXPECTED = "expected a heading and a length ('north 12 6'), a turn (short, long, two 45s), 'size 3 in', or 'end'"


@dataclass(frozen=True, slots=True)
class Walk:
    """A walk under way. turn: the fittings of a right angle from here on. left: pieces at its end still the count's."""

    turn: tuple[str, ...]
    left: int = 0

    def step(self, data: Data, run: int, text: str) -> tuple[Walk, Data, str]:
        """One step, or several with commas between: the walk and the data after it, and what was done.

        Raises EditError or ValueError with one sentence; then none of it is done.
        """
        there = pieces_of(data, run)
        rest = list(there[len(there) - self.left :])
        if text.strip().lower() == "end" and any(str(one.get("fitting", "")).startswith("terminal") for one in rest):
            if len(rest) > 1:
                raise EditError(f"still to place before the end: {still_to_place(data, run, self.left)}")
            return replace(self, left=0), data, "the end is placed"
        placed = there[: len(there) - self.left]
        ahead, now, said = put(data, ("run", run, "pieces"), list(placed)), self, []
        for step in _NEXT.split(text.strip().rstrip(",;")):
            now, ahead, done = now._one(ahead, run, step)
            said.append(done)
        if not self.left:
            return now, ahead, "; ".join(said)
        pieces = pieces_of(ahead, run)
        whole = put(ahead, ("run", run, "pieces"), [*pieces, *rest])
        after, left = take_from_count(whole, run, pieces[len(placed) :], self.left)
        still = still_to_place(after, run, left)
        rest_said = f"left to place: {still}" if still else "everything counted is placed"
        return replace(now, left=left), after, f"{'; '.join(said)}\n{rest_said}"

    def _one(self, data: Data, run: int, text: str) -> tuple[Walk, Data, str]:
        word = " ".join(text.lower().split())
        there = pieces_of(data, run)
        last = there[-1] if there and isinstance(there[-1], Mapping) else {}
        ended = str(last.get("fitting", "")).startswith("terminal")
        at = len(there) - ended  # a terminal stays the last piece
        if word == "end":
            if ended:
                raise EditError(f"the route has its end already, {last['fitting']}")
            return self, insert_pieces(data, run, at, [{"fitting": "terminal-open"}]), "open end added"
        if word in TURNS:
            return replace(self, turn=TURNS[word]), data, f"turns from here on: {word}"
        if word in ("90", "elbow"):
            return self, data, f"{' and '.join(self.turn)} wherever the heading changes"
        match = _STEP.match(text)
        first = match[1].lower() if match else ""
        if match and first == "size":
            return self, *_sized(data, run, at, match[2])
        heading = HEADING_WORDS.get(first, first)
        if match and (heading in HEADING_WORDS.values() or heading == "on"):
            length = _length(match[2])
            after = walk(data, run, length, None if heading == "on" else heading, turn=self.turn, at=at)
            turned = pieces_of(after, run)[at:-1] if not ended else pieces_of(after, run)[at:-2]
            names = " and ".join(str(piece["fitting"]) for piece in turned)
            return self, after, f"{heading} {length}{f', with {names} before it' if names else ''}"
        if re.fullmatch(r"[a-z]+(-[a-z0-9]+)+", word):
            return self, insert_pieces(data, run, at, [{"fitting": word}]), f"{word} added"
        raise EditError(_EXPECTED)


def _sized(data: Data, run: int, at: int, text: str) -> tuple[Data, str]:
    """Another size from here on: the run's own where nothing is laid yet, else by an increaser or a reducer."""
    size = f"{text} in" if re.fullmatch(r"\d+(\.\d+)?( \d+/\d+)?", text.strip()) else text.strip()
    wanted = parse(size, Dimension.LENGTH)
    if not at:
        return put(data, ("run", run, "size"), size), f"the run begins in {size}"
    stated = [value_at(data, ("run", run, "size")), *(piece.get("size") for piece in pieces_of(data, run)[:at])]
    now = parse([one for one in stated if one][-1], Dimension.LENGTH)
    if abs(wanted - now) < 1e-6:
        raise EditError(f"it is {size} there already")
    name = "increaser" if wanted > now else "reducer"
    return insert_pieces(data, run, at, [{"fitting": name, "size": size}]), f"{name} to {size} added"


def _length(text: str) -> str:
    """What was typed as a length with its unit: feet, and inches after them, where none is given."""
    full = with_feet(text)
    parse(full, Dimension.LENGTH)
    return full.strip()
