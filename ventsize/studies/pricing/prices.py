"""Prices from the user's own list, put to a takeoff: decimal arithmetic, and what has no price is never nothing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, PlainValidator

from ventsize import quantity
from ventsize.catalog.properties import Written
from ventsize.catalog.records import NOMINAL_TOLERANCE, same_size
from ventsize.finding import Finding
from ventsize.jobfile.document import record
from ventsize.jobfile.field_types import Expected, PositiveLength
from ventsize.quantity import Dimension, Unusable
from ventsize.studies.pricing.amounts import read_amount, read_share
from ventsize.studies.takeoff.tally import Item, Takeoff

CENT = Decimal("0.01")
_MOST_HOURS = 1_000


def _price(value: Any) -> Decimal:
    if isinstance(value, Decimal):
        return value
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        raise Unusable(f"{value!r:.40} is not a number", "one such as '4.35'")
    return read_amount(str(value))[0]


def _hours(value: Any) -> Decimal:
    if isinstance(value, Decimal):
        return value
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        raise Unusable(f"{value!r:.40} is not a number", "one such as '0.25'")
    try:
        number = Decimal(str(value).strip().replace(",", "."))
    except InvalidOperation:
        raise Unusable(f"{value!r:.40} is not a number", "one such as '0.25'") from None
    if not number.is_finite() or not 0 <= number <= _MOST_HOURS:
        raise Unusable(f"{value!r:.40} cannot be", f"hours for one, zero or more, up to {_MOST_HOURS:,}")
    return number


def _share(value: Any) -> Decimal:
    if isinstance(value, Decimal):
        return value
    return read_share(value if isinstance(value, str) else repr(value))


def _pack(value: Any) -> int:
    text = str(value).strip()
    if isinstance(value, bool) or not text.isdecimal() or not 1 <= int(text[:9]) <= 10_000:
        raise Unusable(f"{value!r:.40} cannot be", "how many there are in a pack, such as 25")
    return int(text)


def _sizes(value: Any) -> tuple[float, ...]:
    if isinstance(value, tuple):
        return value
    if not isinstance(value, str):
        raise Unusable(f"{value!r:.40} is not a size in quotes", "one such as '3 in' or '4 in x 3 in'")
    return tuple(quantity.parse(part, Dimension.LENGTH) for part in value.split(" x "))


def _optional(value: Any) -> Any:
    """An empty field of a CSV file is one left out."""
    return None if value == "" else value


Money = Annotated[Decimal, PlainValidator(_price), Expected("a price such as '4.35'")]
Hours = Annotated[Decimal, PlainValidator(_hours), Expected("hours such as '0.25'")]
Share = Annotated[Decimal, PlainValidator(_share), Expected("a share such as '15 %'")]
Pack = Annotated[int, PlainValidator(_pack), Expected("how many there are in a pack, such as 25")]
TaxOn = Literal["materials", "everything"]
Sizes = Annotated[tuple[float, ...], PlainValidator(_sizes), Expected("a size such as '3 in' or '4 in x 3 in'")]


@record
class Price:
    """One price. material, size [m], length [m]: for which alone it holds.

    hours: of labor for one. pack: how many come for the price; bought in whole packs.
    """

    item: Written
    price: Money
    material: Annotated[Written | None, BeforeValidator(_optional)] = None
    size: Annotated[Sizes | None, BeforeValidator(_optional)] = None
    length: Annotated[PositiveLength | None, BeforeValidator(_optional)] = None
    hours: Annotated[Hours | None, BeforeValidator(_optional)] = None
    pack: Annotated[Pack | None, BeforeValidator(_optional)] = None

    def holds_for(self, item: Item) -> bool:
        """Whether this is a price of that item."""
        if self.item != item.what or self.material not in (None, item.material):
            return False
        if self.length is not None and (item.length is None or not _same((self.length,), (item.length,))):
            return False
        sizes = item.sizes[:1] if item.what == "insulation" and len(self.size or ()) == 1 else item.sizes
        return self.size is None or _same(self.size, sizes)

    @property
    def narrowness(self) -> int:
        """How much it says about what it holds for: of two prices the narrower one is meant."""
        return sum(value is not None for value in (self.material, self.size, self.length))

    @property
    def identity(self) -> tuple[object, ...]:
        """What it holds for; two prices of one identity contradict each other."""
        sizes = None if self.size is None else tuple(round(size / NOMINAL_TOLERANCE) for size in self.size)
        length = None if self.length is None else round(self.length / NOMINAL_TOLERANCE)
        return self.item, self.material, sizes, length


def _same(first: tuple[float, ...], second: tuple[float, ...]) -> bool:
    return len(first) == len(second) and all(map(same_size, first, second))


@record
class Charge:
    """Something charged once for a job, such as a trip or a permit."""

    name: Written
    price: Money


@record
class PriceList:
    """The user's prices. currency: as they write it, empty where they do not. labor: the price of an hour.

    markup: on materials, as a share of them. tax: as a share of what it is on: materials with their mark-up, or
    everything. charges: added once for each job.
    """

    currency: str
    prices: tuple[Price, ...]
    source: str = ""
    labor: Decimal | None = None
    markup: Decimal | None = None
    tax: Decimal | None = None
    tax_on: TaxOn = "materials"
    charges: tuple[Charge, ...] = ()

    def price_of(self, item: Item) -> Price | None:
        """The narrowest price that holds for an item, or None."""
        found = [price for price in self.prices if price.holds_for(item)]
        return max(found, key=lambda price: price.narrowness) if found else None


def with_prices(listed: PriceList, more: Sequence[Price]) -> PriceList:
    """The list with more prices; one that holds for the same thing takes the place of the one there."""
    known = {price.identity: price for price in (*listed.prices, *more)}
    return replace(listed, prices=tuple(known.values()))


def for_jobs(listed: PriceList, number: int) -> PriceList:
    """The list for so many jobs at once: what is charged for each is charged for all of them."""
    return replace(listed, charges=tuple(listed.charges * number))


@dataclass(frozen=True, slots=True, kw_only=True)
class PricedItem:
    """An item with its price, and what it comes to, to the cent; None where the list has no price.

    hours: of labor for one; all_hours: for all. pack: how many come for the price, 1 where they are sold one by one.
    packs: how many of them are bought.
    """

    item: Item
    price: Decimal | None = None
    amount: Decimal | None = None
    hours: Decimal | None = None
    all_hours: Decimal | None = None
    pack: int = 1
    packs: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """What a takeoff costs.

    materials: of what has a price. hours: of labor of the items that have hours. rate: the price of an hour, and
    labor: of all hours, None where the list has none. markup: on materials. charges: trip, permit and the like.
    tax: None where the list has none. total: of all of these.
    without_price: what has none. left_out: what the takeoff says is missing from it.
    lowest, highest: the total over the range of center-to-end lengths that are only estimated; alike where it makes
    no difference, or was not asked for.
    """

    prices: PriceList
    lines: tuple[PricedItem, ...]
    materials: Decimal
    hours: Decimal
    labor: Decimal | None
    markup: Decimal | None
    charges: tuple[Charge, ...]
    tax: Decimal | None
    total: Decimal
    lowest: Decimal
    highest: Decimal
    left_out: tuple[Finding, ...] = ()

    @property
    def currency(self) -> str:
        """As the list writes it; empty where it does not."""
        return self.prices.currency

    @property
    def source(self) -> str:
        """Where the prices come from."""
        return self.prices.source

    @property
    def without_price(self) -> tuple[Item, ...]:
        """What the list has no price for."""
        return tuple(line.item for line in self.lines if line.price is None)

    @property
    def labor_without_rate(self) -> bool:
        """Whether there are hours of labor and an hour has no price."""
        return bool(self.hours) and self.labor is None

    @property
    def whole(self) -> bool:
        """Whether everything has a price and nothing is left out."""
        return not (self.left_out or self.labor_without_rate or self.without_price)

    @property
    def at_least(self) -> bool:
        """Whether it may come to more: something is missing, or estimated too short."""
        return not self.whole or self.highest > self.total

    @property
    def known(self) -> Decimal | None:
        """The total, estimated lengths taken at their middle; None where something is missing."""
        return self.total if self.whole else None

    def may_equal(self, other: Cost) -> bool:
        """Whether estimated lengths leave open which of two costs is the lower one."""
        return self.lowest <= other.highest and other.lowest <= self.highest


PriceOf = Callable[[Item], Price | None]


def cost(takeoff: Takeoff, prices: PriceList, *, price_of: PriceOf | None = None) -> Cost:
    """A takeoff at the user's prices; each line is rounded to the cent, and the total is the sum of the lines.

    price_of: looks a price up, in place of the list's own slower way.
    """
    find = price_of or prices.price_of
    found = _added_up(takeoff.items, prices, find)
    totals = [found.total, *(_added_up(items, prices, find).total for items in takeoff.ends_of_range)]
    return replace(found, lowest=min(totals), highest=max(totals), left_out=takeoff.missing)


def _added_up(items: tuple[Item, ...], prices: PriceList, find: PriceOf) -> Cost:
    lines = tuple([_priced(item, find(item)) for item in items])
    materials = sum((line.amount for line in lines if line.amount is not None), Decimal(0)).quantize(CENT)
    hours = sum((line.all_hours for line in lines if line.all_hours is not None), Decimal(0))
    labor = None if prices.labor is None else _cents(hours * prices.labor)
    markup = None if prices.markup is None else _cents(materials * prices.markup)
    with_markup = materials + (markup or 0)
    before_tax = with_markup + (labor or 0) + sum((charge.price for charge in prices.charges), Decimal(0))
    taxed = with_markup if prices.tax_on == "materials" else before_tax
    tax = None if prices.tax is None else _cents(taxed * prices.tax)
    total = _cents(before_tax + (tax or 0))
    return Cost(
        prices=prices,
        lines=lines,
        materials=materials,
        hours=hours,
        labor=labor,
        markup=markup,
        charges=prices.charges,
        tax=tax,
        total=total,
        lowest=total,
        highest=total,
    )


def _priced(item: Item, price: Price | None) -> PricedItem:
    if price is None:
        return PricedItem(item=item)
    pack = price.pack or 1
    packs = -(-item.quantity // pack)
    return PricedItem(
        item=item,
        price=price.price,
        amount=_cents(price.price * packs),
        hours=price.hours,
        all_hours=None if price.hours is None else price.hours * item.quantity,
        pack=pack,
        packs=packs,
    )


def _cents(amount: Decimal) -> Decimal:
    return amount.quantize(CENT, rounding=ROUND_HALF_UP)
