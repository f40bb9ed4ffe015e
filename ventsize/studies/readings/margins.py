"""How far readings may be off from what is calculated, and together in which way.

Each thing that is not known exactly (how lossy an elbow is, how much air, how long, what the gauge's zero is) moves
many readings at once, by a column each; what is left is each reading's own. A range of ± a, of which nothing more is
known, counts as a standard deviation of a/√3 (JCGM 100:2008, 4.3.7).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ventsize.check.shut_off import ANALYSER
from ventsize.check.switch import USUAL
from ventsize.flow.doubt import Term, deviation, length_error, piece_terms, range_of
from ventsize.jobfile.reading import ROOM as AT_ROOM
from ventsize.jobfile.reading import SWITCH, Reading
from ventsize.studies.readings.case import Array, Case
from ventsize.studies.readings.model import Model, Swap
from ventsize.studies.readings.places import Tap
from ventsize.studies.uncertainty.ranges import Ranges

RECTANGLE = math.sqrt(3.0)
HALF = math.sqrt(0.5)  # half of a variance is common to all readings, half of it each one's own

# Usual accuracies of instruments in the field, either way: common practice, no source.
MANOMETER = 2.5  # Pa, 0.01 in w.c.
MANOMETER_SHARE = 0.01  # of the reading, where that is more
THERMOMETER = 2.0  # K
SPEED = 0.02  # of top speed
STOPWATCH, STOPWATCH_SHARE = 0.5, 0.01  # s, and of what is read
HEAT = 0.04  # of the gas's heat, either way: it differs from place to place (common practice)

SHOWN = 0.95  # of sound vents read within their band, the instrument apart: a false alarm sends somebody looking
SWITCHES = 0.10  # of the setting, either way, from switch to switch (trade note)
SETTING = 0.05  # of the drop that an inducer holds, either way (common practice, no source)
UPWARDS = 0.4  # of what is usual across a switch, standard deviation: makers leave more margin as they please
HOLDS = 0.05  # of the speed, either way: curves are seldom nearer (common practice, no source)
ROOM = 4.0  # Pa, either way, that a house is off the pressure of the open air (common practice, no source)
BREATH = 3.0  # Pa, either way, at an end of a pipe on a calm day: a wind of 5 mph (no source)
DAY = 15.0  # K, outdoors, where a reading does not say how cold it was
THERMOMETER_OUTDOORS = 2.0  # K
STEP_AIR, STEP_WARMTH, STEP_WEATHER = 0.02, 2.0, 5.0


def usual_accuracy(tap: Tap, value: float) -> float:
    """What an instrument is taken to be off by where the reading does not say, in the unit of the value."""
    if tap.kind == "pressure":
        return max(MANOMETER, MANOMETER_SHARE * abs(value))
    if tap.kind == "temperature":
        return THERMOMETER
    if tap.kind == "meter_seconds":
        return max(STOPWATCH, STOPWATCH_SHARE * value)
    return SPEED if tap.kind == "speed" else ANALYSER


def accuracy_of(reading: Reading, tap: Tap) -> float:
    """The accuracy of a reading, in the unit of its value."""
    stated = reading.error
    return usual_accuracy(tap, reading.value) if stated is None else stated


@dataclass(frozen=True, slots=True, kw_only=True)
class Margins:
    """What readings may be off by.

    columns: of each uncertain thing, how a standard deviation of it moves every tap. own: each tap's own variance.
    low, high: the calculated band of each tap without its instrument, in the unit of its kind.
    relative: standard deviation of a flow at a rate, by case, over the flow [-].
    """

    columns: Array
    own: Array
    low: Array
    high: Array

    @property
    def covariance(self) -> Array:
        """Of all taps together."""
        return np.asarray(self.columns @ self.columns.T + np.diag(self.own))


@dataclass(frozen=True, slots=True, kw_only=True)
class Wider:
    """What other pipe adds to margins: columns as in `Margins`; low, high: what is added to either end of each band."""

    columns: Array
    low: Array
    high: Array


def wider(model: Model, ranges: Ranges, swaps: Sequence[Swap]) -> Wider:
    """What readings may be off by more (or, at the ends of the band, less) where pieces are of another size.

    The spread of a fitting goes with its loss: elbows of 2 in pipe that stand in for elbows of 3 in are as uncertain
    as they are lossy. swaps: by case.
    """
    size = len(model.taps)
    low, high = np.zeros(size), np.zeros(size)
    columns: dict[tuple[str, ...], Array] = {}
    for case, swap in zip(model.cases, swaps, strict=True) if ranges.fittings else ():
        ends = case.path * (case.low - case.loss), case.path * (case.high - case.loss)
        low[case.rows] += np.minimum(*ends) @ (swap.ratio - 1.0)
        high[case.rows] += np.maximum(*ends) @ (swap.ratio - 1.0)
        grown = _fitting_spread(case) * np.sqrt(np.maximum(swap.ratio**2 - 1.0, 0.0))
        for place in np.flatnonzero(grown):
            key = ("kind", case.pieces[place].piece.name)
            columns.setdefault(key, np.zeros(size))[case.rows] += case.path[:, place] * grown[place]
    return Wider(columns=np.array(list(columns.values())).T.reshape(size, -1), low=low, high=high)


def _fitting_spread(case: Case) -> Array:
    """How far each piece's loss may lie from the one taken, standard deviation [Pa]."""
    return np.asarray(np.sqrt(((case.loss - case.low) ** 2 + (case.high - case.loss) ** 2) / 6.0))


def margins(model: Model, ranges: Ranges, accuracies: Array, measured: Array | None = None) -> Margins:
    """What the taps of a model may be off by.

    accuracies: of the instruments, by tap. measured: the values of the first taps, where they have been read: what is
    more than usual across a pressure switch is no fault, so that its margin is wide upwards.
    """
    return _Margins(model, ranges, measured).found(accuracies)


class _Margins:
    def __init__(self, model: Model, ranges: Ranges, measured: Array | None) -> None:
        self._model, self._ranges = model, ranges
        self._measured = np.array([]) if measured is None else measured
        self._size = len(model.taps)
        self._columns: dict[tuple[str, ...], Array] = {}
        self._lopsided: dict[str, tuple[Array, Array]] = {}

    def found(self, accuracies: Array) -> Margins:
        for case in self._model.cases:
            self._burning(case)
            if not case.divided:
                self._pipes(case)
            else:
                self._spread(case)
            self._appliance(case)
        calculated = np.array(list(self._columns.values())).T.reshape(self._size, -1)
        below, above = self._band()
        instruments = self._instruments(accuracies)
        return Margins(
            columns=np.hstack([calculated, instruments]),
            own=np.maximum(accuracies**2 / 6.0, 1e-18),
            low=self._model.base - below,
            high=self._model.base + above,
        )

    def _band(self) -> tuple[Array, Array]:
        """How far below and above what is expected nearly all sound vents read, instruments apart; by tap."""
        even = [RECTANGLE * np.abs(column) for key, column in self._columns.items() if key[0] != "kind"]
        found = [
            range_of(
                [
                    *(Term("fittings", lower[row], upper[row]) for lower, upper in self._lopsided.values()),
                    *(Term("input", reach[row], reach[row]) for reach in even),
                ],
                share=SHOWN,
            )
            for row in range(self._size)
        ]
        below, above = np.array(found, dtype=float).reshape(-1, 2).T
        return below, above

    def _kind(self, name: str, rows: Array, lower: Array, upper: Array) -> None:
        """A kind of fitting, or a whole run, that may bring taps so far down and up."""
        down, up = self._lopsided.setdefault(name, (np.zeros(self._size), np.zeros(self._size)))
        down[rows] += lower
        up[rows] += upper

    def _add(self, key: tuple[str, ...], case: Case, values: Array) -> None:
        column = self._columns.setdefault(key, np.zeros(self._size))
        column[case.rows] += np.nan_to_num(values)

    def _burning(self, case: Case) -> None:
        ranges = self._ranges
        moved = {
            "air": (case.changed(air=STEP_AIR) - case.base) / STEP_AIR * ranges.excess_air,
            "warmth": (case.changed(warmth=STEP_WARMTH) - case.base) / STEP_WARMTH * ranges.flue_temperature,
        }
        for name, values in moved.items():
            self._add((name,), case, values * HALF / RECTANGLE)
            self._add((name, case.rate), case, values * HALF / RECTANGLE)
        doubt = DAY if case.outdoor is None else THERMOMETER_OUTDOORS
        weather = (case.changed(weather=STEP_WEATHER) - case.base) / STEP_WEATHER * doubt
        self._add(("weather",), case, weather / RECTANGLE)

    def _pipes(self, case: Case) -> None:
        """Everything in doubt of pipe and fittings, as in `flow.doubt`: each cause moves all its pieces together."""
        ranges = self._ranges
        fired = (case.losses(np.full(len(case.keys), 1.0 + ranges.input)) - case.loss) / RECTANGLE
        self._add(("input",), case, case.path @ fired)
        spread = _fitting_spread(case)
        for place, (run, number) in enumerate(case.keys):
            flow, along = case.pieces[place], case.path[:, place]
            piece = flow.piece
            if piece.is_pipe:
                self._add(("length", run, str(number)), case, along * length_error(flow, ranges) / RECTANGLE)
            elif ranges.fittings and spread[place] > 0.0:
                self._add(("kind", piece.name), case, along * spread[place])
                ends = along * (case.low[place] - case.loss[place]), along * (case.high[place] - case.loss[place])
                self._kind(piece.name, case.rows, -np.minimum(*ends), np.maximum(*ends))
            for term, key in piece_terms(flow, ranges):
                self._add(key, case, along * deviation(term.below, term.above))

    def _spread(self, case: Case) -> None:
        """Where the gas divides, each run's range as a whole."""
        for place, tap in enumerate(case.taps):
            if tap.run is not None and tap.kind == "pressure":
                run = case.flow.runs[tap.run]
                low, high = run.pressure_drop - run.pressure_drop_low, run.pressure_drop_high - run.pressure_drop
                self._kind(tap.run, case.rows[place : place + 1], np.array([low]), np.array([high]))

    def _appliance(self, case: Case) -> None:
        speed = np.array([tap.kind == "speed" for tap in case.taps])
        of_room = np.array([tap.place == AT_ROOM for tap in case.taps])
        for key, off, among in (
            (("room",), ROOM, case.in_pipe),
            (("room",), -ROOM, of_room),
            (("wind", "room"), BREATH, of_room),
            (("wind", "vent"), BREATH, case.in_pipe & ~case.in_air),
            (("wind", "air"), BREATH, case.in_pipe & case.in_air),
        ):
            self._add(key, case, np.where(among, off, 0.0) / RECTANGLE)
        for key in (("switch",), ("switch", case.rate)):
            self._add(key, case, self._at_switch(case) * HALF)
        meter = np.array([tap.kind == "meter_seconds" for tap in case.taps])
        self._add(("input",), case, np.where(meter, -case.base, 0.0) * self._ranges.input / RECTANGLE)
        self._add(("heat",), case, np.where(meter, case.base, 0.0) * HEAT / RECTANGLE)
        self._add(("speed",), case, np.where(speed, case.base, 0.0) * HOLDS / RECTANGLE)

    def _at_switch(self, case: Case) -> Array:
        """How far what is usual across the switch may lie from the appliance's own, standard deviation [Pa]."""
        found = np.zeros(len(case.taps))
        for place, (row, tap) in enumerate(zip(case.rows, case.taps, strict=True)):
            if tap.place != SWITCH or tap.kind != "pressure" or not math.isfinite(case.base[place]):
                continue
            usual = float(case.base[place])
            if self._model.conditions.holds_stated(tap.appliance, case.flow.firing.rates[tap.appliance]):
                found[place] = SETTING * usual / RECTANGLE
                continue
            above = row < len(self._measured) and self._measured[row] > usual
            within = math.hypot((USUAL[1] - USUAL[0]) / 2.0, SWITCHES * usual) / RECTANGLE
            found[place] = UPWARDS * usual if above else within
        return found

    def _instruments(self, accuracies: Array) -> Array:
        """Half the variance of each instrument is its zero, alike in all it reads."""
        kinds = sorted({tap.kind for tap in self._model.taps})
        return np.array(
            [
                [
                    a * HALF / RECTANGLE if tap.kind == kind else 0.0
                    for tap, a in zip(self._model.taps, accuracies, strict=True)
                ]
                for kind in kinds
            ]
        ).T.reshape(self._size, -1)
