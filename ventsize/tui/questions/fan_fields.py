"""The fields in which an inducer is described: its switch, its curve in points, where the curve comes from."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ventsize.jobfile.editing import Data, put, value_at
from ventsize.quantity import Dimension, QuantityError, System, parse, with_unit
from ventsize.tui.job.specs import Spec, share
from ventsize.tui.widgets.field import Choice

UNITS = {System.US: ("ft³/min", "in w.c."), System.SI: ("m³/h", "Pa")}
EXAMPLE = {
    "source": "Example to type over",
    "example": True,
    "adaptive": True,
    "curve": [["0 ft³/min", "2.2 in w.c."], ["20 ft³/min", "1.6 in w.c."], ["38 ft³/min", "0 in w.c."]],
}
YES_NO = {
    "adaptive": (Choice("yes", "changes its speed"), Choice("no", "keeps its speed")),
    "example": (Choice("yes", "no: an example"), Choice("no", "yes: its own data")),
}


def described(data: Data, at: int) -> bool:
    """Whether an appliance has its inducer described."""
    return isinstance(value_at(data, ("appliance", at, "inducer")), dict)


def begin(data: Data, at: int) -> Data:
    """The job with an example inducer at an appliance, to be typed over; it is called an example everywhere."""
    rates = value_at(data, ("appliance", at, "rate"), []) or []
    names = [str(rate.get("name")) for rate in rates if isinstance(rate, dict)]
    return put(data, ("appliance", at, "inducer"), {**EXAMPLE, "switch": dict.fromkeys(names, "0.5 in w.c.")})


def fan_specs(data: Data, at: int, system: System) -> list[Spec]:
    """The fields of one appliance's inducer."""
    base = ("appliance", at, "inducer")
    rates = value_at(data, ("appliance", at, "rate"), []) or []
    names = [str(rate.get("name")) for rate in rates if isinstance(rate, dict)]
    return [
        Spec(label="Curve", place=(*base, "curve"), topic="fan_curve",
             got=lambda d: points_text(value_at(d, (*base, "curve"))),
             put=lambda d, text: put(d, (*base, "curve"), points_of(text, system))),
        Spec(label="Comes from", place=(*base, "source"), topic="fan_source"),
        _choice("Its own data", base, "example"),
        _choice("Speed", base, "adaptive"),
        *(
            Spec(label=f"Switch, {name}", place=(*base, "switch", name), topic="fan_switch", kind="quantity",
                 dimension=Dimension.PRESSURE, unit=("in w.c.", "Pa"), example="0.75 in w.c.")
            for name in names
        ),
        *(share(f"Speed, {name}", (*base, "speeds", name), "fan_speed") for name in names),
    ]  # fmt: skip


def _choice(label: str, base: tuple[str | int, ...], key: str) -> Spec:
    def got(data: Data) -> str:
        return "no" if value_at(data, (*base, key)) is False else "yes"

    def changed(data: Data, word: str) -> Data:
        return put(data, (*base, key), word != "no")

    return Spec(label=label, place=(*base, key), topic=f"fan_{key}", kind="choice", choices=YES_NO[key],
                got=got, put=changed)  # fmt: skip


def points_text(curve: Any) -> str:
    """A curve as one line: `0 ft³/min: 2.2 in w.c.; 20 ft³/min: 1.6 in w.c.`."""
    if not isinstance(curve, (list, tuple)):
        return str(curve or "")
    pairs = [point for point in curve if isinstance(point, (list, tuple)) and len(point) == 2]
    return "; ".join(f"{flow}: {head}" for flow, head in pairs)


def points_of(text: str, system: System) -> Any:
    """The points of such a line; the text itself where it is not one, so that the job says what is wrong with it."""
    try:
        return [_point(part, system) for part in text.split(";") if part.strip()]
    except ValueError:
        return text


def _point(part: str, system: System) -> list[str]:
    flow, colon, head = part.partition(":")
    if not colon:
        raise ValueError
    flow_unit, head_unit = UNITS[system]
    return [
        _quantity(flow, flow_unit, lambda t: parse(t, Dimension.VOLUME_FLOW)),
        _quantity(head, head_unit, lambda t: parse(t, Dimension.PRESSURE)),
    ]


def _quantity(text: str, unit: str, read: Callable[[str], float]) -> str:
    """A quantity with its unit, the usual one where only a number is typed."""
    full = with_unit(text, unit)
    try:
        read(full)
    except QuantityError as error:
        raise ValueError(str(error)) from None
    return full
