"""Exercises on combustion: from the input to the fuel and the air it takes, by volume."""

from __future__ import annotations

from ventsize.gas.combustion import fuel_balance
from ventsize.gas.components import GAS_CONSTANT
from ventsize.quantity.board import Kind
from ventsize.studies.exercises.board import Board, choose
from ventsize.studies.exercises.draws import Draws
from ventsize.studies.exercises.model import CHAIN, ONE_STEP, Asked, Exercise
from ventsize.studies.working.steps import Given

TOPIC = "combustion"
STANDARD = GAS_CONSTANT * 288.71 / 101_325.0  # a mole at 60 °F and the pressure of the sea [m³/mol]
OXYGEN = 0.2095  # of dry air, by volume (US Standard Atmosphere 1976)
FUELS = ("natural gas", "natural gas", "propane")
MORE_AIR = ((0.2, 0.5), (0.25, 0.6), (0.3, 0.8), (0.35, 0.9), (0.4, 1.0))


def fuel_burnt(draws: Draws) -> Exercise:
    """Input and heat of the fuel give the fuel."""
    board = Board(draws.units)
    fuel, burnt = _fuel(draws, board)
    return _exercise(1, "fuel-burnt", fuel, board, board.ask(burnt, tolerance=ONE_STEP))


def air_taken_in(draws: Draws) -> Exercise:
    """Fuel, the air it needs, and the excess give the air."""
    board = Board(draws.units)
    fuel, burnt = _fuel(draws, board)
    need = board.given(f"air that a volume of {fuel} needs", "a", _need(draws, fuel))
    excess = board.given("excess air, as a share", "e", draws.one_of((0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6)))
    air = board.line("air taken in", "V[air]", "{0} * {1} * (1 + {2})", burnt, need, excess, kind=Kind.VOLUME_FLOW)
    asked = board.ask(burnt, tolerance=ONE_STEP), board.ask(air, tolerance=CHAIN)
    return _exercise(2, "air-taken-in", fuel, board, *asked)


def two_settings(draws: Draws) -> Exercise:
    """What becomes of air and fuel when only the excess air is changed."""
    board = Board(draws.units)
    fuel = draws.one_of(FUELS)
    before, after = draws.one_of(MORE_AIR)
    low = board.given("excess air before, as a share", "e[1]", before)
    high = board.given("excess air after, as a share", "e[2]", after)
    ratio = board.line("air after over air before", "r", "(1 + {0}) / (1 + {1})", high, low)
    same = choose("more-fuel", ("more", "less", "the same"), "the same", "same-fuel")
    return _exercise(3, "two-settings", fuel, board, board.ask(ratio, tolerance=ONE_STEP), same)


def _fuel(draws: Draws, board: Board) -> tuple[str, Given]:
    fuel = draws.one_of(FUELS)
    balance = fuel_balance(draws.fuels[fuel])
    plate = board.given("input", "P", draws.power(), Kind.POWER)
    heat = board.given(f"heat of a volume of {fuel}", "h", balance.gross_heat / STANDARD, Kind.HEAT_PER_VOLUME)
    burnt = board.line("fuel burnt", "V[fuel]", "{0} / {1}", plate, heat, kind=Kind.VOLUME_FLOW, powers=(1, -1))
    return fuel, burnt


def _need(draws: Draws, fuel: str) -> float:
    return fuel_balance(draws.fuels[fuel]).oxygen / OXYGEN


def _exercise(level: int, code: str, fuel: str, board: Board, *asked: Asked) -> Exercise:
    tells = ("burns", "fuel-is") if level == 3 else ("burns",)
    return Exercise(topic=TOPIC, level=level, code=code, tells=tells, values={"fuel": fuel}, asked=asked,
                    givens=tuple(board.givens), formulas=tuple(board.lines))  # fmt: skip
