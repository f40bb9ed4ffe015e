"""The pages of a job's paper: how many, how full, and nothing broken; what is built and what it costs on the first."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from pypdf import PdfReader

from ventsize.catalog.folders import shipped_table
from ventsize.check.inputs import prepare
from ventsize.jobfile.job import job_from_text
from ventsize.quantity import System
from ventsize.report.job_paper import Material, Part, job_paper, material_of
from ventsize.report.paper import rendered
from ventsize.report.paper.blocks import Size
from ventsize.studies.pricing.files import read_prices

HEAD = """
title = "Job"
tables = ["demo-two-stage.toml"]
site = { altitude = "900 ft", outdoor = "5 degF", indoor = "70 degF" }
[[appliance]]
name = "furnace"
fuel = "natural gas"
rate = [{ name = "high", input = "80 kBtu/h", excess_air = 0.35, flue_temperature = "110 degF" }]
"""
SHORT = """{ pipe = "9 ft", heading = "up" }, { fitting = "elbow-90-long" }, { pipe = "3 ft", heading = "west" }"""
LONG = """{ pipe = "2 ft 6 in", heading = "up" }, { fitting = "elbow-90-long" },
  { pipe = "17 ft 3 1/2 in", heading = "east" }, { fitting = "elbow-45" }, { pipe = "1 ft 6 in" },
  { fitting = "elbow-45" }, { pipe = "3 ft", heading = "east" }, { fitting = "elbow-90-short" },
  { pipe = "4 ft", heading = "north" }, { fitting = "elbow-90-long" }, { pipe = "8 ft", heading = "up" },
  { fitting = "END" }"""
RUNS = (("vent", "flue gas", "terminal-open"), ("air", "combustion air", "entrance-open"))
PRICES = read_prices(shipped_table("invented-prices.toml"))


def material(pipes: int, pieces: str, size: str, system: System) -> Material:
    """A job of so many pipes, each of these pieces; in 3 in within, in 2 in over where it is long."""
    text = HEAD if pipes == 2 else HEAD.replace("fuel =", 'air = "room"\nfuel =')
    for name, carries, end in RUNS[:pipes]:
        text += f'[[run]]\nname = "{name}"\ncarries = "{carries}"\nbetween = ["furnace", "outdoors"]\nsize = "{size}"\n'
        text += f'material = "pvc-40"\ntable = "demo-two-stage.toml"\npieces = [{pieces}]\n'.replace("END", end)
    inputs = prepare(job_from_text(text, file="job.toml"), file="job.toml")
    return material_of(inputs, system=system, day=date(2026, 3, 9), prices=PRICES)


def pages(made: Material, part: Part, size: Size) -> tuple[list[str], list[float]]:
    """The text of each page, and how far down its letters reach as a share of what is above the foot."""
    texts, reached = [], []
    for page in PdfReader(io.BytesIO(rendered(job_paper(made, parts=[part]), "pdf", size=size))).pages:
        heights: list[float] = []

        def seen(text: str, _ctm: Any, at: Any, _font: Any, _size: Any, heights: list[float] = heights) -> None:
            if text.strip() and at[5] > 60.0:
                heights.append(at[5])

        texts.append(" ".join(page.extract_text(visitor_text=seen).split()))
        high = float(page.mediabox.height)
        reached.append((high - min(heights)) / (high - 60.0))
    return texts, reached


@pytest.mark.parametrize(
    ("pieces", "size", "system"),
    [(SHORT, "letter", System.US), (LONG, "letter", System.US), (LONG, "a4", System.SI)],
    ids=["3", "12", "12-a4"],
)
@pytest.mark.parametrize("diameter", ["3 in", "2 in"])
@pytest.mark.parametrize("pipes", [1, 2])
def test_pages(pipes: int, diameter: str, pieces: str, size: Size, system: System) -> None:
    """Two for the customer, six for the permit, none but the last under half full, and no table of pieces broken."""
    made = material(pipes, pieces, diameter, system)
    assert made.check.verdict == ("over" if diameter == "2 in" and pieces == LONG else "within")
    customer, filled = pages(made, "customer", size)
    assert len(customer) <= 2 and min(filled[:-1], default=1.0) > 0.5
    first = customer[0]
    assert all(f"{word.capitalize()} (" in first for word, *_ in RUNS[:pipes]) and "Carbon monoxide" in first
    assert made.cost is not None and (f"{made.cost.total:,}" in first) is (made.check.verdict == "within")
    assert f"Verdict: {made.check.verdict.upper()}" in first and first.count(diameter) > pipes
    permit, filled = pages(made, "permit", size)
    assert len(permit) <= 6 and min(filled[:-1]) > 0.5
    whole = [page for page in permit if "Piece by piece" in page]
    number = 12 if pieces == LONG else 4
    assert sum(page.count(f" {number} {end}") for page in whole for *_, end in RUNS) == pipes


def test_a_paper_without_prices_has_no_price() -> None:
    """The customer's copy then says nothing of money."""
    made = replace(material(1, SHORT, "3 in", System.US), cost=None)
    assert "USD" not in " ".join(pages(made, "customer", "letter")[0])
