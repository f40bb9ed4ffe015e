"""Prices: to the cent, by decimal arithmetic, and what has no price is missing, never nothing."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from ventsize.catalog.folders import shipped_table
from ventsize.jobfile.problems import InputError
from ventsize.studies.pricing.prices import cost, read_prices
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
        ("item,price\npipe,2\n", "there is no column 'currency'"),
        ("item,price,currency,colour\n", "the column 'colour' cannot be used"),
        ("item,price,currency\n", "the rows name none"),
        ("item,price,currency\npipe,two,USD\n", "'two' is not a number"),
        ("item,price,currency\npipe,-2,USD\n", "zero or more"),
        ("item,price,currency\npipe,NaN,USD\n", "zero or more"),
        ("item,price,currency\npipe,,USD\n", "is not a number"),
        ("item,price,currency\n,2,USD\n", "it is empty"),
        ("item,price,currency\npipe,2\n", "it has 2 fields"),
        ("item,price,currency\npipe,2,USD\nelbow-45,2,CAD\n", "the rows name CAD, USD"),
        ("item,price,currency\npipe,2,USD\npipe,3,USD\n", "two prices hold for the same thing"),
        ("item,price,size,currency\npipe,2,3,USD\n", "unit"),
    ],
)
def test_lists_that_cannot_be_read(text: str, said: str, tmp_path: Path) -> None:
    """Each fault is one sentence that names the file."""
    path = written(tmp_path, text)
    with pytest.raises(InputError) as fault:
        read_prices(path)
    assert said in str(fault.value) and str(path) in str(fault.value)
    assert len(str(fault.value).splitlines()) == 1
