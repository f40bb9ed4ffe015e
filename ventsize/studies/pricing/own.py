"""The user's own price list, kept in their tables folder, and the prices they typed on a takeoff beside it."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

from ventsize.catalog.folders import user_tables_folder
from ventsize.jobfile.atomic_write import write_whole
from ventsize.jobfile.letters import harmless
from ventsize.quantity import Dimension, System, Unusable, show
from ventsize.studies.pricing.amounts import read_amount, read_share
from ventsize.studies.pricing.files import LABOR, MARKUP, TAX, prices_from_csv, read_prices, text_of
from ventsize.studies.pricing.prices import Price, PriceList, with_prices
from ventsize.studies.takeoff.tally import Item

OWN = ("prices.toml", "prices.csv")
TYPED = "prices-typed.csv"
"""Prices typed on a takeoff; a price there goes before one of the list."""

RATES = ("labor", "markup", "tax")
NONE = PriceList(currency="", prices=())

_COLUMNS = ("item", "size", "material", "length", "price", "hours", "pack", "currency")


def own_prices() -> PriceList | None:
    """The user's own price list with what they typed besides, or None where they keep none.

    Raises InputError with every fault found.
    """
    folder = user_tables_folder()
    found = [path for name in OWN if (path := folder / name).is_file()]
    typed = _typed()
    if not found:
        return None if typed == NONE else typed
    return _joined(read_prices(found[0]), typed)


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
    known, typed = {price.identity for price in listed.prices}, _typed()
    left: dict[str, Any] = {rate: None for rate in RATES if getattr(listed, rate) is not None}
    kept = tuple(price for price in typed.prices if price.identity not in known)
    _write_typed(replace(typed, prices=kept, **left))
    return _joined(listed, _typed())


def keep_price(item: Item, price: Decimal, *, currency: str = "") -> PriceList:
    """The user's own list with a price for an item, kept. Raises InputError where the list cannot be read, OSError.

    currency: as written with the price; one that is known already stays.
    """
    exact = Price(
        item=item.what,
        price=price,
        material=item.material or None,
        size=item.sizes or None,
        length=item.length,
    )
    typed = _typed()
    others = (one for one in typed.prices if one.identity != exact.identity)
    _write_typed(replace(typed, prices=(*others, exact), currency=typed.currency or currency))
    return own_prices() or PriceList(currency=currency, prices=(exact,))


def keep_rate(line: str) -> PriceList:
    """A rate for every job, as in `labor 95`, `mark-up 20 %`, `tax 7 %` and `currency USD`, kept.

    Raises ValueError with one sentence, InputError where the list cannot be read, OSError.
    """
    word, _, text = line.strip().partition(" ")
    name = word.lower().replace("mark-up", "markup").replace("labour", "labor")
    value: object
    if name == "labor":
        value = read_amount(text)[0]
    elif name in RATES:
        value = read_share(text)
    elif name == "currency" and (value := read_amount(f"1 {text}")[1]):
        pass
    else:
        raise Unusable(f"'{line:.40}' is no rate", "'labor 95', 'markup 20 %', 'tax 7 %' or 'currency USD'")
    kept = replace(_typed(), **{name: value})  # type: ignore[arg-type]
    _write_typed(kept)
    return own_prices() or kept


def _joined(listed: PriceList, typed: PriceList) -> PriceList:
    """A list with what was typed besides, which goes before it; the currency is the list's."""
    rates = {name: value for name in RATES if (value := getattr(typed, name)) is not None}
    return replace(with_prices(listed, typed.prices), currency=listed.currency or typed.currency, **rates)


def _typed() -> PriceList:
    path = user_tables_folder() / TYPED
    return prices_from_csv(text_of(path), str(path)) if path.is_file() else NONE


def _write_typed(typed: PriceList) -> None:
    path = user_tables_folder() / TYPED
    if typed == NONE:
        path.unlink(missing_ok=True)
        return
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(_COLUMNS)
    shares = ((MARKUP, typed.markup), (TAX, typed.tax))
    rates = [(LABOR, f"{typed.labor:f}")] if typed.labor is not None else []
    rates += [(name, f"{100 * share:f} %") for name, share in shares if share is not None]
    for name, text in rates:
        writer.writerow([name, "", "", "", text, "", "", harmless(typed.currency)])
    for price in typed.prices:
        size = " x ".join(_exactly(length) for length in price.size or ())
        length = "" if price.length is None else _exactly(price.length)
        hours = "" if price.hours is None else f"{price.hours:f}"
        texts = [harmless(price.item), size, harmless(price.material or ""), length, f"{price.price:f}", hours]
        writer.writerow([*texts, "" if price.pack is None else price.pack, harmless(typed.currency)])
    _write(path, out.getvalue())


def _exactly(length: float) -> str:
    return show(length, Dimension.LENGTH, System.SI, style="fine")


def _write(path: Path, text: str) -> None:
    """All of it or nothing."""
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, text.encode())
