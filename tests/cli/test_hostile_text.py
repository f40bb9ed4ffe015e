"""Nothing that stands in a file, or in its name, takes over the terminal or forges a line of the answer."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.hostile import EVIL, EVIL_NAME, FORGED, harmful, hostile, hostile_job
from tests.cli.test_printing import VERBS
from ventsize.cli import main
from ventsize.jobfile.job import read_job
from ventsize.jobfile.letters import plain, plain_lines


def told_by(words: list[str], capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    """The status of a command, and all that it prints."""
    try:
        status = main(words)
    except SystemExit as left:
        status = int(left.code or 0)
    said = capsys.readouterr()
    return status, said.out + said.err


@pytest.fixture
def job(root: Path, tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    """A hostile job that the verb has an answer for."""
    words = request.getfixturevalue("words")
    names = {"bench": "long-run-adaptive", "inducer": "long-run-adaptive", "roomair": "basement-short-of-air"}
    name = names.get(words[0], "trips-on-the-vent")
    return hostile_job(root / "scenarios" / f"{name}.toml", tmp_path)


@pytest.mark.parametrize("words", [*VERBS, ("tables", "--look", "TABLE"), ("tables", "--sheet", "TABLE"),
                                   ("check", "JOB", "--json"), ("lesson", "LESSON", "--answers")],
                         ids=lambda words: " ".join(words[:2]))  # fmt: skip
def test_every_verb(
    job: Path, words: tuple[str, ...], root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    """Title, notes, names, the table and the job's own file name: printed, they are letters in their own line."""
    monkeypatch.chdir(tmp_path)
    table = next(path for path in tmp_path.iterdir() if path != job)
    lesson = hostile_job(root / "scenarios" / "lesson-low-fire.toml", tmp_path, name=f"lesson-{EVIL_NAME}")
    paper = tmp_path / f"paper\x1b[2J\n{FORGED}.csv"
    put = {"JOB": job, "TABLE": table, "FILE": paper, "LESSON": lesson}
    status, told = told_by([str(put.get(word, word)) for word in words], capsys)
    assert status in (0, 1), told
    assert harmful(told) == []
    if paper.exists():
        assert harmful(paper.read_text(encoding="utf-8-sig").replace("\r\n", "\n")) == []


@pytest.mark.parametrize("words", [("check", f"none{EVIL}"), (f"none{EVIL}",), (f"check{EVIL}", "x"),
                                   ("check", "a", f"--{EVIL}"), ("sweep", EVIL, "x"), ("visit", "x", "--on", EVIL),
                                   ("lesson", EVIL), ("tables", EVIL), ("tables", "--look", f"t{EVIL}"),
                                   ("open", f"none{EVIL}")],
                         ids=lambda words: words[0][:6])  # fmt: skip
def test_every_word_of_a_command(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    """What is told of a word that cannot be used, with the word in it."""
    status, told = told_by([word.replace("\0", "") for word in words], capsys)
    assert status in (1, 2)
    assert harmful(told) == [] and len(told.splitlines()) <= 3


@pytest.mark.parametrize("line", [f'"{EVIL}" = 1', f'title = "{EVIL}"\n"x" = 2', f'size = "{EVIL}"', f'[["{EVIL}"]]'])
def test_faults_of_a_file(line: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Keys and values that cannot be used are shown in the sentence that refuses them."""
    spelled = "".join(c if c.isprintable() or c == "\n" and "\n" not in EVIL else f"\\u{ord(c):04x}" for c in line)
    job = tmp_path / EVIL_NAME
    job.write_text(spelled + "\n", encoding="utf-8")
    status, told = told_by(["check", str(job)], capsys)
    assert status == 2
    assert harmful(told) == []


def test_visits_and_their_notes(root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What was noted on an earlier visit is shown on the next."""
    job = hostile_job(root / "scenarios" / "trips-on-the-vent.toml", tmp_path)
    keep = ["visit", str(job), "--keep", "--date", "2026-11-20", "--by", EVIL, "--note", EVIL, "--photo", "x\x1b[2J"]
    for words in (keep, ["visit", str(job)], ["visit", str(job), "--on", "2026-11-20"], ["visit", str(job), "--json"]):
        status, told = told_by(words, capsys)
        assert status == 0, told
        assert harmful(told) == []


def test_prices(root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A price list may come from anybody."""
    listed = tmp_path / "prices.csv"
    listed.write_text(f'item,size,price,unit\npvc-40,3 in,1.50,ft\n"{EVIL.replace(chr(0), "")}",2 in,x,y\n', "utf-8")
    job = str(root / "scenarios" / "simple-pass.toml")
    assert harmful(told_by(["takeoff", job, "--prices", str(listed)], capsys)[1]) == []


def test_settings(nobody_home: Path, root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """So may a file of settings that names a folder."""
    folder = nobody_home / "ventsize"
    folder.mkdir(parents=True, exist_ok=True)
    spelled = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in EVIL)
    (folder / "settings.toml").write_text(f'[folders]\ntables = "/nowhere/{spelled}"\n', "utf-8")
    assert harmful(told_by(["check", str(root / "scenarios" / "simple-pass.toml")], capsys)[1]) == []


def test_names_are_told_apart_as_they_are_seen(root: Path, tmp_path: Path) -> None:
    """Two names that look alike are one name: a mark that nobody sees makes no other run of it."""
    job = tmp_path / "job.toml"
    text = (root / "scenarios" / "simple-pass.toml").read_text(encoding="utf-8")
    job.write_text(text.replace('name = "vent"', 'name = "ve\\u202ent"'), encoding="utf-8")
    assert [run.name for run in read_job(job).runs] == ["vent", "air"]


def test_what_is_plain() -> None:
    """Letters of every script stay; what moves the cursor, turns the line or is not there goes."""
    kept = "Café, 2½ in Стор. 中文 עברית 👩\u200d🔧 می\u200cخواهم ° × ─█"
    assert plain(kept) == plain_lines(kept) == kept
    assert plain("a\nb\tc\r\nd\u2028e") == "a b c  d e"
    assert plain("\x1b[31mred\x07\u202eturned\u2066\x9bmore\ufeff\u200b") == "[31mredturnedmore"
    assert plain_lines("a\x1b\nb\r") == "a\nb "
    assert FORGED in EVIL and harmful(EVIL) and hostile('title = "x"\n') != 'title = "x"\n'


def test_a_job_tells_nobody_what_stands_in_other_files(
    root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A table may be named by any path; what is told of a file that is none does not repeat it."""
    secret = tmp_path / "secret.txt"
    secret.write_text("root:correct-horse-battery-staple:0:0\n" * 3, encoding="utf-8")
    job = tmp_path / "below" / "job.toml"
    job.parent.mkdir()
    text = (root / "scenarios" / "simple-pass.toml").read_text(encoding="utf-8")
    job.write_text(text.replace("demo-two-stage.toml", "../secret.txt"), encoding="utf-8")
    status, told = told_by(["check", str(job)], capsys)
    assert status == 2 and "secret.txt" in told and "horse" not in told


def test_the_color_of_the_verdict_reaches_the_terminal(
    root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What keeps escape sequences out lets that one through, and nothing else of a hostile job beside it."""
    monkeypatch.setattr("ventsize.cli.check._has_colors", lambda: True)
    job = hostile_job(root / "scenarios" / "simple-pass.toml", tmp_path)
    assert main(["check", str(job), str(job)]) == 0
    told = capsys.readouterr().out
    word = "\x1b[1;32mWITHIN\x1b[0m"
    assert told.count(word) == 2 and harmful(told.replace(word, "")) == []
