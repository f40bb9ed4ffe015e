"""A folder of jobs: seen at a glance, copied, renamed, put away, ordered for at once, checked in one go."""

from __future__ import annotations

import csv
import io
import json
import shutil
from pathlib import Path

import pytest

from ventsize.check.inputs import read_inputs
from ventsize.check.verdict import check
from ventsize.cli import main
from ventsize.studies.jobs_of_folder import line_of

ROOT = Path(__file__).resolve().parent.parent.parent
PRICES = str(ROOT / "tables" / "invented-prices.toml")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Three jobs, one of them with visits, a table, and a file that is no TOML but says it is a job."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path / "own"))
    made = tmp_path / "jobs"
    made.mkdir()
    for name in ("simple-pass", "old-two-inch-run", "second-visit"):
        shutil.copy(ROOT / "scenarios" / f"{name}.toml", made)
    shutil.copy(ROOT / "scenarios" / "second-visit.visits", made)
    shutil.copy(ROOT / "tables" / "demo-two-stage.toml", made)
    return made


def listed(folder: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, dict[str, object]]:
    """What `jobs` says of each, by its file."""
    main(["jobs", str(folder), "--prices", PRICES, "--json"])
    return {line["file"]: line for line in json.loads(capsys.readouterr().out)}


def test_every_job_with_verdict_margin_cost_and_state(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each says what check and takeoff say; a table is no job, and a job that cannot be read is not passed over."""
    (folder / "broken.toml").write_text("title = 'x'\n[[run]]\nname = ", encoding="utf-8")
    assert main(["jobs", str(folder), "--prices", PRICES]) == 2
    text = capsys.readouterr().out
    assert max(map(len, text.splitlines())) <= 80 and "demo-two-stage" not in text
    assert text.splitlines()[-1].startswith("4 jobs") and "1 cannot be read" in text.splitlines()[-1]
    found = listed(folder, capsys)
    assert found["simple-pass.toml"]["verdict"] == "within" and found["old-two-inch-run.toml"]["verdict"] == "over"
    main(["takeoff", str(folder / "old-two-inch-run.toml"), "--prices", PRICES, "--json"])
    whole = json.loads(capsys.readouterr().out)["cost"]["total"]
    cost = found["old-two-inch-run.toml"]["cost"]
    assert isinstance(cost, dict) and cost["total"] == whole
    main(["jobs", str(folder), "--csv"])
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert len(rows) == 4 and rows[0]["fault"] and not rows[1]["fault"]


def test_states(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A state is kept in the job file, whose comments stay; what is no state is refused; no answer changes."""
    job = folder / "simple-pass.toml"
    job.write_text(f"# a comment\n{job.read_text(encoding='utf-8')}", encoding="utf-8")
    before = listed(folder, capsys)["simple-pass.toml"]
    assert main(["jobs", str(job), "--state", "offered"]) == 0
    assert main(["jobs", str(job), "--state", "sold"]) == 2
    after = listed(folder, capsys)["simple-pass.toml"]
    assert after == {**before, "state": "offered"} and "# a comment" in job.read_text(encoding="utf-8")


def test_a_copy_starts_the_next_job(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Appliance and runs go along; what was read, ticked off and confirmed in the other house does not."""
    job, new = folder / "second-visit.toml", folder / "next.toml"
    main(["jobs", str(job), "--state", "built"])
    assert main(["jobs", str(job), "--copy", str(new), "--title", "Next"]) == 0
    text = new.read_text(encoding="utf-8")
    assert 'title = "Next"' in text and "[[run]]" in text
    for key in ("[[reading]]", "checked", "confirmed", "state"):
        assert key not in text
    assert main(["jobs", str(job), "--copy", str(new)]) == 2 and new.read_text(encoding="utf-8") == text
    assert listed(folder, capsys)["next.toml"]["title"] == "Next"


def test_renamed_and_put_away_with_its_visits(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Visits follow the job; nothing there is written over."""
    job, new = folder / "second-visit.toml", folder / "deck.toml"
    assert main(["jobs", str(job), "--rename", str(folder / "simple-pass.toml")]) == 2 and job.exists()
    assert main(["jobs", str(job), "--rename", str(new)]) == 0
    assert new.exists() and (folder / "deck.visits").exists() and not job.exists()
    assert main(["jobs", str(new), "--archive"]) == 0
    assert (folder / "archive" / "deck.toml").exists() and (folder / "archive" / "deck.visits").exists()
    assert "deck.toml" not in listed(folder, capsys)
    assert main(["jobs", str(new), "--archive"]) == 2


def test_one_order_list_over_several_jobs(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """How many of each thing is the sum of what each job takes."""
    jobs = [str(folder / f"{name}.toml") for name in ("simple-pass", "old-two-inch-run")]
    counts: list[dict[tuple[str, ...], int]] = []
    for asked in (*([job] for job in jobs), jobs):
        main(["takeoff", *asked, "--csv"])
        rows = csv.DictReader(io.StringIO(capsys.readouterr().out))
        counts.append({(r["item"], r["size"], r["material"], r["length"]): int(r["quantity"]) for r in rows})
    first, second, together = counts
    assert together == {key: first.get(key, 0) + second.get(key, 0) for key in first | second}
    names = [item for item, *_ in together]
    assert names.index("coupling") < names.index("hanger") < names.index("cement")  # in the order of any list


def test_a_folder_is_checked(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As if its jobs were named one by one; a last line counts the verdicts, and --csv has a row for each run."""
    assert main(["check", str(folder)]) == 1
    text = capsys.readouterr().out
    assert text.splitlines()[-1] == "3 jobs: 2 over, 1 within"
    assert main(["check", str(folder), "--csv"]) == 1
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    verdicts = {Path(row["file"]).stem: row["verdict"] for row in rows}
    assert verdicts == {"simple-pass": "within", "old-two-inch-run": "over", "second-visit": "over"}
    assert main(["check", str(folder / "nowhere")]) == 2 and main(["check", str(folder.parent)]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 2


def test_a_job_of_the_folder_tells_its_doubts() -> None:
    """Within by the table and over by calculation is no plain pass; each as its own check has it."""
    for name, doubted in (("simple-pass", False), ("trips-on-the-vent", True), ("old-two-inch-run", False)):
        job = ROOT / "scenarios" / f"{name}.toml"
        line, checked = line_of(job), check(read_inputs(job))
        assert (line.verdict, line.doubts, line.doubted) == (checked.verdict, len(checked.doubted), doubted)
