"""Where an answer cannot be printed as it is: plain letters, a sentence, or nothing; never a traceback."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from ventsize.cli import main
from ventsize.cli.letters import plain
from ventsize.cli.printing import json_text

ASCII = {"PYTHONIOENCODING": "ascii"}
NO_LOCALE = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}

VERBS: tuple[tuple[str, ...], ...] = (
    ("along", "JOB"),
    ("bench", "JOB", "--steps", "2"),
    ("check", "JOB"),
    ("checkover", "JOB"),
    ("cold", "JOB"),
    ("compare", "JOB", "JOB"),
    ("condensate", "JOB"),
    ("diagnose", "JOB"),
    ("exercises", "--exercises", "2"),
    ("headroom", "JOB"),
    ("inducer", "JOB"),
    ("lesson", "lesson-low-fire", "--answers"),
    ("options", "JOB", "--sizes", "3 in"),
    ("paper", "JOB", "--csv", "FILE"),
    ("proposal", "JOB", "--csv", "FILE"),
    ("readings", "JOB"),
    ("repairs", "JOB"),
    ("roomair", "JOB"),
    ("sweep", "drop-by-flow", "JOB"),
    ("tables",),
    ("takeoff", "JOB"),
    ("uncertainty", "JOB", "--samples", "20"),
    ("visit", "JOB"),
    ("working", "JOB"),
)
WITH_JSON = [words for words in VERBS if words[0] not in ("exercises", "paper", "proposal", "working")]


@pytest.fixture
def job(root: Path, tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    """A job with what the verb asks for, and letters of many kinds."""
    words = request.getfixturevalue("words")
    name = "long-run-adaptive.toml" if words[0] in ("bench", "inducer") else "trips-on-the-vent.toml"
    text = (root / "scenarios" / name).read_text(encoding="utf-8")
    found = tmp_path / "höhe.toml"
    found.write_text(text.replace('title = "', 'title = "Café, 2½ Стор. — ', 1), encoding="utf-8")
    return found


def put_in(job: Path, words: tuple[str, ...]) -> list[str]:
    """The words of a command with the files it is about."""
    put = {"JOB": str(job), "FILE": str(job.with_suffix(".csv"))}
    return [put.get(word, word) for word in words]


def printed(job: Path, words: tuple[str, ...], encoding: str) -> tuple[int, bytes, bytes]:
    """Exit status, output and errors of a command whose terminal has this encoding, in this process."""
    streams = [io.TextIOWrapper(io.BytesIO(), encoding=encoding) for _ in range(2)]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "stdout", streams[0])
        patch.setattr(sys, "stderr", streams[1])
        status = main(put_in(job, words))
    for stream in streams:
        stream.flush()
    out, err = (stream.detach().getvalue() for stream in streams)  # type: ignore[attr-defined]
    return status, out, err


def ran(job: Path, words: tuple[str, ...], environment: dict[str, str], **how: object) -> subprocess.CompletedProcess:
    """A command in a process and an environment of its own."""
    root = str(Path(__file__).resolve().parents[2])
    kept = {key: value for key, value in os.environ.items() if not key.startswith(("LC_", "LANG", "PYTHON"))}
    return subprocess.run(
        [sys.executable, "-m", "ventsize", *put_in(job, words)],
        env={**kept, "PYTHONPATH": root, **environment},
        stdin=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        check=False,
        **{"stdout": subprocess.PIPE, **how},
    )


@pytest.mark.parametrize("words", VERBS, ids=lambda words: words[0])
def test_a_terminal_with_few_letters(job: Path, words: tuple[str, ...]) -> None:
    """The same answer, in letters it can show."""
    status, out, err = printed(job, words, "ascii")
    assert b"Traceback" not in err and b"Error" not in err, err.decode()
    assert out.isascii() and err.isascii()
    assert status in (0, 1) or (words[0] == "roomair" and b"[[room]]" in err)
    assert out or words[0] == "roomair"


@pytest.mark.parametrize("words", WITH_JSON, ids=lambda words: words[0])
def test_json_escapes_what_cannot_be_shown(job: Path, words: tuple[str, ...]) -> None:
    """Nothing is lost of it: read back, it is what the other terminal was given."""
    (status, short, _), (same, full, _) = (printed(job, (*words, "--json"), name) for name in ("ascii", "utf-8"))
    assert status == same
    assert short.isascii()
    assert short == full == b"" or json.loads(short) == json.loads(full)


@pytest.mark.parametrize("environment", [ASCII, NO_LOCALE], ids=["ASCII", "no locale"])
@pytest.mark.parametrize("words", [("check", "JOB"), ("check", "JOB", "--json"), ("check", "none°.toml")])
def test_a_process_without_letters(job: Path, words: tuple[str, ...], environment: dict[str, str]) -> None:
    """As from a bare scheduler: standard output is ASCII there, and what it prints is what is printed in this one."""
    done = ran(job, words, environment)
    assert b"Traceback" not in done.stderr, done.stderr.decode()
    assert done.stdout.isascii() and (done.stdout or done.stderr)
    assert (done.returncode, done.stdout) == printed(job, words, "ascii")[:2]


def test_plain_letters() -> None:
    """Units stay what they are; letters lose their marks; what has no likeness is a question mark."""
    assert plain("110 °F, 2 × 90° … Café – 5 m³/h µPa·s") == "110 degF, 2 x 90deg ... Cafe - 5 m3/h uPa.s"
    assert plain("│─█ С \udcff") == "|-# ? ?"
    assert plain("plain") == "plain"


def test_json_has_null_for_what_is_no_number() -> None:
    """JSON knows neither infinity nor not-a-number."""
    told = json.loads(json_text({"a": [1.5, float("inf")], "b": float("nan"), "c": (float("-inf"), "é")}))
    assert told == {"a": [1.5, None], "b": None, "c": [None, "é"]}


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
@pytest.mark.parametrize("words", [("check", "JOB"), ("tables", "--json"), ("--help",), ("check", "JOB", "--json")])
def test_a_full_disk_is_said(job: Path, words: tuple[str, ...]) -> None:
    """One sentence and status 2: what was not written is no verdict."""
    with Path("/dev/full").open("wb") as full:
        done = ran(job, words, {}, stdout=full)
    assert done.returncode == 2
    assert len(done.stderr.splitlines()) == 1 and b"No space left" in done.stderr, done.stderr.decode()


@pytest.mark.parametrize("words", [("check", "JOB"), ("sweep", "drop-by-flow", "JOB", "--json"), ("--help",)])
def test_a_closed_pipe_is_left_in_silence(job: Path, words: tuple[str, ...]) -> None:
    """Whoever reads the first lines and leaves has what was wanted; no verdict is told by the status."""
    out, into = os.pipe()
    os.close(out)
    try:
        done = ran(job, words, {}, stdout=into)
    finally:
        os.close(into)
    assert done.stderr == b""
    assert done.returncode == 2
