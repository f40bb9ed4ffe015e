"""Visits: kept beside the job by date, read back as they were, and compared."""

from __future__ import annotations

import datetime
import json
import shutil
import tomllib
from pathlib import Path

import pytest

from tests.studies.support import SCENARIOS
from ventsize.cli import main
from ventsize.jobfile.problems import InputError
from ventsize.jobfile.visits import add_visit, read_visits, visits_file

READING = '\n[[reading]]\nplace = "collar"\nrate = "high"\npressure = "0.05 in w.c."\naccuracy = "0.01 in w.c."\n'


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job with one reading, that may be changed."""
    path = Path(shutil.copy(SCENARIOS / "simple-pass.toml", tmp_path / "job.toml"))
    path.write_text(path.read_text(encoding="utf-8") + READING, encoding="utf-8")
    return path


def edit(path: Path, before: str, after: str) -> None:
    """Change a job file by hand."""
    text = path.read_text(encoding="utf-8")
    assert before in text
    path.write_text(text.replace(before, after, 1), encoding="utf-8")


def keep(path: Path, date: str, *more: str) -> None:
    """Keep a visit."""
    assert main(["visit", str(path), "--keep", "--date", date, *more]) == 0


def changes(path: Path, capsys: pytest.CaptureFixture[str], *more: str) -> dict[str, object]:
    """What has changed since a visit."""
    capsys.readouterr()
    assert main(["visit", str(path), "--json", *more]) == 0
    found: dict[str, object] = json.loads(capsys.readouterr().out)["changes"]
    return found


def test_a_visit_is_kept_whole(job: Path) -> None:
    """Readings, ticks, verdict, margins, photos and the job of that day, in a file that can be read by itself."""
    assert main(["checkover", str(job), "--tick", "alarm", "--met", "--date", "2026-10-02"]) == 1
    keep(job, "2026-10-02", "--by", "J. S.", "--note", "Windy.", "--photo", "terminal.jpg", "--photo", "plate.jpg")
    (visit,) = read_visits(job)
    assert (visit.date, visit.by, visit.note) == (datetime.date(2026, 10, 2), "J. S.", "Windy.")
    assert visit.verdict == "within" and visit.margins["vent"] == "102.0 ft"
    assert visit.photos == ("terminal.jpg", "plate.jpg")
    assert [reading.place for reading in visit.readings] == ["collar"]
    assert [tick.rule for tick in visit.checked] == ["alarm"]
    typed = tomllib.loads(job.read_text(encoding="utf-8"))
    assert visit.data == {key: value for key, value in typed.items() if key not in ("reading", "checked")}


def test_visits_are_added_and_stay_in_order_of_date(job: Path) -> None:
    """A visit entered late stands where its date belongs; what was kept before is not touched."""
    keep(job, "2026-10-02", "--note", "first")
    before = visits_file(job).read_text(encoding="utf-8")
    keep(job, "2026-11-20")
    keep(job, "2026-09-01")
    assert visits_file(job).read_text(encoding="utf-8").startswith(before)
    assert [visit.date.isoformat() for visit in read_visits(job)] == ["2026-09-01", "2026-10-02", "2026-11-20"]


def test_nothing_has_changed_right_after(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In either system of units: rounding is no change."""
    keep(job, "2026-10-02", "--units", "si")
    assert changes(job, capsys)["nothing"] is True
    assert changes(job, capsys, "--units", "si")["nothing"] is True


def test_what_changed_is_named(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A reading beyond the instruments' accuracy, a length, the margin, a rule no longer met."""
    assert main(["checkover", str(job), "--tick", "terminal-above-grade", "--value", "14 in"]) == 1
    keep(job, "2026-10-02")
    edit(job, "0.05 in w.c.", "0.12 in w.c.")
    edit(job, "18 ft", "22 ft")
    edit(job, "14 in", "10 in")
    found = changes(job, capsys)
    (reading,) = found["readings"]  # type: ignore[misc]
    assert reading["verdict"] == "changed" and reading["change_Pa"] == pytest.approx(0.07 * 249.089, rel=1e-4)
    assert found["job"] == [{"place": "run 'vent', piece 3, pipe", "was": "18 ft", "now": "22 ft", "moved": False}]
    assert found["margins"] == [{"run": "vent", "was": "102.0 ft", "now": "98.0 ft"}]
    assert found["newly_not_met"] == ["terminal-above-grade at vent"]
    assert main(["visit", str(job)]) == 0
    text = capsys.readouterr().out
    assert max(map(len, text.splitlines())) <= 80
    assert "run 'vent', piece 3, pipe: 18 ft -> 22 ft" in text


def test_a_reading_within_both_accuracies_is_the_same(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """0.01 and 0.01 in w.c. together are 0.014: 0.013 more is no news."""
    keep(job, "2026-10-02")
    edit(job, "0.05 in w.c.", "0.063 in w.c.")
    assert changes(job, capsys)["readings"][0]["verdict"] == "the same"  # type: ignore[index]
    edit(job, "0.063 in w.c.", "0.066 in w.c.")
    assert changes(job, capsys)["readings"][0]["verdict"] == "changed"  # type: ignore[index]


def test_readings_of_the_last_visit_are_not_taken_for_new_ones(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Kept a second time to the letter, they are asked about; --start takes them out, and only those."""
    keep(job, "2026-10-02")
    keep(job, "2026-11-20")
    assert "1 readings are those of 2026-10-02" in capsys.readouterr().out
    job.write_text(job.read_text(encoding="utf-8") + READING.replace("high", "low"), encoding="utf-8")
    assert main(["visit", str(job), "--start"]) == 0
    assert "1 readings stay" in capsys.readouterr().out
    assert [reading["rate"] for reading in tomllib.loads(job.read_text(encoding="utf-8"))["reading"]] == ["low"]
    assert [one["verdict"] for one in changes(job, capsys)["readings"]] == ["new", "not there now"]  # type: ignore[attr-defined]


def test_an_alarm_is_not_taken_out_for_a_new_visit(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Carbon monoxide in the room says to shut the appliance off until it is read again, on a new visit as well."""
    job.write_text(
        f'{job.read_text(encoding="utf-8")}\n[[reading]]\nplace = "room"\ncarbon_monoxide = "80 ppm"\n', "utf-8"
    )
    keep(job, "2026-10-02")
    job.write_text(job.read_text(encoding="utf-8") + READING.replace("high", "low"), encoding="utf-8")
    assert main(["visit", str(job), "--start"]) == 0
    left = tomllib.loads(job.read_text(encoding="utf-8"))["reading"]
    assert [reading.get("before_repair", False) for reading in left] == [True, True, False]  # the last one is new
    capsys.readouterr()
    assert main(["readings", str(job), "--json"]) == 1
    said = [one["code"] for one in json.loads(capsys.readouterr().out)["shut_off"]]
    assert said == ["co-in-room-leave", "not-read-again"]


def test_photos_are_looked_for_beside_the_job(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A name is kept from the job's folder on; a photo that is not there is said."""
    (job.parent / "there.jpg").write_bytes(b"")
    keep(job, "2026-10-02", "--photo", str(job.parent / "there.jpg"), "--photo", "gone.jpg")
    assert "gone.jpg is not beside the job" in capsys.readouterr().out
    assert read_visits(job)[0].photos == ("there.jpg", "gone.jpg")
    assert main(["visit", str(job), "--on", "2026-10-02"]) == 0
    assert "gone.jpg (not beside the job)" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--on", "2026-01-01"], "one of: 2026-10-02"),
        (["--since", "2026-01-01"], "there was no visit on 2026-01-01"),
        (["--on", "soon"], "'soon' is not a date"),
        (["--keep", "--date", "2026-13-01"], "is not a date"),
    ],
)
def test_a_date_that_is_none_is_said(
    words: list[str], said: str, job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One sentence, status 2, and nothing written."""
    keep(job, "2026-10-02")
    before = visits_file(job).read_bytes()
    capsys.readouterr()
    assert main(["visit", str(job), *words]) == 2
    error = capsys.readouterr().err
    assert said in error and len(error.splitlines()) == 1
    assert visits_file(job).read_bytes() == before


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[[visit]]\nverdict = 'within'\n", "'date' is missing"),
        ("[[visit]]\ndate = 2026-10-02\nphoto = ['a']\n", "perhaps 'photos'"),
        ("[[visit]]\ndate = 2026-10-02\n[[visit.reading]]\nplace = 'collar'\nrate = 'high'\n", "it has no value"),
        ("visit = 3\n", "list"),
        ("[[visit]\n", "not TOML"),
    ],
)
def test_a_file_of_visits_with_a_fault_is_left_alone(
    text: str, said: str, job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It is not added to, and the sentence names the file."""
    visits_file(job).write_text(text, encoding="utf-8")
    assert main(["visit", str(job), "--keep"]) == 2
    error = capsys.readouterr().err
    assert said in error and "job.visits" in error
    assert visits_file(job).read_text(encoding="utf-8") == text


def test_a_visit_that_is_none_is_not_added(job: Path) -> None:
    """Whoever builds one wrongly finds out before the file does."""
    with pytest.raises(InputError):
        add_visit(job, {"date": "yesterday"})
    assert not visits_file(job).exists()


def test_the_demonstration_of_a_second_visit(capsys: pytest.CaptureFixture[str]) -> None:
    """Its first visit stands beside it: the verdict, a reading, a terminal and two pieces are not what they were."""
    found = changes(SCENARIOS / "second-visit.toml", capsys)
    assert found["verdict"] == {"was": "within", "now": "over"}
    assert [one["verdict"] for one in found["readings"]] == ["changed", "the same", "the same"]  # type: ignore[attr-defined]
    assert "terminal-above-grade at vent" in found["newly_not_met"]  # type: ignore[operator]
    places = [one["place"] for one in found["job"]]  # type: ignore[attr-defined]
    assert places == ["run 'vent', piece 5, pipe", "run 'vent', piece 6, fitting"]


def test_a_visit_is_never_compared_with_itself(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Right after it was kept the one before is what it is compared with; a first visit has none."""
    keep(job, "2026-10-02", "--time", "09:00")
    assert changes(job, capsys, "--date", "2026-10-02") is None
    edit(job, '"0.05 in w.c."', '"0.09 in w.c."')
    keep(job, "2026-10-02", "--time", "14:05")
    found = changes(job, capsys, "--date", "2026-10-02")
    readings = found["readings"]
    assert found["nothing"] is False and isinstance(readings, list)
    assert readings[0]["change_Pa"] == pytest.approx(0.04 * 249.089, rel=1e-3)


def test_two_visits_on_one_day_are_told_apart_by_their_time(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    keep(job, "2026-10-02", "--time", "14:05", "--note", "after")
    keep(job, "2026-10-02", "--time", "09:00", "--note", "before")
    assert [(visit.time, visit.note) for visit in read_visits(job)] == [("09:00", "before"), ("14:05", "after")]
    for on, note in (("2026-10-02 09:00", "before"), ("2026-10-02 14:05", "after"), ("2026-10-02", "after")):
        capsys.readouterr()
        assert main(["visit", str(job), "--on", on, "--json"]) == 0
        assert json.loads(capsys.readouterr().out)["note"] == note
    assert main(["visit", str(job), "--on", "2026-10-02 11:00"]) == 2


WELL = "Nothing that was looked at is other than it should be"
EXPECTED = READING.replace("[[reading]]", "[[visit.reading]]")
EVERY_RULE = "met = 9\nto_do = 0\n"


def pages(job: Path) -> tuple[str, str]:
    """The page of the last visit for the customer, and the one for the office."""
    found = []
    for reader in ("customer", "office"):
        page = job.with_name(f"{reader}.md")
        assert main(["visit", str(job), "--for", reader, "--markdown", str(page), "--replace"]) == 0
        found.append(page.read_text(encoding="utf-8").replace("\\", ""))
    return found[0], found[1]


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ("", WELL),
        ("[[visit.reading]]\nplace = 'collar'\nrate = 'low'\npressure = '0.9 in w.c.'\n", "0.900 in w.c."),
        ("[[visit.reading]]\nplace = 'collar'\nrate = 'gone'\npressure = '0.9 in w.c.'\n", "0.900 in w.c."),
        ("[[visit.reading]]\nplace = 'nowhere'\nrate = 'high'\npressure = '0.9 in w.c.'\n", "nowhere"),
        ("[[visit.reading]]\nplace = 'room'\ncarbon_monoxide = '80 ppm'\n", "80 ppm"),
        ("[[visit.symptom]]\nwhat = 'trips in wind'\n", "trips in wind"),
    ],
)
def test_nothing_is_said_to_be_well_where_anything_is_not(job: Path, more: str, told: str) -> None:
    """A reading off, one that cannot be compared or judged, a shut-off line, a symptom: each is on both pages."""
    keep(job, "2026-10-02")
    path = visits_file(job)
    text = path.read_text(encoding="utf-8")
    kept = [line for line in text.splitlines() if not line.startswith(("met =", "to_do =", "not_met ="))]
    text = "\n".join(kept).replace("verdict =", f"{EVERY_RULE}verdict =") + "\n"
    sound = text.partition("[[visit.reading]]")[0] + EXPECTED
    path.write_text(sound + more, encoding="utf-8")
    for page in pages(job)[: 1 if told == WELL else 2]:
        assert told in page
        assert (WELL in page) is (told == WELL)


@pytest.mark.parametrize("line", ["to_do = 3", "not_met = ['alarm']", "verdict = 'over'", "met = 0"])
def test_nothing_is_said_to_be_well_where_a_rule_was_not_met_or_not_looked_at(job: Path, line: str) -> None:
    keep(job, "2026-10-02")
    path = visits_file(job)
    key = line.partition(" ")[0]
    kept = [one for one in path.read_text(encoding="utf-8").splitlines() if not one.startswith(("met =", "to_do ="))]
    rules = [one for one in EVERY_RULE.splitlines() if not one.startswith(f"{key} =")]
    at = next(n for n, one in enumerate(kept) if one.startswith("verdict ="))
    kept[at : at + 1] = [*rules, line] if key == "verdict" else [*rules, line, kept[at]]
    text = "\n".join(kept).partition("[[visit.reading]]")[0] + EXPECTED
    path.write_text(text, encoding="utf-8")
    assert not any(WELL in page for page in pages(job))


def test_a_visit_names_the_likely_cause_and_what_is_next(job: Path) -> None:
    """Far too much pressure: the customer reads which readings are off, what it may be, and what comes next."""
    edit(job, "0.05 in w.c.", "0.2 in w.c.")
    keep(job, "2026-10-02")
    for page in pages(job):
        assert "Readings that are not what they should be" in page
        assert "Most likely: " in page and "Next: " in page


@pytest.mark.parametrize("reader", ["customer", "office"])
def test_a_visit_is_a_page_for_the_customer_and_for_the_office(job: Path, reader: str) -> None:
    """Shut it off stands first; who was there, what was not met; the office has the readings too."""
    assert main(["checkover", str(job), "--tick", "alarm", "--not-met", "--date", "2026-10-02"]) == 1
    job.write_text(
        job.read_text(encoding="utf-8") + '\n[[reading]]\nplace = "room"\ncarbon_monoxide = "40 ppm"\n',
        encoding="utf-8",
    )
    keep(job, "2026-10-02", "--time", "09:00", "--by", "J. S.", "--note", "Windy.")
    page = job.with_suffix(".md")
    assert main(["visit", str(job), "--for", reader, "--markdown", str(page)]) == 0
    text = page.read_text(encoding="utf-8")
    assert "J. S." in text and "Windy." in text and "alarm" in text
    assert text.index("Shut it off") < text.index("J. S.")
    assert "40 ppm" in text.partition("What was found")[2 * (reader == "customer")]
    assert WELL not in text
    assert main(["visit", str(job), "--for", reader]) == 2


def test_the_counts_of_a_visit_are_those_of_the_check_over(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["checkover", str(job), "--tick", "alarm", "--met", "--date", "2026-10-02"]) == 1
    capsys.readouterr()
    assert main(["checkover", str(job), "--json"]) == 1
    over = json.loads(capsys.readouterr().out)
    keep(job, "2026-10-02")
    (visit,) = read_visits(job)
    assert (visit.met, len(visit.not_met), visit.to_do) == (over["met"], over["not_met"], over["to_measure"])
