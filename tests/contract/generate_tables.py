"""Random allowance tables."""

from __future__ import annotations

import itertools
from copy import deepcopy

from tests.contract.drawing import ENDS, EVERY, FT, SIZES, Draw
from tests.contract.reading import Data, length


def table(d: Draw, inputs: list[float]) -> Data:
    together = d.chance(0.2)
    table: Data = {
        "title": "Drawn table",
        "source": "Invented",
        "applies_to": ["flue gas", "combustion air"] if d.chance(0.95) else ["flue gas"],
        "counts": "runs together" if together else "each run",
    }
    kind = d.rng.choices(("plain", "elbows", "both", "pressure"), (60, 25, 10, 5))[0]
    if kind in ("plain", "both") or d.chance(0.2):
        table["deductions"] = _deductions(d, kind)
    if kind in ("elbows", "both") and d.chance(0.5):
        names = d.rng.sample(("elbow-90-mitered", "tee-branch", "tee-through", "elbow-45", "elbow-90-short"), 2)
        table["elbows_each"] = {name: d.rng.choice((0, 1, 2, 2)) for name in names}
        if d.chance(0.3):
            table["elbows_each"][d.rng.choice(ENDS)] = 1
    _special(d, table)
    table["row"] = _rows(d, inputs, kind)
    _own(d, table)
    if d.chance(0.015):
        place = d.rng.choice(("deductions", "elbows_each", "counts_as"))
        table.setdefault(place, {})[{"counts_as": "pcv-40"}.get(place, "elbow-90-logn")] = (
            "3 ft" if place == "deductions" else 2
        )
    return table


def _own(d: Draw, table: Data) -> None:
    """Fittings of the page's own."""
    records: list[Data] = []
    if "wall-kit" in d.own or d.chance(0.03):
        kind = "terminal" if "wall-kit" in d.own else d.rng.choice(("terminal", "other"))
        records.append({"name": "wall-kit", "title": "Wall kit", "kind": kind, "k": 1.2})
    if "page-bend" in d.own:
        records.append({"name": "page-bend", "title": "Bend of the page", "kind": "elbow", "angle": "90 deg"})
    for record in records:
        if d.chance(0.85):
            table.setdefault("deductions", {})[record["name"]] = d.feet(d.rng.choice((0, 5)))
    if records and not d.chance(0.02):
        table["fitting"] = records


def _deductions(d: Draw, kind: str) -> Data:
    found: Data = {}
    for name in (*EVERY, *(d.own & {"own-bend"})):
        if d.chance(0.015 if kind != "elbows" else 0.8):
            continue
        end = name.startswith(("terminal", "entrance"))
        values = (0, 0, 3) if end or name == "coupling" else (2, 3, 5, 7)
        value = d.rng.choice(values)
        if d.chance(0.12):
            found[name] = {size: d.feet(value + index) for index, size in enumerate(SIZES) if not d.chance(0.03)}
            found[name] = found[name] or d.feet(value)
        elif name in ("elbow-45", "elbow-22") and d.chance(0.25):
            found[name] = {"per_two": d.feet(value)}
        else:
            found[name] = d.feet(value)
    return found


def _special(d: Draw, table: Data) -> None:
    """What a page may say besides rows and deductions, each now and then."""
    if d.chance(0.12):
        table["mixed_sizes"] = d.rng.choice(("shares", "shares", "strictest"))
    if d.chance(0.2):
        less = d.rng.choice(("4 %", "10 %", "25 %"))
        table["altitude_factor"] = {"above": d.rng.choice(("2000 ft", "0 ft")), "per": "1000 ft", "less": less}
    if d.chance(0.08):
        table["confirm"] = ["Terminals on one wall."]
    if d.chance(0.15):
        table["counts_as"] = {"flexible-liner-corrugated": d.rng.choice((1.5, 2.0, 3))}
        if d.chance(0.2):
            table["counts_as"]["abs-40"] = d.rng.choice((0.5, 1.25))
    if d.chance(0.3):
        choices = {
            "most_elbows": d.rng.choice((2, 3, 4, 6, 8)),
            "longest_level": d.feet(d.rng.choice((15, 30, 60))),
            "longest_rise": d.feet(d.rng.choice((15, 30, 60))),
            "longest_difference": d.feet(d.rng.choice((5, 20, 40))),
            "same_size": True,
        }
        names = d.rng.sample(list(choices), d.rng.choice((1, 1, 2)))
        table["limits"] = {name: choices[name] for name in names}
        if names == ["most_elbows"] and d.chance(0.2):
            table["most_elbows"] = table.pop("limits")["most_elbows"]
    if d.chance(0.08):
        table["exposed"] = _exposed(d)


def _exposed(d: Draw) -> list[Data]:
    rows = []
    for size in d.rng.sample(SIZES, d.rng.choice((1, 2, 3, 3))):
        for outdoor in d.rng.sample(("-20 degF", "-10 degF", "0 degF", "20 degF"), d.rng.choice((1, 2, 3))):
            for insulation in d.rng.sample(("0 in", "1/2 in", "1 in"), d.rng.choice((1, 2))):
                allowable = d.feet(d.rng.choice((5, 10, 20, 40)))
                rows.append({"size": size, "outdoor": outdoor, "insulation": insulation, "allowable": allowable})
    return rows


def _bands(d: Draw) -> list[list[str] | None]:
    way = d.rng.randrange(10)
    if way < 3:
        return [None]
    if way < 8:
        return [["0 ft", "2000 ft"], ["2000 ft", "4500 ft"], ["4500 ft", "8000 ft"]]
    return [["0 ft", "2000 ft"], ["3000 ft", "4500 ft"]] if way == 8 else [["0 ft", "4500 ft"]]


def _rows(d: Draw, inputs: list[float], kind: str) -> list[Data]:
    bands, rows = _bands(d), []
    conditions = {"none": 60, "pipes": 10, "ends": 8, "materials": 8, "air_size": 8, "nested": 6}
    conditions["kit"] = 30 if "wall-kit" in d.own else 0
    condition = d.rng.choices(list(conditions), list(conditions.values()))[0]
    pressed = {size: kind if kind != "both" else d.rng.choice(("plain", "elbows")) for size in SIZES}
    for (band_number, band), (size_number, size) in itertools.product(enumerate(bands), enumerate(SIZES)):
        if d.chance(0.05):
            continue
        for input_number, figure in enumerate(inputs):
            base: Data = {"input": f"{figure} kBtu/h", "size": size}
            if band is not None:
                base["altitude"] = list(band)
            feet = 55 + 35 * size_number - 6 * input_number - 5 * band_number + d.rng.randint(-5, 20)
            if not d.chance(0.04):
                rows += _variants(d, base, condition, pressed[size], feet)
    if kind == "plain" and d.chance(0.12):
        for row in rows:
            row["elbows_included"] = d.rng.choice((1, 2, 2))
    if d.chance(0.01) and rows:
        rows.append(deepcopy(d.rng.choice(rows)))
    return rows or [{"input": "80 kBtu/h", "size": "3 in", "allowable": "60 ft"}]


def _variants(d: Draw, base: Data, condition: str, kind: str, feet: int) -> list[Data]:
    """A row for each of the conditions of a table."""
    rows = []
    for extra in _conditions(d, condition):
        row = {**base, **_allowed(d, kind, feet + d.rng.randint(0, 5)), **extra}
        if d.chance(0.25) and _least(row) > 8:
            row["minimum"] = d.feet(d.rng.choice((3, 5, 8)))
        rows.append(row)
    return rows


def _least(row: Data) -> float:
    """The shortest length that a row allows [ft]."""
    lengths = [row.get("allowable", "9 ft"), *row.get("allowable_by_elbows", [])]
    return min((length(text) / FT for text in lengths if text != "not permitted"), default=0.0)


def _allowed(d: Draw, kind: str, feet: int) -> Data:
    feet = max(3, feet)
    if kind == "pressure":
        return {"allowable_pressure": d.rng.choice(("3 in w.c.", "0.5 in w.c.", "0.1 in w.c."))}
    if kind == "plain":
        return {"allowable": "not permitted" if d.chance(0.02) else d.feet(feet)}
    lengths = [d.feet(max(1, feet - 4 * place)) for place in range(d.rng.choice((5, 8, 10)))]
    if d.chance(0.3):
        lengths[-1] = "not permitted"
    row: Data = {"allowable_by_elbows": lengths}
    if d.chance(0.2):
        row["first_elbows"] = d.rng.choice((0, 1, 2))
    return row


def _conditions(d: Draw, condition: str) -> list[Data]:
    """The variants of one row."""
    found: dict[str, list[Data]] = {
        "none": [{}],
        "pipes": [{"pipes": "one"}, {"pipes": "two"}],
        "ends": [{"ends": ["terminal-open", "entrance-open"]}, {"ends": ["terminal-screened"]}, {}],
        "kit": [{"ends": ["wall-kit"]}, {"ends": ["terminal-open", "terminal-elbow-down"]}],
        "materials": [{"materials": ["pvc-40", "abs-40"]}, {"materials": ["cpvc-40"]}],
        "air_size": [{"air_size": "2 in"}, {"air_size": "3 in"}, {}],
        "nested": [{"pipes": "two"}, {"pipes": "two", "ends": ["terminal-open"]}, {}],
    }
    rows = found[condition]
    return [row for row in rows if not d.chance(0.08)] or [{}]
