"""Prices: to the cent, by decimal arithmetic, and what has no price is missing, never nothing."""

from __future__ import annotations

import csv
import io
from decimal import Decimal
from pathlib import Path

import pytest

from ventsize.catalog.folders import shipped_table
from ventsize.jobfile.problems import InputError
from ventsize.quantity import System
from ventsize.report.money import in_column, misspelt
from ventsize.report.takeoff import as_csv
from ventsize.studies.pricing.amounts import read_amount
from ventsize.studies.pricing.files import read_prices
from ventsize.studies.pricing.own import TYPED, keep_price, keep_prices, keep_rate, own_prices
from ventsize.studies.pricing.prices import Charge, PriceList, cost
from ventsize.studies.takeoff.tally import Item, Takeoff

INCH, FOOT = 0.0254, 0.3048


def item(what: str, quantity: int, *, material: str = "pvc-40", size: float = 3, length: float | None = None) -> Item:
    """Something bought, of a size in inches and a length in feet."""
    return Item(
        what=what,
        material=material,
        sizes=(size * INCH,),
        label=f"{size:g} in",
        length=None if length is None else length * FOOT,
        quantity=quantity,
    )


def taken(*items: Item, missing: tuple[str, ...] = ()) -> Takeoff:
    """A takeoff of these."""
    return Takeoff(title="Job", items=items, cut_lists=(), notes=(), missing=missing)


def written(tmp_path: Path, text: str, name: str = "prices.csv") -> Path:
    """A price list as a file."""
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return path


CSV = """item,material,size,length,price,hours,currency
pipe,pvc-40,3 in,10 ft,0.105,0.25,CAD
pipe,,3 in,,99,,CAD
elbow-45,,3 in,,0.10,,CAD
labor,,,,60,,CAD
"""


def test_cents_by_decimals(tmp_path: Path) -> None:
    """Three at 0.10 are 0.30, not 0.30000000000000004; one at 0.105 is 0.11: half a cent goes up."""
    costs = cost(taken(item("pipe", 1, length=10), item("elbow-45", 3)), read_prices(written(tmp_path, CSV)))
    assert [line.amount for line in costs.lines] == [Decimal("0.11"), Decimal("0.30")]
    assert costs.materials == Decimal("0.41") and not costs.at_least
    assert (costs.hours, costs.labor, costs.total) == (Decimal("0.25"), Decimal("15.00"), Decimal("15.41"))
    assert costs.currency == "CAD"


def test_the_narrower_price_is_meant(tmp_path: Path) -> None:
    """A price for this material and length goes before one for any."""
    prices = read_prices(written(tmp_path, CSV))
    (line,) = cost(taken(item("pipe", 1, length=20)), prices).lines
    assert line.price == Decimal(99)


def test_missing_is_never_nothing(tmp_path: Path) -> None:
    """Without a price the line has no amount, and the total says that it is the least."""
    costs = cost(taken(item("elbow-45", 1), item("hanger", 4)), read_prices(written(tmp_path, CSV)))
    assert costs.at_least and costs.total == Decimal("0.10")
    assert [line.amount for line in costs.lines] == [Decimal("0.10"), None]
    assert [missing.what for missing in costs.without_price] == ["hanger"]


def test_an_incomplete_takeoff_costs_at_least(tmp_path: Path) -> None:
    """Every item has a price, and yet something is not in the takeoff."""
    costs = cost(taken(item("elbow-45", 1), missing=("a pipe",)), read_prices(written(tmp_path, CSV)))
    assert costs.at_least and costs.without_price == ()


def test_other_size_other_price(tmp_path: Path) -> None:
    """A price of one size is no price of another."""
    (line,) = cost(taken(item("elbow-45", 1, size=2)), read_prices(written(tmp_path, CSV))).lines
    assert line.price is None


def test_the_shipped_list_is_invented_and_says_so() -> None:
    """It is there to try the takeoff with."""
    prices = read_prices(shipped_table("invented-prices.toml"))
    assert "nvented" in prices.source and prices.labor is not None


def test_toml_and_csv_say_the_same(tmp_path: Path) -> None:
    """One list in both forms."""
    toml = """
    currency = "CAD"
    labor = 60
    [[price]]
    item = "pipe"
    material = "pvc-40"
    size = "3 in"
    length = "10 ft"
    price = "0.105"
    hours = 0.25
    """
    first = read_prices(written(tmp_path, toml, "prices.toml"))
    second = read_prices(written(tmp_path, CSV))
    assert first.prices[0] == second.prices[0] and first.labor == second.labor


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "it is empty"),
        ("item,currency\npipe,USD\n", "there is no column 'price'"),
        ("pipe,2\n", "there is no column 'item'"),
        ("item,prices,currency\n", "the column 'prices' is not known; expected perhaps 'price'"),
        ("item,price,price,currency\n", "there twice"),
        ("item,price,currency\n", "it has no prices"),
        ("item,price,currency\npipe,two,USD\n", "'two' is not a number"),
        ("item,price,currency\npipe,-2,USD\n", "zero or more"),
        ("item,price,currency\npipe,(2.00),USD\n", "zero or more"),
        ("item,price,currency\npipe,NaN,USD\n", "is not a number"),
        ("item,price,currency\npipe,,USD\n", "it has no prices"),
        ("item,price,currency\npipe,=2*3,USD\n", "is a formula"),
        ("item,price,currency\npipe,22450000,USD\n", "cannot be the price of one"),
        ("item,price,currency\npipe,19,80,USD\n", "a number with a comma in it needs quotes"),
        ("item;price;currency\npipe;1.234;EUR\n", "may be thousands or a fraction"),
        ("item,price,hours,currency\npipe,2,9999,USD\n", "hours for one"),
        ("item,price,pack,currency\npipe,2,0,USD\n", "how many there are in a pack"),
        ("item,price,pack,currency\npipe,2,2.5,USD\n", "how many there are in a pack"),
        ("item,price,currency\npipe,2,USD\nmark-up,15,\n", "is not a share"),
        ("item,price,currency\npipe,2,USD\ntax,900 %,\n", "500 %"),
        ("item,price\npipe,$2\nelbow-45,€3\n", "one currency"),
        ("item,price,currency\n,2,USD\n", "it is empty"),
        ("item,price,currency\npipe,2,USD\nelbow-45,2,CAD\n", "in CAD, and others are in USD"),
        ("item,price,currency\npipe,2,USD\npipe,3,USD\n", "two prices hold for the same thing"),
        ("item,price,size,currency\npipe,2,3,USD\n", "unit"),
        ("item,price\npipe,2\nlabour,70\n", "perhaps 'labor'"),
        ("item,price\npipe,2\nmarkup,5\n", "perhaps 'mark-up'"),
        ("item,price\npipe,2\nlabor,70\nLabor,80\n", "there are two of 'labor'"),
        ("item,price\npipe,2\ntax,7 %\ntax on everything,7 %\n", "there are two of 'tax'"),
        ("item,price\npipe,2\ncharge: Trip,70\ncharge: Trip,80\n", "there are two of 'charge: Trip'"),
        ("item,price\npipe,2\ncharge:Trip,70\ncharge: Trip,80\n", "there are two of 'charge: Trip'"),
        ("item,price\npipe,2\nPermit,85\n", "perhaps 'charge: Permit'"),
        ("item|price\npipe|2\n", "there is no column 'item'"),
    ],
)
def test_lists_that_cannot_be_read(text: str, said: str, tmp_path: Path) -> None:
    """Each fault is one sentence that names the file."""
    path = written(tmp_path, text)
    with pytest.raises(InputError) as fault:
        read_prices(path)
    assert said in str(fault.value) and str(path) in str(fault.value)
    assert len(str(fault.value).splitlines()) == 1


def test_a_name_that_is_hardly_misspelt_is_told(tmp_path: Path) -> None:
    """It has no price, and the total says at least; which name of the list may be meant is said."""
    text = "item,price\nhangar,1\nelbow-90-lnog,2\nelbow-90-drain,3\ncement,4\n"
    things = taken(item("hanger", 2), item("elbow-90-long", 2), item("elbow-45", 1), item("cement", 1))
    found = cost(things, read_prices(written(tmp_path, text)))
    assert found.at_least and len(found.without_price) == 3
    assert misspelt(found) == [("hanger", "hangar"), ("elbow-90-long", "elbow-90-lnog")]


@pytest.mark.parametrize("encoding", ["utf-8-sig", "cp1252", "utf-16"])
def test_a_file_as_spreadsheets_save_it(encoding: str, tmp_path: Path) -> None:
    """With their own letters, and the names of its rows in any case."""
    path = tmp_path / "list.csv"
    path.write_bytes("Item;Price\r\ncement;9,50 €\r\nLabor;70\r\nMark-up;15 %\r\n".encode(encoding))
    found = read_prices(path)
    assert (found.currency, found.labor, found.markup) == ("€", Decimal(70), Decimal("0.15"))
    assert [price.price for price in found.prices] == [Decimal("9.50")]


@pytest.mark.parametrize(
    ("typed", "amount", "currency"),
    [
        ("4.35", "4.35", ""),
        ("$19.80", "19.80", "$"),
        ("$ 1,234.50", "1234.50", "$"),
        ("USD 12", "12", "USD"),
        ("12.50 CAD", "12.50", "CAD"),
        ("19,80 €", "19.80", "€"),
        ("1.234,50", "1234.50", ""),
        ("1 234,50 €", "1234.50", "€"),
        ("1'234.50", "1234.50", ""),
        ("1,234", "1234", ""),
        ("0,105", "0.105", ""),
        (".50", "0.50", ""),
    ],
)
def test_amounts_as_people_type_them(typed: str, amount: str, currency: str) -> None:
    """Thousands, decimal commas and currency signs, each way they are usual."""
    assert read_amount(typed) == (Decimal(amount), currency)


@pytest.mark.parametrize("typed", ["cheap$10", "10 each", "$", "1.2.3", "12 34 56 abcd", "$5 $6", "１２"])
def test_what_is_no_amount(typed: str) -> None:
    """A word beside a number is no currency."""
    with pytest.raises(ValueError, match="expected"):
        read_amount(typed)


def test_a_spreadsheet_with_semicolons(tmp_path: Path) -> None:
    """As a country with decimal commas saves it, a column more and rows with fields less among it."""
    text = "sep=;\nitem;size;supplier;price;currency\npipe;3 in;Somebody;1.022,45;EUR\nhanger;;;1,85\n"
    listed = read_prices(written(tmp_path, text))
    assert [price.price for price in listed.prices] == [Decimal("1022.45"), Decimal("1.85")]
    assert listed.currency == "EUR"


def test_the_takeoffs_own_csv_filled_in_is_read_back(tmp_path: Path) -> None:
    """Its prices typed into the empty fields, one left empty: that one is missing, and the rest cost as typed."""
    things = (item("pipe", 2, length=10), item("elbow-45", 3), item("hanger", 7), item("cement", 1))
    bare = as_csv(taken(*things), None, System.US)
    rows = list(csv.DictReader(io.StringIO(bare)))
    for row, price in zip(rows, ("$22.45", "5.40", "", "1,009.49"), strict=True):
        row["price"] = price
    out = io.StringIO()
    writer = csv.DictWriter(out, rows[0].keys())
    writer.writeheader()
    writer.writerows(rows)
    listed = read_prices(written(tmp_path, out.getvalue()))
    costs = cost(taken(*things), listed)
    assert [line.amount for line in costs.lines] == [Decimal("44.90"), Decimal("16.20"), None, Decimal("1009.49")]
    assert costs.at_least and listed.currency == "$"
    again = read_prices(written(tmp_path, as_csv(taken(*things), costs, System.SI), "again.csv"))
    assert cost(taken(*things), again).total == costs.total


TOML_ALL = """
currency = "USD"
labor = "60.00"
markup = "15 %"
tax = "8.25 %"
charge = [{ name = "Trip", price = "85.00" }, { name = "Permit", price = "120.00" }]
[[price]]
item = "hanger"
price = "18.50"
pack = 10
hours = "0.10"
[[price]]
item = "elbow-45"
price = "5.40"
hours = "0.15"
"""


def test_mark_up_tax_and_charges(tmp_path: Path) -> None:
    """By hand: 11 hangers are two packs of 10, 37.00; 3 elbows 16.20; materials 53.20; 15 % of it 7.98.

    Hours 11 x 0.10 + 3 x 0.15 = 1.55, at 60 93.00; trip and permit 205.00; tax 8.25 % of 61.18 is 5.04735, 5.05.
    Together 364.23. With tax on everything: 8.25 % of 359.18 is 29.63235, 29.63, together 388.81.
    """
    things = taken(item("hanger", 11), item("elbow-45", 3))
    listed = read_prices(written(tmp_path, TOML_ALL, "prices.toml"))
    costs = cost(things, listed)
    assert [line.amount for line in costs.lines] == [Decimal("37.00"), Decimal("16.20")]
    assert (costs.materials, costs.markup, costs.labor) == (Decimal("53.20"), Decimal("7.98"), Decimal("93.00"))
    assert (costs.tax, costs.total) == (Decimal("5.05"), Decimal("364.23")) and costs.whole
    on_all = read_prices(written(tmp_path, f'tax_on = "everything"\n{TOML_ALL}', "all.toml"))
    assert (cost(things, on_all).tax, cost(things, on_all).total) == (Decimal("29.63"), Decimal("388.81"))
    for one in (listed, on_all):
        back = read_prices(written(tmp_path, as_csv(things, cost(things, one), System.US)))
        assert cost(things, back).total == cost(things, one).total


def test_labor_without_a_rate_is_no_whole_total(tmp_path: Path) -> None:
    """Hours of which nobody said what they cost leave the total open."""
    without = read_prices(written(tmp_path, TOML_ALL.replace('labor = "60.00"\n', ""), "without.toml"))
    costs = cost(taken(item("elbow-45", 3)), without)
    assert costs.labor_without_rate and costs.at_least and costs.known is None


def test_a_price_typed_on_the_takeoff_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It goes before the list's, for this thing alone; a new list with a price of its own for it takes its place."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path / "own"))
    thing, other = item("tee", 1), item("tee", 1, size=4)
    first = keep_price(thing, Decimal("14.20"))
    assert first.price_of(thing) and first.price_of(other) is None
    keep_prices(written(tmp_path, TOML_ALL, "prices.toml"))
    listed = own_prices()
    assert listed and listed.currency == "USD"
    found = listed.price_of(thing)
    assert found and found.price == Decimal("14.20") and listed.price_of(item("hanger", 1))
    keep_price(item("elbow-45", 1), Decimal("6.00"))
    listed = own_prices()
    assert listed and (price := listed.price_of(item("elbow-45", 9))) and price.price == Decimal("6.00")
    assert (wide := listed.price_of(item("elbow-45", 9, size=4))) and wide.price == Decimal("5.40")
    exact = 'currency = "USD"\n[[price]]\nitem = "tee"\nmaterial = "pvc-40"\nsize = "3 in"\nprice = "15"'
    listed = keep_prices(written(tmp_path, exact, "new.toml"))
    assert (price := listed.price_of(thing)) and price.price == Decimal(15)


def test_a_formula_never_leaves_as_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Names that a spreadsheet would execute are text in the CSV, wherever they come from; so are kept prices."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    evil = Item(what="=cmd()", material="+x", sizes=(3 * INCH,), label="@3 in", length=None, quantity=1)
    listed = PriceList(currency="=1+1", prices=(), charges=(Charge(name="=2+2", price=Decimal(1)),))
    rows = list(csv.reader(io.StringIO(as_csv(taken(evil), cost(taken(evil), listed), System.US))))
    cells = [cell for row in rows for cell in row]
    assert not [cell for cell in cells if cell[:1] in ("=", "+", "@", "\t")]
    assert cells.count("'=1+1") == 2
    kept = keep_price(evil, Decimal(3))
    assert (price := kept.price_of(evil)) and price.price == 3
    cells = [cell for row in csv.reader(next(tmp_path.rglob(TYPED)).open(encoding="utf-8")) for cell in row]
    assert not [cell for cell in cells if cell[:1] in ("=", "+", "@", "\t")]


def test_rates_typed_on_the_takeoff_are_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Labor, mark-up, tax and currency, with or without a list; by hand 2 × 10.00, 20 %, then 7 % tax: 25.68."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path / "own"))
    for line in ("labor 95", "mark-up 20 %", "tax 7 %", "currency USD"):
        keep_rate(line)
    keep_price(item("tee", 1), Decimal("10.00"), currency="$")
    listed = own_prices()
    assert listed and (listed.labor, listed.markup, listed.tax) == (95, Decimal("0.2"), Decimal("0.07"))
    costs = cost(taken(item("tee", 2)), listed)
    assert (costs.total, costs.currency) == (Decimal("25.68"), "USD")
    for wrong in ("labour", "markup 20", "fee 3", "currency", "tax 700 %"):
        with pytest.raises(ValueError, match="expected"):
            keep_rate(wrong)
    listed = keep_prices(written(tmp_path, TOML_ALL, "prices.toml"))
    assert (listed.labor, listed.markup) == (Decimal("60.00"), Decimal("0.15"))  # the new list's own take their place


def test_a_sign_typed_with_a_price_is_its_currency(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`$4.20` says dollars for a list that names none."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    keep_price(item("tee", 1), Decimal("4.20"), currency="$")
    listed = own_prices()
    assert listed and listed.currency == "$"


def test_prices_of_a_column_have_the_same_decimals() -> None:
    """8.50, 6 and 1.5 stand with their points in a line."""
    column = [Decimal("8.50"), Decimal(6), Decimal("1.5"), None]
    assert [in_column(one, column) for one in column if one is not None] == ["8.50", "6.00", "1.50"]
    assert in_column(Decimal(6), [Decimal("0.125")]) == "6.000"
