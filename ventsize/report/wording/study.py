"""Words for the findings of `finding.codes.STUDY`."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ventsize.report.wording import Values


def _differs(title: str, style: str = "") -> Callable[[Values], str]:
    """What is now instead of what was, where both are given."""

    def words(values: Values) -> str:
        now = format(values["after"], style) if "after" in values else "not given"
        was = f" instead of {format(values['before'], style)}" if "before" in values else ""
        return f"{title} {now}{was}".lstrip()

    return words


def _k(values: Values) -> str:
    now, was = (f"{values.raw[one].value:g}" if one in values else None for one in ("after", "before"))  # type: ignore[union-attr]
    return f"{values['fitting']}: K {now or 'of the catalog'} instead of {was or 'that of the catalog'}"


def _table(values: Values) -> str:
    now, was = (str(values[one]) if one in values else "" for one in ("after", "before"))
    return f"judged by {now or 'no table of its own'} instead of {was or 'none of its own'}"


def _sizes(values: Values) -> str:
    now, was = (values.raw[one] for one in ("after", "before"))
    assert isinstance(now, tuple) and isinstance(was, tuple)
    if set(now) == set(was):
        return f"sizes in the order {', then '.join(now)} instead of {', then '.join(was)}"
    return f"{', then '.join(now)} pipe instead of {', then '.join(was)}"


def _exchanged(values: Values) -> str:
    count = "" if values.raw["count"] == 1 else f"{values['count']} × "
    return f"{count}{values['after']} instead of {values['before']}"


WORDS: dict[str, str | Callable[[Values], str]] = {
    "takeoff-pipe-changes": "the pipe changes from {before} to {after}; what joins them is not listed",
    "takeoff-junction": "the job does not say which fitting is there",
    "takeoff-junction-sizes": "its runs differ in size; what brings them to {size} is not listed",
    "takeoff-opening": (
        "the direction of its last pipe is not given, so it may pass a wall or a roof; nothing is counted for the "
        "opening"
    ),
    "takeoff-no-stock": ("{length} of {size} {material}: no stock length is known; add the material to takeoff.toml"),
    "takeoff-no-room": "the fittings at its ends take up all of its {length}; no pipe is cut for it",
    "takeoff-not-joinable": (
        "{length} of {size} {material} in one piece, which may not be joined, and the longest stock is {stock}"
    ),
    "takeoff-no-supports": "{material}: the spacing of supports of {way} pipe is not known; none are counted",
    "takeoff-counted": (
        "counted, not laid out: {number} of {stock} is the least that makes its length; no cut list and no couplings"
    ),
    "takeoff-implied": "one {fitting} is counted, though the job lists none",
    "takeoff-tee": "the {fitting} is counted as a fitting; the plug for its third opening is not in the list",
    "takeoff-kit": "{kit}: for its outdoor end. {source}",
    "takeoff-cement": "cement and primer: for {joints} joints. {source}",
    "takeoff-tight": (
        "with the fittings at its ends as long as they may be, no pipe of its {length} is left; measure them"
    ),
    "takeoff-close": (
        "{first} and {second} meet with no pipe listed between them: join them with a short piece of pipe, or with "
        "a fitting that has a spigot end"
    ),
    "takeoff-sockets": "{material}: each length has a socket, and joins the next without a coupling",
    "takeoff-couplings": (
        "a straight longer than stock is made of whole lengths and a rest, or joined elsewhere where that saves a "
        "length; longer stock takes fewer couplings"
    ),
    "takeoff-reach": (
        "{fitting} {size}: {length} from its center to the end of the pipe in it is taken off ({source})"
    ),
    "takeoff-reach-estimated": (
        "{fitting} {size}: about {length} from its center to the end of the pipe in it is taken off, {low} to {high} "
        "({source})"
    ),
    "lesson-never-wrong": "question {number}: a tolerance of {tolerance} lets nearly every guess be right",
    "lesson-never-right": "question {number}: a tolerance of {tolerance} lets hardly any guess be right",
    "lesson-nearly-alike": (
        'question {number}: the variants differ by so little that "no difference" is the answer; make them differ more'
    ),
    "lesson-out-of-reach": "question {number}: one of its limits is out of reach; nobody would choose beyond it",
    "lesson-on-the-edge": "question {number}: the answer lies on one of the limits; a small change turns it around",
    "lesson-too-close": "question {number}: two limits are so close that nobody can tell them apart",
    "lesson-asked-twice": "question {again} asks what question {number} asks",
    "lesson-no-notes": "it has no notes for its teacher: [lesson.teacher] with aim, minutes, expect and board",
    "change-exchange": "exchange {count} × {old} for {new}",
    "change-size": "{size} throughout",
    "change-size-from": "{size} from piece {piece} on",
    "change-fewer": "{count} × {old} fewer, if the run can be laid so",
    "change-slants-counted": "{count} × {old} made {count} × {new}, if offsets can be laid on the slant",
    "change-offset-slant": "make the offset at pieces {first} to {last} by two {elbow} and a slanting pipe",
    "change-offset-out": (
        "go straight on where the offset at pieces {first} to {last} goes over by {over}, if the end may be moved by "
        "that"
    ),
    "change-end-before-turn": "move the terminal to before the last turn, without that elbow and the pipe after it",
    "change-shorten": "take off at least {length} of straight pipe",
    "change-end-nearer": "move the terminal {length} nearer, off the last pipe",
    "differs-altitude": _differs("altitude", "altitude"),
    "differs-outdoor": _differs("outdoor temperature"),
    "differs-indoor": _differs("indoor temperature"),
    "differs-humidity": _differs("humidity of the combustion air"),
    "differs-fuel": _differs("fuel"),
    "differs-input": _differs("input"),
    "differs-excess-air": _differs("excess air"),
    "differs-oxygen": _differs("O2"),
    "differs-carbon-dioxide": _differs("CO2"),
    "differs-flue-temperature": _differs("flue gas temperature"),
    "differs-cooled": "the gas is figured as cooling",
    "differs-not-cooled": "the gas is not figured as cooling",
    "differs-gone": "no {what} '{name}'",
    "differs-more": "one {what} more, '{name}'",
    "differs-order": "the same pieces in another order",
    "differs-divided": "its straight pipe is divided otherwise",
    "differs-k": _k,
    "differs-table": _table,
    "differs-size": _sizes,
    "differs-material": _differs(""),
    "differs-exchanged": _exchanged,
    "differs-two-for-each": "{count} × {after}, two instead of each {before}",
    "differs-fewer": "{count} fewer {name}",
    "differs-none": "no {name}",
    "differs-more-of": "{count} more {name}",
    "differs-added": "{count} × {name} added",
    "differs-longer": "{length} more straight pipe",
    "differs-shorter": "{length} less straight pipe",
}
