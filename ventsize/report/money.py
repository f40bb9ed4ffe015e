"""Costs in words: to the cent, in the currency as the user writes it; what has no price is named, never nothing."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from ventsize.quantity import System
from ventsize.report.takeoff import describe
from ventsize.studies.pricing import ChangeCost
from ventsize.studies.pricing.prices import Cost

MOST_NAMED = 3


def amount(value: Decimal, currency: str) -> str:
    """An amount of money: `1,234.50 USD`."""
    return f"{value:,} {currency}"


def cost_words(cost: Cost, system: System) -> str:
    """What a job costs, with its hours of labor; where it is only the least, what has no price."""
    hours = f", {cost.hours.normalize():f} hours" if cost.hours else ""
    if not cost.at_least:
        return f"cost {amount(cost.total, cost.currency)}{hours}"
    if not cost.total:
        return f"cost not known ({missing_words(cost, system)})"
    return f"cost at least {amount(cost.total, cost.currency)}{hours} ({missing_words(cost, system)})"


def missing_words(cost: Cost, system: System) -> str:
    """What keeps a cost from being whole."""
    names = [describe(item, system) for item in cost.without_price]
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    said = [f"price missing: {'; '.join(names[:MOST_NAMED])}{more}"] if names else []
    if cost.left_out:
        said.append("the takeoff is not complete")
    return ", ".join(said)


def change_words(cost: ChangeCost, system: System) -> list[str]:
    """What a change costs: the new parts alone, and how much more or less the whole job costs."""
    parts = cost.parts
    if not parts.lines:
        said = ["no new parts"]
    elif parts.at_least and not parts.total:
        said = [f"new parts: {missing_words(parts, system)}"]
    elif parts.at_least:
        least = amount(parts.total, parts.currency)
        said = [f"new parts at least {least} ({missing_words(parts, system)})"]
    else:
        said = [f"new parts {amount(parts.total, parts.currency)}"]
    if cost.more is not None:
        said.append(f"whole job {amount(cost.whole.total, parts.currency)} ({cost.more:+,})")
    elif parts.lines and not parts.at_least:
        said.append(f"of the whole job, {missing_words(cost.whole, system) or 'as it is, a price is missing'}")
    return said


def cost_object(cost: Cost) -> dict[str, Any]:
    """A cost for JSON; money as text, to the cent."""
    return {
        "currency": cost.currency,
        "total": f"{cost.total:f}",
        "at_least": cost.at_least,
        "materials": f"{cost.materials:f}",
        "hours": f"{cost.hours:f}",
        "labor": None if cost.labor is None else f"{cost.labor:f}",
        "price_missing": [[item.what, item.label, item.material] for item in cost.without_price],
        "left_out": list(cost.left_out),
    }


def change_object(cost: ChangeCost) -> dict[str, Any]:
    """What a change costs, for JSON."""
    return {
        "whole_job": cost_object(cost.whole),
        "more": None if cost.more is None else f"{cost.more:f}",
        "new_parts": cost_object(cost.parts),
    }
