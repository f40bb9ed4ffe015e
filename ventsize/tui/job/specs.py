"""Which fields a part of a job has: one list a part, each field with its place in the data."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any, get_args

from ventsize.jobfile.editing import Data, EditError, free_name, names_of, put, rename, value_at
from ventsize.jobfile.editing import Path as Place
from ventsize.jobfile.job import Compass, Side
from ventsize.quantity import Dimension
from ventsize.tui.job.spec import Spec
from ventsize.tui.widgets.field import Choice

__all__ = ["Spec", "appliance", "count", "fitting", "length", "named", "pipe", "rate", "run", "site"]

COMPASS, SIDES = get_args(Compass), get_args(Side)


def _choices(values: Sequence[str]) -> tuple[Choice, ...]:
    return tuple(Choice(value, value) for value in values)


FEET = ("ft", "m")
DEGREES = ("degF", "degC")
INCHES = ("in", "mm")
OUTDOORS = "outdoors"

# What is not met in practice and so may be a slip of the finger: said under the field, never refused.
# Common practice, no source.
USUAL_PIPE = (0.0254, 60.96)  # m: 1 in to 200 ft
USUAL_RUN = (0.3048, 152.4)  # m: 1 ft to 500 ft
USUAL_INPUT = (1465.4, 1172284.0)  # W: 5,000 to 4,000,000 Btu/h
USUAL_FLUE = (288.71, 477.59)  # K: 60 to 400 °F
USUAL_WEATHER = (222.04, 327.59)  # K: -60 to 130 °F
USUAL_ROOM = (255.37, 327.59)  # K: 0 to 130 °F
USUAL_ALTITUDE = (-457.2, 4572.0)  # m: -1,500 to 15,000 ft
USUAL_SHARE = (0.01, 3.0)


def length(
    label: str,
    place: Place,
    topic: str,
    *,
    optional: bool = False,
    signed: bool = False,
    usual: tuple[float, float] | None = None,
    example: str = "12 ft 6 in",
) -> Spec:
    """A length: feet where no unit is typed."""
    return Spec(
        label=label, place=place, topic=topic, kind="quantity", dimension=Dimension.LENGTH, unit=FEET, usual=usual,
        optional=optional, signed=signed, example="" if optional else example,
    )  # fmt: skip


def temperature(
    label: str, place: Place, topic: str, usual: tuple[float, float], example: str, *, optional: bool = True
) -> Spec:
    """A temperature: degrees of the system in use where no unit is typed."""
    return Spec(
        label=label, place=place, topic=topic, kind="quantity", dimension=Dimension.TEMPERATURE, unit=DEGREES,
        usual=usual, optional=optional, example=example,
    )  # fmt: skip


def share(label: str, place: Place, topic: str, *, optional: bool = True, example: str = "") -> Spec:
    """A share: "35 %" or 0.35."""
    return Spec(
        label=label, place=place, topic=topic, kind="share", dimension=Dimension.FRACTION, optional=optional,
        example=example,
    )  # fmt: skip


def named(spec: Spec) -> Spec:
    """The field of a name that others refer to: it takes effect when it is left, and they follow."""
    item = spec.place[:-1]

    def renamed(now: Data, name: str) -> Data:
        others = names_of(put(now, (*item, "name"), ""), item[:-1])
        if not name.strip():
            raise EditError(f"a name is needed; it is still '{value_at(now, spec.place, '')}'")
        if name in others or name == OUTDOORS:
            raise EditError(f"'{name}' is taken; it is still '{value_at(now, spec.place, '')}'")
        return rename(now, item, name)

    return replace(spec, put=renamed, when_left=True)


def site() -> list[Spec]:
    """The place, and the job's own words."""
    cooling = (Choice("True", "as it cools along the pipe"), Choice("False", "at one temperature"))
    return [
        Spec(label="Title", place=("title",), topic="title"),
        length("Altitude", ("site", "altitude"), "altitude", optional=True, signed=True, usual=USUAL_ALTITUDE),
        temperature("Outdoor", ("site", "outdoor"), "outdoor", USUAL_WEATHER, "-5 degF"),
        temperature("Indoor", ("site", "indoor"), "indoor", USUAL_ROOM, "68 degF"),
        temperature("Attic", ("site", "attic"), "attic", USUAL_WEATHER, "20 degF"),
        temperature("Crawlspace", ("site", "crawlspace"), "crawlspace", USUAL_WEATHER, "40 degF"),
        Spec(label="Wind", place=("site", "wind"), topic="wind", kind="quantity", dimension=Dimension.VELOCITY,
             unit=("ft/min", "m/s"), optional=True, example="900 ft/min"),
        _choice("Wind from", ("site", "wind_from"), "wind_from", {word: word for word in COMPASS}),
        _choice("Terrain", ("site", "terrain"), "terrain", {"open": "open", "suburb": "suburb", "city": "city"}),
        temperature("Coldest day", ("site", "design_outdoor"), "design_outdoor", USUAL_WEATHER, "-10 degF"),
        Spec(label="Room pressure", place=("site", "room_pressure"), topic="room_pressure", kind="quantity",
             dimension=Dimension.PRESSURE, unit=("in w.c.", "Pa"), signed=True, optional=True, example="-3 Pa"),
        length("Stack height", ("site", "stack_height"), "stack_height", optional=True, signed=True, usual=USUAL_RUN),
        share("Air humidity", ("site", "relative_humidity"), "humidity", example="40 %"),
        share("Room humidity", ("site", "indoor_relative_humidity"), "room_humidity", example="30 %"),
        Spec(label="Gas is figured", place=("cooling",), topic="cooling", kind="choice", choices=cooling,
             got=lambda now: str(bool(value_at(now, ("cooling",), True))),
             put=lambda now, word: put(now, ("cooling",), None if word == "True" else False)),
        Spec(label="Note", place=("note",), topic="note", optional=True),
    ]  # fmt: skip


def appliance(at: int, fuels: Sequence[str]) -> list[Spec]:
    """An appliance; its firing rates have fields of their own."""
    base: Place = ("appliance", at)
    return [
        named(Spec(label="Name", place=(*base, "name"), topic="name")),
        Spec(label="Fuel", place=(*base, "fuel"), topic="fuel", kind="choice", choices=_choices(fuels)),
        Spec(label="Outlet size", place=(*base, "collar"), topic="collar", kind="quantity", dimension=Dimension.LENGTH,
             unit=INCHES, optional=True, example="3 in"),
        Spec(label="Trap seal", place=(*base, "trap_seal"), topic="trap_seal", kind="quantity",
             dimension=Dimension.LENGTH, unit=INCHES, optional=True, example="2 in"),
        _choice("Air comes", (*base, "air"), "air_source", {"room": "from the room", "pipe": "by a pipe"}),
        _choice("Backflow", (*base, "backflow_prevented"), "backflow", {True: "prevented", False: "not prevented"}),
        _choice("Input is", (*base, "input_basis"), "input_basis", {"gross": "gross heat", "net": "net heat"}),
    ]  # fmt: skip


def _choice(label: str, place: Place, topic: str, words: Mapping[Any, str]) -> Spec:
    """One of a few values, or nothing said."""
    by_text = {str(value): value for value in words}
    return Spec(
        label=label, place=place, topic=topic, kind="choice", optional=True,
        choices=(Choice("", "not stated"), *(Choice(str(value), text) for value, text in words.items())),
        got=lambda now: str(value_at(now, place, "")), put=lambda now, text: put(now, place, by_text.get(str(text))),
    )  # fmt: skip


def rate(data: Data, base: Place) -> list[Spec]:
    """A firing rate: its input, the air it burns with in the way the job gives it, its gas temperature."""
    given = next((k for k in ("oxygen", "carbon_dioxide") if value_at(data, (*base, k)) is not None), "excess_air")
    label = {"oxygen": "O2, dry", "carbon_dioxide": "CO2, dry", "excess_air": "Excess air"}[given]
    return [
        Spec(label="Firing rate", place=(*base, "name"), topic="rate"),
        Spec(label="Input", place=(*base, "input"), topic="input", kind="quantity", dimension=Dimension.POWER,
             unit=("Btu/h", "kW"), example="80 MBH", usual=USUAL_INPUT),
        replace(share(label, (*base, given), given, optional=False, example="35 %"), usual=USUAL_SHARE),
        temperature("Flue gas", (*base, "flue_temperature"), "flue_temperature", USUAL_FLUE, "110 degF",
                    optional=False),
        Spec(label="Switch opens at", place=(*base, "switch_opens"), topic="switch_opens", kind="quantity",
             dimension=Dimension.PRESSURE, unit=("in w.c.", "Pa"), optional=True, example="0.85 in w.c."),
    ]  # fmt: skip


def run(data: Data, at: int, materials: Sequence[str], sizes: Sequence[str], tables: Sequence[Choice]) -> list[Spec]:
    """A run as a whole; a counted one has its feet here."""
    base: Place = ("run", at)
    found = [
        named(Spec(label="Run", place=(*base, "name"), topic="run")),
        Spec(label="Carries", place=(*base, "carries"), topic="carries", kind="choice",
             choices=_choices(("flue gas", "combustion air"))),
        Spec(label="Size", place=(*base, "size"), topic="size", kind="choice", choices=_choices(sizes)),
        Spec(label="Material", place=(*base, "material"), topic="material", kind="choice", choices=_choices(materials)),
        Spec(
            label="Table", place=(*base, "table"), topic="table", kind="choice", optional=True,
            choices=(Choice("", "none yet"), *tables), hint="Ctrl+T opens it",
        ),
        *(_end(data, base, number) for number in (0, 1)),
        _choice("Outdoor side", (*base, "wall"), "wall", {side: side for side in SIDES}),
        *_around(base),
    ]  # fmt: skip
    if "pieces" not in (value_at(data, base) or {}):
        found.insert(1, length("Straight", (*base, "straight"), "straight", usual=USUAL_RUN))
        found.insert(6, length("Rise", (*base, "rise"), "rise", optional=True, signed=True, usual=USUAL_RUN))
    return found


def _end(data: Data, base: Place, number: int) -> Spec:
    """From where, to where: appliances, joints, the open air, or a joint yet to be made."""
    ends = [end for at in range(len(value_at(data, ("run",), []))) for end in _ends(data, at)]
    known = dict.fromkeys([*names_of(data, ("appliance",)), OUTDOORS, *names_of(data, ("joint",)), *ends])
    fresh = free_name(list(known), "joint 1")
    choices = (*(Choice(name, name) for name in known if name), Choice(fresh, f"{fresh} (new)"))

    def changed(now: Data, name: str) -> Data:
        between = (_ends(now, int(base[1])) + ["", ""])[:2]
        between[number] = name
        return put(now, (*base, "between"), between)

    return Spec(
        label=("From", "To")[number], place=(*base, "between", number), topic="between", kind="choice",
        choices=choices, put=changed,
    )  # fmt: skip


def _ends(data: Data, at: int) -> list[str]:
    between = value_at(data, ("run", at, "between"))
    return [str(end) for end in between] if isinstance(between, list) else []


def _around(base: Place) -> list[Spec]:
    """What is around a pipe, or around every pipe of a run."""
    thick: Place = (*base, "insulation", "thickness")
    return [
        Spec(label="Surroundings", place=(*base, "surroundings"), topic="surroundings", optional=True,
             example="attic"),
        Spec(label="Insulation", place=thick, topic="insulation", kind="quantity", dimension=Dimension.LENGTH,
             unit=INCHES, optional=True, example="1/2 in",
             put=lambda now, text: put(now, thick if text else thick[:-1], text)),
        Spec(label="  conducts", place=(*base, "insulation", "conductivity"), topic="conductivity", kind="quantity",
             dimension=Dimension.CONDUCTIVITY, optional=True, example=""),
    ]  # fmt: skip


HEADINGS = ("", "up", "down", "north", "south", "east", "west")


def pipe(base: Place, sizes: Sequence[str]) -> list[Spec]:
    """A straight pipe."""
    return [
        length("Length", (*base, "pipe"), "length", usual=USUAL_PIPE),
        Spec(label="Heading", place=(*base, "heading"), topic="heading", kind="choice", optional=True,
             choices=tuple(Choice(h, h or "not given") for h in HEADINGS)),
        length("Rise", (*base, "rise"), "rise", optional=True, signed=True, usual=USUAL_PIPE),
        Spec(label="Size from here", place=(*base, "size"), topic="size", kind="choice", optional=True,
             choices=(Choice("", "as before"), *_choices(sizes))),
        *_around(base),
    ]  # fmt: skip


def fitting(base: Place, sizes: Sequence[str], fittings: Sequence[tuple[str, str]]) -> list[Spec]:
    """A fitting, with the job's own figures for it."""
    return [
        Spec(label="Fitting", place=(*base, "fitting"), topic="fitting", kind="choice",
             choices=tuple(Choice(name, name) for name, _ in fittings)),
        Spec(label="Size from here", place=(*base, "size"), topic="size", kind="choice", optional=True,
             choices=(Choice("", "as before"), *_choices(sizes))),
        Spec(label="Own K", place=(*base, "k"), topic="k", kind="number", optional=True),
        length("Own length", (*base, "table_length"), "table_length", optional=True),
    ]  # fmt: skip


def count(base: Place, name: str) -> list[Spec]:
    """How many of a fitting a counted run has."""
    return [Spec(label=name, place=(*base, "fittings", name), topic="count", kind="count", example="0")]
