"""The fields of a verdict by count, in the order in which a person has them at hand, and what they begin with.

What moves no verdict by the table has a typical value that is said to be assumed; what does is asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import Any

from ventsize.allowance.library import KnownTable
from ventsize.catalog.library import Catalog
from ventsize.jobfile.editing import Data, put, value_at
from ventsize.quantity import System
from ventsize.tui.job import edits, specs
from ventsize.tui.job.spec import Spec
from ventsize.tui.widgets.field import Choice, Reader, Reading

COUNTED = {
    "elbow-90-long": ("90° long", "wide sweep; how many"),
    "elbow-90-short": ("90° short", "tight turn; how many"),
    "elbow-45": ("45°", "how many"),
}
"""Fittings that are counted, by name: what the field is called, and what is said beside it."""
ENDS = ("terminal", "entrance")
USUAL_END = ("terminal-open", "entrance-open")
"""Of a vent, and of an air pipe: a plain pipe end."""
HINTS = {
    "input": "rating plate: INPUT, as 80 MBH",
    "fuel": "rating plate",
    "altitude": "of the site, as 620 ft",
    "table": "Space lists; Ctrl+T types one",
    "size": "printed on the pipe",
    "straight": "all straight pipe, as 27 ft",
    "material": "printed on the pipe",
}
ASSUMED = "assumed, typical"
ROOM, OWN_PIPE = "room", "pipe"
TYPICAL = {"excess_air": "35 %", "oxygen": "6 %", "carbon_dioxide": "8.5 %", "flue_temperature": "110 degF"}
"""Of a condensing appliance on natural gas; common practice, no source. They move no verdict by the table."""
RICH = ("propane", "butane")  # fuels whose flue gas has 10 % of CO2 at the same excess air
BURNING = {"excess_air": "excess air", "oxygen": "O2", "carbon_dioxide": "CO2"}
RATE = ("appliance", 0, "rate", 0)
AIR = ("appliance", 0, "air")


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidSpec(Spec):
    """A field beside which something is said as long as it holds what it began with.

    begins: that text. said: the words.
    """

    begins: str = ""
    said: str = ""

    def reader(self, system: System) -> Reader:
        """The usual reading, with the words."""
        read = Spec.reader(self, system)

        def saying(text: str) -> Reading:
            reading = read(text)
            if reading.text != self.begins:
                return reading
            return Reading(reading.text, f"{reading.note}  {self.said}".strip())

        return saying


def _saying(spec: Spec, begins: str, said: str) -> Spec:
    kept = {field.name: getattr(spec, field.name) for field in fields(Spec)}
    return SaidSpec(**kept, begins=begins, said=said)


def begun(altitude: str = "") -> Data:
    """A count with nothing counted yet; with the altitude one usually works at, if there is one."""
    data = put(edits.counted_job(), ("run", 0, "fittings"), {USUAL_END[0]: 1})
    data = put(data, ("run", 0, "size"), "")  # a size nobody chose would give a verdict on another pipe
    return put(data, ("site", "altitude"), altitude)


def count_specs(data: Data, catalog: Catalog, tables: Sequence[KnownTable], *, usual_altitude: str = "") -> list[Spec]:
    """The fields for the data as they stand: with an air pipe of its own, that one's too."""
    found = [
        _field(data, catalog, tables, "input"),
        _fuel(catalog),
        _altitude(usual_altitude),
        *(_field(data, catalog, tables, topic) for topic in ("table", "size", "straight")),
        *(_count(0, name, f"{label} elbows", hint) for name, (label, hint) in COUNTED.items()),
        _end(catalog, 0, "End of pipe", "outdoors: plain, screen …"),
        _air_pipe(),
    ]
    if len(value_at(data, ("run",), [])) > 1:
        found += [
            replace(_run_field(data, catalog, tables, 1, "size"), label="Air pipe size"),
            replace(_run_field(data, catalog, tables, 1, "straight"), label="Air straight"),
            *(_count(1, name, f"Air {label}", hint) for name, (label, hint) in COUNTED.items()),
            _end(catalog, 1, "Air pipe's end", "outdoors: plain, screen …"),
        ]
    given = next((key for key in BURNING if value_at(data, (*RATE, key)) is not None), "excess_air")
    return [
        *found,
        replace(_field(data, catalog, tables, "material"), hint=HINTS["material"]),
        _burning(given),
        *(
            _saying(_field(data, catalog, tables, key), _typical(data, key), ASSUMED)
            for key in (given, "flue_temperature")
        ),
    ]


def _typical(data: Data, key: str) -> str:
    rich = key == "carbon_dioxide" and value_at(data, ("appliance", 0, "fuel")) in RICH
    return "10 %" if rich else TYPICAL[key]


def _field(data: Data, catalog: Catalog, tables: Sequence[KnownTable], topic: str) -> Spec:
    """A field of the job's own, as the form of a count shows it."""
    by_topic = {spec.topic: spec for spec in specs.rate(data, RATE)}
    if topic in by_topic:
        return _plain(by_topic[topic])
    return _run_field(data, catalog, tables, 0, topic)


def _run_field(data: Data, catalog: Catalog, tables: Sequence[KnownTable], at: int, topic: str) -> Spec:
    known = specs.run(data, at, list(catalog.pipes), _sizes(data, catalog, at), [])
    found = _plain(next(spec for spec in known if spec.topic == topic))
    if topic == "table":
        none = Choice("", "none yet")
        choices = (none, *(Choice(table.path.name, table.label) for table in tables))
        return replace(found, choices=choices, put=lambda now, name: with_table(now, name, tables))
    if topic == "size":
        return replace(found, choices=(Choice("", "none yet"), *found.choices))
    return found


def _plain(spec: Spec) -> Spec:
    return replace(spec, example="", optional=False, hint=HINTS.get(spec.topic, ""))


def with_table(data: Data, name: Any, tables: Sequence[KnownTable]) -> Data:
    """One table judges vent and air pipe; where it is for one size, that is the size of a pipe that has none yet."""
    sizes = next((table.sizes for table in tables if table.path.name == name), ())
    for number in range(len(value_at(data, ("run",), []))):
        data = put(data, ("run", number, "table"), name or None)
        if len(sizes) == 1 and not value_at(data, ("run", number, "size")):
            data = put(data, ("run", number, "size"), sizes[0])
    return data


def _sizes(data: Data, catalog: Catalog, at: int) -> list[str]:
    material = catalog.pipes.get(value_at(data, ("run", at, "material")))
    return [size.label for size in material.sizes] if material else []


def _fuel(catalog: Catalog) -> Spec:
    choices = tuple(Choice(name, name) for name in sorted(catalog.fuels))
    return Spec(
        label="Fuel", place=("appliance", 0, "fuel"), topic="fuel", kind="choice", choices=choices, hint=HINTS["fuel"]
    )


def _altitude(usual: str) -> Spec:
    altitude = specs.length("Altitude", ("site", "altitude"), "altitude", signed=True, usual=specs.USUAL_ALTITUDE)
    return _saying(replace(altitude, example="", hint=HINTS["altitude"]), usual, "your usual one (F10)")


def _count(run: int, name: str, label: str, hint: str) -> Spec:
    return Spec(
        label=label, place=("run", run, "fittings", name), topic="count", kind="count", hint=hint,
        got=lambda data: value_at(data, ("run", run, "fittings", name), ""),
    )  # fmt: skip


def none_more(data: Data) -> Data:
    """The data with every count that nobody has given yet set to none: said once, for all of them."""
    for run in range(len(value_at(data, ("run",), []))):
        for name in COUNTED:
            if value_at(data, ("run", run, "fittings", name)) is None:
                data = put(data, ("run", run, "fittings", name), 0)
    return data


def _end(catalog: Catalog, run: int, label: str, hint: str) -> Spec:
    """What a pipe ends with outdoors: one of the ends there are, since the table may take something for it."""
    place = ("run", run, "fittings")
    ends = [record for record in catalog.fittings.values() if record.kind in ENDS[: run + 1]]
    usual = USUAL_END[run]
    ends.sort(key=lambda record: (record.name != usual, record.kind != ENDS[run]))
    names = [record.name for record in ends]

    def got(data: Data) -> str:
        return next((name for name in value_at(data, place, {}) if name in names), "")

    def changed(data: Data, wanted: Any) -> Data:
        kept = {name: count for name, count in value_at(data, place, {}).items() if name not in names}
        return put(data, place, {**kept, wanted: 1})

    return Spec(
        label=label, place=place, topic="end", kind="choice", hint=hint, got=got, put=changed,
        choices=tuple(Choice(record.name, record.title[0].lower() + record.title[1:]) for record in ends),
    )  # fmt: skip


def _air_pipe() -> Spec:
    """Whether the air comes by a pipe of its own, which then is counted and judged too."""

    def changed(data: Data, where: Any) -> Data:
        runs = value_at(data, ("run",), [])[:1]
        data = put(data, ("run",), [*runs, _air_run(runs[0])] if where == OWN_PIPE else runs)
        return put(data, AIR, where or None)

    return Spec(
        label="Air comes", place=("run",), topic="air_pipe", kind="choice", hint="one pipe, or two",
        choices=(
            Choice("", "not stated: the room"), Choice(ROOM, "from the room"), Choice(OWN_PIPE, "by a pipe of its own")
        ),
        got=lambda data: OWN_PIPE if len(value_at(data, ("run",), [])) > 1 else value_at(data, AIR, ""), put=changed,
    )  # fmt: skip


def _air_run(vent: Data) -> Data:
    return {
        "name": "air", "carries": "combustion air", "between": list(vent["between"]), "size": vent.get("size", "3 in"),
        "material": vent.get("material", "pvc-40"), "straight": "", "fittings": {USUAL_END[1]: 1},
        **({"table": vent["table"]} if vent.get("table") else {}),
    }  # fmt: skip


def _burning(given: str) -> Spec:
    """How the air is known: as excess air, or as an analyser reads it."""

    def changed(data: Data, key: Any) -> Data:
        for other in BURNING:
            data = put(data, (*RATE, other), _typical(data, other) if other == key else None)
        return data

    return Spec(
        label="Air known by", place=RATE, topic="air_known_by", kind="choice", hint="O2 or CO2, if measured",
        choices=tuple(Choice(key, f"{words}{'' if key == 'excess_air' else ', measured'}")
                      for key, words in BURNING.items()), got=lambda _: given, put=changed,
    )  # fmt: skip


def missing(data: Data, asked: Sequence[Spec]) -> list[str]:
    """What is still needed, by its label."""
    left = [spec.label for spec in asked if spec.kind != "choice" and not spec.shown(data).strip()]
    chosen = (("Table", "table"), ("Size", "size"))
    return [*left, *(label for label, key in chosen if not value_at(data, ("run", 0, key)))]


def assumed(data: Data) -> str:
    """What is taken for typical, in a sentence; empty where everything is the person's own."""
    given = next((key for key in BURNING if value_at(data, (*RATE, key)) is not None), "excess_air")
    both = (given, "flue_temperature")
    typical = [key for key in both if value_at(data, (*RATE, key)) == _typical(data, key)]
    words = [f"{_words(key)} {value_at(data, (*RATE, key))}" for key in typical]
    said = [f"Assumed: {', '.join(words)} (not in the table verdict)."] if words else []
    if not any(value_at(data, ("run", 0, "fittings", name), 0) for name in COUNTED):
        said.append("No elbow is counted.")
    if len(value_at(data, ("run",), [])) == 1 and not value_at(data, AIR, ""):
        said.append("No air pipe is counted: the air is taken from the room (see Air comes).")
    return "\n".join(said)


def _words(key: str) -> str:
    """A rate's key in words."""
    return {**BURNING, "flue_temperature": "flue gas"}[key]
