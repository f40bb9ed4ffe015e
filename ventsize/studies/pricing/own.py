"""The user's own price list, kept in their tables folder, and the prices they typed on a takeoff beside it."""

from __future__ import annotations

import csv
import io
from decimal import Decimal
from pathlib import Path

from ventsize.catalog.folders import user_tables_folder
from ventsize.jobfile.letters import harmless
from ventsize.jobfile.whole import write_whole
from ventsize.quantity import Dimension, System, show
from ventsize.studies.pricing.files import prices_from_csv, read_prices, text_of
from ventsize.studies.pricing.prices import Price, PriceList, with_prices
from ventsize.studies.takeoff.tally import Item

OWN = ("prices.toml", "prices.csv")
TYPED = "prices-typed.csv"
"""Prices typed on a takeoff; a price there goes before one of the list."""

_COLUMNS = ("item", "size", "material", "length", "price", "hours", "pack")


def own_prices() -> PriceList | None:
    """The user's own price list with what they typed besides, or None where they keep none.

    Raises InputError with every fault found.
    """
    folder = user_tables_folder()
    found = [path for name in OWN if (path := folder / name).is_file()]
    typed = _typed()
    if not found:
        return PriceList(currency="", prices=typed) if typed else None
    return with_prices(read_prices(found[0]), typed)


def keep_prices(path: Path) -> PriceList:
    """A price list, kept as the user's own from now on. Raises InputError where it is none, OSError if not kept.

    What was typed on a takeoff stays, but for what the list has a price of its own for.
    """
    listed, text = read_prices(path), text_of(path)
    folder = user_tables_folder()
    name = OWN[1] if path.suffix.lower() == ".csv" else OWN[0]
    _write(folder / name, text)
    for other in OWN:
        if other != name:
            (folder / other).unlink(missing_ok=True)
    known = {price.identity for price in listed.prices}
    _write_typed([price for price in _typed() if price.identity not in known])
    return with_prices(listed, _typed())


def keep_price(item: Item, price: Decimal, *, hours: Decimal | None = None) -> PriceList:
    """The user's own list with a price for an item, kept. Raises InputError where the list cannot be read, OSError."""
    exact = Price(
        item=item.what,
        price=price,
        material=item.material or None,
        size=item.sizes or None,
        length=item.length,
        hours=hours,
    )
    _write_typed([*(one for one in _typed() if one.identity != exact.identity), exact])
    return own_prices() or PriceList(currency="", prices=(exact,))


def _typed() -> tuple[Price, ...]:
    path = user_tables_folder() / TYPED
    return prices_from_csv(text_of(path), str(path)).prices if path.is_file() else ()


def _write_typed(prices: list[Price]) -> None:
    path = user_tables_folder() / TYPED
    if not prices:
        path.unlink(missing_ok=True)
        return
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(_COLUMNS)
    for price in prices:
        size = " x ".join(_exactly(length) for length in price.size or ())
        length = "" if price.length is None else _exactly(price.length)
        hours = "" if price.hours is None else f"{price.hours:f}"
        texts = [harmless(price.item), size, harmless(price.material or ""), length, f"{price.price:f}", hours]
        writer.writerow([*texts, "" if price.pack is None else price.pack])
    _write(path, out.getvalue())


def _exactly(length: float) -> str:
    return show(length, Dimension.LENGTH, System.SI, style="fine")


def _write(path: Path, text: str) -> None:
    """All of it or nothing."""
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, text.encode())
