"""A working as text: formula, numbers with their units in brackets, and what comes out."""

from __future__ import annotations

import math
import re
import textwrap
from collections.abc import Iterator

from ventsize.quantity import System, show_temperature
from ventsize.quantity.board import Kind, unit_of
from ventsize.report.text_parts import WIDTH, as_text, head, sentences
from ventsize.report.wording import reason, say_all
from ventsize.studies.working.steps import Given, Step, Working

DIGITS = 6
TIMES = " × "
_TIED = "\N{NO-BREAK SPACE}"  # while lines are broken: a number stays with its unit
DIGITS_SAID = (
    "Every number is shown to six digits and carried in full. C turns the units of a formula into those of its result."
)


@as_text
def render(working: Working, system: System) -> Iterator[str]:
    """A working, a paragraph a step: what it comes to, then the result, then what makes it."""
    yield from head(working.title)
    yield from sentences("What it comes to", conclusions_of(working, system))
    titles = titles_of(working)
    for number, step in enumerate(working.steps, start=1):
        if number in titles:
            yield from ("", titles[number])
        yield ""
        yield from step_lines(number, step, system)
    if working.steps:
        yield from ("", *textwrap.wrap(DIGITS_SAID, WIDTH))
    yield from sentences("Not opened here", (unopened(working),) if working.unopened else ())
    yield from sentences("Not worked out here", working.remarks)
    yield from sentences("Cautions", say_all(working.findings, system))


def titles_of(working: Working) -> dict[int, str]:
    """What stands above a line, by its number from 1: the table's sum and the calculation, where there are both."""
    by_table = sum(step.part == "table" for step in working.steps)
    return {1: "By the table", by_table + 1: "By calculation"} if 0 < by_table < len(working.steps) else {}


def unopened(working: Working) -> str:
    """The numbers that further lines work out, by symbol."""
    return f"{', '.join(given.symbol for given in working.unopened)}: open one by its symbol, or go further back."


def step_lines(number: int, step: Step, system: System) -> Iterator[str]:
    """One line of a working: what it is, the formula, the numbers put in, the result, where they come from."""
    yield from textwrap.wrap(f"{number}. {step.name} ({step.source})", WIDTH, subsequent_indent="   ")
    template = step.template.replace(" * ", TIMES)
    formula = template.format(*(given.symbol for given in step.inputs))
    numbers = [_number(given.value, given.kind, system) for given in step.inputs]
    put_in = re.sub(r"\{(\d+)\}(?=\^)", lambda at: _closed(numbers[int(at[1])]), template).format(*numbers)
    factor = unit_factor(step, system)
    if not math.isclose(factor, 1.0, rel_tol=1e-12):
        opened, closed = ("(", ")") if _is_sum(step.template) else ("", "")
        formula = f"C{TIMES}{opened}{formula}{closed}"
        put_in = f"{digits(factor)}{TIMES}{opened}{put_in}{closed}"
    yield from _wrapped(f"{step.symbol} = ", formula)
    yield from _wrapped("= ", put_in)
    yield from _wrapped("= ", _number(step.value, step.kind, system))
    if step.kind is Kind.TEMPERATURE:
        yield f"       {step.symbol}: {show_temperature(step.value, system)}"
    for given in {given.symbol: given for given in step.inputs if given.source}.values():
        yield from textwrap.wrap(
            f"{given.symbol}: {given.name}{_everyday(given, system)}, {given.source}",
            WIDTH,
            initial_indent="       ",
            subsequent_indent="         ",
        )


def _closed(number: str) -> str:
    """A number as a power takes it, in parentheses."""
    return number if number.endswith(")") else f"({number})"


def unit_factor(step: Step, system: System) -> float:
    """What a formula is multiplied by, so that the units come out [-]."""
    if not step.powers:
        return 1.0
    factors = (
        unit_of(given.kind, system).factor ** power for given, power in zip(step.inputs, step.powers, strict=True)
    )
    return float(math.prod(factors)) / unit_of(step.kind, system).factor


def _wrapped(start: str, text: str) -> Iterator[str]:
    lines = textwrap.wrap(
        f"{start}{text}",
        WIDTH,
        initial_indent="     ",
        subsequent_indent="         ",
        break_long_words=False,
        break_on_hyphens=False,
    )
    yield from (line.replace(_TIED, " ") for line in lines)


def _is_sum(template: str) -> bool:
    """Whether a formula adds or subtracts outside all parentheses."""
    outside = template
    while (inner := re.sub(r"\([^()]*\)", "", outside)) != outside:
        outside = inner
    return " + " in outside or " - " in outside


def _everyday(given: Given, system: System) -> str:
    """A temperature on the scale that people read."""
    return f", {show_temperature(given.value, system)}" if given.kind is Kind.TEMPERATURE else ""


def number_in_words(given: Given, system: System) -> str:
    """A number with its unit, a temperature on the scale that people read besides."""
    unit = unit_of(given.kind, system)
    return f"{digits(given.value / unit.factor).strip('()')} {unit.label}".rstrip() + _everyday(given, system)


def _number(value: float, kind: Kind, system: System) -> str:
    unit = unit_of(kind, system)
    text = digits(value / unit.factor)
    return f"{text}{_TIED}[{unit.label.replace(' ', _TIED)}]" if unit.label else text


def digits(value: float) -> str:
    """A number to six digits; a small or large one with a power of ten, in parentheses as a factor needs them."""
    text = f"{value + 0.0:.{DIGITS}g}"  # no negative zero
    if "e" not in text:
        return text if value >= 0 else f"({text})"
    figures, power = text.split("e")
    return f"({figures}×10^{int(power)})"


def conclusions_of(working: Working, system: System) -> tuple[str, ...]:
    """What the figures come to: by the table, which decides, and by calculation; and the job's, where another."""
    found = working.conclusion
    if found is None:
        return ()
    said = [f"{found.run.verdict}: {reason(found.run.decides, system, with_run=False)}"]
    if found.rate.within_allowance is not None:
        inside = "inside" if found.rate.within_allowance else "outside"
        said.append(f"By calculation, with all that shares the allowance, the run is {inside} it at {found.rate.name}.")
    if found.check.verdict != found.run.verdict:
        whole = reason(found.check.decides, system)
        said.append(f"The job as a whole is not this run's verdict, but {found.check.verdict}: {whole}")
    return tuple(said)
