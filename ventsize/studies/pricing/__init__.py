"""What many variants of one job cost, and what a change of it costs: the takeoff of each, at the user's prices."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from decimal import Decimal

from ventsize.check.inputs import Inputs
from ventsize.studies.pricing.prices import Cost, Price, PriceList, cost
from ventsize.studies.takeoff import takeoff
from ventsize.studies.takeoff.pipework import Plans
from ventsize.studies.takeoff.practice import Practice
from ventsize.studies.takeoff.tally import Item, Takeoff

SECONDS = 2.0  # for each cut list; those of one vent take a few hundredths


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeCost:
    """What a change of a job costs.

    whole: the job with it. more: how much more than as it is; None where either has something without a price.
    least_more, most_more: the same over the range of estimated center-to-end lengths.
    parts: what the job with it takes more of than the job as it is: what is bought if the rest is there already.
    """

    whole: Cost
    more: Decimal | None
    parts: Cost
    least_more: Decimal | None = None
    most_more: Decimal | None = None


class Pricer:
    """Costs of jobs by one price list. What was cut or looked up for one is used again for the next."""

    def __init__(self, prices: PriceList, practice: Practice) -> None:
        self.prices = prices
        self.practice = practice
        self._plans: Plans = {}
        self._found: dict[tuple[object, ...], Price | None] = {}

    def cost(self, inputs: Inputs, *, ranged: bool = False) -> Cost:
        """What a job costs; ranged: also over the range of estimated lengths, in up to three times the time."""
        return self._cost(self.takeoff(inputs, ranged=ranged))

    def takeoff(self, inputs: Inputs, *, ranged: bool = False) -> Takeoff:
        """What a job takes."""
        return takeoff(inputs, practice=self.practice, seconds=SECONDS, plans=self._plans, ranged=ranged)

    def change(self, before: Inputs, after: Inputs) -> ChangeCost:
        """What it costs to make one job the other."""
        one, other = self.takeoff(before, ranged=True), self.takeoff(after, ranged=True)
        was, whole = self._cost(one), self._cost(other)
        once = replace(self.prices, charges=())  # a trip is no part
        parts = cost(taken_more(one, other), once, price_of=self._price_of)
        if was.known is None or whole.known is None:
            return ChangeCost(whole=whole, more=None, parts=parts)
        # A fitting that both have is off by the same in both, so the ends of the ranges are compared with each other.
        more = [whole.total - was.total, whole.lowest - was.lowest, whole.highest - was.highest]
        return ChangeCost(whole=whole, more=more[0], parts=parts, least_more=min(more), most_more=max(more))

    def _cost(self, taken: Takeoff) -> Cost:
        return cost(taken, self.prices, price_of=self._price_of)

    def _price_of(self, item: Item) -> Price | None:
        key = (item.what, item.material, item.sizes, item.length)
        if key not in self._found:
            self._found[key] = self.prices.price_of(item)
        return self._found[key]


def taken_more(before: Takeoff, after: Takeoff) -> Takeoff:
    """What one takeoff has more of than another. Only what the second could not take is missing from it."""
    had = Counter({replace(item, quantity=0): item.quantity for item in before.items})
    more = [(item, item.quantity - had[replace(item, quantity=0)]) for item in after.items]
    items = tuple(replace(item, quantity=number) for item, number in more if number > 0)
    return Takeoff(title=after.title, items=items, cut_lists=(), notes=(), missing=after.missing)
