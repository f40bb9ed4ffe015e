"""Prices from the user's own list, put to a takeoff: decimal arithmetic, and what has no price is never nothing."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation
from pathlib import Path
from typing import Annotated, Any

from pydantic import BeforeValidator, PlainValidator

from ventsize import quantity
from ventsize.catalog.folders import user_tables_folder
from ventsize.catalog.properties import Written
from ventsize.catalog.records import NOMINAL_TOLERANCE, same_size
from ventsize.finding import Finding
from ventsize.jobfile.document import parse_toml, read_text, record, validate
from ventsize.jobfile.fields import Expected, PositiveLength
from ventsize.jobfile.problems import InputError, Problem
from ventsize.quantity import Dimension
from ventsize.studies.takeoff.tally import Item, Takeoff

CENT = Decimal("0.01")
_MOST = Decimal(1_000_000_000)
_COLUMNS = ("item", "material", "size", "length", "price", "hours", "currency")


def _decimal(value: Any) -> Decimal:
    if isinstance(value, Decimal):
        return value
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        raise ValueError(f"{value!r:.40} is not a number; expected one such as '4.35'")
    try:
        number = Decimal(str(value).strip())
    except InvalidOperation:
        raise ValueError(f"{value!r:.40} is not a number; expected one such as '4.35'") from None
    if not number.is_finite() or not 0 <= number < _MOST:
        raise ValueError(f"{value!r:.40} cannot be; expected zero or more, below {_MOST:,}")
    return number


def _sizes(value: Any) -> tuple[float, ...]:
    if isinstance(value, tuple):
        return value
    if not isinstance(value, str):
        raise ValueError(f"{value!r:.40} is not a size in quotes; expected one such as '3 in' or '4 in x 3 in'")
    return tuple(quantity.parse(part, Dimension.LENGTH) for part in value.split(" x "))


def _optional(value: Any) -> Any:
    """An empty field of a CSV file is one left out."""
    return None if value == "" else value


Number = Annotated[Decimal, PlainValidator(_decimal), Expected("a number such as '4.35'")]
Sizes = Annotated[tuple[float, ...], PlainValidator(_sizes), Expected("a size such as '3 in' or '4 in x 3 in'")]


@record
class Price:
    """One price. material, size [m], length [m]: for which alone it holds. hours: of labor for one."""

    item: Written
    price: Annotated[Number, Expected("a price such as '4.35'")]
    material: Annotated[Written | None, BeforeValidator(_optional)] = None
    size: Annotated[Sizes | None, BeforeValidator(_optional)] = None
    length: Annotated[PositiveLength | None, BeforeValidator(_optional)] = None
    hours: Annotated[Number | None, BeforeValidator(_optional)] = None

    def holds_for(self, item: Item) -> bool:
        """Whether this is a price of that item."""
        if self.item != item.what or self.material not in (None, item.material):
            return False
        if self.length is not None and (item.length is None or not _same((self.length,), (item.length,))):
            return False
        return self.size is None or _same(self.size, item.sizes)

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
class PriceList:
    """The user's prices. currency: as they write it. labor: the price of an hour."""

    currency: Written
    prices: tuple[Price, ...]
    source: str = ""
    labor: Decimal | None = None

    def price_of(self, item: Item) -> Price | None:
        """The narrowest price that holds for an item, or None."""
        found = [price for price in self.prices if price.holds_for(item)]
        return max(found, key=lambda price: price.narrowness) if found else None


@record
class _Typed:
    """A price list as a TOML file has it."""

    currency: Written
    price: Annotated[tuple[Price, ...], Expected("at least one [[price]]")]
    source: str = ""
    labor: Number | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PricedItem:
    """An item with its price, and that times how many, to the cent; None where the list has no price."""

    item: Item
    price: Decimal | None
    amount: Decimal | None
    hours: Decimal | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """What a takeoff costs.

    total: of what has a price. without_price: what has none. left_out: what the takeoff says is missing from it.
    hours: of labor of the items that have hours; labor: their price, None where the list has no price of an hour.
    lowest, highest: the total over the range of center-to-end lengths that are only estimated; alike where it makes
    no difference, or was not asked for.
    """

    currency: str
    source: str
    lines: tuple[PricedItem, ...]
    materials: Decimal
    hours: Decimal
    labor: Decimal | None
    total: Decimal
    lowest: Decimal
    highest: Decimal
    without_price: tuple[Item, ...]
    left_out: tuple[Finding, ...] = ()

    @property
    def labor_without_rate(self) -> bool:
        """Whether there are hours of labor and an hour has no price."""
        return bool(self.hours) and self.labor is None

    @property
    def whole(self) -> bool:
        """Whether everything has a price and nothing is left out."""
        return not (self.without_price or self.left_out or self.labor_without_rate)

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
    hours = sum((line.hours for line in lines if line.hours is not None), Decimal(0))
    labor = None if prices.labor is None else _cents(hours * prices.labor)
    total = materials + (labor or Decimal(0))
    return Cost(
        currency=prices.currency,
        source=prices.source,
        lines=lines,
        materials=materials,
        hours=hours,
        labor=labor,
        total=total,
        lowest=total,
        highest=total,
        without_price=tuple(line.item for line in lines if line.price is None),
    )


def _priced(item: Item, price: Price | None) -> PricedItem:
    if price is None:
        return PricedItem(item=item, price=None, amount=None, hours=None)
    hours = None if price.hours is None else price.hours * item.quantity
    return PricedItem(item=item, price=price.price, amount=_cents(price.price * item.quantity), hours=hours)


def _cents(amount: Decimal) -> Decimal:
    return amount.quantize(CENT, rounding=ROUND_HALF_UP)


def read_prices(path: Path) -> PriceList:
    """A price list from a TOML or, by its ending, a CSV file. Raises InputError with every fault found."""
    text, file = read_text(path), str(path)
    listed = _from_csv(text, file) if path.suffix.lower() == ".csv" else _from_toml(text, file)
    faults = tuple(Problem(file, *fault) for fault in _faults(listed))
    if faults:
        raise InputError(faults)
    return listed


def _from_toml(text: str, file: str) -> PriceList:
    typed = validate(parse_toml(text, file=file), _Typed, file=file)
    return PriceList(currency=typed.currency, prices=typed.price, source=typed.source, labor=typed.labor)


def _from_csv(text: str, file: str) -> PriceList:
    """Rows under a line of column names; the item "labor" is the price of an hour."""
    try:
        rows = [row for row in csv.reader(io.StringIO(text)) if any(field.strip() for field in row)]
    except csv.Error as error:
        raise InputError(Problem(file, "", f"it is not CSV: {error}", "rows of fields with commas between")) from None
    if not rows:
        raise InputError(Problem(file, "", "it is empty", f"a line of column names: {', '.join(_COLUMNS)}"))
    names = [name.strip().lower() for name in rows[0]]
    wrong = [name for name in names if name not in _COLUMNS] or [name for name in names if names.count(name) > 1]
    lacking = [name for name in ("item", "price", "currency") if name not in names]
    if wrong or lacking:
        problem = f"the column '{wrong[0]:.40}' cannot be used" if wrong else f"there is no column '{lacking[0]}'"
        raise InputError(Problem(file, "line of column names", problem, f"the columns {', '.join(_COLUMNS)}"))
    currencies, prices, labor, faults = set(), [], None, []
    for number, row in enumerate(rows[1:], start=1):
        place = f"row {number}"
        if len(row) != len(names):
            faults.append(Problem(file, place, f"it has {len(row)} fields", f"{len(names)}, as in the first line"))
            continue
        data = {name: field.strip() for name, field in zip(names, row, strict=True)}
        currencies.add(data.pop("currency"))
        try:
            price = validate(data, Price, file=file, place=place)
        except InputError as error:
            faults += error.problems
            continue
        if price.item == "labor":
            labor = price.price
        else:
            prices.append(price)
    if not faults and len(currencies) != 1:
        found = ", ".join(sorted(currencies)) or "none"
        faults.append(Problem(file, "currency", f"the rows name {found}", "one currency in every row"))
    if faults:
        raise InputError(faults)
    return PriceList(currency=currencies.pop(), prices=tuple(prices), labor=labor)


def _faults(listed: PriceList) -> Iterator[tuple[str, str, str]]:
    if not listed.prices:
        yield "", "it has no prices", "at least one"
    seen: set[tuple[object, ...]] = set()
    for price in listed.prices:
        if price.identity in seen:
            yield f"price of '{price.item:.40}'", "two prices hold for the same thing", "one price each"
        seen.add(price.identity)


OWN = ("prices.toml", "prices.csv")
"""The user's own list, in their tables folder."""


def own_prices() -> PriceList | None:
    """The user's own price list, or None where they keep none. Raises InputError with every fault found."""
    found = [path for name in OWN if (path := user_tables_folder() / name).is_file()]
    return read_prices(found[0]) if found else None


def keep_prices(path: Path) -> PriceList:
    """A price list, kept as the user's own from now on. Raises InputError where it is none, OSError if not kept."""
    listed, text = read_prices(path), read_text(path)
    folder = user_tables_folder()
    name = OWN[1] if path.suffix.lower() == ".csv" else OWN[0]
    folder.mkdir(parents=True, exist_ok=True)
    beside = folder / f"{name}.part"
    beside.write_text(text, encoding="utf-8")
    os.replace(beside, folder / name)
    for other in OWN:
        if other != name:
            (folder / other).unlink(missing_ok=True)
    return listed
