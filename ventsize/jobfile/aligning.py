"""Which item of a changed list was which item before: so that comments stay with the piece they speak of."""

from __future__ import annotations

import json
from collections.abc import Sequence
from difflib import SequenceMatcher
from typing import Any

MOST_PAIRS = 250_000  # of items compared with one another; a list with more of them changed is taken in its order


def align(old: Sequence[Any], new: Sequence[Any]) -> list[int | None]:
    """For each new item the place of the old item it comes from, or None; no old item is used twice.

    First the items that stayed, in order; then those that moved; then those that kept their name; at last what
    was changed in place, the most alike first.
    """
    before, after = [_canonical(item) for item in old], [_canonical(item) for item in new]
    found: list[int | None] = [None] * len(new)
    changed: list[tuple[range, range]] = []
    head = _common(before, after)
    tail = _common(before[head:][::-1], after[head:][::-1])
    one, other = before[head : len(before) - tail], after[head : len(after) - tail]
    long = len(one) * len(other) > MOST_PAIRS  # there, what stands in many places is matched by its neighbours only
    middle = SequenceMatcher(None, one, other, autojunk=long).get_opcodes()
    for place in range(head):
        found[place] = place
    for place in range(1, tail + 1):
        found[-place] = len(old) - place
    for kind, i, i_end, j, j_end in middle:
        if kind == "equal":
            found[head + j : head + j_end] = range(head + i, head + i_end)
        else:
            changed.append((range(head + i, head + i_end), range(head + j, head + j_end)))
    _pair_by(before, after, found)
    _pair_by([_name(item) for item in old], [_name(item) for item in new], found)
    for places, targets in changed:
        _pair_alike(old, new, found, places, targets)
    return found


def _common(one: Sequence[str], other: Sequence[str]) -> int:
    """How many items two lists have in common at their start."""
    count = 0
    while count < min(len(one), len(other)) and one[count] == other[count]:
        count += 1
    return count


def _canonical(item: Any) -> str:
    return json.dumps(item, sort_keys=True, default=repr)


def _name(item: Any) -> str | None:
    name = item.get("name") if isinstance(item, dict) else None
    return name if isinstance(name, str) else None


def _pair_by(before: Sequence[str | None], after: Sequence[str | None], found: list[int | None]) -> None:
    """Pair what is left over and has the same key, in order."""
    used = set(found)
    left: dict[str, list[int]] = {}
    for place, key in enumerate(before):
        if key is not None and place not in used:
            left.setdefault(key, []).append(place)
    for target, key in enumerate(after):
        if found[target] is None and key is not None and left.get(key):
            found[target] = left[key].pop(0)


def _pair_alike(
    old: Sequence[Any], new: Sequence[Any], found: list[int | None], places: Sequence[int], targets: Sequence[int]
) -> None:
    """Pair what is left over in one stretch, the most alike first, of those the nearest."""
    used = set(found)
    left = [place for place in places if place not in used]
    open_targets = [target for target in targets if found[target] is None]
    if len(left) * len(open_targets) > MOST_PAIRS:
        for place, target in zip(left, open_targets, strict=False):
            found[target] = place
        return
    ranked = sorted(
        (-_likeness(old[place], new[target]), abs((place - places[0]) - (target - targets[0])), place, target)
        for place in left
        for target in open_targets
    )
    for likeness, _, place, target in ranked:
        if likeness < 0 and place not in used and found[target] is None:
            found[target] = place
            used.add(place)


def _likeness(one: Any, other: Any) -> int:
    """How much two items have in common: their keys, and twice as much where the values are the same too."""
    if isinstance(one, dict) and isinstance(other, dict):
        return sum(3 if one[key] == other[key] else 1 for key in one.keys() & other.keys())
    return int(type(one) is type(other) and not isinstance(one, dict))
