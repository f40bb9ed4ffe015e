"""Conditions and findings as JSON: codes, places, SI values whose keys end in their unit, and the text."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import fields
from typing import Annotated, Any, TypedDict

from ventsize.finding import Amount, Finding, Outcome, Severity, State, Value, Where
from ventsize.quantity import Dimension, System
from ventsize.report.wording import reason, say

UNITS: dict[Dimension, str] = {
    Dimension.LENGTH: "_m",
    Dimension.PRESSURE: "_Pa",
    Dimension.POWER: "_W",
    Dimension.TEMPERATURE: "_K",
    Dimension.TEMPERATURE_DIFFERENCE: "_K",
    Dimension.VELOCITY: "_m_s",
    Dimension.ANGLE: "_rad",
    Dimension.FRACTION: "",
}
"""What the key of an amount ends in."""


class ConditionObject(TypedDict):
    """A condition of a pass; run: null where it is of the job."""

    code: str
    state: State
    run: str | None
    text: str


class FindingObject(TypedDict):
    """Something said beside the result; values: in SI, their keys end in the unit."""

    code: str
    severity: Severity
    where: Annotated[dict[str, Any], Where]
    values: dict[str, Any]
    text: str


def conditions_as_objects(conditions: Iterable[Outcome], system: System) -> list[ConditionObject]:
    """Every condition of a pass, as the contract has it."""
    return [
        {"code": o.condition, "state": o.state, "run": o.run, "text": reason(o, system, with_run=False)}
        for o in conditions
    ]


def findings_as_objects(findings: Iterable[Finding], system: System) -> list[FindingObject]:
    """Every finding, as the contract has it."""
    return [
        {
            "code": finding.code,
            "severity": finding.severity,
            "where": where_as_object(finding.where),
            "values": values_as_object(finding.values),
            "text": say(finding, system),
        }
        for finding in findings
    ]


def where_as_object(where: Where) -> dict[str, Any]:
    """A place; the keys that do not apply are left out."""
    found = {field.name: getattr(where, field.name) for field in fields(where)}
    return {name: list(v) if isinstance(v, tuple) else v for name, v in found.items() if v is not None}


def values_as_object(values: Mapping[str, Value]) -> dict[str, Any]:
    """Values by name; amounts in SI, with the unit at the end of the key."""
    found: dict[str, Any] = {}
    for name, value in values.items():
        if isinstance(value, Amount):
            found[name + UNITS[value.dimension]] = value.value
        else:
            found[name] = list(value) if isinstance(value, tuple) else value
    return found
