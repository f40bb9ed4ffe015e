"""`ventsize takeoff` as scripts rely on it."""

from __future__ import annotations

import csv
import io
import json
from decimal import Decimal
from pathlib import Path

import pytest

from ventsize.cli import main
from ventsize.studies.pricing.own import keep_prices

ROOT = Path(__file__).resolve().parent.parent.parent
JOB = str(ROOT / "scenarios" / "old-two-inch-run.toml")
COUNTED = str(ROOT / "scenarios" / "counted-run.toml")


FEW = """
source = "Invented"
currency = "USD"
[[price]]
item = "pipe"
price = "11.20"
hours = "0.30"
[[price]]
item = "hanger"
price = "1.85"
"""


@pytest.fixture(autouse=True)
def _no_own_tables(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))


@pytest.fixture
def few(tmp_path: Path) -> str:
    """A price list that lacks most of it."""
    path = tmp_path / "few.toml"
    path.write_text(FEW, encoding="utf-8")
    return str(path)


def test_exit_statuses(capsys: pytest.CaptureFixture[str], few: str) -> None:
    """0 where all is taken off, 1 where something is missing, 2 where a file cannot be read."""
    assert main(["takeoff", JOB]) == 0
    assert main(["takeoff", COUNTED]) == 1
    assert main(["takeoff", JOB, "--prices", few]) == 1  # some have no price
    capsys.readouterr()
    assert main(["takeoff", JOB, "--prices", "nowhere.csv"]) == 2
    assert main(["takeoff", JOB, "--stock", "10"]) == 2
    assert main(["takeoff", JOB, "--stock", "0 ft"]) == 2
    out, errors = capsys.readouterr()
    assert out == "" and len(errors.splitlines()) == 3 and "Traceback" not in errors


def test_text_fits_the_terminal(capsys: pytest.CaptureFixture[str], few: str) -> None:
    """78 columns, since a screen of 80 has two around a text.

    A missing price is written out, and the total says that it is the least.
    """
    main(["takeoff", JOB, "--prices", few])
    text = capsys.readouterr().out
    assert max(map(len, text.splitlines())) <= 78
    assert "missing" in text and "at least" in text and "Invented" in text


def test_json_and_csv_agree(capsys: pytest.CaptureFixture[str], few: str) -> None:
    """The same items; money as text, and no price is null, or an empty field."""
    main(["takeoff", JOB, "--prices", few, "--json"])
    data = json.loads(capsys.readouterr().out)
    main(["takeoff", JOB, "--prices", few, "--csv"])
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    lines = data["cost"]["lines"]
    assert [(line["item"], line["quantity"]) for line in lines] == [(r["item"], int(r["quantity"])) for r in rows]
    assert [line["amount"] or "" for line in lines] == [row["amount"] for row in rows]
    amounts = [Decimal(line["amount"]) for line in lines if line["amount"] is not None]
    assert sum(amounts) == Decimal(data["cost"]["materials"]) and len(amounts) < len(lines)
    assert all(plan["proven_fewest"] for plan in data["cut_lists"])


def test_a_formula_is_only_text(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """What a spreadsheet would run as a formula is handed over as text."""
    prices = tmp_path / "prices.csv"
    prices.write_text("item,price,currency\nhanger,1,=1+1\n", encoding="utf-8")
    main(["takeoff", JOB, "--prices", str(prices), "--csv"])
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert {row["currency"] for row in rows} == {"'=1+1"}


def test_a_price_typed_on_the_takeoff(capsys: pytest.CaptureFixture[str], few: str) -> None:
    """It is kept for this and other jobs; what is not in the takeoff, or no price, is refused in a sentence."""
    keep_prices(Path(few))
    for wrong in ("cement, pvc=9.49", "cement, pvc-40=cheap", "cement, pvc-40"):
        assert main(["takeoff", JOB, "--price", wrong]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 3
    main(["takeoff", JOB, "--price", "cement, pvc-40=$9.49", "--json"])
    main(["takeoff", JOB, "--json"])
    text = capsys.readouterr().out
    assert text.count('"price": "9.49"') == 2


def test_a_list_to_hand_over_has_no_prices(capsys: pytest.CaptureFixture[str], few: str) -> None:
    """Neither prices nor rates, in no form."""
    for how in ([], ["--csv"], ["--json"]):
        main(["takeoff", JOB, "--prices", few, "--no-prices", *how])
        text = capsys.readouterr().out
        assert "11.20" not in text and "0.30" not in text and "hanger" in text


def test_own_prices_are_taken(capsys: pytest.CaptureFixture[str], few: str) -> None:
    """A list kept among the user's own tables is used without being named."""
    keep_prices(Path(few))
    assert main(["takeoff", JOB]) == 1
    assert "USD" in capsys.readouterr().out
