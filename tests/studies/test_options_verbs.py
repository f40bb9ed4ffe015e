"""The verbs for options, repairs and headroom, and the demonstration jobs made for them."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path

import pytest

from tests.studies.support import SCENARIOS, scenario
from ventsize.cli import main
from ventsize.studies.options import Option
from ventsize.studies.options.ranking import Ranking
from ventsize.studies.pricing import Pricer
from ventsize.studies.pricing.files import read_prices
from ventsize.studies.repairs import repairs
from ventsize.studies.takeoff.practice import read_practice

PRICES = str(SCENARIOS.parent / "tables" / "invented-prices.toml")
OLD_RUN, NONE_WITHIN = (str(SCENARIOS / f"{name}.toml") for name in ("old-two-inch-run", "no-acceptable-option"))


def test_options(capsys: pytest.CaptureFixture[str]) -> None:
    """Status 0 where an option is within; JSON says how many there were."""
    assert main(["options", OLD_RUN, "--json", "--sort", "joints"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["looked_at"] == found["total"] and found["smallest"]
    assert all(option["verdict"] == "within" for option in found["acceptable"])


def test_no_option(capsys: pytest.CaptureFixture[str]) -> None:
    """Status 1 where none is, and what the nearest would take."""
    assert main(["options", NONE_WITHIN]) == 1
    shown = capsys.readouterr().out
    assert "No option is within" in shown and "shorter" in shown


def test_stopped_it_shows_what_it_has(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl+C among 24,300: the best of those looked at, and that it was stopped."""
    take = Ranking.take

    def interrupted(ranking: Ranking, option: Option) -> None:
        take(ranking, option)
        if ranking.looked_at == 900:
            raise KeyboardInterrupt

    monkeypatch.setattr(Ranking, "take", interrupted)
    ends = "terminal-open,terminal-screened,terminal-elbow-down"
    assert main(["options", OLD_RUN, "--each-elbow", "--ends", ends]) == 0
    shown = capsys.readouterr()
    assert "stopped" in shown.err and "900 options looked at" in shown.out and "Within" in shown.out


def test_wrong_questions(capsys: pytest.CaptureFixture[str]) -> None:
    """A run that is not there, and a ranking by prices nobody gave, are refused in a line."""
    assert main(["options", OLD_RUN, "--run", "chimney"]) == 2
    assert main(["options", OLD_RUN, "--sort", "cost"]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 2


def costs(found: dict[str, object]) -> list[Decimal | None]:
    """What the acceptable options cost; None where a price is missing."""
    listed = found["acceptable"]
    assert isinstance(listed, list)
    return [Decimal(one["cost"]["total"]) if one["cost"]["whole"] else None for one in listed]


def test_ranked_by_cost(capsys: pytest.CaptureFixture[str]) -> None:
    """The cheapest first, each to the cent."""
    assert main(["options", OLD_RUN, "--sort", "cost", "--prices", PRICES, "--json"]) == 0
    found = costs(json.loads(capsys.readouterr().out))
    known = [cost for cost in found if cost is not None]
    assert len(known) > 20 and known == sorted(known) and all(cost > 0 for cost in known)


def test_missing_prices_come_last_and_are_named(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """An option with something that has no price is never the cheapest, nor shown as costing nothing."""
    few = tmp_path / "few.csv"
    few.write_text(Path(PRICES).read_text(encoding="utf-8").replace('item = "elbow-90-long"', 'item = "other"'))
    few = few.rename(tmp_path / "few.toml")
    assert main(["options", OLD_RUN, "--sort", "cost", "--prices", str(few), "--json"]) == 0
    found = costs(json.loads(capsys.readouterr().out))
    first_missing = found.index(None)
    assert 0 < first_missing < len(found) and not any(found[first_missing:])
    assert main(["repairs", OLD_RUN, "--prices", str(few)]) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert "price missing: elbow-90-long 2 in" in shown and "0.00 USD" not in shown


def test_choices_in_plain_names(capsys: pytest.CaptureFixture[str]) -> None:
    """Sizes, materials, elbows, ends, pipes and size changes as asked, and nothing else."""
    asked = ["--sizes", "2 1/2 in,3 in", "--materials", "pvc-40,cpvc-40", "--elbows", "long", "--change-to", "as it is"]
    ends = ["--ends", "terminal-open,terminal-elbow-down", "--pipes", "two"]
    assert main(["options", OLD_RUN, *asked, *ends, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["looked_at"] == 2 * 2 * 2 + 2 * 2 * 2 * 2  # as it is, and with an air pipe in either size
    names = " ".join(option["option"] for option in found["acceptable"] + found["misses"])
    assert "cpvc-40" in names and "terminal-elbow-down" in names and "two pipes" in names and "short" not in names


def test_routes_from_a_file_and_from_the_job(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Each way to lay the run has its own answer; one that cannot be acceptable says what it would take."""
    text = Path(NONE_WITHIN).read_text(encoding="utf-8")
    near = tmp_path / "through-the-side-wall.toml"
    near.write_text(text.replace("92 ft", "20 ft"), encoding="utf-8")
    assert main(["options", NONE_WITHIN, "--route", str(near), "--json"]) == 0
    routes = json.loads(capsys.readouterr().out)["routes"]
    assert [route["routes"] for route in routes] == [[None], ["through-the-side-wall"]]
    assert [bool(route["within"]) for route in routes] == [False, True]
    assert "shorter" in routes[0]["misses"][0]["it_would_take"]
    both = tmp_path / "both.toml"
    run = text[text.index("[[run]]") :].replace('name = "vent"', 'name = "by the side"').replace("92 ft", "20 ft")
    both.write_text(f"{text}\n{run}", encoding="utf-8")
    assert main(["options", str(both), "--route", "by the side", "--run", "vent", "--json"]) == 0
    again = json.loads(capsys.readouterr().out)["routes"]
    assert [route["within"] for route in again] == [route["within"] for route in routes]


def test_a_route_with_names_of_its_own(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """It is judged by the table of the run it may take the place of; a fitting nobody knows is a reason, no crash."""
    text = Path(OLD_RUN).read_text(encoding="utf-8")
    run = text.index("[[run]]")
    other = text[:run] + text[run:].replace("demo-two-stage.toml", "elsewhere.toml").replace("12 ft", "4 ft")
    odd = text[:run] + text[run:].replace("elbow-90-short", "elbow-of-mine")
    paths = [tmp_path / "other.toml", tmp_path / "odd.toml"]
    for path, content in zip(paths, (other, odd), strict=True):
        path.write_text(content, encoding="utf-8")
    routes = [word for path in paths for word in ("--route", str(path))]
    assert main(["options", OLD_RUN, *routes, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)["routes"]
    assert [bool(route["within"]) for route in found] == [True, True, False]
    assert "elbow-of-mine" in found[2]["misses"][0]["reason"]


def test_taken_into_a_new_job(tmp_path: Path) -> None:
    """The option or repair of a number, written as a job of its own, is within; a file is never written over."""
    for verb, name in (("options", "one.toml"), ("repairs", "other.toml")):
        made = str(tmp_path / name)
        assert main([verb, OLD_RUN, "--take", "1", "--to", made]) == 0
        assert main(["check", made]) == 0
        assert main([verb, OLD_RUN, "--take", "1", "--to", made]) == 2
        assert main([verb, OLD_RUN, "--take", "9999", "--to", str(tmp_path / "x.toml")]) == 2


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (["--sizes", "3 in,three"], "sizes"),
        (["--materials", "cardboard"], "cardboard"),
        (["--elbows", "longish"], "long"),
        (["--ends", "elbow-45"], "elbow-45"),
        (["--pipes", "three"], "two"),
        (["--route", "nowhere.toml"], "nowhere.toml"),
        (["--take", "1"], "--to"),
        (["--prices", "nowhere.csv"], "nowhere.csv"),
    ],
)
def test_what_cannot_be_chosen(asked: list[str], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    """One sentence with the place and what is expected."""
    assert main(["options", OLD_RUN, *asked]) == 2
    out, err = capsys.readouterr()
    assert not out and said in err and "expected" in err and len(err.splitlines()) == 1


@pytest.mark.parametrize("verb", ["repairs", "headroom"])
def test_other_verbs(verb: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Text and JSON both come."""
    assert main([verb, OLD_RUN]) == 0 and capsys.readouterr().out
    assert main([verb, OLD_RUN, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["runs"]


def test_three_cures() -> None:
    """The old run is over, and a change of pipe, of elbows or of the offset each cures it, at different costs."""
    pricer = Pricer(read_prices(Path(PRICES)), read_practice())
    (answer,) = repairs(scenario("old-two-inch-run"), pricer=pricer)
    assert answer.verdict == "over"
    single = [repair for repair in answer.repairs if len(repair.changes) == 1]
    parts = {repair.changes[0].kind: repair.cost.parts.known for repair in single if repair.cost}
    wanted = (("change-exchange", "elbow-90-short"), ("change-offset-slant", None), ("change-size", None))
    found = [parts[kind] for kind in wanted]
    assert None not in found and len(set(found)) == 3
