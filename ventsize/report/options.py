"""Options as text, and as an object for JSON (SI, keys that end in their unit)."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from ventsize.check.result import RunCheck
from ventsize.quantity import System, show_length, show_size
from ventsize.report.keys import Keys
from ventsize.report.money import cost_object, cost_words
from ventsize.report.text_parts import as_text, wrapped
from ventsize.report.wording import reason
from ventsize.studies.options import Option
from ventsize.studies.options.choices import Chosen
from ventsize.studies.options.ranking import Found, RouteFound

SHOWN = 10

DECIDES = "The maker's instructions and the local code decide. Check the job again after a change is made to it."
ONE_PIPE = (
    "With one pipe the appliance takes its air from the room: its instructions must allow that, and the room must have "
    "enough."
)
BY = {"margin": "the most room first", "joints": "the fewest joints first", "cost": "the cheapest first"}


UNDECIDED = (
    "Any of the first {} may be the cheapest: they differ by less than the estimated fitting lengths leave open. "
    "Measure the fittings, and put their lengths into takeoff.toml."
)


@as_text
def render(found: Found, system: System, *, every: bool = False) -> Iterator[str]:
    """The acceptable options ranked; where there is none, what comes nearest and what would help.

    every: all that are kept, with why each of the others is not within, instead of the first few.
    """
    yield from wrapped(summary(found))
    if found.smallest is not None:
        yield from wrapped(f"Smallest size that is within: {option_words(found.smallest)}", "  ")
    for route in found.by_route:
        yield from _route(route, system)
    yield from _acceptable(found, system, every)
    if not found.acceptable:
        yield "No option is within. The nearest:"
        for option, helps in zip(found.misses, helps_of(found, system), strict=False):
            yield from wrapped(f"  - {option_words(option)}: it would take {helps}", "    ")
    misses = found.misses if every else found.misses[:3] if found.acceptable else ()
    if misses:
        yield "Not within, the nearest first:"
    for option in misses:
        yield from wrapped(f"  - {option_words(option)}: {reason(option.check.decides, system)}", "    ")
    if any(option.piping == "one pipe" for option in found.acceptable):
        yield from wrapped(ONE_PIPE)
    yield from wrapped(DECIDES)


def _acceptable(found: Found, system: System, every: bool) -> Iterator[str]:
    if found.acceptable:
        yield f"Within, {BY[found.order]}:"
    if found.undecided:
        yield from wrapped(UNDECIDED.format(found.undecided), "  ")
    for number, option in enumerate(found.acceptable if every else found.acceptable[:SHOWN], start=1):
        yield from wrapped(f"{number:>3}  {_option(option, system)}", "     ")


def summary(found: Found, *, of: int | None = None) -> str:
    """How many there were, and how many of them will do; of: how many there are, while they are looked at."""
    there = " options" if of is None else f" of {of:,}"
    failed = ", ".join(f"{count:,} {verdict}" for verdict, count in found.failures.items())
    return f"{found.looked_at:,}{there} looked at; {found.within:,} within" + (f"; {failed}" if failed else "")


def option_words(option: Option, *, with_run: bool = True) -> str:
    """An option in words; with_run: whether one of a single run begins with that run's name."""
    said: list[str] = [] if option.piping == "as it is" else [option.piping]
    alone = len(option.chosen) == 1 and not with_run
    said += [_chosen(one) if alone else f"{one.run}: {_chosen(one)}" for one in option.chosen]
    return "; ".join(said) or "as it is"


def _chosen(one: Chosen) -> str:
    said = [f"route '{one.route}'"] if one.route else []
    said += [show_size(one.size)] if one.size is not None else []
    said += [one.material] if one.material else []
    if one.elbows:
        said.append("90° turns: " + ", ".join(one.elbows[:1] if len(set(one.elbows)) == 1 else one.elbows))
    said += [one.end] if one.end else []
    if one.change:
        said.append(f"{show_size(one.change[1])} from piece {one.change[0] + 1} on")
    return ", ".join(said) or "as it is"


def _route(route: RouteFound, system: System) -> Iterator[str]:
    if route.best is not None or route.within:
        best = "" if route.best is None else f"; the first of them: {_option(route.best, system)}"
        yield from wrapped(f"{route_name(route)}: {route.within:,} of {route.looked_at:,} within{best}", "  ")
        return
    yield from wrapped(f"{route_name(route)}: none of {route.looked_at:,} is within. The nearest:", "  ")
    for miss in route.misses:
        yield from wrapped(f"  - {option_words(miss)}: it would take {what_would_help(miss, system)}", "    ")


def route_name(route: RouteFound) -> str:
    """A way to lay the runs, by its name."""
    named = [name for name in route.routes if name]
    return "Route " + " with ".join(f"'{name}'" for name in named) if named else "Route as it is"


def _option(option: Option, system: System) -> str:
    parts = [option_words(option), f"{option.joints} joints"]
    if option.check.margin is not None:
        parts.append(f"{show_length(option.check.margin, system)} to spare")
    if option.cost is not None:
        parts.append(cost_words(option.cost, system))
    parts += by_calculation(option)
    return "; ".join(parts)


def by_calculation(option: Option) -> list[str]:
    """The other answer, where it is not the table's."""
    return ["by calculation over: ask the maker"] if option.by_calculation is False else []


def as_object(found: Found, system: System) -> dict[str, Any]:
    """The options for JSON."""
    return {
        **_FOUND(found),
        "acceptable": [_option_object(option, system) for option in found.acceptable],
        "smallest": None if found.smallest is None else _option_object(found.smallest, system),
        "misses": [_option_object(option, system) for option in found.misses],
        "what_would_help": helps_of(found, system),
        "failures": dict(found.failures),
        "routes": [
            {
                **_ROUTE(route),
                "best": None if route.best is None else _option_object(route.best, system),
                "misses": [
                    {**_option_object(miss, system), "it_would_take": what_would_help(miss, system)}
                    for miss in route.misses
                ],
            }
            for route in found.by_route
        ],
    }


_FOUND = Keys(Found, "looked_at total order undecided")
_ROUTE = Keys(RouteFound, "routes looked_at within")
_OPTION = Keys(Option, "joints largest_size_m:largest")


def _option_object(option: Option, system: System) -> dict[str, Any]:
    return {
        "option": option_words(option),
        "verdict": option.check.verdict,
        "reason": reason(option.check.decides, system),
        "margin_m": option.check.margin,
        **_OPTION(option),
        "cost": None if option.cost is None else cost_object(option.cost),
        "within_by_calculation": {run.run.name: run.within_by_calculation for run in option.check.runs},
    }


def helps_of(found: Found, system: System) -> list[str]:
    """What the nearest misses lack, where nothing is within."""
    return [] if found.acceptable else [what_would_help(option, system) for option in found.misses[:5]]


def what_would_help(option: Option, system: System) -> str:
    """What a miss lacks, run by run."""
    said = [_helps(run, system) for run in option.check.runs if run.verdict != "within"]
    return " and ".join(said) or f"an answer to this: {reason(option.check.decides, system)}"


def _helps(run: RunCheck, system: System) -> str:
    """What one run that is not within would take."""
    name = f"run '{run.run.name}'"
    if run.verdict == "over" and run.margin is not None and run.margin < 0:
        if -run.margin > run.run.straight_length:
            return f"{name} {show_length(-run.margin, system)} less, which is more than its straight pipe"
        return f"{name} {show_length(-run.margin, system)} shorter{_or_fewer_elbows(run, -run.margin)}"
    if run.verdict == "short" and run.table is not None and run.table.minimum_length is not None:
        lacking = run.table.minimum_length - (run.table.equivalent_length or 0.0)
        return f"{name} {show_length(lacking, system)} longer"
    return f"an answer to this: {reason(run.decides, system)}"


def _or_fewer_elbows(run: RunCheck, lacking: float) -> str:
    """As many fittings of one kind fewer as would do the same, where the run has so many."""
    for line in run.table.deductions if run.table else ():
        if line.each > 0.0 and lacking <= line.total + 1e-9 and line.fitting.startswith("elbow"):
            return f", or {math.ceil(lacking / line.each - 1e-9)} × {line.fitting} fewer"
    return ""
