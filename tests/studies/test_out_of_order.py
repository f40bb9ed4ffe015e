"""Pressures that cannot both be right, whatever is wrong with the vent."""

from __future__ import annotations

import copy

import pytest

from tests.studies.diagnosed import FINE, LONG, blocked, visit
from tests.studies.readings_of import Data, collar, data_of, inputs_of, reading
from ventsize.studies.readings import readings

ORDER = {"lower-at-higher-rate", "higher-farther-out"}


def doubted(data: Data, *taken: Data) -> list[tuple[int, str]]:
    """Numbers of the readings that are out of order, with what is said of each."""
    found = readings(inputs_of(data, *taken)).readings
    out = [one for one in found if one.because is not None and one.because.code in ORDER]
    assert all(one.verdict == "doubtful" for one in out)
    return [(one.number, one.because.code) for one in out if one.because is not None]


def at(place: str, rate: str, inches: float, **more: object) -> Data:
    """A pressure in in w.c., by a manometer good to 0.002."""
    return reading(place, rate, pressure=f"{inches} in w.c.", accuracy=FINE, **more)


@pytest.mark.parametrize(("high", "low", "said"), [(0.150, 0.155, 2), (0.150, 0.153, 0), (0.150, 0.08, 0)])
def test_more_gas_cannot_lose_less(high: float, low: float, said: int) -> None:
    """Both are to be read again, once they differ by more than both gauges; twice read, they stand."""
    both = (at("collar", "high", high), at("collar", "low", low))
    assert doubted(data_of(LONG), *both) == [(1, "lower-at-higher-rate"), (2, "lower-at-higher-rate")][:said]
    confirmed = [{**one, "confirmed": True} for one in both]
    assert not doubted(data_of(LONG), *confirmed)


def test_more_air_cannot_be_sucked_with_less() -> None:
    """The air pipe is under suction: -0.150 at high fire is less than -0.180 at low."""
    both = (at("air pipe", "high", -0.150), at("air pipe", "low", -0.180))
    assert [number for number, _ in doubted(data_of(LONG), *both)] == [1, 2]
    assert not doubted(data_of(LONG), at("air pipe", "high", -0.180), at("air pipe", "low", -0.090))


@pytest.mark.parametrize(("inner", "outer", "said"), [(0.150, 0.240, 2), (0.150, 0.200, 0), (0.240, 0.150, 0)])
def test_pressure_falls_towards_the_open_end(inner: float, outer: float, said: int) -> None:
    """0.090 in w.c. more just before the terminal is none; 0.050 may be warmer gas and a change of size."""
    both = (at("collar", "high", inner), at("terminal", "high", outer))
    assert doubted(data_of(LONG), *both) == [(1, "higher-farther-out"), (2, "higher-farther-out")][:said]
    other_rate = (at("collar", "low", inner), at("terminal", "high", outer))
    assert not doubted(data_of(LONG), *other_rate)


def test_listed_from_outdoors_the_open_end_is_first() -> None:
    """The way a run is listed changes nothing."""
    data = copy.deepcopy(data_of(LONG))
    vent = data["run"][0]
    back = {"up": "down", "down": "up", "north": "south", "south": "north", "east": "west", "west": "east"}
    vent["pieces"] = [
        {**piece, **({"heading": back[piece["heading"]]} if piece.get("heading") in back else {})}
        for piece in reversed(vent["pieces"])
    ]
    vent["between"] = vent["between"][::-1]
    assert len(doubted(data, at("collar", "high", 0.150), at("terminal", "high", 0.240))) == 2
    assert not doubted(data, at("collar", "high", 0.240), at("terminal", "high", 0.150))


@pytest.mark.parametrize(("top", "said"), [(0.0, 0), (60.0, 2)])
def test_a_tall_vent_in_the_cold_draws(top: float, said: int) -> None:
    """70 ft straight up at -20 °F: air of 1.44 kg/m³ over gas of about 1.1 gives 0.34 x 9.81 x 21 = 70 Pa, so that 60
    Pa of suction at the collar and none at the top is as it should be, and 60 Pa of pressure at the top is not."""
    data = copy.deepcopy(data_of(LONG))
    pieces = [{"pipe": "70 ft", "heading": "up"}, {"fitting": "terminal-open"}]
    data["run"][0] = {**data["run"][0], "size": "4 in", "pieces": pieces}
    taken = [reading(place, pressure=value, accuracy=FINE, outdoor="-20 degF")
             for place, value in (("collar", -60.0), ("terminal", top))]  # fmt: skip
    assert len(doubted(data, *taken)) == said


@pytest.mark.parametrize("k", [0.0, 6.0, 60.0, 600.0])
def test_a_vent_that_is_blocked_is_in_order(k: float) -> None:
    """However much: as the solver has it, at both rates and along the pipe."""
    truth = blocked(data_of(LONG), 5, k)
    before = reading(
        "terminal", pressure=min(collar(truth), 4.7 + collar(truth) - collar(data_of(LONG))), accuracy=FINE
    )
    assert not doubted(data_of(LONG), *visit(truth), before)
