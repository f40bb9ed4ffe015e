"""Jobs side by side: what differs in trade words, and shares that add up to the whole difference."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.studies.support import SCENARIOS, again, scenario
from ventsize.check.inputs import Inputs
from ventsize.check.verdict import check
from ventsize.cli import main
from ventsize.jobfile.job import PipePiece
from ventsize.jobfile.lesson import Changed, SizeFrom
from ventsize.jobfile.problems import InputError
from ventsize.quantity import System
from ventsize.report.comparing import as_object, render, what_made_it
from ventsize.report.comparing import told as words
from ventsize.studies.altering.altered import altered
from ventsize.studies.comparing import compare

BASE = scenario("simple-pass")
FOOT = 0.3048


def beside(**changed: object) -> list[tuple[str, Inputs]]:
    """The simple job and a variant of it."""
    return [("A", BASE), ("B", altered(BASE, Changed(**changed)))]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({"fittings": {"elbow-90-long": "elbow-90-short"}}, ("2 × elbow-90-short instead of elbow-90-long",)),
        (
            {"fittings": {"elbow-90-long": ("elbow-45", "elbow-45")}},
            ("4 × elbow-45, two instead of each elbow-90-long",),
        ),
        ({"more": {"elbow-90-long": 2}}, ("2 more elbow-90-long",)),
        ({"more": {"elbow-45": 1}}, ("1 × elbow-45 added",)),
        ({"fewer": {"elbow-90-long": 1}}, ("1 fewer elbow-90-long",)),
        ({"fewer": {"elbow-90-long": 2}}, ("no elbow-90-long",)),
        ({"size": 0.0508}, ("2 in pipe instead of 3 in",)),
        ({"order": (3, 2, 1, 5, 4, 6)}, ("the same pieces in another order",)),
        ({"longer": 10 * FOOT}, ("10 ft more straight pipe",)),
        ({"altitude": 7000 * FOOT}, ("altitude 7,000 ft instead of 620 ft",)),
        ({"fuel": "propane"}, ("fuel propane instead of natural gas",)),
        ({"end": "terminal-screened"}, ("terminal-screened instead of terminal-open",)),
        ({"material": "cpvc-40"}, ("cpvc-40 instead of pvc-40",)),
        (
            {"size_from": SizeFrom(piece=3, size=0.1016)},
            ("3 in, then 4 in pipe instead of 3 in", "1 × increaser added"),
        ),
    ],
)
def test_differences_in_trade_words(changed: dict[str, object], told: tuple[str, ...]) -> None:
    """One change, one sentence; nothing else is said to differ."""
    assert tuple(words(compare(beside(**changed)).compared[1].differences, System.US)) == told


def test_two_45s_stand_where_each_90_stood() -> None:
    """In place, in a laid-out run whose headings still hold: pipe, two, pipe, two, pipe, end; counted: two for one."""
    made = altered(BASE, Changed(fittings={"elbow-90-long": ("elbow-45", "elbow-45")}))
    pieces = made.graph.runs["vent"].pieces
    assert [p.name for p in pieces] == ["pipe", *2 * ["elbow-45"], "pipe", *2 * ["elbow-45"], "pipe", "terminal-open"]
    typed = next(run for run in made.job.runs if run.name == "vent")
    assert [p.heading for p in typed.pieces or () if isinstance(p, PipePiece)] == ["up", "east", "north"]
    assert check(made).run("vent").verdict == "within"
    counted = altered(scenario("counted-run"), Changed(fittings={"elbow-90-long": ("elbow-45", "elbow-45")}))
    before = scenario("counted-run").job.runs[0].fittings or {}
    after = counted.job.runs[0].fittings or {}
    assert after["elbow-45"] == 2 * before["elbow-90-long"] + before.get("elbow-45", 0) and "elbow-90-long" not in after


def test_rates_differ_by_name() -> None:
    """Each rate's input, in the units chosen."""
    found = compare(beside(input=17584.26)).compared[1]
    assert words(found.differences, System.SI)[0] == "high: input 17.6 kW instead of 23.4 kW"


changes = st.fixed_dictionaries(
    {},
    optional={
        "size": st.sampled_from([0.0508, 0.1016]),
        "more": st.dictionaries(st.sampled_from(["elbow-45", "elbow-90-short"]), st.integers(1, 4), min_size=1),
        "fittings": st.just({"elbow-90-long": "elbow-90-mitered"}),
        "altitude": st.floats(0, 3000),
        "input": st.floats(8000, 40000),
        "flue_temperature": st.floats(300, 350),
        "excess_air": st.floats(0.1, 1.0),
        "fuel": st.just("propane"),
        "longer": st.floats(0, 20),
    },
)


@given(changes)
def test_shares_add_up_to_the_difference(changed: dict[str, object]) -> None:
    """Exactly, whatever is changed, and each kind of piece adds up to its share."""
    found = compare(beside(**changed)).compared
    apart = found[1].pressure_drop - found[0].pressure_drop
    scale = max(one.pressure_drop for one in found)
    assert math.isclose(math.fsum(part.pressure for part in found[1].parts), apart, abs_tol=1e-10 * scale)
    for part in found[1].parts:
        assert math.isclose(math.fsum(p for _, p in part.by_piece), part.pressure, abs_tol=1e-10 * scale)
    assert math.isclose(math.fsum(loss for _, loss in found[1].losses), found[1].pressure_drop, rel_tol=1e-12)


def test_one_change_alone_has_the_whole_share() -> None:
    """By two checks of the job: nothing is left to any other change."""
    study = compare(beside(altitude=2000.0))
    found = study.compared[1]
    after = check(altered(BASE, Changed(altitude=2000.0))).runs[0].worst.flow.pressure_drop
    (part,) = found.parts
    assert part.name == "the altitude"
    assert part.pressure == pytest.approx(after - check(BASE).runs[0].worst.flow.pressure_drop)
    assert "all of it from altitude" in what_made_it(study, System.US)[0]


def test_two_changes_share_what_neither_does_alone() -> None:
    """By hand: each gets the mean of coming first and coming second."""
    size, rate = Changed(size=0.0508), Changed(input=30000.0)
    both = Changed(size=0.0508, input=30000.0)
    none, one, two, all_ = (
        check(i).runs[0].worst.flow.pressure_drop
        for i in (BASE, altered(BASE, size), altered(BASE, rate), altered(BASE, both))
    )
    parts = {p.name: p.pressure for p in compare([("A", BASE), ("B", altered(BASE, both))]).compared[1].parts}
    assert parts["the size"] == pytest.approx(((one - none) + (all_ - two)) / 2)
    assert parts["the firing rate"] == pytest.approx(((two - none) + (all_ - one)) / 2)


def test_order_makes_no_difference_in_one_size() -> None:
    """The sentence says so, where the gas is figured at one temperature."""
    plain = again(BASE, replace(BASE.job, cooling=False))
    found = compare([("A", plain), ("B", altered(plain, Changed(order=(3, 2, 1, 5, 4, 6))))])
    assert "makes no difference to the loss" in what_made_it(found, System.US)[0]


def test_the_curve_begins_at_the_loss_and_ends_at_nothing() -> None:
    """What is still to be lost along the run."""
    for one in compare(beside(size=0.0508)).compared:
        assert one.points[0][1] == pytest.approx(one.pressure_drop)
        assert one.points[-1][1] == pytest.approx(0.0, abs=1e-9)


def test_jobs_of_other_names_are_told_apart() -> None:
    """Files that share nothing are set side by side all the same: all that differs is one share."""
    found = compare([("A", BASE), ("B", scenario("propane-metric"))], run="vent")
    assert found.compared[1].parts
    assert sum(p.pressure for p in found.compared[1].parts) == pytest.approx(
        found.compared[1].pressure_drop - found.compared[0].pressure_drop
    )


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"fewer": {"elbow-45": 1}}, "it has 0 × elbow-45"),
        ({"fittings": {"elbow-45": "elbow-22"}}, "it has no elbow-45 to exchange"),
        ({"fittings": {"elbow-90-long": ()}}, "nothing is named that takes the place of elbow-90-long"),
        ({"order": (1, 2)}, "does not name each of its 6 pieces once"),
        ({"run": "vnet", "size": 0.05}, "there is no run 'vnet' to change; expected perhaps 'vent'"),
        ({"size": 0.07}, "pvc-40"),
        ({"longer": -50.0}, "not so long"),
        ({"size_from": SizeFrom(piece=9, size=0.1016)}, "no piece 9"),
    ],
)
def test_a_change_that_cannot_be_made_is_refused(changed: dict[str, object], said: str) -> None:
    """One sentence, no variant."""
    with pytest.raises(InputError, match=said):
        beside(**changed)


def test_two_to_six() -> None:
    """One alone is no comparison, and seven do not fit."""
    for count in (1, 7):
        with pytest.raises(InputError, match="two to six"):
            compare([("A", BASE)] * count)


def test_the_verb(capsys: pytest.CaptureFixture[str]) -> None:
    """Two files, or one with changes; text within 80 columns, JSON, and one sentence for a bad change."""
    job = str(SCENARIOS / "simple-pass.toml")
    assert main(["compare", job, str(SCENARIOS / "counted-run.toml"), "--run", "vent"]) == 0
    assert "altitude 300 ft instead of 620 ft" in capsys.readouterr().out
    assert main(["compare", job, "--with", 'size = "2 in"', "--with", "more = { elbow-45 = 3 }"]) == 0
    text = capsys.readouterr().out
    assert "2 in pipe instead of 3 in" in text and max(map(len, text.splitlines())) <= 80
    assert main(["compare", job, "--with", 'size = "2 in"', "--json"]) == 0
    assert len(json.loads(capsys.readouterr().out)["compared"]) == 2
    assert main(["compare", job, "--with", 'siez = "2 in"']) == 2
    assert "perhaps 'size'" in capsys.readouterr().err


def test_text_and_json_carry_the_same() -> None:
    """Every variant, every share."""
    found = compare(beside(altitude=2000.0, size=0.0508))
    assert as_object(found, System.US)["compared"][1]["said"] == what_made_it(found, System.US)[0]
    assert "together" in render(found, System.US)
