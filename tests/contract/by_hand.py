"""Small jobs and tables to be worked by hand."""

from __future__ import annotations

from typing import Any

from tests.contract.naive import Answer, judge
from tests.contract.reading import Data

FT = 0.3048
DEDUCTIONS: Data = {
    "elbow-90-long": "3 ft",
    "elbow-90-short": {"2 in": "5 ft", "3 in": "8 ft"},
    "elbow-45": {"per_two": "3 ft"},
    "tee-branch": "7 ft",
    "tee-through": "2 ft",
    "increaser": {"2 in": "1 ft", "3 in": "2 ft", "4 in": "4 ft"},
    "terminal-open": "0 ft",
    "terminal-elbow-down": "4 ft",
}


def row(feet: Any = 90, **more: Any) -> Data:
    """A row at 80 kBtu/h in 3 in."""
    base: Data = {"input": "80 kBtu/h", "size": "3 in", "altitude": ["0 ft", "4500 ft"]}
    return {**base, "allowable": feet if isinstance(feet, str) else f"{feet} ft", **more}


def counted(lengths: list[Any], **more: Any) -> Data:
    """An elbow-count row at 80 kBtu/h in 3 in."""
    texts = [one if isinstance(one, str) else f"{one} ft" for one in lengths]
    base: Data = {"input": "80 kBtu/h", "size": "3 in", "altitude": ["0 ft", "4500 ft"]}
    return {**base, "allowable_by_elbows": texts, **more}


def page(rows: list[Data], **more: Any) -> Data:
    """A table of these rows."""
    base: Data = {"applies_to": ["flue gas", "combustion air"], "counts": "each run", "deductions": DEDUCTIONS}
    return {**base, "row": rows, **more}


def pieces(*parts: Any) -> list[Data]:
    """Feet of pipe, or (feet, heading), or a fitting's name, or a piece as it stands."""
    found: list[Data] = []
    for part in parts:
        if isinstance(part, str):
            found.append({"fitting": part})
        elif isinstance(part, dict):
            found.append(part)
        elif isinstance(part, tuple):
            found.append({"pipe": f"{part[0]} ft", "heading": part[1]})
        else:
            found.append({"pipe": f"{part} ft"})
    return found


def vent(*parts: Any, **more: Any) -> Data:
    """A vent of the furnace, of 3 in pipe."""
    base: Data = {"name": "vent", "carries": "flue gas", "between": ["furnace", "outdoors"], "size": "3 in"}
    return {**base, "material": "pvc-40", "table": "t.toml", "pieces": pieces(*parts), **more}


def air(*parts: Any, **more: Any) -> Data:
    """Its air pipe."""
    return {**vent(*parts), "name": "air", "carries": "combustion air", **more}


def furnace(name: str = "furnace", kbtu: float = 80, **more: Any) -> Data:
    """An appliance of one rate."""
    rate = {"name": "high", "input": f"{kbtu} kBtu/h", "excess_air": 0.35, "flue_temperature": "110 degF"}
    return {"name": name, "fuel": "natural gas", "rate": [rate], "air": "room", **more}


def asked(table: Data, *runs: Data, site: Data | None = None, plant: list[Data] | None = None, **more: Any) -> Answer:
    """The naive answer."""
    job: Data = {"title": "By hand", "site": {"altitude": "500 ft"} if site is None else site}
    piped = any(run["carries"] == "combustion air" for run in runs)
    job.update(appliance=plant or [furnace(air="pipe" if piped else "room")], run=list(runs), **more)
    return judge(job, {"t.toml": table})


def came_to(answer: Answer) -> tuple[str, set[str]]:
    """Verdict and reasons."""
    return answer.verdict, {fault.reason for fault in answer.faults}
