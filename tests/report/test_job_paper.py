"""The paper of a job: what it says is what the check says, nothing is missing, and nothing flatters."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from PIL import Image
from pypdf import PdfReader

from tests.report.hostile import HOSTILE
from tests.report.outside import Page
from tests.words import told, why
from ventsize.catalog.folders import shipped_folder, shipped_table
from ventsize.check.findings import LAST
from ventsize.check.inputs import read_inputs
from ventsize.check.verdict import check
from ventsize.jobfile.letters import plain
from ventsize.jobfile.problems import InputError
from ventsize.quantity import System, show_feet, show_length, show_pressure
from ventsize.report.job_paper import EVERY, HANDED_OVER, Material, Part, job_paper, material_of
from ventsize.report.job_paper.customer import verdict_of
from ventsize.report.job_paper.letterhead import keep_heading, own_head
from ventsize.report.paper import rendered
from ventsize.report.paper.blocks import Size
from ventsize.report.takeoff import describe
from ventsize.studies.pricing.files import read_prices
from ventsize.studies.pricing.prices import Price, PriceList

SCENARIOS = sorted(shipped_folder("scenarios").glob("*.toml"))
DAY = date(2026, 3, 9)
WARNING = "carbon monoxide in a building"


@cache
def material(job: Path, system: System = System.US, priced: bool = True) -> Material:
    """A job with everything, at the invented prices."""
    prices = read_prices(shipped_table("invented-prices.toml")) if priced else None
    return material_of(read_inputs(job), system=system, day=DAY, prices=prices)


@cache
def html(job: Path, system: System = System.US) -> str:
    """Its paper as text a reader sees."""
    page = Page(rendered(job_paper(material(job, system), parts=EVERY), "html").decode())
    assert page.faults == [] and page.open == []
    assert page.headings[0] == 1 and all(b - a <= 1 for a, b in zip(page.headings, page.headings[1:], strict=False))
    assert page.pictures and all(page.pictures)
    return " ".join(" ".join(page.text).split())


@cache
def pages(job: Path, part: Part, size: Size = "letter") -> tuple[str, ...]:
    """What a reader sees on each page of a part of its PDF."""
    reader = PdfReader(io.BytesIO(rendered(job_paper(material(job), parts=[part]), "pdf", size=size)))
    return tuple(" ".join(page.extract_text().split()) for page in reader.pages)


@pytest.mark.parametrize("job", SCENARIOS, ids=lambda path: path.stem)
def test_it_says_what_the_check_says(job: Path) -> None:
    """Verdict and reason of the job and of every run, both answers at every rate, every caution."""
    found, text = material(job).check, html(job)
    assert f"Verdict: {found.verdict.upper()}" in text
    assert without_place(" ".join(why(found).split())) in text
    for run in found.runs:
        assert f"{run.run.name}: {run.run.carries}, {run.run.start} to {run.run.end}" in text
        assert without_place(why(run.table or run)) in text
        for rate in run.rates:
            assert show_pressure(rate.flow.pressure_drop, System.US) in text
            if rate.budget_pressure is not None:
                assert show_pressure(rate.budget_pressure, System.US) in text
        for row in run.table.rows if run.table else ():
            assert f"{row.number} {row.input_label} {row.size_label}" in text
        if run.table and run.table.equivalent_length is not None:
            assert show_length(run.table.equivalent_length, System.US) in text
        if run.margin is not None:
            assert show_feet(abs(run.margin), System.US) in text
    kept = replace(found, findings=tuple(one for one in found.findings if one.code not in LAST))
    assert all(" ".join(caution.split()) in text for caution in told(kept))


@pytest.mark.parametrize("job", SCENARIOS, ids=lambda path: path.stem)
def test_it_holds_what_a_permit_file_wants(job: Path) -> None:
    """Date, sources, versions, lines to sign; and no path of the machine it was made on."""
    text = html(job)
    for words in ("9 March 2026", "License number", "Signature", "Permit number", "fluids", "Python", "ventsize"):
        assert words in text
    for table in material(job).inputs.tables.values():
        assert table.source in text
    assert str(job.parent) not in text and str(shipped_folder("tables")) not in text


@pytest.mark.parametrize("job", SCENARIOS, ids=lambda path: path.stem)
def test_the_first_page_warns(job: Path) -> None:
    """What a customer reads first has the verdict and the warning, on paper of both sizes."""
    for first in (pages(job, "customer")[0], pages(job, "customer", "a4")[0]):
        assert f"Verdict: {material(job).check.verdict.upper()}" in first and WARNING in first


@pytest.mark.parametrize("job", SCENARIOS, ids=lambda path: path.stem)
def test_two_pages_for_the_customer_and_six_for_the_permit(job: Path) -> None:
    """Of a job with one run or two; the customer's pages show no price but the total, the permit's none."""
    made = material(job)
    texts = {part: " ".join(pages(job, part)) for part in HANDED_OVER}
    few = len(made.check.runs) <= 2 and made.over is None
    assert not few or (len(pages(job, "customer")) <= 2 and len(pages(job, "permit")) <= 6)
    assert made.cost is not None
    for line in made.cost.lines:
        if line.price is not None and line.price != 40:  # 40 is a length somewhere
            assert f" {line.price:,} " not in texts["customer"]
    assert (made.cost.currency in texts["customer"]) is (made.check.verdict == "within")
    assert made.cost.currency not in texts["permit"]


def test_altitude_is_on_the_customers_first_page() -> None:
    """Altitude, and what the code makes of the input there: 80,000 Btu/h at 7,800 ft, by either reading.

    4 % for each 1000 ft of 7,800 ft is 31.2 %: 55,040 Btu/h; of the 5,800 ft above 2,000 ft 23.2 %: 61,440 Btu/h.
    """
    first = pages(shipped_folder("scenarios") / "two-pipe-at-altitude.toml", "customer")[0]
    assert "7,800 ft" in first and "55,040 Btu/h to 61,440 Btu/h" in first


def test_the_paper_handed_over_is_its_parts_in_turn() -> None:
    """The customer's pages first, as they are alone but for the count of pages at their foot; then the permit's."""
    job = shipped_folder("scenarios") / "two-pipe-at-altitude.toml"
    reader = PdfReader(io.BytesIO(rendered(job_paper(material(job)), "pdf")))
    whole = [" ".join(page.extract_text().split()) for page in reader.pages]
    customer = pages(job, "customer")
    assert len(whole) == len(customer) + len(pages(job, "permit"))
    for page, alone in zip(whole, customer, strict=False):
        without_count = [re.sub(r"\d+ of \d+", "", text) for text in (page, alone)]
        assert without_count[0][:600] == without_count[1][:600]


def test_what_fails_is_no_offer() -> None:
    """It has no price and is not agreed to; the same paper of a job within has both."""
    for name, offered in (("old-two-inch-run", False), ("simple-pass", True)):
        made = material(shipped_folder("scenarios") / f"{name}.toml")
        texts = " ".join(Page(rendered(job_paper(made, parts=("customer",)), "html").decode()).text)
        assert made.cost is not None and (f"{made.cost.total:,}" in texts) is offered
        assert ("Agreed" in texts) is offered and ("What will be done" in texts) is offered


def test_a_heading_of_ones_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Name and contact head the customer's page; one of 10,000 letters, or no text, is refused in a sentence."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    path = tmp_path / "letterhead.toml"
    path.write_text('heading = "Pipe & Daughters"\ncontact = ["1 Long Lane", "555 0100"]', encoding="utf-8")
    made = material_of(read_inputs(SCENARIOS[0]), system=System.US, day=DAY)
    assert "Pipe & Daughters. 1 Long Lane. 555 0100" in Page(rendered(job_paper(made), "html").decode()).text
    for bad in (f'heading = "{"x" * 10_000}"', "heading = 3", 'contact = ["x"]', 'heading = "a"\nlogo = 3'):
        path.write_text(bad, encoding="utf-8")
        with pytest.raises(InputError) as fault:
            material_of(read_inputs(SCENARIOS[0]), system=System.US, day=DAY)
        assert "letterhead.toml" in str(fault.value) and len(str(fault.value)) < 500


def png(wide: int, high: int) -> bytes:
    """A picture."""
    made = io.BytesIO()
    Image.new("RGBA", (wide, high), (0, 114, 178, 128)).save(made, "PNG")
    return made.getvalue()


def test_a_logo_of_ones_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It heads the customer's page, with words for who does not see it, and nothing of its file but the picture."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    (tmp_path / "letterhead.toml").write_text('heading = "Pipe & Daughters"\nlogo = "our logo.png"', encoding="utf-8")
    (tmp_path / "our logo.png").write_bytes(png(3000, 400) + b"<script>hidden</script>")
    made = material_of(read_inputs(shipped_folder("scenarios") / "simple-pass.toml"), system=System.US, day=DAY)
    page = rendered(job_paper(made, parts=["customer"]), "html").decode()
    assert '<img class="logo" alt="Logo of Pipe &amp; Daughters" src="data:image/png;base64,' in page
    assert Page(page).faults[0] == "<img>" and len(Page(page).faults) == 2  # it, and its data, and nothing else
    assert "img" not in Page(rendered(job_paper(made, parts=["permit"]), "html").decode()).tags
    reader = PdfReader(io.BytesIO(rendered(job_paper(made, parts=["customer"]), "pdf")))
    assert len(reader.pages) <= 2 and len(reader.pages[0].images) == 1
    image = reader.pages[0].images[0]
    assert image.image is not None and image.image.size == (1200, 160) and b"hidden" not in image.data


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"no picture",
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        png(40, 30)[:60],
        png(6000, 6000),
        b"GIF89a",
        None,
    ],
    ids=["empty", "text", "svg", "cut off", "too large", "gif", "missing"],
)
def test_a_logo_that_is_no_picture(content: bytes | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One sentence that names its file."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    (tmp_path / "letterhead.toml").write_text('heading = "A"\nlogo = "logo.png"', encoding="utf-8")
    if content is not None:
        (tmp_path / "logo.png").write_bytes(content)
    with pytest.raises(InputError) as fault:
        material_of(read_inputs(SCENARIOS[0]), system=System.US, day=DAY)
    said = str(fault.value)
    assert said.startswith(str(tmp_path / "logo.png")) and "expected" in said and len(said.splitlines()) == 1


def test_metric_paper_is_metric() -> None:
    """With SI units no figure is in inches of water column, feet or Btu/h but where the table's own rows are."""
    text = html(shipped_folder("scenarios") / "propane-metric.toml", System.SI)
    assert " Pa" in text and " kW" in text
    assert "in w.c." not in text and "Btu/h" not in text and " ft " not in text


@pytest.mark.parametrize("job", SCENARIOS, ids=lambda path: path.stem)
def test_the_cost_adds_up(job: Path) -> None:
    """The lines of the CSV, added by hand, are its materials to the cent; what has no price counts as missing."""
    rows = list(csv.reader(io.StringIO(rendered(job_paper(material(job), parts=EVERY), "csv").decode("utf-8-sig"))))
    head = next(n for n, row in enumerate(rows) if row and row[0] == "How many" and "Together" in row[-1])
    end = next(n for n, row in enumerate(rows) if n > head and "Materials" in row)
    lines = rows[head + 1 : end]
    amounts = [Decimal(row[3].replace(",", "")) for row in lines if row[3] != "missing"]
    cost = material(job).cost
    assert cost is not None and len(lines) == len(cost.lines)
    assert sum(amounts, Decimal(0)) == cost.materials
    total = next(row[3] for row in rows[end:] if "Total" in row)
    assert ("at least" in total) == cost.at_least
    assert {row[1] for row in lines if row[3] == "missing"} == {
        describe(item, System.US) for item in cost.without_price
    }


def test_a_room_short_of_air_is_on_the_first_page() -> None:
    """The vent may be within and the room not: a customer reads both before anything else."""
    job = shipped_folder("scenarios") / "basement-short-of-air.toml"
    made = material(job)
    assert made.rooms is not None and not made.rooms.enough
    assert f"{made.rooms.rooms[0].name}: {made.rooms.rooms[0].verdict}" in pages(job, "customer")[0]
    assert "Air from the room" in html(job)


def test_a_check_over_ticked_off_is_in_it() -> None:
    """Every rule that was looked at with its outcome, and what is left as boxes to tick."""
    job = shipped_folder("scenarios") / "second-visit.toml"
    made, text = material(job), html(job)
    assert made.over is not None
    assert all(" ".join(item.rule.title.split()) in text for item in made.over.items)


def test_without_prices_there_is_no_cost() -> None:
    """No list, no figure: not even a zero."""
    made = material(SCENARIOS[0], System.US, False)
    text = rendered(job_paper(made, parts=EVERY), "markdown").decode()
    assert "Takeoff" in text and "Cost" not in text and "Total" not in text


def test_where_nothing_has_a_price_the_cost_is_not_known() -> None:
    """A list for other things gives no total, and none of 0.00."""
    other = PriceList(currency="USD", prices=(Price(item="chimney cap", price=Decimal(40)),))
    made = material_of(read_inputs(SCENARIOS[0]), system=System.US, day=DAY, prices=other)
    text = rendered(job_paper(made, parts=EVERY), "markdown").decode()
    assert "Price: not known: nothing of it has a price" in text and "at least 0.00" not in text


def test_a_sum_of_materials_is_called_no_price_of_the_job() -> None:
    """With an hour's price it is one; a list without a currency says so; runs and appliances are named as headings."""
    pipe = Price(item="pipe", price=Decimal(3), hours=Decimal(1))

    def customer(listed: PriceList) -> str:
        made = material_of(
            read_inputs(shipped_folder("scenarios") / "simple-pass.toml"), system=System.US, day=DAY, prices=listed
        )
        return rendered(job_paper(made, parts=EVERY), "markdown").decode()

    alone = customer(PriceList(currency="", prices=(pipe,)))
    assert "Materials only: at least" in alone and "names no currency" in alone and "labor is not in it" in alone
    first = alone[: alone.index("Carbon monoxide kills")]
    assert "Air: " in first and "run '" not in first and "Furnace" in first
    whole = customer(PriceList(currency="USD", prices=(pipe,), labor=Decimal(60)))
    assert "Price: at least" in whole and "USD" in whole and "Materials only" not in whole


def test_the_name_of_the_firm_is_typed_and_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It heads the paper; contact and comments that are there stay."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    keep_heading("Hill Heating")
    assert own_head().line == "Hill Heating"
    path = tmp_path / "letterhead.toml"
    path.write_text('# ours\nheading = "A"\ncontact = ["12 Main St"]\n', encoding="utf-8")
    keep_heading('Hill "&" Sons')
    assert own_head().line == 'Hill "&" Sons. 12 Main St' and "# ours" in path.read_text(encoding="utf-8")
    with pytest.raises(InputError):
        keep_heading("")


def without_place(said: str) -> str:
    """A reason without the run it begins with, which the customer's page names as a heading does: "Vent:"."""
    return said.partition(": ")[2] if said.startswith("run '") else said


def hostile_job(text: str) -> dict[str, Any]:
    """The simple demonstration with a text wherever a user can type one."""
    data: dict[str, Any] = tomlkit.parse((shipped_folder("scenarios") / "simple-pass.toml").read_text()).unwrap()
    named = text.strip() or "furnace"
    data["title"] = text
    data["note"] = text
    data["appliance"][0]["name"] = named
    data["appliance"][0]["rate"][0]["name"] = text + " 1"
    data["run"][0]["name"] = named + " 2"
    for run in data["run"]:
        run["between"][0] = named
    return data


@pytest.mark.parametrize("number", range(len(HOSTILE)))
def test_typed_texts_stay_text(number: int, tmp_path: Path) -> None:
    """Title, note and every name, in every kind of file; and the file is made."""
    text = HOSTILE[number].replace("\x00", "")
    job = tmp_path / "job.toml"
    job.write_text(tomlkit.dumps(hostile_job(text)))
    paper = job_paper(material_of(read_inputs(job), system=System.US, day=DAY))
    page = Page(rendered(paper, "html").decode())
    assert page.faults == [] and page.open == []
    assert plain(text) in page.text or not text
    for row in csv.reader(io.StringIO(rendered(paper, "csv").decode("utf-8-sig"))):
        for cell in row:
            assert cell.lstrip()[:1] not in tuple("=@+-") or re.fullmatch(r"-|[+-]?[\d,]+(\.\d+)?", cell)
    assert PdfReader(io.BytesIO(rendered(paper, "pdf"))).pages
    assert rendered(paper, "markdown")


@pytest.mark.parametrize(("name", "tone"), [
    ("simple-pass", "good"), ("trips-on-the-vent", "caution"), ("old-two-inch-run", "bad"), ("sagging-run", "bad"),
])  # fmt: skip
def test_the_verdicts_frame_is_good_only_for_a_plain_pass(name: str, tone: str) -> None:
    """Within with a doubt is a caution, and everything else is bad."""
    checked = check(read_inputs(shipped_folder("scenarios") / f"{name}.toml"))
    assert verdict_of(checked, System.US).tone == tone
