"""Costs in words: to the cent, in the currency as the user writes it; what has no price is named, never nothing."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from difflib import get_close_matches
from typing import Any

from ventsize.quantity import System
from ventsize.report.items import describe
from ventsize.report.keys import Keys
from ventsize.studies.pricing import ChangeCost
from ventsize.studies.pricing.prices import Cost

MOST_NAMED = 3


def amount(value: Decimal, currency: str) -> str:
    """An amount of money: `1,234.50 USD`, `$1,234.50`; the bare number where the currency is not named."""
    return f"{currency}{value:,}" if currency[-1:] in ("$", "£", "¥") else f"{value:,} {currency}".strip()


def in_column(value: Decimal, column: Iterable[Decimal | None]) -> str:
    """A price with as many decimals as the finest of its column has, two at least: their points stand in a line."""
    exponents = [int(one.as_tuple().exponent) for one in column if one is not None]
    return f"{value:,.{max(2, -min(exponents, default=-2))}f}"


def least(value: Decimal, at_least: bool) -> str:
    """A sum, with "at least" before it where it may come to more."""
    return f"at least {value:,}" if at_least else f"{value:,}"


def total_words(cost: Cost) -> str:
    """The total in its currency: the least where it may come to more, not known where nothing has a price."""
    if is_unknown(cost):
        return "not known"
    return f"{'at least ' if cost.at_least else ''}{amount(cost.total, cost.currency)}"


def cost_words(cost: Cost, system: System) -> str:
    """What a job costs, with its hours of labor; where it may be more, why."""
    hours = f", {cost.hours.normalize():f} hours" if cost.hours else ""
    why = f" ({missing_words(cost, system)})" if cost.at_least or cost.lowest < cost.highest else ""
    if cost.at_least and not cost.total:
        return f"cost not known{why}"
    return f"cost {total_words(cost)}{hours}{why}"


def missing_words(cost: Cost, system: System) -> str:
    """What keeps a cost from being whole, a few names at most."""
    return ", ".join(reasons(cost, system, most=MOST_NAMED))


def reasons(cost: Cost, system: System, *, most: int | None = None) -> list[str]:
    """Why a cost is the least, or may be another, a few words each. most: how many names are given."""
    names = [describe(item, system) for item in cost.without_price]
    shown = names if most is None else names[:most]
    more = f" and {len(names) - len(shown)} more" if len(names) > len(shown) else ""
    said = [f"price missing: {'; '.join(shown)}{more}"] if names else []
    if most is None:
        said += [f"the list has '{near}': if {name} is meant, name it so" for name, near in misspelt(cost)]
    if cost.labor_without_rate:
        said.append(f"labor of {cost.hours.normalize():f} hours not in it: an hour has no price")
    if cost.left_out:
        said.append("the takeoff is not complete")
    if cost.lowest < cost.highest:
        said.append(f"{cost.lowest:,} to {cost.highest:,}: fitting lengths are estimated")
    return said


def misspelt(cost: Cost) -> list[tuple[str, str]]:
    """Things without a price, and names of the list that are nothing here and hardly differ from theirs."""
    unused = {price.item for price in cost.prices.prices} - {line.item.what for line in cost.lines}
    found = []
    for name in dict.fromkeys(item.what for item in cost.without_price):
        alike = [one for one in unused if abs(len(one) - len(name)) <= 2 and _digits(one) == _digits(name)]
        found += [(name, near) for near in get_close_matches(name, alike, 1, 0.8)]
    return found


def _digits(text: str) -> str:
    return "".join(filter(str.isdigit, text))


def change_words(cost: ChangeCost, system: System) -> list[str]:
    """What a change costs: the new parts alone, and how much more or less the whole job costs."""
    parts = cost.parts
    if not parts.lines:
        said = ["no new parts"]
    elif parts.at_least and not parts.total:
        said = [f"new parts: {missing_words(parts, system)}"]
    elif parts.at_least:
        said = [f"new parts at least {amount(parts.total, parts.currency)} ({missing_words(parts, system)})"]
    else:
        said = [f"new parts {amount(parts.total, parts.currency)}"]
    if cost.more is not None:
        ranged = cost.least_more is not None and cost.most_more is not None and cost.least_more < cost.most_more
        within = f", {cost.least_more:+,} to {cost.most_more:+,}: fitting lengths are estimated" if ranged else ""
        said.append(f"whole job {amount(cost.whole.total, parts.currency)} ({cost.more:+,}{within})")
    elif parts.lines and not parts.at_least:
        said.append(f"of the whole job, {missing_words(cost.whole, system) or 'as it is, a price is missing'}")
    return said


def is_unknown(cost: Cost) -> bool:
    """Whether nothing of it has a price, so that its sum of zero is none."""
    return len(cost.without_price) == len(cost.lines) and not cost.total


def cost_object(cost: Cost) -> dict[str, Any]:
    """A cost for JSON; money as text, to the cent."""
    return {
        **_COST(cost),
        "price_missing": [[item.what, item.label, item.material] for item in cost.without_price],
        "left_out": [found.code for found in cost.left_out],
    }


_COST = Keys(Cost, "currency total at_least whole lowest highest materials hours labor")


def change_object(cost: ChangeCost) -> dict[str, Any]:
    """What a change costs, for JSON."""
    return {"whole_job": cost_object(cost.whole), **_MORE(cost), "new_parts": cost_object(cost.parts)}


_MORE = Keys(ChangeCost, "more")
