"""Ways to do a job side by side: each is as `check` and `takeoff` have it, and only those within can stand out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from tests.report.outside import Page
from ventsize.catalog.folders import shipped_folder, shipped_table
from ventsize.check.inputs import Inputs, read_inputs
from ventsize.check.verdict import check
from ventsize.quantity import System
from ventsize.report.job_paper.proposal import proposal_paper
from ventsize.report.job_paper.ways import names_of
from ventsize.report.paper import Paper, rendered
from ventsize.studies.pricing.files import read_prices
from ventsize.studies.pricing.prices import cost
from ventsize.studies.proposal import Proposal, proposal
from ventsize.studies.takeoff import takeoff
from ventsize.studies.takeoff.practice import read_practice

OLD = (shipped_folder("scenarios") / "old-two-inch-run.toml").read_text()
PRICES = read_prices(shipped_table("invented-prices.toml"))


def ways(folder: Path) -> list[Inputs]:
    """The old run, and three cures that differ in cost and in what they leave."""
    texts = {
        "as it is": OLD,
        "long elbows": OLD.replace("elbow-90-short", "elbow-90-long"),
        "larger": OLD.replace('size = "2 in"', 'size = "2 1/2 in"'),
        "much larger": OLD.replace('size = "2 in"', 'size = "3 in"'),
    }
    for name, text in texts.items():
        (folder / f"{name}.toml").write_text(text)
    return [read_inputs(folder / f"{name}.toml") for name in texts]


def made(jobs: list[Inputs], *, priced: bool = True) -> Proposal:
    """Side by side, at the invented prices."""
    return proposal(jobs, practice=read_practice(), prices=PRICES if priced else None)


def paper(found: Proposal) -> Paper:
    """On paper."""
    return proposal_paper(found, title="t", system=System.US, day=date(2026, 3, 9))


def test_each_way_is_what_the_other_studies_say(tmp_path: Path) -> None:
    """Verdict, margin and cost are those of `check`, `takeoff` and `cost` alone."""
    jobs = ways(tmp_path)
    found = made(jobs)
    assert [way.letter for way in found.ways] == ["A", "B", "C", "D"]
    for way, inputs in zip(found.ways, jobs, strict=True):
        alone = check(inputs)
        assert (way.check.verdict, way.margin) == (alone.verdict, min(run.margin or 0.0 for run in alone.runs))
        assert way.cost == cost(takeoff(inputs, practice=read_practice()), PRICES)


def test_only_what_is_within_stands_out(tmp_path: Path) -> None:
    """The old run is the cheapest of all and over: it is no choice, and the paper says so."""
    found = made(ways(tmp_path))
    old, good = found.ways[0], [way for way in found.ways if way.acceptable]
    assert not old.acceptable and len(good) >= 2
    assert found.cheapest is not None and found.cheapest in good
    costs = [way.cost.total for way in good if way.cost]
    assert found.cheapest.cost is not None and found.cheapest.cost.total == min(costs)
    assert found.roomiest is not None and found.roomiest.margin == max(way.margin or 0.0 for way in good)
    text = rendered(paper(found), "markdown").decode()
    assert "A is no choice: OVER" in text and "- [ ] A" not in text and f"- [ ] {found.cheapest.letter}" in text


def test_what_is_not_known_is_no_best(tmp_path: Path) -> None:
    """Without prices, or with one missing, or between alike ways, nothing is called the cheapest."""
    jobs = ways(tmp_path)
    assert made(jobs, priced=False).cheapest is None
    assert made([jobs[2], jobs[2]]).cheapest is None
    counted = read_inputs(shipped_folder("scenarios") / "counted-run.toml")
    assert made([jobs[2], counted]).cheapest is None
    assert made([jobs[0]]).roomiest is None


def test_four_ways_at_most(tmp_path: Path) -> None:
    """More would not stand beside each other on a page."""
    jobs = ways(tmp_path)
    with pytest.raises(ValueError, match="5 jobs"):
        made([*jobs, jobs[0]])


def test_the_paper_is_whole(tmp_path: Path) -> None:
    """A row for what differs, a picture of each vent, nothing asked of others; not everything the same is repeated."""
    found = made(ways(tmp_path))
    page = Page(rendered(paper(found), "html").decode())
    assert page.faults == [] and page.open == [] and len(page.pictures) == 4
    text = " ".join(" ".join(page.text).split())
    for words in ("By calculation", "vent: size", "Joints", "Price", "Your choice", "carbon monoxide in a building"):
        assert words in text
    assert "The same in all:" in text and text.count("vent: material") == 1


def test_ways_are_called_by_what_they_have(tmp_path: Path) -> None:
    """Words for what differs, another name for each, and no file's name on the paper."""
    found = made(ways(tmp_path))
    names = names_of(found.ways, System.US)
    assert len(set(names)) == 4 and names[1] == "long elbows, 2 in" and names[3] == "short elbows, 3 in"
    text = rendered(paper(found), "markdown").decode()
    assert "much larger" not in text and "as it is" not in text and "- [ ] B: long elbows, 2 in" in text
    again = made([way.inputs for way in (found.ways[0], found.ways[0])])
    assert len(set(names_of(again.ways, System.US))) == 2


def test_the_price_is_with_its_tax(tmp_path: Path) -> None:
    """A customer compares what they pay: the total, tax in it, first of the lines; no price of a part."""
    jobs = ways(tmp_path)
    taxed = replace(PRICES, tax=Decimal("0.10"), tax_on="everything")
    found = proposal(jobs, practice=read_practice(), prices=taxed)
    text = rendered(paper(found), "markdown").decode()
    for way in found.ways:
        assert way.cost is not None and (f"{way.cost.total:,} USD" in text) is way.acceptable
        assert way.cost.tax is not None and way.cost.tax > 0
    assert "Price, tax included" in text and "22.45" not in text


def test_what_is_no_choice_has_no_price_and_the_letterhead_is_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The run as it is costs the least and is over: its price is not on the paper, those of the others are."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    (tmp_path / "letterhead.toml").write_text('heading = "Pipe & Daughters"', encoding="utf-8")
    found = made(ways(tmp_path))
    text = " ".join(" ".join(Page(rendered(paper(found), "html").decode()).text).split())
    assert "Pipe & Daughters" in text and "no offer" in text
    for way in found.ways:
        assert way.cost is not None and (f"{way.cost.total:,}" in text) is way.acceptable
    assert min(found.ways, key=lambda way: way.cost.total if way.cost else 0).acceptable is False
