"""`ventsize check` as scripts rely on it: exit statuses, the keys of the JSON, one sentence for each fault."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from ventsize.cli import main

JOB = """
title = "Job"
tables = ["table.toml"]
[site]
altitude = "600 ft"
outdoor = "30 degF"
[[appliance]]
name = "furnace"
fuel = "natural gas"
[[appliance.rate]]
name = "high"
input = "80 kBtu/h"
excess_air = 0.35
flue_temperature = "110 degF"
[[run]]
name = "vent"
carries = "flue gas"
between = ["furnace", "outdoors"]
size = "3 in"
material = "pvc-40"
table = "table.toml"
pieces = [
  { pipe = "10 ft", heading = "up" },
  { fitting = "elbow-90-long" },
  { pipe = "20 ft", heading = "east" },
  { fitting = "terminal-open" },
]
"""

TABLE = """
title = "Table"
source = "Invented for tests"
applies_to = ["flue gas", "combustion air"]
counts = "each run"
[deductions]
elbow-90-long = "3 ft"
terminal-open = "0 ft"
[[row]]
input = "80 kBtu/h"
size = "3 in"
altitude = ["0 ft", "4500 ft"]
allowable = "90 ft"
"""

JOB_KEYS = {"job", "verdict", "cautions", "appliances", "runs"}
APPLIANCE_RATE_KEYS = {
    "name", "input_W", "excess_air", "oxygen_dry", "carbon_dioxide_dry", "fuel_mass_flow_kg_s", "air_mass_flow_kg_s",
    "flue_mass_flow_kg_s", "dew_point_K", "condensate_kg_s",
}  # fmt: skip
RUN_KEYS = {"name", "carries", "verdict", "straight_length_m", "table", "rates"}
TABLE_KEYS = {
    "file", "row_input_W", "row_size", "equivalent_length_m", "allowable_length_m", "minimum_length_m", "used",
    "reason",
}  # fmt: skip
RATE_KEYS = {
    "name", "mass_flow_kg_s", "density_kg_m3", "viscosity_Pa_s", "pressure_drop_Pa", "draft_Pa",
    "static_pressure_at_appliance_Pa", "static_pressure_to_room_Pa", "equivalent_length_m",
    "allowance_pressure_Pa", "pieces",
}  # fmt: skip
PIECE_KEYS = {
    "name", "size", "length_m", "velocity_m_s", "reynolds", "friction_factor", "k", "pressure_drop_Pa",
    "equivalent_length_m",
}  # fmt: skip


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a job that is within, and its table."""
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    (tmp_path / "table.toml").write_text(TABLE, encoding="utf-8")
    return tmp_path


def test_json_has_every_key_of_the_contract(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Keys may be added, none renamed; SI throughout."""
    assert main(["check", str(folder / "job.toml"), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    run = told["runs"][0]
    rate = run["rates"][0]
    assert told.keys() >= JOB_KEYS
    assert told["appliances"][0]["rates"][0].keys() >= APPLIANCE_RATE_KEYS
    assert run.keys() >= RUN_KEYS and run["table"].keys() >= TABLE_KEYS
    assert rate.keys() >= RATE_KEYS
    assert all(piece.keys() >= PIECE_KEYS for piece in rate["pieces"])
    # 10 ft + 20 ft + 3 ft of 90 ft, in metres
    assert run["straight_length_m"] == pytest.approx(30 * 0.3048)
    assert run["table"]["equivalent_length_m"] == pytest.approx(33 * 0.3048)
    assert run["table"]["allowable_length_m"] == pytest.approx(90 * 0.3048)
    assert run["table"]["used"] == pytest.approx(33 / 90)
    assert run["table"]["row_input_W"] == pytest.approx(80_000 * 1055.056 / 3600)
    assert told["verdict"] == run["verdict"] == "within"
    assert sum(p["pressure_drop_Pa"] for p in rate["pieces"]) == pytest.approx(rate["pressure_drop_Pa"])
    assert sum(p["equivalent_length_m"] for p in rate["pieces"]) == pytest.approx(rate["equivalent_length_m"])


def test_one_job_is_an_object_and_several_are_an_array(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A script knows what to expect from how many it asked for."""
    job = str(folder / "job.toml")
    main(["check", job, "--json"])
    assert isinstance(json.loads(capsys.readouterr().out), dict)
    main(["check", job, job, "--json"])
    assert len(json.loads(capsys.readouterr().out)) == 2


@pytest.mark.parametrize(
    ("old", "new", "status", "verdict"),
    [
        ('pipe = "20 ft"', 'pipe = "20 ft"', 0, "within"),
        ('pipe = "20 ft"', 'pipe = "77 ft"', 0, "within"),  # 10 + 77 + 3 = 90: equal is within
        ('pipe = "20 ft"', 'pipe = "77 ft 1 in"', 1, "over"),
        ('size = "3 in"\nmat', 'size = "4 in"\nmat', 1, "not covered"),
        ('altitude = "600 ft"', 'altitude = "5000 ft"', 1, "not covered"),
        ('input = "80 kBtu/h"', 'input = "81 kBtu/h"', 1, "not covered"),
        ("elbow-90-long", "elbow-90-short", 1, "incomplete"),
        ('altitude = "600 ft"\n', "", 1, "incomplete"),
        ('table = "table.toml"\n', "", 0, "within"),  # the job's only table
        ('tables = ["table.toml"]\n', "", 0, "within"),  # the run names its own
    ],
)
def test_exit_status_says_whether_all_are_within(
    folder: Path, capsys: pytest.CaptureFixture[str], old: str, new: str, status: int, verdict: str
) -> None:
    """0 only where every verdict is within; 1 for any other."""
    assert old in JOB
    (folder / "job.toml").write_text(JOB.replace(old, new), encoding="utf-8")
    assert main(["check", str(folder / "job.toml"), "--json"]) == status
    assert json.loads(capsys.readouterr().out)["verdict"] == verdict


def test_a_job_that_cannot_be_read_does_not_hide_the_others(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Status 2, the fault on standard error, the rest still judged."""
    (folder / "bad.toml").write_text("title = ", encoding="utf-8")
    assert main(["check", str(folder / "bad.toml"), str(folder / "job.toml"), "--json"]) == 2
    told = capsys.readouterr()
    assert [job["verdict"] for job in json.loads(told.out)] == ["within"]
    assert "bad.toml" in told.err and len(told.err.splitlines()) == 1


BAD = {
    "unknown key": ("fuel =", "fuell =", "fuel"),
    "unknown fitting": ("elbow-90-long", "elbow-90-lon", "elbow-90-long"),
    "unknown material": ("pvc-40", "pvc-4", "pvc-40"),
    "unknown fuel": ("natural gas", "naturl gas", "natural gas"),
    "unknown table": ('table = "table.toml"', 'table = "tabel.toml"', "tabel.toml"),
    "run that ends nowhere": ('["furnace", "outdoors"]', '["furnace", "outdors"]', "outdoors"),
    "joint that leads nowhere": ('["furnace", "outdoors"]', '["furnaze", "outdoors"]', "furnace"),
    "wrong type": ('size = "3 in"', "size = 3", "size"),
    "missing unit": ('size = "3 in"', 'size = "3"', "size"),
    "wrong dimension": ('pipe = "10 ft"', 'pipe = "10 Pa"', "piece 1"),
    "negative length": ('pipe = "10 ft"', 'pipe = "-10 ft"', "piece 1"),
    "not a number": ('pipe = "10 ft"', 'pipe = "nan ft"', "piece 1"),
    "enormous power": ('pipe = "10 ft"', 'pipe = "9**9**9 ft"', "piece 1"),
    "MBtu": ("80 kBtu/h", "80 MBtu/h", "MBH"),
    "zero size": ('size = "3 in"', 'size = "0 in"', "size"),
    "excess air below zero": ("excess_air = 0.35", "excess_air = -0.1", "excess_air"),
    "too much CO2": ("excess_air = 0.35", 'carbon_dioxide = "14 %"', "11.8"),
    "too much O2": ("excess_air = 0.35", 'oxygen = "21 %"', "furnace"),
    "no excess air": ("excess_air = 0.35\n", "", "excess_air"),
    "both ways of excess air": ("excess_air = 0.35", 'excess_air = 0.35\noxygen = "6 %"', "one of"),
    "size the material lacks": ('size = "3 in"', 'size = "3.3 in"', "3 in"),
    "no pieces": (JOB[JOB.index("pieces") :], "", "pieces"),
    "empty pieces": (JOB[JOB.index("pieces") :], "pieces = []\n", "pieces"),
    "rise beyond length": ('"20 ft", heading = "east"', '"20 ft", rise = "30 ft"', "piece 3"),
    "no appliance": (JOB[JOB.index("[[appliance]]") : JOB.index("[[run]]")], "", "appliance"),
    "humidity above one": ("[site]", "[site]\nrelative_humidity = 1.4", "humidity"),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_input_is_one_sentence_with_status_2(folder: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    """The file, the place, what is wrong and what is expected; nothing on standard output; the file untouched."""
    old, new, said = BAD[name]
    assert old in JOB
    path = folder / "job.toml"
    path.write_text(JOB.replace(old, new, 1), encoding="utf-8")
    before = path.read_bytes()
    assert main(["check", str(path)]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert len(told.err.splitlines()) == 1, told.err
    assert "job.toml" in told.err and said in told.err, told.err
    assert path.read_bytes() == before


def test_two_appliances_of_one_name(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Names are how runs say where they start."""
    again = JOB[JOB.index("[[appliance]]") : JOB.index("[[run]]")]
    (folder / "job.toml").write_text(JOB.replace("[[run]]", again + "[[run]]"), encoding="utf-8")
    assert main(["check", str(folder / "job.toml")]) == 2
    assert "furnace" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('["0 ft", "4500 ft"]', '["4500 ft", "0 ft"]'),
        ("[[row]]", TABLE[TABLE.index("[[row]]") :] + "[[row]]"),
        ('allowable = "90 ft"', 'allowable = "0 ft"'),
        ('allowable = "90 ft"\n', ""),
        ('source = "Invented for tests"\n', ""),
        ('counts = "each run"', 'counts = "every run"'),
    ],
)
def test_a_faulty_table_is_named(folder: Path, capsys: pytest.CaptureFixture[str], old: str, new: str) -> None:
    """A table upside down, doubled or half typed is an error of the table, not a verdict."""
    assert old in TABLE
    (folder / "table.toml").write_text(TABLE.replace(old, new, 1), encoding="utf-8")
    assert main(["check", str(folder / "job.toml")]) == 2
    assert "table.toml" in capsys.readouterr().err


@pytest.mark.parametrize("content", [b"", b"\x00\x01\x02\xff", b"[[[", b"a = 1\n" * 1_000_000])
def test_files_that_are_no_jobs(folder: Path, capsys: pytest.CaptureFixture[str], content: bytes) -> None:
    """Empty, binary, broken or enormous."""
    (folder / "job.toml").write_bytes(content)
    assert main(["check", str(folder / "job.toml")]) == 2
    err = capsys.readouterr().err
    assert "job.toml" in err and "Traceback" not in err


def test_a_folder_and_a_missing_file(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Neither a folder without jobs nor a file that is not there is a job."""
    (folder / "empty").mkdir()
    assert main(["check", str(folder / "empty")]) == 2
    assert main(["check", str(folder / "none.toml")]) == 2
    assert "folder" in capsys.readouterr().err


def test_the_command_runs_from_any_folder(folder: Path) -> None:
    """As a module, in another working directory, with shipped tables found."""
    scenario = Path(__file__).resolve().parents[2] / "scenarios" / "simple-pass.toml"
    root = str(scenario.parent.parent)
    done = subprocess.run(
        [sys.executable, "-m", "ventsize", "check", str(scenario)],
        cwd=folder,
        env={"PYTHONPATH": root, "PATH": ""},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "WITHIN" in done.stdout and "carbon" in done.stdout
