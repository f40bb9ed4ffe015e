"""Words of the sweeps: their titles, and the findings of `finding.codes.SWEEP`."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ventsize.report.wording import Values

QUESTIONS: dict[str, str] = {
    "elbow-by-rate": "one elbow as feet of pipe, by firing rate",
    "elbow-by-size": "one elbow as feet of pipe, by size",
    "elbow-by-temperature": "one elbow as feet of pipe, by gas temperature",
    "elbow-by-method": "the same elbow by every published method",
    "table-and-calculation": "each fitting by the table and by calculation",
    "drop-by-flow": "pressure drop by flow: why low fire is easy",
    "length-by-elbows": "length left by number of elbows, at a fixed budget",
    "drop-by-altitude": "pressure drop by altitude",
    "laminar-turbulent": "friction between laminar and turbulent flow",
}
"""Each sweep as a list shows it."""

TITLES: dict[str, str] = {
    "elbow-by-rate": "What one {fitting} is worth, by firing rate",
    "elbow-by-size": "What one {fitting} is worth, by size, at {rate}",
    "elbow-by-temperature": "What one {fitting} is worth, by flue gas temperature",
    "elbow-by-method": "One {fitting} by every published method, at {rate}",
    "table-and-calculation": "Fittings by the table and by calculation, {size} pipe, at {rate}",
    "drop-by-flow": "Pressure drop of {run} by flow",
    "length-by-elbows": "Straight {size} pipe left by number of elbows",
    "drop-by-altitude": "Pressure drop of {run} by altitude, at {rate}",
    "laminar-turbulent": "Friction factor between laminar and turbulent flow",
}
"""Each sweep as its picture is headed."""

WHY_UNSURE = (
    "between Reynolds numbers 2040 and 4000 the flow may be laminar or turbulent, or swing between the two: nobody "
    "can say for sure"
)

_HALF = (
    "At {input} it is worth {full:decimal}, at half of that {half:decimal}. Its K goes from {k:.3f} to {k_half:.3f}, "
    "the pipe's friction factor from {f:.4f} to {f_half:.4f}. Feet are K × bore / friction factor"
)
_METHODS = "{number} published methods for one {fitting} in {size} pipe at Reynolds number {reynolds:,.0f}: "
_ENDS = "{bottom} at sea level and {top} at {altitude:altitude}, {times:.2f} times"
_TEMPERATURES = (
    "From {coolest} to {warmest} it changes by {feet} in feet, and the run's pressure drop changes by {drop}"
)

WORDS: dict[str, str | Callable[[Values], str]] = {
    "sweep-feet-hold": _HALF + ": the two change nearly alike, so the feet nearly hold.",
    "sweep-feet-move": _HALF + ": the two do not change alike, so the feet move.",
    "sweep-feet-laminar": _HALF + ". At half the input the pipe flow is laminar, and its friction follows another law.",
    "sweep-feet-by-size": "The size moves it, from {low:decimal} in {least} to {high:decimal} in {most} pipe.",
    "sweep-feet-by-kind": "The kind of turn moves it, from {low:decimal} for {least} to {high:decimal} for {most}.",
    "sweep-table-at-every-input": "The table counts it as {length:decimal} at every input.",
    "sweep-only-flow": (
        "only the flow is changed: excess air and flue gas temperature are held, which a real appliance does not"
    ),
    "sweep-jump": (
        "where a line jumps, the Reynolds number is 2040 and the pipe's friction with it; between there and 4000 "
        "nobody can say for sure, and what is drawn may be off by half"
    ),
    "sweep-few-tests": "at {rate} the Reynolds number is {reynolds:,.0f}: few fittings have been tested below 10,000",
    "sweep-size-grows": (
        "It is worth {first:decimal} in {small} pipe and {last:decimal} in {large}: {times:.1f} times as much in a "
        "pipe of {times_size:.1f} times the size. In feet it grows with the size. In pressure it falls: it loses "
        "{times_pressure:,.0f} times as much in {small}."
    ),
    "sweep-size-mixed": (
        "It is worth {first:decimal} in {small} pipe and {last:decimal} in {large}. It does not grow steadily with "
        "the size: the flow is slow in the larger pipes, and laminar friction follows another law."
    ),
    "sweep-temperature-still": _TEMPERATURES + ": the flue gas temperature hardly changes the gas in this run.",
    "sweep-temperature-alike": _TEMPERATURES + ": that costs elbows and pipe nearly alike.",
    "sweep-temperature-moves": _TEMPERATURES + ": that does not cost elbows and pipe alike.",
    "sweep-temperature-water": (
        "At the cool end water has condensed in the appliance: the run carries {less} less gas than at the warm end."
    ),
    "sweep-authors-differ": (
        _METHODS + "the highest is {times:.1f} times the lowest; of those counted, {times_counted:.1f} times. The "
        "fitting and the flow asked about are the same in every bar: what differs is the author, and what he tested."
    ),
    "sweep-one-author": "One published method for one {fitting}, in {size} pipe.",
    "sweep-method-taken": (
        "The calculation takes {taken}, K {k:.3f}, worth {worth:decimal}; those counted make its band of {low:decimal} "
        "to {high:decimal}."
    ),
    "sweep-method-alone": "The calculation takes {taken}, K {k:.3f}, worth {worth:decimal}; no other is counted.",
    "sweep-table-above": "The table counts {length:decimal}, more than any method that is counted.",
    "sweep-table-inside": "The table counts {length:decimal}, inside the band of the methods.",
    "sweep-table-below": "The table counts {length:decimal}, less than any method that is counted.",
    "sweep-furthest-apart": (
        "The table counts {fitting} as {table:decimal}, the calculation as {own:decimal}: of all, furthest apart."
    ),
    "sweep-apart": "The table counts {fitting} as {table:decimal}, the calculation as {own:decimal}.",
    "sweep-table-above-those": "The table counts more than the band of the methods: {fittings}.",
    "sweep-table-inside-those": "Inside the band of the methods: {fittings}.",
    "sweep-table-below-those": "The table counts less than the band of the methods: {fittings}.",
    "sweep-table-decides": "The table holds for every rate of its rows, this figure for one. The table decides.",
    "sweep-flow-square": (
        "At half of the flow of {rate} the run loses {half} instead of {whole}: {share} of it. Over that stretch the "
        "loss goes with the flow to the power of {power:.2f}, nearly the square. That is why low fire is easy."
    ),
    "sweep-flow-less": (
        "At half of the flow of {rate} the run loses {half} instead of {whole}: {share} of it. Over that stretch the "
        "loss goes with the flow to the power of {power:.2f}, well below the square: the flow is slow."
    ),
    "sweep-flow-laminar": (
        "At half of the flow of {rate} the run loses {half} instead of {whole}: {share} of it. Between the two the "
        "flow turns laminar: no one power holds over that stretch."
    ),
    "sweep-flow-band": "At {rate} nine in ten such runs lose between {low} and {high}.",
    "sweep-held": "excess air and flue gas temperature are held while the input is changed",
    "sweep-altitude-thin": (
        "With the same input the run loses " + _ENDS + " as much: the gas is {thinner:.2f} times as thin, takes more "
        "room and goes faster."
    ),
    "sweep-altitude-vapor": (
        "With the same input the run loses " + _ENDS + " as much. The gas is {thinner:.2f} times as thin, and there is "
        "{more_gas} more of it: under less pressure less water condenses in the appliance, and the rest goes up the "
        "vent."
    ),
    "sweep-altitude-derated": (
        "Derated by the code clause it loses {whole} or {part} at {altitude:altitude}, by how the clause is read: "
        "{source}"
    ),
    "sweep-bands": "the table's answer goes by its own bands of altitude, whatever this says",
    "sweep-budget": "The budget is {budget} at {rate}: the allowance as pressure.",
    "sweep-budget-of-the-run": "The budget is {budget} at {rate}: what the run loses now. No table gives a budget.",
    "sweep-elbow-takes": "Each {fitting} takes {length:decimal} of straight pipe off it.",
    "sweep-elbows-even": (
        "By calculation the lines fall evenly: at one flow the fifth elbow costs what the first does. What elbows "
        "close together do to each other is not counted."
    ),
    "sweep-step": (
        "At Reynolds number {reynolds:.0f} the friction factor steps from {least:.4f} to {most:.4f}, {more} more. In "
        "the dotted stretch the calculation takes the turbulent line; the dashed line is laminar flow carried on."
    ),
    "sweep-rate-laminar": "Reynolds number {reynolds:,.0f}, laminar",
    "sweep-rate-unsure": "Reynolds number {reynolds:,.0f}, in the stretch where nobody can say",
    "sweep-rate-turbulent": "Reynolds number {reynolds:,.0f}, turbulent",
}
