"""What an exercise says, in words and figures that text, paper and screen share."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ventsize.finding import Finding
from ventsize.quantity import Dimension, System, parse, show, show_fraction, show_length, show_power
from ventsize.quantity.board import unit_of
from ventsize.report.class_words import pieces_in_words, sizes_in_words
from ventsize.report.wording import Values, reason
from ventsize.report.working import digits, unit_factor
from ventsize.run.model import Run
from ventsize.studies.exercises import Asked, Exercise, Sheet
from ventsize.studies.working.steps import Given, Step

CAUTION = (
    "Appliances, runs and tables here are invented for practice. Never size a vent from them: the maker's "
    "instructions and the local code decide, and the work belongs to a licensed installer."
)
HOW = (
    "Every formula takes the numbers in the units that stand beside them and gives its result in the unit behind it. "
    "Round each result to three digits; it is right within the share that stands beside the question. Of choices, "
    "write the number."
)
ANSWER_DIGITS = 4

TITLES = {
    "fuel-burnt": "Fuel burnt",
    "air-taken-in": "Air taken in",
    "two-settings": "Two settings",
    "velocity": "How fast the gas goes",
    "reynolds": "Slow or fast flow",
    "smallest": "The smallest size",
    "straight-pipe": "Straight pipe",
    "friction-factor": "Which friction factor",
    "low-fire": "Low fire",
    "elbow-loss": "What an elbow loses",
    "elbow-as-pipe": "What an elbow is worth",
    "both-fires": "An elbow at both fires",
    "run-added-up": "A run added up",
    "run-of-pieces": "A whole run",
    "room-for-more": "Room for more",
    "by-deductions": "Equivalent length by the table",
    "by-elbows": "Lengths by number of elbows",
    "between-rows": "Between two rows",
    "verdict": "The verdict",
    "table-says": "What the table says",
    "two-layouts": "Two layouts, one table",
}
_TELLS = {
    "burns": "A furnace burns {fuel}.",
    "fuel-is": "The fuel burnt is the input over the heat of the fuel.",
    "regimes": "Flow is laminar below a Reynolds number of 2,000, and turbulent above 4,000.",
    "limit": "The gas is not to go faster than {limit}.",
    "elbow-rule": (
        "The table gives straight pipe by number of 90° elbows. Two elbows of 45° count as one of 90°, an odd one as a "
        "whole."
    ),
}
COUNTED = "Count the straight pipe, and each fitting at the length in the list."
RULE = (
    "How to read the table: find the rows of your pipe size and your altitude. Take the row of your input; where it "
    "lies between two inputs, take the shorter length of the two rows.",
    COUNTED + " More than the row allows is over.{short} All else is within.",
    "No row for the size, for the altitude, or for an input so small or so large: not covered. A fitting that is not "
    "in the list: incomplete.",
)
_ASKS = {
    "find": "Find {symbol}, the {name}.",
    "more-fuel": "With the same input, does it burn more fuel, less, or the same?",
    "regime": "Is the flow laminar or turbulent?",
    "smallest-size": "Which is the smallest of these sizes that will do?",
    "falls": "From high to low fire, by what share does the loss fall, beside the share by which the fire falls?",
    "whole-elbows": "How many whole elbows may take the place of that pipe?",
    "same-feet": "Is it worth the same straight pipe at both fires, within 15 %?",
    "which-most": "Which piece loses most?",
    "whole-more": "How many whole elbows like that may be added instead of pipe?",
    "elbows-counted": "How many 90° elbows does the table count?",
    "straight-allowed": "How much straight pipe does it allow then?",
    "governs": "Which row governs?",
    "elbows-more": "How many more long-turn 90° elbows would still be within?",
    "verdict": "What is the verdict?",
    "longer": "Which is longer by the table?",
    "loses-more": "Which loses more pressure by calculation?",
    "how-much-more": "How much more?",
}
_BECAUSE = {
    "same-fuel": "The input is heat by the hour; only the air is changed.",
    "regime": "Below 2,000 laminar, above 4,000 turbulent.",
    "smallest": "Smaller ones are too fast, a larger one is not needed.",
    "falls": "The loss falls to r, the fire to s.",
    "same-feet": "The coefficient and the friction factor change together: compare the two lengths.",
    "largest": "It is the largest number.",
    "shorter": "Between two rows the shorter one governs; nothing is read in between.",
    "both-alike": "The pieces are counted alike.",
    "more-deducted": "It has more of the elbows that count for more.",
    "larger-sum": "All else is the same, so the larger sum of coefficients loses more.",
}


def title_of_sheet(sheet: Sheet) -> str:
    """What the sheet is called."""
    return f"Exercises: {sheet.topic}, level {sheet.level}"


def which(sheet: Sheet, name: str = "") -> str:
    """What brings the same sheet again, and whose it is."""
    return f"Sheet {sheet.seed}, student {sheet.student}" + (f": {name}" if name else "")


def letter(number: int) -> str:
    """a, b, c, ... for the questions of an exercise, counted from 0."""
    return "abcdefghijklmnopqrstuvwxyz"[number]


def story(exercise: Exercise, system: System) -> Iterator[str]:
    """What is told, in sentences."""
    for code in exercise.tells:
        if code == "fire":
            yield _fire(exercise, system)
        elif code == "vents":
            yield from (f"{one.title} is {sizes_in_words(one.run.run)}. {_pieces(one.run.run, system)}." for one in
                        exercise.runs)  # fmt: skip
        else:
            yield _filled(_TELLS[code], exercise.values, system)


def _pieces(run: Run, system: System) -> str:
    return f"{'It has' if run.counted else 'Its pieces:'} {pieces_in_words(run, system)}"


def _fire(exercise: Exercise, system: System) -> str:
    job = exercise.runs[0].inputs.job
    power = max(rate.input for rate in job.appliances[0].rates)
    altitude = show(job.site.altitude or 0.0, Dimension.LENGTH, system, style="altitude")
    return f"A furnace with an input of {show_power(power, system)} stands at an altitude of {altitude}."


def _filled(words: str, values: object, system: System) -> str:
    return words.format_map(Values(Finding("", values=values), system))  # type: ignore[arg-type]


def rules(exercise: Exercise) -> Iterator[str]:
    """The rule of the table in words."""
    if not exercise.table:
        return
    if exercise.code == "two-layouts":  # they are compared with each other, not with a row
        yield COUNTED
        return
    shown = exercise.runs[0].inputs.tables[exercise.table]
    short = " Straight pipe shorter than the least is short." if any(row.minimum for row in shown.rows) else ""
    by_elbows = any(row.allowable_by_elbows for row in shown.rows)
    for rule in RULE[:1] if by_elbows else RULE:
        yield rule.format(short=short)
    if by_elbows:
        yield "Compare your straight pipe with the length under your number of elbows: more is over, else it is within."


def listed_deductions(exercise: Exercise, system: System) -> list[tuple[str, str]]:
    """What the table counts each fitting as, by the name that the story has for it."""
    shown, catalog = exercise.runs[0].inputs.tables[exercise.table or ""], exercise.runs[0].inputs.catalog
    named = ((catalog.fittings[name].title, one.largest) for name, one in shown.deductions.items())
    return [(title[0].lower() + title[1:], show_length(length, system)) for title, length in named]


def given_cells(given: Given, system: System) -> tuple[str, str, str]:
    """A number to start from: its symbol, what it is, and the number with its unit."""
    unit = unit_of(given.kind, system)
    return given.symbol, given.name, f"{_plain(given.value / unit.factor, 3)} {unit.label}".rstrip()


def formula_cells(exercise: Exercise, system: System) -> list[tuple[str, str]]:
    """The formulas with their constants, each with what it gives in which unit.

    On the first level in the order of the work, after it by name: which comes first is part of the question.
    """
    lines = [step for step in exercise.formulas if step.symbol not in exercise.unprinted]
    if exercise.level > 1:
        lines.sort(key=lambda step: step.symbol)
    return [(formula_text(step, system), _gives(step, system)) for step in lines]


def _gives(step: Step, system: System) -> str:
    unit = unit_of(step.kind, system).label
    return f"{step.name}, {unit}" if unit else step.name


def key_cells(exercise: Exercise, system: System) -> tuple[tuple[str, str, str], ...]:
    """Each line of the key: its formula, the same with numbers, and what it gives."""
    return tuple(
        (
            formula_text(step, system),
            formula_text(step, system, numbers=True).partition(" = ")[2],
            f"{_plain(step.value / (unit := unit_of(step.kind, system)).factor, ANSWER_DIGITS)} {unit.label}".rstrip(),
        )
        for step in exercise.formulas or exercise.key
    )


def formula_text(step: Step, system: System, *, numbers: bool = False) -> str:
    """`q = ρ × v^2 / 1203000`: the constant turns the units, and holds the numbers of the formula itself.

    numbers: put in for the symbols.
    """
    template, constant = step.template, unit_factor(step, system)
    if template.startswith("3.14159265 / 4 * "):
        template, constant = template.removeprefix("3.14159265 / 4 * "), constant * math.pi / 4.0
    put_in = [
        _plain(given.value / unit_of(given.kind, system).factor, ANSWER_DIGITS) if numbers else given.symbol
        for given in step.inputs
    ]
    text = template.replace(" * ", " × ").format(*put_in)
    if math.isclose(constant, 1.0, rel_tol=1e-9):
        return f"{step.symbol} = {text}"
    if constant < 1e-3:
        return f"{step.symbol} = {text} / {_plain(1.0 / constant, ANSWER_DIGITS)}"
    return f"{step.symbol} = {_plain(constant, ANSWER_DIGITS)} × {text}"


def _plain(value: float, figures: int) -> str:
    """A number as an apprentice types it: no power of ten where a few zeros will do."""
    rounded = float(f"{value:.{figures}g}")
    if 1e-6 <= abs(rounded) < 1e7:
        places = max(0, figures - 1 - math.floor(math.log10(abs(rounded))))
        text = f"{rounded:.{places}f}"
        return text.rstrip("0").rstrip(".") if "." in text else text
    return digits(rounded).strip("()")


def choices_of(asked: Asked, system: System) -> tuple[str, ...]:
    """What may be answered; an input as the table prints it."""
    if asked.code != "governs":
        return asked.choices
    return tuple(show_power(parse(choice, Dimension.POWER), system) for choice in asked.choices)


def question(asked: Asked, system: System) -> str:
    """A question with the unit of its answer and how near it has to be, or with its choices."""
    text = _filled(_ASKS[asked.code], asked.values, system)
    if asked.answer is None:
        if asked.code == "which-most":
            return f"{text} (the number of the piece, 1 to {len(asked.choices)})"
        return f"{text} " + ", ".join(f"({n}) {choice}" for n, choice in enumerate(choices_of(asked, system), start=1))
    unit = unit_of(asked.answer.kind, system).label
    near = f"within {show_fraction(asked.tolerance)}" if asked.tolerance else "a whole number"
    return f"{text} ({', '.join(part for part in (unit, near) if part)})"


def short_answer(asked: Asked, system: System) -> str:
    """The answer as it stands in a grid: a number, or the number of a choice in parentheses."""
    if asked.answer is None:
        return f"({asked.choices.index(asked.choice) + 1})"
    return _plain(asked.answer.value / unit_of(asked.answer.kind, system).factor, 3)


def answer(asked: Asked, system: System) -> str:
    """The right answer, with what else counts as right or why it is so."""
    if asked.answer is None:
        at = asked.choices.index(asked.choice)
        because = _BECAUSE[asked.because] if isinstance(asked.because, str) else reason(asked.because, system,
                                                                                        with_run=False)  # fmt: skip
        return f"({at + 1}) {choices_of(asked, system)[at]}. {because}"
    unit = unit_of(asked.answer.kind, system)
    value = asked.answer.value / unit.factor
    found = f"{asked.answer.symbol} = {_plain(value, ANSWER_DIGITS)} {unit.label}".rstrip()
    if not asked.tolerance:
        return found
    low, high = sorted(value * (1.0 + way * asked.tolerance) for way in (-1, 1))
    return f"{found}; right from {_plain(low, ANSWER_DIGITS)} to {_plain(high, ANSWER_DIGITS)}"
