"""Appliances, their firing rates and the joints where runs meet: as a list, as fields, and what keys do to them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ventsize.catalog.library import Catalog
from ventsize.check.result import JobCheck
from ventsize.jobfile.editing import (
    Data,
    EditError,
    clear,
    duplicate,
    free_name,
    insert_item,
    items,
    names_of,
    put,
    refers_to,
    value_at,
)
from ventsize.jobfile.editing import Path as Place
from ventsize.quantity import show_fraction
from ventsize.tui.job import specs
from ventsize.tui.job.spec import Spec
from ventsize.tui.widgets.field import Choice
from ventsize.tui.widgets.rows import Cell, Column, Row
from ventsize.tui.widgets.text import one_line

OUTDOORS = "outdoors"
COLUMNS = (
    Column(title="", width=16, grow=1),
    Column(title="Input", width=16, align="right"),
    Column(title="Air", width=16, align="right"),
    Column(title="Flue gas", width=10, align="right"),
)
AIR = {"excess_air": "excess air", "oxygen": "O2, dry", "carbon_dioxide": "CO2, dry"}


def rows(data: Data) -> list[Row]:
    """An appliance with its rates under it, then the joints."""
    found: list[Row] = []
    for at, appliance in enumerate(items(data, ("appliance",))):
        place: Place = ("appliance", at)
        collar = value_at(appliance, ("collar",))
        outlet = f", outlet {collar}" if collar else ""
        name = one_line(value_at(appliance, ("name",), ""))
        fuel = one_line(value_at(appliance, ("fuel",), ""))
        found.append(Row(key=place, across=f"{name}: {fuel}{outlet}", tone="group"))
        found += [_rate((*place, "rate", n), rate) for n, rate in enumerate(items(appliance, ("rate",)))]
    joints = items(data, ("joint",))
    if joints:
        found.append(Row(across="Where runs meet", tone="group", selectable=False))
    for at, joint in enumerate(joints):
        through = " and ".join(map(str, value_at(joint, ("in_line",), []) or []))
        said = f"  {value_at(joint, ('name',), '')}: {value_at(joint, ('fitting',), '')}, {through} go straight through"
        found.append(Row(key=("joint", at), across=one_line(said)))
    return found


def _rate(place: Place, rate: Any) -> Row:
    given = air_given(rate)
    air = f"{value_at(rate, (given,), '')} {AIR[given]}"
    cells = (
        Cell(f"  {one_line(value_at(rate, ('name',), ''))}"), Cell(str(value_at(rate, ("input",), ""))), Cell(air),
        Cell(str(value_at(rate, ("flue_temperature",), ""))),
    )  # fmt: skip
    return Row(key=place, cells=cells)


def air_given(rate: Any) -> str:
    """How a rate says what air it burns with."""
    return next((key for key in ("oxygen", "carbon_dioxide") if value_at(rate, (key,)) is not None), "excess_air")


def without_input(data: Data) -> Place | None:
    """The first firing rate whose input is still needed."""
    for at, appliance in enumerate(items(data, ("appliance",))):
        for number, rate in enumerate(items(appliance, ("rate",))):
            if not value_at(rate, ("input",)):
                return ("appliance", at, "rate", number)
    return None


def fields(data: Data, place: Place, catalog: Catalog, check: JobCheck | None) -> list[Spec]:
    """The fields of what is under the cursor."""
    if place[:1] == ("joint",):
        return _joint(data, place)
    if len(place) == 4:
        named, *others = specs.rate(data, place)
        choice = Spec(
            label="Air given as", place=(*place, "air"), topic="air_given", kind="choice",
            choices=tuple(Choice(key, word) for key, word in AIR.items()),
            got=lambda now: air_given(value_at(now, place)),
            put=lambda now, key: _give_air(now, place, key, check),
        )  # fmt: skip
        return [specs.named(named), others[0], choice, *others[1:]]
    return specs.appliance(int(place[1]), sorted(catalog.fuels)) if len(place) == 2 else []


def _give_air(data: Data, place: Place, key: str, check: JobCheck | None) -> Data:
    """The same air, as far as the last result tells it, given in another way."""
    for other in AIR:
        data = put(data, (*place, other), None)
    return put(data, (*place, key), _air_now(data, place, key, check))


def _air_now(data: Data, place: Place, key: str, check: JobCheck | None) -> str:
    names = value_at(data, (*place[:2], "name")), value_at(data, (*place, "name"))
    for appliance in check.appliances if check else ():
        for rate in appliance.rates:
            if (appliance.name, rate.name) == names:
                value = {"excess_air": "excess_air", "oxygen": "oxygen_dry", "carbon_dioxide": "carbon_dioxide_dry"}
                return show_fraction(getattr(rate.gas, value[key]))
    return ""


def _joint(data: Data, place: Place) -> list[Spec]:
    base: Place = place[:2]
    runs = tuple(Choice(name, name) for name in names_of(data, ("run",)))

    def through(number: int) -> Spec:
        def got(now: Data) -> str:
            names = list(value_at(now, (*base, "in_line"), []) or [])
            return str(names[number]) if number < len(names) else ""

        def changed(now: Data, name: str) -> Data:
            names = (list(value_at(now, (*base, "in_line"), []) or []) + ["", ""])[:2]
            names[number] = name
            return put(now, (*base, "in_line"), names)

        return Spec(
            label=("Straight through", "  and")[number], place=(*base, "in_line", number), topic="in_line",
            kind="choice", choices=runs, got=got, put=changed,
        )  # fmt: skip

    kinds = (Choice("tee", "tee"), Choice("wye", "wye"))
    return [
        specs.named(Spec(label="Joint", place=(*base, "name"), topic="joint")),
        Spec(label="Fitting", place=(*base, "fitting"), topic="joint_fitting", kind="choice", choices=kinds),
        through(0), through(1),
    ]  # fmt: skip


def what_to_add(data: Data, place: Place) -> Iterator[tuple[str, str, str]]:
    """The menu of what can be added here."""
    if place[:1] == ("appliance",):
        name = one_line(value_at(data, (*place[:2], "name"), ""))
        yield "rate", f"A firing rate of {name}", "such as low"
    yield "appliance", "An appliance", "another that vents here"
    yield "joint", "A joint", "a tee or wye where runs meet"


def add(data: Data, place: Place, what: str) -> tuple[Data, Place]:
    """The data with something more, and where it is."""
    if what == "rate":
        rates: Place = (*place[:2], "rate")
        last = (items(data, rates) or [{"excess_air": "35 %", "flue_temperature": "110 degF"}])[-1]
        name = free_name(names_of(data, rates), "low" if items(data, rates) else "high")
        return insert_item(data, rates, {**last, "name": name, "input": ""}), (*rates, len(items(data, rates)))
    if what == "appliance":
        name = free_name(names_of(data, ("appliance",)), "appliance")
        rate = {"name": "high", "input": "", "excess_air": "35 %", "flue_temperature": "110 degF"}
        made = {"name": name, "fuel": "natural gas", "rate": [rate]}
        return insert_item(data, ("appliance",), made), ("appliance", len(items(data, ("appliance",))))
    name, runs = _meeting(data)
    made = {"name": name, "fitting": "tee", "in_line": (runs + ["", ""])[:2]}
    return insert_item(data, ("joint",), made), ("joint", len(items(data, ("joint",))))


def _meeting(data: Data) -> tuple[str, list[str]]:
    """A place where three runs meet and that is no joint yet, and two of them; else a free name."""
    ends: dict[str, list[str]] = {}
    for run in items(data, ("run",)):
        for end in value_at(run, ("between",), []) or []:
            ends.setdefault(str(end), []).append(str(value_at(run, ("name",), "")))
    taken = {*names_of(data, ("joint",)), *names_of(data, ("appliance",)), OUTDOORS}
    found = next(((end, runs) for end, runs in ends.items() if end not in taken and len(runs) > 2), None)
    return (found[0], found[1][:2]) if found else (free_name({*taken, *ends}, "joint"), names_of(data, ("run",))[:2])


def remove(data: Data, place: Place) -> tuple[Data, str]:
    """The data without it, and what that leaves loose."""
    if place[0] == "appliance" and len(place) == 2 and len(items(data, ("appliance",))) == 1:
        raise EditError("a job needs one appliance; change this one instead")
    if len(place) == 4 and len(items(data, place[:3])) == 1:
        raise EditError("an appliance needs one firing rate; change this one instead")
    name, loose = value_at(data, (*place, "name"), ""), refers_to(data, place)
    said = f"{name} removed" + (f"; {', '.join(loose)} still lead there" if loose and place[0] != "joint" else "")
    return clear(data, place), f"{said}; u: undo"


def duplicated(data: Data, place: Place) -> tuple[Data, Place]:
    """Once more, under a free name."""
    return duplicate(data, place), (*place[:-1], int(place[-1]) + 1)
