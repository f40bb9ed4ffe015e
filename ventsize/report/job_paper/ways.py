"""What a way to do a job is called: what it has that the others have not, in words; never a file's name."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from ventsize.quantity import System, show_length
from ventsize.run.model import Run
from ventsize.studies.proposal import Way

_MOST = 3  # of the differences that a name holds

_ELBOWS = {
    "elbow-90-short": "short elbows",
    "elbow-90-long": "long elbows",
    "elbow-90-mitered": "mitered elbows",
    "elbow-90-pressure": "pressure elbows",
    "elbow-90-drain": "drain elbows",
    "elbow-90-drain-long": "long drain elbows",
    "elbow-90-vent": "vent elbows",
    "elbow-45": "45° elbows",
    "elbow-45-long": "long 45° elbows",
}


def names_of(ways: Sequence[Way], system: System) -> tuple[str, ...]:
    """A name for each way, each another one."""
    found = [_features(way, system) for way in ways]
    keys = dict.fromkeys(key for one in found for key in one)
    differing = [key for key in keys if len({one.get(key, "") for one in found}) > 1]
    names = [", ".join([one[key] for key in differing if one.get(key)][:_MOST]) for one in found]
    return tuple(_told_apart(names, ways))


def _told_apart(names: Sequence[str], ways: Sequence[Way]) -> Iterator[str]:
    """Where words do not tell two apart, their titles do, and at last their letters."""
    titles = [way.check.title for way in ways]
    for name, title, way in zip(names, titles, ways, strict=True):
        if name and names.count(name) == 1:
            yield name
        elif titles.count(title) == 1:
            yield title
        else:
            yield f"{name or title}, way {way.letter}"


def _features(way: Way, system: System) -> dict[tuple[str, str], str]:
    """What a way has, most telling first; in words that say which pipe where there are several."""
    runs = [run.run for run in way.check.runs]
    found: dict[tuple[str, str], str] = {}
    for run in runs:
        of = f" {run.name}" if len(runs) > 1 else ""
        for what, words in _of_run(run, system):
            found[what, run.name] = f"{words}{of}" if what in ("size", "length") else f"{words}{of and f' in the{of}'}"
    order = ("elbows", "size", "material", "end", "length")
    found = dict(sorted(found.items(), key=lambda item: order.index(item[0][0])))
    return {("pipes", ""): "one pipe" if len(runs) == 1 else f"{len(runs)} pipes", **found}


def _of_run(run: Run, system: System) -> Iterator[tuple[str, str]]:
    fittings = [piece.fitting for piece in run.pieces if piece.fitting is not None]
    elbows = Counter(_ELBOWS.get(one.name, one.title) for one in fittings if one.kind == "elbow")
    if elbows:
        kinds = [kind if len(elbows) == 1 else f"{number} {kind}" for kind, number in elbows.most_common()]
        yield "elbows", " and ".join(kinds)
    yield "size", ", then ".join(dict.fromkeys(piece.section.label for piece in run.pieces))
    yield "material", ", then ".join(dict.fromkeys(piece.section.material.title for piece in run.pieces))
    ends = [one.title.lower() for one in fittings if one.kind in ("terminal", "entrance")]
    if ends:
        yield "end", ends[-1]
    yield "length", f"{show_length(run.straight_length, system)} of pipe"
