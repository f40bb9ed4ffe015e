"""Exercises on the gas in the pipe: velocity, friction, fittings, and the pressure of a whole run."""

from __future__ import annotations

import math
from collections.abc import Collection

from ventsize.studies.exercises.draws import DrawAgain, Drawn, Draws
from ventsize.studies.exercises.key import Key, key_of
from ventsize.studies.exercises.model import CHAIN, FROM_A_CHART, ONE_STEP, Asked, Exercise, Pictured
from ventsize.studies.exercises.wording import appliance_story, run_story
from ventsize.studies.working import working_of

VELOCITY, FRICTION, FITTINGS, PRESSURE = "velocity", "friction", "fittings", "pressure"
GAS = frozenset({"m", "ρ"})  # told at the start, where combustion is not the subject
LAMINAR, TURBULENT = "laminar", "turbulent"
ELBOWS = ("elbow-90-long", "elbow-90-short")


def velocity(draws: Draws) -> Exercise:
    """Mass flow, density and bore give the velocity."""
    drawn = _drawn(draws)
    key = _key(drawn, "v", known=GAS)
    return _exercise(draws, drawn, VELOCITY, 1, "Velocity in the vent", key, key.ask("v", tolerance=ONE_STEP))


def reynolds_number(draws: Draws) -> Exercise:
    """Velocity and Reynolds number, and what they say of the flow."""
    drawn = _drawn(draws, laminar=True, sizes=draws.usual.sizes)
    key = _key(drawn, "v", "Re", known=GAS)
    return _exercise(
        draws, drawn, VELOCITY, 2, "Reynolds number", key, key.ask("v", tolerance=ONE_STEP),
        key.ask("Re", tolerance=CHAIN), _regime(drawn),
    )  # fmt: skip


def velocity_from_the_fire(draws: Draws) -> Exercise:
    """From the firing rate to the velocity: mass flow, density, area."""
    drawn = _drawn(draws)
    key = _key(drawn, "m", "ρ", "v", known={"H", "M"})
    asked = [key.ask(symbol, tolerance=CHAIN) for symbol in ("m", "ρ", "v")]
    return _exercise(draws, drawn, VELOCITY, 3, "From the fire to the velocity", key, *asked, appliance=True)


def straight_pipe(draws: Draws) -> Exercise:
    """A friction factor and a velocity pressure give the loss of a pipe."""
    drawn = _drawn(draws)
    at = _a_pipe(draws, drawn)
    key = _key(drawn, f"Δp[{at}]", known={"f", "q"}, piece=at)
    asked = _ask_loss(key, at, ONE_STEP)
    return _exercise(draws, drawn, FRICTION, 1, "Straight pipe", key, asked)


def friction_factor(draws: Draws) -> Exercise:
    """From mass flow to the friction factor and the loss of a pipe; the factor may be read from a chart."""
    drawn = _drawn(draws, laminar=True)
    at = _a_pipe(draws, drawn)
    key = _key(drawn, "Re", "f", f"Δp[{at}]", known=GAS, piece=at)
    return _exercise(
        draws, drawn, FRICTION, 2, "The friction factor", key, key.ask("Re", tolerance=CHAIN),
        key.ask("f", tolerance=FROM_A_CHART), _ask_loss(key, at, FROM_A_CHART),
    )  # fmt: skip


def low_fire(draws: Draws) -> Exercise:
    """The same pipe at low fire: what the loss comes down to."""
    share = draws.one_of((0.4, 0.5, 0.6, 0.65))
    drawn = _drawn(draws, low=share, laminar=True)
    at = _a_pipe(draws, drawn)
    steps = working_of(drawn.check, drawn.inputs, run="vent", rate="low", piece=at).steps
    key = key_of(steps, "v", "Re", "f", f"Δp[{at}]", known=GAS)
    high = drawn.rate("high").flow.pieces[at - 1].pressure_drop
    ratio = key.answer(f"Δp[{at}]").value / high
    fire = drawn.inputs.job.appliances[0].rates
    flows = fire[1].input / fire[0].input
    choices = ("in the same proportion as the input", "more than in that proportion", "less than in that proportion")
    compared = Asked(
        text="At high fire the same pipe loses more. By how much does its loss come down from high to low fire?",
        choices=choices,
        choice=choices[1] if ratio < flows else choices[2],
        because=f"The input comes down to {flows:.0%}, the loss to {ratio:.0%}.",
    )
    if abs(ratio - flows) < 0.05:
        raise DrawAgain
    return _exercise(
        draws, drawn, FRICTION, 3, "Low fire", key, key.ask("f", tolerance=FROM_A_CHART),
        _ask_loss(key, at, FROM_A_CHART), compared, appliance=True, rate="low",
    )  # fmt: skip


def elbow_loss(draws: Draws) -> Exercise:
    """A loss coefficient and a velocity pressure give the loss of an elbow."""
    drawn = _drawn(draws)
    at = _an_elbow(draws, drawn)
    key = _key(drawn, f"Δp[{at}]", known=GAS | {"v"}, piece=at)
    return _exercise(
        draws, drawn, FITTINGS, 1, "What an elbow loses", key, key.ask("q", tolerance=ONE_STEP),
        _ask_loss(key, at, CHAIN),
    )  # fmt: skip


def elbow_as_pipe(draws: Draws) -> Exercise:
    """How many feet of pipe an elbow is worth, here and now."""
    drawn = _drawn(draws)
    at = _an_elbow(draws, drawn)
    key = _key(drawn, f"L[e{at}]", known={"q", "f"}, piece=at)
    asked = key.ask(f"L[e{at}]", tolerance=CHAIN, text="How much straight pipe loses as much as this elbow?")
    return _exercise(draws, drawn, FITTINGS, 2, "What an elbow is worth", key, asked)


def elbow_at_both_fires(draws: Draws) -> Exercise:
    """An elbow is not worth the same length at both fires."""
    drawn = _drawn(draws, low=draws.one_of((0.5, 0.6, 0.65)))
    at = _an_elbow(draws, drawn)
    symbol = f"L[e{at}]"
    steps = working_of(drawn.check, drawn.inputs, run="vent", rate="low", piece=at).steps
    key = key_of(steps, "Re", "f", symbol, known=GAS)
    low, high = key.answer(symbol).value, drawn.rate("high").piece_lengths[at - 1]
    if high is None or abs(low / high - 1.0) < 0.03:
        raise DrawAgain
    compared = Asked(
        text="At which fire is the elbow worth more straight pipe?",
        choices=("high", "low"),
        choice="high" if high > low else "low",
        because=f"It is worth {high / low:.2f} times as much straight pipe at high fire as at low fire.",
    )
    return _exercise(
        draws, drawn, FITTINGS, 3, "An elbow at both fires", key, key.ask("f", tolerance=FROM_A_CHART),
        key.ask(symbol, tolerance=FROM_A_CHART, text="How much straight pipe is the elbow worth at low fire?"),
        compared, appliance=True, rate="low",
    )  # fmt: skip


def run_added_up(draws: Draws) -> Exercise:
    """The losses of the pieces add up."""
    drawn = _drawn(draws)
    lengths = {f"K[{number}]" for number, _ in enumerate(drawn.rate("high").flow.pieces, start=1)}
    key = _key(drawn, "Δp", known=lengths | {"q"})
    return _exercise(draws, drawn, PRESSURE, 1, "A run added up", key, key.ask("Δp", tolerance=ONE_STEP))


def run_from_the_flow(draws: Draws) -> Exercise:
    """A whole run from its mass flow, and the straight pipe it comes to."""
    drawn = _drawn(draws)
    key = _key(drawn, "Δp", "L[e]", known=GAS)
    return _exercise(
        draws, drawn, PRESSURE, 2, "A whole run", key, key.ask("Δp", tolerance=FROM_A_CHART),
        key.ask("L[e]", tolerance=CHAIN, text="How much straight pipe would lose as much as the run?"),
    )  # fmt: skip


def run_and_draft(draws: Draws) -> Exercise:
    """A whole run from the firing rate, and its draft."""
    drawn = _drawn(draws)
    key = _key(drawn, "m", "Δp", "B", known={"H", "M"})
    asked = (key.ask("m", tolerance=CHAIN), key.ask("Δp", tolerance=FROM_A_CHART), key.ask("B", tolerance=CHAIN))
    return _exercise(draws, drawn, PRESSURE, 3, "From the fire to the pressure", key, *asked, appliance=True)


def _drawn(
    draws: Draws, *, low: float | None = None, laminar: bool = False, sizes: tuple[str, ...] | None = None
) -> Drawn:
    data = draws.job(draws.layout(elbows=draws.one_of((1, 2, 3))))
    if sizes:
        data["run"][0]["size"] = draws.one_of(sizes)
    if low is not None:
        rates = data["appliance"][0]["rate"]
        number, unit = rates[0]["input"].split()
        rates.append({**rates[0], "name": "low", "input": f"{float(number) * low:g} {unit}"})
    return draws.solve(data, laminar=laminar)


def _key(drawn: Drawn, *asked: str, known: Collection[str], piece: int | None = None) -> Key:
    return key_of(working_of(drawn.check, drawn.inputs, rate="high", piece=piece).steps, *asked, known=known)


def _ask_loss(key: Key, at: int, tolerance: float) -> Asked:
    symbol = f"Δp[{at}]"
    return key.ask(symbol, tolerance=tolerance, text=f"Find {symbol}, the pressure drop of piece {at}.")


def _a_pipe(draws: Draws, drawn: Drawn) -> int:
    """The number of one of its pipes."""
    pieces = drawn.run.run.pieces
    return int(draws.one_of(tuple(n for n, piece in enumerate(pieces, start=1) if piece.is_pipe)))


def _an_elbow(draws: Draws, drawn: Drawn) -> int:
    """The number of one of its elbows."""
    pieces = drawn.run.run.pieces
    return int(draws.one_of(tuple(n for n, piece in enumerate(pieces, start=1) if piece.kind == "elbow")))


def _regime(drawn: Drawn) -> Asked:
    reynolds = drawn.rate("high").reference.reynolds
    choice = LAMINAR if reynolds < 2000.0 else TURBULENT
    return Asked(
        text="Is the flow laminar or turbulent?",
        choices=(LAMINAR, TURBULENT),
        choice=choice,
        because="Pipe flow is laminar below a Reynolds number of about 2,000 and turbulent above about 4,000.",
    )


def _exercise(
    draws: Draws,
    drawn: Drawn,
    topic: str,
    level: int,
    title: str,
    key: Key,
    *asked: Asked,
    appliance: bool = False,
    rate: str = "high",
) -> Exercise:
    if not all(one.answer is None or math.isfinite(one.answer.value) and one.answer.value for one in asked):
        raise DrawAgain
    story = [appliance_story(drawn, draws.system, rate=rate)] if appliance else []
    return Exercise(
        topic=topic,
        level=level,
        title=title,
        story=(*story, run_story(drawn, draws.system)),
        givens=key.givens,
        asked=asked,
        runs=(Pictured(title="The vent", inputs=drawn.inputs, run=drawn.run),),
        key=key.steps,
    )
