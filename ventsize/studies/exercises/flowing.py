"""Exercises on the gas in the pipe: velocity, friction, fittings, and the pressure of a whole run.

Level 1 puts numbers into a formula; level 2 takes several, and chooses between them; level 3 goes the other way about,
from what is allowed to what may be built, or compares.
"""

from __future__ import annotations

import math

from ventsize.finding import Value, velocity
from ventsize.flow.pieces import PieceFlow
from ventsize.quantity import System
from ventsize.quantity.board import Kind
from ventsize.studies.exercises.board import Board, choose
from ventsize.studies.exercises.draws import DrawAgain, Drawn, Draws
from ventsize.studies.exercises.model import CHAIN, ONE_STEP, WITH_POWERS, Asked, Exercise, Pictured
from ventsize.studies.working.steps import Given

VELOCITY, FRICTION, FITTINGS, PRESSURE = "velocity", "friction", "fittings", "pressure"
LAMINAR, TURBULENT = "laminar", "turbulent"
REGIMES = (LAMINAR, TURBULENT)
ALIKE = 0.15  # lengths or shares nearer than this are called the same
# Haaland 1983: within 2 % of Colebrook, and nothing to be tried out by hand.
HAALAND = "(-1.8 * log10(({0} / (3.7 * {1}))^1.11 + 6.9 / {2}))^-2"
LIMITS = {System.US: (3.048, 4.064, 5.08, 6.096), System.SI: (3.0, 4.0, 5.0, 6.0)}  # round velocities [m/s]


def gas_speed(draws: Draws) -> Exercise:
    """Mass flow, density and area give the velocity."""
    board, drawn = Board(draws.units), _drawn(draws)
    area = board.given("area inside the pipe", "A", drawn.run.run.first_section.area, Kind.AREA)
    speed = _speed(board, _mass(board, drawn), _density(board, drawn), area)
    return _exercise(VELOCITY, 1, "velocity", board, board.ask(speed, tolerance=ONE_STEP))


def reynolds_number(draws: Draws) -> Exercise:
    """Area, velocity and Reynolds number, and what they say of the flow."""
    board, drawn = Board(draws.units), _drawn(draws, laminar=draws.once("regime", (True, False)))
    mass, density, bore = _mass(board, drawn), _density(board, drawn), _bore(board, drawn)
    speed = _speed(board, mass, density, _area(board, bore))
    viscosity = board.given("viscosity", "µ", drawn.rate("high").flow.stream.viscosity, Kind.VISCOSITY)
    reynolds = board.line("Reynolds number", "Re", "{0} * {1} * {2} / {3}", density, speed, bore, viscosity,
                          powers=(1, 1, 1, -1))  # fmt: skip
    asked = board.ask(speed, tolerance=CHAIN), board.ask(reynolds, tolerance=WITH_POWERS)
    return _exercise(VELOCITY, 2, "reynolds", board, *asked, _regime(reynolds.value), tells=("regimes",))


def smallest_size(draws: Draws) -> Exercise:
    """Which of three sizes is the smallest that keeps the gas below a velocity."""
    board, drawn = Board(draws.units), _drawn(draws)
    mass, density = _mass(board, drawn), _density(board, drawn)
    sizes = draws.sizes(3)
    speeds = [
        _speed(board, mass, density, _area(board, _bore_of(board, bore, f"[{n}]", label), f"[{n}]"), f"[{n}]")
        for n, (label, bore) in enumerate(sizes, start=1)
    ]
    limit = board.rounded(draws.one_of(LIMITS[draws.units]), Kind.VELOCITY)
    fit = [label for (label, _), speed in zip(sizes, speeds, strict=True) if speed.value <= limit]
    if not 1 <= len(fit) <= 2 or any(abs(speed.value / limit - 1.0) < 0.1 for speed in speeds):
        raise DrawAgain
    asked = [board.ask(speed, tolerance=CHAIN) for speed in speeds[:1]]
    values: dict[str, Value] = {"limit": velocity(limit)}
    smallest = choose("smallest-size", tuple(label for label, _ in sizes), fit[0], "smallest", values)
    return _exercise(VELOCITY, 3, "smallest", board, *asked, smallest, tells=("limit",), values=values)


def straight_pipe(draws: Draws) -> Exercise:
    """Friction factor, length, bore and velocity pressure give the loss of a pipe."""
    board, drawn = Board(draws.units), _drawn(draws)
    at, pipe = _one(draws, drawn, "pipe")
    friction = board.given("friction factor", "f", pipe.at.friction_factor)
    loss = _pipe_loss(board, friction, board.given(f"length of piece {at}", "L", pipe.piece.length, Kind.LENGTH),
                      _bore(board, drawn), _pressure(board, pipe))  # fmt: skip
    return _exercise(FRICTION, 1, "straight-pipe", board, board.ask(loss, tolerance=ONE_STEP), drawn=drawn)


def friction_factor(draws: Draws) -> Exercise:
    """Laminar or turbulent decides the formula; its factor gives the loss of a pipe."""
    board, drawn = Board(draws.units), _drawn(draws, laminar=draws.once("friction", (True, False)))
    at, pipe = _one(draws, drawn, "pipe")
    section = pipe.piece.section
    reynolds = board.given("Reynolds number", "Re", pipe.at.reynolds)
    bore = _bore(board, drawn)
    rough = board.given("roughness of the pipe", "ε", section.roughness, Kind.BORE)
    laminar = board.line("friction factor, if laminar", "f[laminar]", "64 / {0}", reynolds)
    turbulent = board.line("friction factor, if turbulent", "f[turbulent]", HAALAND, rough, bore,
                           reynolds)  # fmt: skip
    regime = _regime(reynolds.value)
    # Not printed: which of the two holds is what is asked.
    factor = board.line("friction factor that holds", "f", "{0}", laminar if regime.choice == LAMINAR else turbulent)
    loss = _pipe_loss(board, factor, board.given(f"length of piece {at}", "L", pipe.piece.length, Kind.LENGTH),
                      bore, _pressure(board, pipe))  # fmt: skip
    asked = regime, board.ask(factor, tolerance=CHAIN), board.ask(loss, tolerance=WITH_POWERS)
    return _exercise(FRICTION, 2, "friction-factor", board, *asked, drawn=drawn, tells=("regimes",))


def low_fire(draws: Draws) -> Exercise:
    """The same pipe at low fire: what the loss comes down to."""
    share = draws.one_of((0.4, 0.5, 0.6, 0.65))
    board, drawn = Board(draws.units), _drawn(draws, low=share)
    at, pipe = _one(draws, drawn, "pipe")
    slow = drawn.rate("low").flow.pieces[at - 1]
    ratio = board.given("low fire, as a share of high fire", "s", share)
    factors = [board.given(f"friction factor at {name} fire", f"f[{name}]", one.at.friction_factor)
               for name, one in (("high", pipe), ("low", slow))]  # fmt: skip
    high, slowly = factors
    loss = board.line("loss at low fire over loss at high fire", "r", "{0} / {1} * {2}^2", slowly, high, ratio)
    choices = ("by a smaller share", "by the same share", "by a larger share")
    fall = choose("falls", choices, choices[2] if loss.value < share else choices[0], "falls")
    if abs(loss.value / share - 1.0) < ALIKE:
        raise DrawAgain
    return _exercise(FRICTION, 3, "low-fire", board, board.ask(loss, tolerance=CHAIN), fall, drawn=drawn)


def elbow_loss(draws: Draws) -> Exercise:
    """A loss coefficient and a velocity pressure give the loss of an elbow."""
    board, drawn = Board(draws.units), _drawn(draws)
    at, elbow = _one(draws, drawn, "elbow")
    loss = board.line(f"pressure drop of piece {at}", "Δp", "{0} * {1}", _k(board, at, elbow), _pressure(board, elbow),
                      kind=Kind.PRESSURE)  # fmt: skip
    return _exercise(FITTINGS, 1, "elbow-loss", board, board.ask(loss, tolerance=ONE_STEP), drawn=drawn)


def elbow_as_pipe(draws: Draws) -> Exercise:
    """How many feet of pipe an elbow is worth, and how many such elbows a length of pipe is worth."""
    board, drawn = Board(draws.units), _drawn(draws)
    at, elbow = _one(draws, drawn, "elbow")
    worth = _worth(board, _k(board, at, elbow), _bore(board, drawn), _friction(board, elbow))
    pipe = board.given("straight pipe that is given up", "L", draws.length_of(4.0, 12.0), Kind.LENGTH)
    number = board.line("elbows for it", "n", "{0} / {1}", pipe, worth)
    asked = board.ask(worth, tolerance=CHAIN), board.whole(number, code="whole-elbows")
    return _exercise(FITTINGS, 2, "elbow-as-pipe", board, *asked, drawn=drawn)


def elbow_at_both_fires(draws: Draws) -> Exercise:
    """Whether an elbow is worth the same length at both fires."""
    board, drawn = Board(draws.units), _drawn(draws, low=draws.one_of((0.5, 0.6, 0.65)))
    at, _ = _one(draws, drawn, "elbow")
    bore, worths = _bore(board, drawn), {}
    for name in ("high", "low"):
        elbow = drawn.rate(name).flow.pieces[at - 1]
        k = board.given(f"loss coefficient at {name} fire", f"K[{name}]", elbow.k)
        worths[name] = _worth(board, k, bore, _friction(board, elbow, f"[{name}]", f" at {name} fire"), f"[{name}]")
    ratio = worths["low"].value / worths["high"].value - 1.0
    if ALIKE / 2 < abs(ratio) < 1.5 * ALIKE:
        raise DrawAgain
    choices = ("the same", "more at high fire", "more at low fire")
    choice = choices[0] if abs(ratio) < ALIKE else choices[2] if ratio > 0 else choices[1]
    asked = [board.ask(worth, tolerance=CHAIN) for worth in worths.values()]
    return _exercise(FITTINGS, 3, "both-fires", board, *asked, choose("same-feet", choices, choice, "same-feet"),
                     drawn=drawn)  # fmt: skip


def run_added_up(draws: Draws) -> Exercise:
    """The losses of the pieces add up."""
    board, drawn = Board(draws.units), _drawn(draws)
    parts = [board.given(f"pressure drop of piece {n}", f"Δp[{n}]", one.pressure_drop, Kind.PRESSURE)
             for n, one in enumerate(drawn.rate("high").flow.pieces, start=1)]  # fmt: skip
    total = _sum(board, parts, "pressure drop of the run")
    largest = max(parts, key=lambda part: part.value)
    if sorted(part.value for part in parts)[-2] > 0.95 * largest.value:
        raise DrawAgain
    numbers = tuple(str(n) for n in range(1, len(parts) + 1))
    most = choose("which-most", numbers, numbers[parts.index(largest)], "largest")
    return _exercise(PRESSURE, 1, "run-added-up", board, board.ask(total, tolerance=ONE_STEP), most, drawn=drawn)


def run_from_the_pieces(draws: Draws) -> Exercise:
    """Coefficients of pipe and fittings, added up, times the velocity pressure; and what share the fittings have."""
    board, drawn = Board(draws.units), _drawn(draws)
    flow = drawn.rate("high").flow
    pipe = math.fsum(one.piece.length for one in flow.pieces if one.piece.is_pipe)
    friction, straight = _friction(board, flow.pieces[0]), board.given("straight pipe", "L", pipe, Kind.LENGTH)
    pipes = board.line("coefficient of the pipe", "K[pipe]", "{0} * {1} / {2}", friction, straight, _bore(board, drawn),
                       powers=(0, 1, -1))  # fmt: skip
    fittings = [_k(board, n, one, f"[{n}]") for n, one in enumerate(flow.pieces, start=1) if not one.piece.is_pipe]
    plus = " + ".join(f"{{{n}}}" for n in range(len(fittings)))
    added = board.line("coefficient of the fittings", "K[fittings]", plus, *fittings)
    total = board.line("pressure drop of the run", "Δp", "({0} + {1}) * {2}", pipes, added,
                       _pressure(board, flow.pieces[0]), kind=Kind.PRESSURE)  # fmt: skip
    share = board.line("share of the fittings", "s", "{0} / ({0} + {1})", added, pipes)
    asked = board.ask(total, tolerance=CHAIN), board.ask(share, tolerance=CHAIN)
    return _exercise(PRESSURE, 2, "run-of-pieces", board, *asked, drawn=drawn)


def room_for_more(draws: Draws) -> Exercise:
    """From a pressure that is allowed to the pipe and the elbows that may still be added."""
    board, drawn = Board(draws.units), _drawn(draws)
    rate = drawn.rate("high")
    at, elbow = _one(draws, drawn, "elbow")
    own = board.given("pressure drop of the run now", "Δp", rate.flow.pressure_drop, Kind.PRESSURE)
    most = rate.flow.pressure_drop * draws.one_of((1.3, 1.5, 1.8, 2.2))
    allowed = board.given("pressure drop allowed", "Δp[a]", most, Kind.PRESSURE)
    gradient = board.given("loss of straight pipe by length", "G", rate.gradient, Kind.GRADIENT)
    more = board.line("straight pipe that may be added", "L", "({0} - {1}) / {2}", allowed, own, gradient,
                      kind=Kind.LENGTH, powers=(1, 0, -1))  # fmt: skip
    each = board.given(f"loss of one more elbow like piece {at}", "Δp[e]", elbow.pressure_drop, Kind.PRESSURE)
    number = board.line("elbows that may be added instead", "n", "({0} - {1}) / {2}", allowed, own, each)
    asked = board.ask(more, tolerance=CHAIN), board.whole(number, code="whole-more")
    return _exercise(PRESSURE, 3, "room-for-more", board, *asked, drawn=drawn)


# The parts of a calculation


def _mass(board: Board, drawn: Drawn) -> Given:
    return board.given("mass flow of flue gas", "m", drawn.rate("high").flow.stream.mass_flow, Kind.MASS_FLOW)


def _density(board: Board, drawn: Drawn) -> Given:
    return board.given("density of the gas", "ρ", drawn.rate("high").flow.stream.density, Kind.DENSITY)


def _bore(board: Board, drawn: Drawn) -> Given:
    return _bore_of(board, drawn.run.run.first_section.bore, "", "the")


def _bore_of(board: Board, bore: float, mark: str, label: str) -> Given:
    return board.given(f"bore of {label} pipe", f"D{mark}", bore, Kind.BORE)


def _area(board: Board, bore: Given, mark: str = "") -> Given:
    return board.line("area inside the pipe", f"A{mark}", "3.14159265 / 4 * {0}^2", bore, kind=Kind.AREA, powers=(2,))


def _speed(board: Board, mass: Given, density: Given, area: Given, mark: str = "") -> Given:
    return board.line("velocity", f"v{mark}", "{0} / ({1} * {2})", mass, density, area, kind=Kind.VELOCITY,
                      powers=(1, -1, -1))  # fmt: skip


def _pressure(board: Board, solved: PieceFlow) -> Given:
    return board.given("velocity pressure", "q", solved.at.dynamic_pressure, Kind.PRESSURE)


def _friction(board: Board, solved: PieceFlow, mark: str = "", when: str = "") -> Given:
    return board.given(f"friction factor{when}", f"f{mark}", solved.at.friction_factor)


def _k(board: Board, at: int, solved: PieceFlow, mark: str = "") -> Given:
    return board.given(f"loss coefficient of piece {at}", f"K{mark}", solved.k)


def _worth(board: Board, k: Given, bore: Given, friction: Given, mark: str = "") -> Given:
    return board.line("straight pipe that loses as much", f"L[e]{mark}".replace("][", ","), "{0} * {1} / {2}", k, bore,
                      friction, kind=Kind.LENGTH, powers=(0, 1, 0))  # fmt: skip


def _pipe_loss(board: Board, friction: Given, long: Given, bore: Given, pressure: Given) -> Given:
    return board.line("pressure drop of the pipe", "Δp", "{0} * {1} / {2} * {3}", friction, long, bore, pressure,
                      kind=Kind.PRESSURE, powers=(0, 1, -1, 1))  # fmt: skip


def _sum(board: Board, parts: list[Given], name: str) -> Given:
    return board.line(name, "Δp", " + ".join(f"{{{n}}}" for n in range(len(parts))), *parts, kind=Kind.PRESSURE)


def _regime(reynolds: float) -> Asked:
    return choose("regime", REGIMES, LAMINAR if reynolds < 2000.0 else TURBULENT, "regime")


def _drawn(draws: Draws, *, low: float | None = None, laminar: bool = False) -> Drawn:
    data = draws.job(draws.layout(elbows=draws.one_of((1, 2, 3))))
    if laminar:
        data["appliance"][0]["rate"][0]["input"] = draws.one_of(draws.usual.small)
    if low is not None:
        rates = data["appliance"][0]["rate"]
        number, unit = rates[0]["input"].split()
        rates.append({**rates[0], "name": "low", "input": f"{float(number) * low:g} {unit}"})
    return draws.solve(data, laminar=laminar)


def _one(draws: Draws, drawn: Drawn, kind: str) -> tuple[int, PieceFlow]:
    """One of its pipes or elbows by its number, at high fire."""
    solved = drawn.rate("high").flow.pieces
    found = tuple(n for n, one in enumerate(solved, start=1) if one.piece.kind == kind)
    at = int(draws.one_of(found))
    return at, solved[at - 1]


def _exercise(
    topic: str, level: int, code: str, board: Board, *asked: Asked, drawn: Drawn | None = None,
    tells: tuple[str, ...] = (), values: dict[str, Value] | None = None,
) -> Exercise:  # fmt: skip
    runs = () if drawn is None else (Pictured(title="The vent", inputs=drawn.inputs, run=drawn.run),)
    unprinted = ("f",) if code == "friction-factor" else ()
    told = (*(("vents",) if drawn else ()), *tells)
    return Exercise(topic=topic, level=level, code=code, tells=told, asked=asked, values=values or {},
                    givens=tuple(board.givens), formulas=tuple(board.lines), unprinted=unprinted,
                    runs=runs)  # fmt: skip
