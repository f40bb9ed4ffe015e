"""Price lists read from files: TOML, or CSV as spreadsheets write it, the takeoff's own CSV filled in among them."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Annotated

from ventsize.catalog.properties import Written
from ventsize.jobfile.document import decoded, meant_name, parse_toml, read_bytes, record, validate
from ventsize.jobfile.field_types import Expected
from ventsize.jobfile.problems import InputError, Problem
from ventsize.studies.pricing.amounts import read_amount, read_share, same_currency
from ventsize.studies.pricing.prices import Charge, Money, Price, PriceList, Share, TaxOn

COLUMNS = ("item", "size", "material", "length", "price", "pack", "hours", "currency")
IGNORED = ("quantity", "packs", "amount", "all hours")
"""Columns of the takeoff's own CSV that are no part of a price list."""

LABOR, MARKUP, TAX, TAX_ALL, CHARGE = "labor", "mark-up", "tax", "tax on everything", "charge: "
"""Items of a CSV row that are no thing to buy: the price of an hour, shares of the sum, and charges by their name."""
_ROWS = (LABOR, MARKUP, TAX, TAX_ALL)
_NO_THINGS = ("permit", "trip", "travel", "delivery", "disposal", "fee", "inspection")  # would cost nothing

Fault = tuple[str, str, str]


@record
class _Typed:
    """A price list as a TOML file has it."""

    currency: Written
    price: Annotated[tuple[Price, ...], Expected("at least one [[price]]")]
    source: str = ""
    labor: Money | None = None
    markup: Share | None = None
    tax: Share | None = None
    tax_on: Annotated[TaxOn, Expected("'materials' or 'everything'")] = "materials"
    charge: tuple[Charge, ...] = ()


def read_prices(path: Path) -> PriceList:
    """A price list from a TOML or, by its ending, a CSV file. Raises InputError with every fault found."""
    text, file = text_of(path), str(path)
    return prices_from_csv(text, file) if path.suffix.lower() == ".csv" else _from_toml(text, file)


def text_of(path: Path) -> str:
    """The text of a price list; a CSV file may be as spreadsheets save it by themselves: Windows letters, or UTF-16."""
    content = read_bytes(path)
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", errors="replace")
    try:
        return decoded(content, file=str(path))
    except InputError:
        if path.suffix.lower() != ".csv":
            raise
        return content.decode("cp1252", errors="replace")


def _from_toml(text: str, file: str) -> PriceList:
    typed = validate(parse_toml(text, file=file), _Typed, file=file)
    places = [(price, f"price of '{price.item:.40}'") for price in typed.price]
    faults = [Problem(file, *fault) for fault in _faults(places)]
    if faults:
        raise InputError(faults)
    return PriceList(
        currency=typed.currency,
        prices=typed.price,
        source=typed.source,
        labor=typed.labor,
        markup=typed.markup,
        tax=typed.tax,
        tax_on=typed.tax_on,
        charges=typed.charge,
    )


def _faults(prices: list[tuple[Price, str]]) -> Iterator[Fault]:
    """Two prices for one thing; the same one twice does no harm."""
    if not prices:
        yield "", "it has no prices", "at least one"
    seen: dict[tuple[object, ...], tuple[Price, str]] = {}
    for price, place in prices:
        before, at = seen.setdefault(price.identity, (price, place))
        if before != price:
            also = f"; the other is {at}" if at != place else ""
            yield place, f"two prices hold for the same thing, '{price.item:.40}'{also}", "one price each"


@dataclass(slots=True)
class _Rows:
    """What the rows of a CSV file come to."""

    file: str
    comma_is_point: bool
    currency: str = ""
    prices: list[tuple[Price, str]] = field(default_factory=list)
    labor: Decimal | None = None
    markup: Decimal | None = None
    tax: Decimal | None = None
    tax_on: TaxOn = "materials"
    charges: list[Charge] = field(default_factory=list)
    rows: dict[str, object] = field(default_factory=dict)

    def take(self, data: dict[str, str], place: str) -> None:
        """One row. Raises InputError, or ValueError with a sentence."""
        currency = data.pop("currency", "")
        item, typed = data.get("item", ""), data.get("price", "")
        if not item:
            raise InputError(Problem(self.file, f"{place}, item", "it is empty", "what the price is for"))
        if not typed:
            return  # a row of the takeoff that nobody filled in: the price is missing, which is said there
        name = item.lower()
        if name in (MARKUP, TAX, TAX_ALL):
            share = read_share(typed)
            self._once("tax" if name == TAX_ALL else name, (name, share))
            if name == MARKUP:
                self.markup = share
            else:
                self.tax, self.tax_on = share, "everything" if name == TAX_ALL else "materials"
        else:
            amount, sign = read_amount(typed, comma_is_point=self.comma_is_point)
            self._pay_in(currency, sign)
            self._price(item, amount, data, place)

    def _price(self, item: str, amount: Decimal, data: dict[str, str], place: str) -> None:
        if item.lower() == LABOR:
            self._once(LABOR, amount)
            self.labor = amount
        elif item.lower().startswith(CHARGE.strip()):
            name = item[len(CHARGE.strip()) :].strip()
            if self._once(f"{CHARGE}{name}", amount):
                self.charges.append(Charge(name=name, price=amount))
        else:
            near = f"{CHARGE}{item}" if item.lower() in _NO_THINGS else meant_name(item, _ROWS, alike=0.8)
            if near:
                expected = f"perhaps '{near:.40}'"
                raise InputError(Problem(self.file, f"{place}, item", f"'{item:.40}' is nothing to buy", expected))
            price = validate({**data, "price": f"{amount:f}"}, Price, file=self.file, place=place)
            self.prices.append((price, place))

    def _once(self, name: str, value: object) -> bool:
        """Whether a row is the first of its name; the same one twice does no harm, another one is a fault."""
        first = name not in self.rows
        if self.rows.setdefault(name, value) != value:
            raise ValueError(f"there are two of '{name:.40}'; expected one")
        return first

    def _pay_in(self, column: str, sign: str) -> None:
        """The currency of a row, by its column or by the sign at its price."""
        for found in (column, sign):
            if found and self.currency and not same_currency(found, self.currency):
                raise ValueError(
                    f"its price is in {found:.8}, and others are in {self.currency:.8}; expected one currency"
                )
        self.currency = max(self.currency, column or sign, key=len)


def prices_from_csv(text: str, file: str) -> PriceList:
    """Rows under a line of column names. What stands in other columns than `COLUMNS` is not read."""
    separator, lines = _separated(text)
    try:
        rows = [row for row in csv.reader(lines, delimiter=separator) if any(cell.strip() for cell in row)]
    except csv.Error as error:
        raise InputError(Problem(file, "", f"it is not CSV: {error}", "rows of fields with commas between")) from None
    if not rows:
        raise InputError(Problem(file, "", "it is empty", f"a line of column names: {', '.join(COLUMNS)}"))
    names = [name.strip().lower() for name in rows[0]]
    fault = _column_fault(names)
    if fault:
        raise InputError(Problem(file, "line of column names", *fault))
    found = _Rows(file, comma_is_point=separator != ",")
    faults: list[Problem] = []
    for number, row in enumerate(rows[1:], start=1):
        place = f"row {number}"
        cells = [_unguarded(cell.strip()) for cell in row]
        if any(cells[len(names) :]):
            problem = f"it has {len(cells)} fields, and the first line has {len(names)}"
            faults.append(Problem(file, place, problem, "as many; a number with a comma in it needs quotes"))
            continue
        cells += [""] * (len(names) - len(cells))
        data = {name: cell for name, cell in zip(names, cells, strict=False) if name in COLUMNS}
        try:
            found.take(data, place)
        except InputError as error:
            faults += error.problems
        except ValueError as error:
            faults.append(Problem(file, f"{place}, price", str(error)))
    if not faults and (found.prices or not found.rows):
        faults = [Problem(file, *one) for one in _faults(found.prices)]
    if faults:
        raise InputError(faults)
    return PriceList(
        currency=found.currency,
        prices=tuple(price for price, _ in found.prices),
        labor=found.labor,
        markup=found.markup,
        tax=found.tax,
        tax_on=found.tax_on,
        charges=tuple(found.charges),
    )


def _separated(text: str) -> tuple[str, io.StringIO]:
    """What separates the fields, by the line of column names, and the lines; a spreadsheet's `sep=;` is heeded."""
    first, _, rest = text.partition("\n")
    if first.strip().lower().startswith("sep=") and len(first.strip()) == 5:
        return first.strip()[-1], io.StringIO(rest)
    head = next((line for line in text.splitlines() if line.strip()), "")
    return max(",;\t", key=head.count), io.StringIO(text)


def _column_fault(names: list[str]) -> tuple[str, str] | None:
    """What is wrong with the column names; one that is hardly misspelt is not taken for one to pass over."""
    twice = [name for name in names if name and names.count(name) > 1]
    if twice:
        return f"the column '{twice[0]:.40}' is there twice", "each column once"
    unknown = [name for name in names if name and name not in (*COLUMNS, *IGNORED)]
    for name in unknown:
        if near := meant_name(name, COLUMNS, alike=0.75):
            return f"the column '{name:.40}' is not known", f"perhaps '{near}'"
    lacking = [name for name in ("item", "price") if name not in names]
    if lacking:
        return f"there is no column '{lacking[0]}'", f"the columns {', '.join(COLUMNS)}"
    return None


def _unguarded(cell: str) -> str:
    """A cell without the apostrophe that keeps a spreadsheet from taking it for a formula."""
    return cell[1:] if cell.startswith("'") and cell[1:2] in ("=", "+", "-", "@") else cell
