"""The study of room air, as text and as an object for JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ventsize.finding import Finding
from ventsize.quantity import Dimension, System, show, show_power
from ventsize.report.keys import Keys
from ventsize.report.text_parts import as_text, head, indented, sentences, table
from ventsize.report.wording import say
from ventsize.studies.room_air import RoomAir, RoomAirStudy, VolumeMethod
from ventsize.studies.room_air.cures import Cure
from ventsize.studies.room_air.fans import Fans
from ventsize.studies.room_air.openings import Lent, Provision

_DIMENSIONS = {"volume": Dimension.VOLUME, "area": Dimension.AREA, "flow": Dimension.VOLUME_FLOW}
_UNITS = {"volume": "m3", "area": "m2", "flow": "m3_s"}


@as_text
def render(study: RoomAirStudy, system: System) -> Iterator[str]:
    """The answer in lines of 80 columns."""
    for number, room in enumerate(study.rooms):
        if number:
            yield ""
        yield from _room(room, system)
    yield from sentences("Cautions", _cautions(study, system))
    rules = (f"{source}: {_status(status)}" for source, status in study.rules)
    yield from sentences("Rules", [study.source, *rules])


def _cautions(study: RoomAirStudy, system: System) -> Iterator[str]:
    for caution in (*(c for room in study.rooms for c in room.cautions), *study.cautions):
        yield say(caution, system)


def _why(provision: Provision, system: System) -> str:
    """Why a provision is not enough; a room beside is named."""
    return "; ".join(
        (f"{reason.values['room']}: " if "room" in reason.values else "") + say(reason, system)
        for reason in provision.reasons
    )


def _status(status: str) -> str:
    return "from memory, check before use" if status == "from memory" else status


def _room(room: RoomAir, system: System) -> Iterator[str]:
    yield from head(f"Room air, {room.name}: {room.verdict}")
    for figure in _figures(room, system):
        yield from indented(figure, "  ", "    ")
    yield ""
    columns = (("air", 48), ("needs", 15), ("has", 15))
    rows = [(p.name, _amount(p.needed, p, system), _amount(p.present, p, system)) for p in room.provisions]
    yield from table(columns, rows)
    yield from sentences("Why", [f"{p.name}: {_why(p, system)}" for p in room.provisions if p.reasons])
    if room.fans is not None:
        yield from sentences("Air that fans take out", fan_sentences(room.fans, system))
    yield from sentences("Any one of these would do", [_cure(cure, room, system) for cure in room.cures])


def _figures(room: RoomAir, system: System) -> Iterator[str]:
    """Input, both methods, rooms beside, what is missing: a sentence each."""
    parts = f"fan-assisted {show_power(room.fan, system)}, natural draft {show_power(room.natural, system)}"
    yield f"input {show_power(room.power, system)} ({parts})"
    for method in room.methods:
        volume = "" if method.volume is None else show(method.volume, Dimension.VOLUME, system)
        why = "governs" if method.name == room.governing else ""
        if method.why_not is not None:
            why = f"not used: {say(method.why_not, system)}"
        yield f"{method.name} method: {', '.join(part for part in (volume, why) if part)}"
    for one in room.beside:
        counts = f"not counted: {say(one.reason, system)}" if one.reason else "counted"
        yield f"{one.room}: {show(one.volume, Dimension.VOLUME, system)}, {counts}"
    if room.missing:
        yield f"missing: {show(room.missing, Dimension.VOLUME, system)} of volume"


def summary(study: RoomAirStudy, system: System, *, mark: str = "- ") -> Iterator[str]:
    """The answer as sentences of any length, an empty one between rooms; mark: what those of a list begin with."""
    for number, room in enumerate(study.rooms):
        if number:
            yield ""
        yield from _summary(room, system, mark)
    yield from (f"{mark}{caution}" for caution in _cautions(study, system))


def _summary(room: RoomAir, system: System, mark: str) -> Iterator[str]:
    yield f"{room.name}: {room.verdict}"
    yield from _figures(room, system)
    for p in room.provisions:
        sign = {True: "✓", False: "✗", None: "▲"}[p.enough]
        text = f"{sign} {p.name}: needs {_amount(p.needed, p, system)}, has {_amount(p.present, p, system)}"
        yield f"{text}; {_why(p, system)}" if p.reasons else text
    if room.fans is not None:
        yield "Air that fans take out"
        yield from (f"{mark}{sentence}" for sentence in fan_sentences(room.fans, system))
    if room.cures:
        yield "Any one of these would do"
        yield from (f"{mark}{_cure(cure, room, system)}" for cure in room.cures)


def shortly(room: RoomAir, system: System) -> str:
    """What a room lacks and the least that would do, in a line."""
    if not room.cures:
        has = next(provision.name for provision in room.provisions if provision.enough)
        return f"by {has}"
    text = f"missing {show(room.missing, Dimension.VOLUME, system)}"
    cure = next((cure for cure in room.cures if cure.name == room.smallest), None)
    if cure is None or cure.free_area is None:
        return text
    return f"{text}; smallest fix: {cure.name}, {show(cure.free_area, Dimension.AREA, system)} free"


def fan_sentences(fans: Fans, system: System) -> Iterator[str]:
    """What competes for the air, with its figures."""

    def flow(value: float) -> str:
        return show(value, Dimension.VOLUME_FLOW, system)

    yield f"{', '.join(fans.names)}: {flow(fans.exhaust)}; the appliances burn with {flow(fans.burning)}"
    leaking = "not known" if fans.leaking is None else flow(fans.leaking)
    yield f"leaking in: {leaking}; blown in: {flow(fans.blown)}; missing: {flow(fans.missing)}"
    if fans.missing and fans.pull is None:
        yield "there is no opening outdoors: it comes through cracks and doors, or down a flue"
    elif fans.missing and fans.pull is not None:
        pull = show(fans.pull, Dimension.PRESSURE, system)
        yield f"through its openings outdoors alone, {show(fans.free, Dimension.AREA, system)}, that would pull {pull}"


def _amount(value: float | None, provision: Provision, system: System) -> str:
    return "not known" if value is None else show(value, _DIMENSIONS[provision.measure], system)


def _cure(cure: Cure, room: RoomAir, system: System) -> str:
    if cure.flow is not None:
        text = f"{cure.name}: {show(cure.flow, Dimension.VOLUME_FLOW, system)}"
    else:
        free, metal, wood = (
            show(area or 0.0, Dimension.AREA, system) for area in (cure.free_area, cure.metal, cure.wood)
        )
        each = " each" if cure.count > 1 else ""
        text = f"{cure.name}: {free} free{each}, {metal} behind a metal louver, {wood} behind a wooden one"
        if cure.more is not None:
            text += f"; {show(cure.more, Dimension.AREA, system)} more than there is"
        elif cure.volume is not None:
            text += f"; that room must have {show(cure.volume, Dimension.VOLUME, system)} or more"
    if cure.name == room.smallest:
        text += "; the smallest to make"
    return f"{text} ({_status(cure.status)})" if cure.status == "from memory" else text


def as_object(study: RoomAirStudy, system: System) -> dict[str, Any]:
    """The answer in SI units; keys end in their unit."""
    return {
        "enough": study.enough,
        "rooms": [_room_object(room, system) for room in study.rooms],
        "source": study.source,
        "rules": [{"source": source, "status": status} for source, status in study.rules],
        "cautions": [say(caution, system) for caution in study.cautions],
    }


_ROOM = Keys(
    RoomAir,
    "name verdict fan_input_W:fan natural_input_W:natural volume_m3 counted_volume_m3:counted "
    "required_volume_m3:required missing_volume_m3:missing share_of_openings_outdoors:factor governing",
)
_METHOD = Keys(VolumeMethod, "name volume_m3 source status")
_BESIDE = Keys(Lent, "name:room volume_m3 counts")
_PROVISION = Keys(Provision, "name measure enough source status")
_FANS = Keys(
    Fans,
    "names exhaust_m3_s burning_m3_s leaking_m3_s blown_in_m3_s:blown missing_m3_s openings_outdoors_m2:free pull_Pa "
    "may_turn_natural_draft_round:hard",
)
_CURE = Keys(
    Cure,
    "name openings:count free_area_m2 behind_metal_louver_m2:metal behind_wooden_louver_m2:wood flow_m3_s "
    "volume_of_room_m3:volume room more_free_area_m2:more status",
)


def _room_object(room: RoomAir, system: System) -> dict[str, Any]:
    def said(finding: Finding | None) -> str:
        return "" if finding is None else say(finding, system)

    return {
        **_ROOM(room),
        "methods": [{**_METHOD(method), "why_not": said(method.why_not)} for method in room.methods],
        "beside": [{**_BESIDE(one), "reason": said(one.reason)} for one in room.beside],
        "provisions": [
            {
                **_PROVISION(provision),
                "reason": _why(provision, system),
                f"needed_{_UNITS[provision.measure]}": provision.needed,
                f"present_{_UNITS[provision.measure]}": provision.present,
            }
            for provision in room.provisions
        ],
        "fans": None if room.fans is None else _FANS(room.fans),
        "cures": [{**_CURE(cure), "smallest": cure.name == room.smallest} for cure in room.cures],
        "cautions": [said(caution) for caution in room.cautions],
    }
