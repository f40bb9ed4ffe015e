"""What every tap shows with something wrong: the losses of a case added up, with the change put in.

Nothing is solved anew here. A narrow place adds K times the velocity pressure, and so does a puddle; a bore closed by
water holds the difference of its two levels; a hole lets out what its area and the pressure behind it give; a room off
the pressure of the open air, and wind at an end, move every manometer by as much; and an inducer at its limit, or of
fixed speed, settles where its curve meets what is left.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import brentq

from ventsize.finding import Finding
from ventsize.jobfile.reading import ROOM
from ventsize.studies.fan_curve import Curve
from ventsize.studies.readings.analyser import DryGas
from ventsize.studies.readings.case import Array, Case, PieceKey
from ventsize.studies.readings.conditions import Conditions
from ventsize.studies.readings.places import FLUE, Tap

DISCHARGE = 0.61  # of a sharp-edged hole, at high Reynolds number (ISO 5167-2: 0.60 to 0.61 for small holes)
WARMER, COOLER, HARDER = 20.0, -15.0, 1.1  # [K], [K] and share of the input at which slopes are taken
CURVE_POINTS = 200
USUAL_DROP = 200.0  # Pa, across the heat exchanger of an appliance whose switch is not known (common practice)
LEAST_FLOW, MOST_FLOW = 0.2, 1.6  # shares of the flow looked for
NEARBY, SECANTS, EXACT = 0.95, 7, 1e-5


@dataclass(frozen=True, slots=True, kw_only=True)
class Swap:
    """Pipe of another size over some pieces. ratio: of each piece's loss, over what it should be [-]; steps: what the
    changes of size lose, at the flow as it should be, by piece [Pa]; dynamic: of each tap's velocity pressure, over
    what it should be [-]."""

    ratio: Array
    steps: Array
    dynamic: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What is wrong.

    narrow: K added at pieces, on the velocity their loss is stated on [-]. closed: head that water holds in pieces
    whose bore it closes [Pa]. longer: pieces with so much more of themselves, over what the job says [-]. room: its
    pressure against outdoors, and at_vent, at_air: wind at either end, more than with nothing wrong [Pa]. swaps: by
    case. hole: area [m²] behind so many pieces of a run. recirculated: share of the air taken in that is flue gas [-].
    flow, input: shares of what they should be [-]; warmth: of the flue gas, more than it should be [K]. felt: share of
    the pressure across the switch that arrives there [-]; standing: water in its tubing [Pa].
    """

    narrow: tuple[tuple[PieceKey, float], ...] = ()
    closed: tuple[tuple[PieceKey, float], ...] = ()
    longer: tuple[tuple[PieceKey, float], ...] = ()
    room: float = 0.0
    at_vent: float = 0.0
    at_air: float = 0.0
    swaps: Sequence[Swap] = ()
    hole: tuple[str, int, float] | None = None
    recirculated: float = 0.0
    flow: float = 1.0
    input: float = 1.0
    warmth: float = 0.0
    felt: float = 1.0
    standing: float = 0.0

    def beside(self, other: Change) -> Change:
        """Both at once; of holes and other pipe there can be one."""
        return replace(
            self,
            narrow=self.narrow + other.narrow,
            closed=self.closed + other.closed,
            longer=self.longer + other.longer,
            room=self.room + other.room,
            at_vent=self.at_vent + other.at_vent,
            at_air=self.at_air + other.at_air,
            swaps=self.swaps or other.swaps,
            hole=self.hole or other.hole,
            recirculated=self.recirculated + other.recirculated,
            flow=self.flow * other.flow,
            input=self.input * other.input,
            warmth=self.warmth + other.warmth,
            felt=self.felt * other.felt,
            standing=self.standing + other.standing,
        )


class Model:
    """Taps of a job, as they should be and with a change."""

    def __init__(self, conditions: Conditions, taps: Sequence[Tap]) -> None:
        self.conditions, self.taps = conditions, tuple(taps)
        groups: dict[tuple[str, float | None], dict[int, Tap]] = {}
        for number, tap in enumerate(taps):
            groups.setdefault(tap.condition, {})[number] = tap
        self.cases = [Case(conditions, *condition, of) for condition, of in groups.items()]
        self.base = np.full(len(taps), math.nan)
        self.why: list[Finding | None] = [None] * len(taps)
        for case in self.cases:
            self.base[case.rows] = case.base
            for row, why in zip(case.rows, case.why, strict=True):
                self.why[row] = why
        self._gases: dict[tuple[str, str], DryGas] = {}
        self._curve = _read_off(conditions.curve)
        self._moved: dict[tuple[int, str], Array] = {}

    @property
    def divided(self) -> bool:
        """Whether the gas divides over several pipes, so that losses do not just add up."""
        return any(case.divided for case in self.cases)

    def dynamic_at(self, number: int) -> float:
        """½ρv² at a tap of pressure in a pipe; none elsewhere [Pa]."""
        case, row = self._case_of(number)
        return float(case.tap_dynamic[row])

    def draft_at(self, number: int) -> float:
        """What draft gives between a tap of pressure in a pipe and the open air; none elsewhere [Pa]."""
        case, row = self._case_of(number)
        return float(case.path[row] @ case.draft)

    def _case_of(self, number: int) -> tuple[Case, int]:
        """The case in which a tap is read, and its row there."""
        case = next(case for case in self.cases if number in case.rows)
        return case, list(case.rows).index(number)

    def share_of_flow(self, number: int, change: Change) -> float:
        """The share of the flow that goes in a case with a change [-]."""
        return self._flow(number, self.cases[number], change)

    def may_lose(self, change: Change) -> Array:
        """What every tap may show besides where no fan curve says how far the flow falls with a change.

        Curve known, or nothing added to the head: none. Else the inducer holds its flow or it does not: at most its
        head stays what it was, and head goes with the square of the flow. The whole change at that flow, in the unit of
        each tap.
        """
        moved = np.zeros(len(self.taps))
        if self._curve is not None or not self.conditions.alone:
            return moved
        name = self.conditions.inputs.job.appliances[0].name
        for number, case in enumerate(self.cases):
            if case.divided:
                continue
            losses, *_ = self._losses(number, case, change, 1.0)
            added = float(case.head_path @ (losses - case.loss)) + self.outside(change)
            at = case.flow.firing.rates[name]
            head = (self.conditions.across_switch(name, at, None) or USUAL_DROP) + max(case.head, 0.0)
            left = 1.0 / math.sqrt(max(1.0 + added / head, 0.5))
            if abs(left - 1.0) > 1e-6:
                slower = replace(change, flow=change.flow * left)
                moved[case.rows] = np.nan_to_num(self._case(number, case, slower) - self._case(number, case, change))
        return moved

    def outside(self, change: Change) -> float:
        """What the inducer works against more for the air at both ends: that of the room where it draws from there."""
        carries = {run.carries for run in self.conditions.inputs.graph.runs.values()}
        return change.at_vent - (change.at_air if len(carries) > 1 else change.room)

    def shows(self, change: Change, *, first: int | None = None) -> Array:
        """The value at every tap; first: how many of them are wanted, others may be left as they should be."""
        values = self.base.copy()
        for number, case in enumerate(self.cases):
            if first is None or case.rows.min() < first:
                values[case.rows] = self._case(number, case, change, first)
        return values

    def _case(self, number: int, case: Case, change: Change, first: int | None = None) -> Array:
        values = case.base.copy()
        share = self._flow(number, case, change)
        in_pipe = case.in_pipe
        losses, shares, let_out = self._losses(number, case, change, share)
        values[in_pipe] += (case.path @ (losses - case.loss))[in_pipe]
        dynamic = case.tap_dynamic * shares[case.tap_piece] ** 2
        if change.swaps:
            dynamic = dynamic * change.swaps[number].dynamic
        values[in_pipe] += (case.tap_dynamic - dynamic)[in_pipe]
        values[in_pipe] += np.where(case.in_air, change.at_air, change.at_vent)[in_pipe] - change.room
        if change.input != 1.0:
            values += self._slope(number, case, "input") * (change.input - 1.0)
        if change.warmth:
            values += self._warmed(number, case, change.warmth)
        self._gas_rows(case, change, share, values)
        self._appliance_rows(case, change, share, losses, values, first)
        return values

    # Flows

    def _losses(self, number: int, case: Case, change: Change, share: float) -> tuple[Array, Array, float]:
        """Every piece's loss [Pa], the share of its flow [-], and the share of its run's flow that leaks out."""
        shares = np.full(len(case.keys), share)
        let_out = 0.0
        if change.hole is not None and change.hole[2] > 0.0:
            let_out = self._let_out(case, change.hole, share)
            run, position, _ = change.hole
            beyond = case.between(run, position) != 0.0
            shares = shares - np.where(beyond, let_out * case.shares_of(run), 0.0)
        losses = case.losses(shares)
        if change.swaps:
            swap = change.swaps[number]
            losses = losses * swap.ratio + swap.steps * shares**2
        for key, more in change.longer:
            losses[case.index[key]] *= 1.0 + more
        for key, k in change.narrow:
            losses[case.index[key]] += k * case.dynamic[case.index[key]] * shares[case.index[key]] ** 2
        for key, head in change.closed:
            losses[case.index[key]] += head
        return losses, shares, let_out

    def _let_out(self, case: Case, hole: tuple[str, int, float], share: float) -> float:
        """The share of a run's flow that a hole lets out [-]."""
        run, position, area = hole
        flow = case.flow.runs[run]
        path, row = case.between(run, position), case.index[run, max(position - 1, 0)]
        at_rest = math.fsum(path * case.draft)
        apart = case.shares_of(run)
        dynamic = case.pieces[row].at.dynamic_pressure

        def surplus(out: float) -> float:
            losses = case.losses(np.maximum(share - np.where(path != 0.0, out * apart, 0.0), 1e-6))
            inside = float(path @ losses) - at_rest - dynamic * (share - out) ** 2
            leaves = DISCHARGE * area * math.sqrt(2.0 * flow.stream.density * max(inside, 0.0))
            return leaves / flow.stream.mass_flow - out

        most = 0.98 * share
        if area == 0.0 or flow.stream.mass_flow == 0.0:
            return 0.0
        return _between(surplus, 0.0, most, min(surplus(0.0), most) / 2.0)

    def _flow(self, number: int, case: Case, change: Change) -> float:
        """The share of the flow that goes: held, unless the inducer is at its limit or of fixed speed."""
        curve = self._curve
        if curve is None or case.divided:
            return change.flow
        name = self.conditions.inputs.job.appliances[0].name
        rate = case.flow.firing.rates[name] or ""
        inducer = self.conditions.inducer(name)
        assert inducer is not None
        volume = case.flow.firing.flue[name].volume_flow
        drop = self.conditions.exchanger_drop.get((name, rate), inducer.switch[rate])

        outside = self.outside(change)

        def spare(share: float) -> float:
            losses, *_ = self._losses(number, case, change, share)
            needed = drop * share**2 + case.head + float(case.head_path @ (losses - case.loss)) + outside
            return curve.head(volume * share) - needed

        if self.conditions.fixed_speed:
            over = curve.head(volume) - drop - case.head  # with nothing wrong the whole flow goes, whatever the weather
            return change.flow * _between(lambda share: spare(share) - over, LEAST_FLOW, MOST_FLOW)
        if spare(change.flow) >= 0.0 or volume > curve.most:
            return change.flow
        return _between(spare, LEAST_FLOW, change.flow)

    # What follows from the flow

    def _gas_rows(self, case: Case, change: Change, share: float, values: Array) -> None:
        if not self.conditions.alone:
            return
        for place, tap in enumerate(case.taps):
            if tap.kind not in ("oxygen", "carbon_dioxide") or tap.run is None:
                continue
            gas = self._gas(tap.appliance, case)
            air = (1.0 + gas.burning.excess_air) * share * (1.0 - change.recirculated) / change.input - 1.0
            flue = gas.reading(tap.kind, max(air, 0.0))
            if case.flow.runs[tap.run].run.carries == FLUE:
                values[place] = flue
            elif change.recirculated:
                values[place] += change.recirculated * (flue - values[place])

    def _appliance_rows(
        self, case: Case, change: Change, share: float, losses: Array, values: Array, first: int | None
    ) -> None:
        for place, (row, tap) in enumerate(zip(case.rows, case.taps, strict=True)):
            if first is not None and row >= first:
                continue
            if tap.place == ROOM:
                values[place] += change.room
            elif tap.kind == "pressure" and tap.run is None:
                values[place] = values[place] * share**2 * change.felt - change.standing
            elif tap.kind == "meter_seconds":
                values[place] /= change.input
            elif tap.kind == "speed" and math.isfinite(values[place]):
                values[place] = self._speed(case, share, losses, self.outside(change))

    def _speed(self, case: Case, share: float, losses: Array, outside: float) -> float:
        name = self.conditions.inputs.job.appliances[0].name
        inducer, curve = self.conditions.inducer(name), self._curve
        assert inducer is not None and curve is not None
        drop = inducer.switch[case.flow.firing.rates[name] or ""]
        needed = drop * share**2 + case.head + float(case.head_path @ (losses - case.loss)) + outside
        speed = curve.speed_for(flow=case.flow.firing.flue[name].volume_flow * share, head=needed)
        return 1.0 if speed is None else min(speed, 1.0)

    def _slope(self, number: int, case: Case, what: str) -> Array:
        """How the taps change with the input, by a solve; what an analyser reads is worked out apart."""
        if (number, what) not in self._moved:
            moved = (case.changed(input=HARDER) - case.base) / (HARDER - 1.0)
            self._moved[number, what] = np.where(_analysed(case), 0.0, np.nan_to_num(moved))
        return self._moved[number, what]

    def _warmed(self, number: int, case: Case, warmth: float) -> Array:
        """How the taps change with a warmer flue gas [K]: a parabola through two solves and none."""
        found = []
        for what, by in (("warmer", WARMER), ("cooler", COOLER)):
            if (number, what) not in self._moved:
                self._moved[number, what] = np.nan_to_num(case.changed(warmth=by) - case.base) / by
            found.append(self._moved[number, what])
        up, down = found
        bend = (up - down) / (WARMER - COOLER)
        at = min(max(warmth, 2.0 * COOLER), 3.0 * WARMER)
        curved = (up + bend * (at - WARMER)) * at + (up + bend * (2.0 * at - WARMER)) * (warmth - at)
        return np.where(_analysed(case), 0.0, curved)

    def _gas(self, appliance: str, case: Case) -> DryGas:
        rate = case.flow.firing.rates[appliance] or ""
        if (appliance, rate) not in self._gases:
            self._gases[appliance, rate] = DryGas(self.conditions, appliance, rate)
        return self._gases[appliance, rate]


def _read_off(curve: Curve | None) -> Curve | None:
    """A fan curve read off at close points, as it is asked some ten thousand times; its ends are held."""
    if curve is None:
        return None
    flows = np.linspace(curve.least, curve.most, CURVE_POINTS)
    heads = np.array([curve.head(flow) for flow in flows])
    return replace(curve, head=lambda flow: float(np.interp(flow, flows, heads)))


def _analysed(case: Case) -> Array:
    return np.array([tap.kind in ("oxygen", "carbon_dioxide") for tap in case.taps], dtype=bool)


def _between(spare: Callable[[float], float], least: float, most: float, near: float = 1.0) -> float:
    """Where nothing is spare; the nearer end where that is beyond. near: where to begin."""
    one, other = near, near * NEARBY
    at, beside = spare(one), spare(other)
    for _ in range(SECANTS):  # three or four calls where brentq makes ten
        if at == beside:
            break
        one, other = one - at * (one - other) / (at - beside), one
        if not least < one < most:
            break
        if abs(one - other) < EXACT:
            return one
        at, beside = spare(one), at
    if spare(least) <= 0.0:
        return least
    if spare(most) >= 0.0:
        return most
    return float(brentq(spare, least, most, xtol=EXACT))
