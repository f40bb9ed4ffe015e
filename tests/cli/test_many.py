"""Many jobs in one call: the same answers in the same order on all cores, in flat memory, and stopped at once."""

from __future__ import annotations

import contextlib
import json
import os
import pickle
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pytest

from ventsize.cli import main, many
from ventsize.cli.printing import json_text

UNIX = pytest.mark.skipif(os.name == "nt", reason="signals and pipes of another kind")


@pytest.fixture
def jobs(root: Path, tmp_path: Path) -> list[Path]:
    """One within again and again, one over, one that cannot be read, one called badly."""
    shutil.copy(root / "tables" / "demo-two-stage.toml", tmp_path)
    found = []
    for number in range(12):
        path = tmp_path / f"{number:03}.toml"
        name = "old-two-inch-run" if number == 5 else "simple-pass"
        shutil.copy(root / "scenarios" / f"{name}.toml", path)
        found.append(path)
    found[7].write_text("this is no job", encoding="utf-8")
    found.append(found[3].rename(tmp_path / "a\nwithin.toml") if os.name != "nt" else found[3])
    del found[3]
    return found


@pytest.mark.parametrize("more", [[], ["--json"], ["--units", "si"]], ids=["text", "json", "si"])
def test_on_all_cores_as_on_one(
    more: list[str], jobs: list[Path], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """To the letter, and with the same status."""
    words = ["check", *map(str, jobs), *more]
    monkeypatch.setattr(many, "FEW", 4)
    monkeypatch.setattr(many, "_cores", lambda: 1)
    status, alone = main(words), capsys.readouterr()
    monkeypatch.setattr(many, "_cores", lambda: 2)
    assert main(words) == status == 2
    assert capsys.readouterr() == alone
    assert len(alone.err.splitlines()) == 1
    if more == ["--json"]:
        told = json.loads(alone.out)
        assert len(told) == len(jobs) - 1
        assert [one["verdict"] for one in told].count("within") == len(jobs) - 2
    else:
        lines = alone.out.splitlines()[-len(jobs) : -1]
        assert [line.split()[-1].rpartition(os.sep)[2] for line in lines[:3]] == ["000.toml", "001.toml", "002.toml"]
        assert lines[-1].endswith("a within.toml")


def test_json_is_that_of_one_list(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Printed one by one, it is laid out as if it had been printed as a whole."""
    names = ["simple-pass", "counted-run", "two-sizes"]
    assert main(["check", *(str(root / "scenarios" / f"{name}.toml") for name in names), "--json"]) in (0, 1)
    told = capsys.readouterr().out
    assert told == json_text(json.loads(told)) + "\n"


def test_what_is_handed_to_a_helper_does_not_grow(jobs: list[Path], monkeypatch: pytest.MonkeyPatch) -> None:
    """With every job goes what is asked, and not the names of all the others: ten thousand took ten thousand times."""
    sent: list[int] = []

    def handed(work: Callable[[Path], object], _files: Sequence[Path]) -> Iterator[object]:
        sent.append(len(pickle.dumps(work)))
        yield from ()

    monkeypatch.setattr(many, "answers", handed)
    for times in (1, 200):
        main(["check", *[str(job) for job in jobs] * times])
    assert sent[0] == sent[1]


@UNIX
def test_memory_does_not_grow(root: Path, tmp_path: Path) -> None:
    """Six times the jobs take no more memory, but for their names and verdicts."""
    shutil.copy(root / "tables" / "demo-two-stage.toml", tmp_path)
    job = shutil.copy(root / "scenarios" / "simple-pass.toml", tmp_path / "job.toml")
    code = (
        "import sys\nfrom tests.memory import peak_memory\n"
        "from ventsize.cli import main, many\nmany._cores = lambda: 1\n"
        "sys.stdout = open('/dev/null', 'w')\nmain(['check', '--json', *[sys.argv[1]] * int(sys.argv[2])])\n"
        "print(peak_memory(), file=sys.stderr)"
    )
    most = [
        int(subprocess.run([sys.executable, "-c", code, str(job), str(count)], capture_output=True, text=True,
                           cwd=root, check=True).stderr)
        for count in (10, 60)
    ]  # fmt: skip
    assert most[1] < most[0] + 3_000  # kB


def hears_interrupts() -> None:
    """The tests may run in the background of a script, where Ctrl-C is ignored, and a program started there with it."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def worked(group: int) -> float:
    """How long a program and its helpers have been at work [s of CPU time]."""
    ticks = 0
    for stat in Path("/proc").glob("[0-9]*/stat"):
        with contextlib.suppress(OSError):  # it has ended meanwhile
            fields = stat.read_text(encoding="utf-8").rpartition(")")[2].split()
            ticks += sum(map(int, fields[11:15])) if int(fields[2]) == group else 0
    return ticks / os.sysconf("SC_CLK_TCK")


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="it cannot be told here how long a program has worked")
@pytest.mark.parametrize("words", [
    ["check", "MANY"],
    ["options", "simple-pass", "--every", "--each-elbow", "--elbows", "short,long,two 45s", "--change-to", "2 in,3 in"],
    ["uncertainty", "simple-pass", "--samples", "100000"],
    ["exercises", "--students", "60"],
    ["sweep", "drop-by-flow", "parallel-pipes"],
], ids=lambda words: words[0])  # fmt: skip
def test_it_is_stopped_at_once(words: list[str], root: Path, jobs: list[Path]) -> None:
    """By Ctrl-C: with status 130 or what was found so far, nobody left behind, no traceback, and in no time."""
    put: dict[str, list[str]] = {"MANY": [str(job) for job in jobs] * 200}
    named = [str(root / "scenarios" / f"{word}.toml") if word in ("simple-pass", "parallel-pipes") else word
             for word in words]  # fmt: skip
    before = sum(os.times()[2:4])
    command = [sys.executable, "-m", "ventsize", *(one for word in named for one in put.get(word, [word]))]
    with subprocess.Popen(
        command,
        cwd=root,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        preexec_fn=hears_interrupts,
    ) as running:
        while worked(running.pid) < (0.5 if words[0] == "check" else 1.0) and running.poll() is None:  # past its start
            time.sleep(0.02)
        if running.poll() is not None:
            pytest.fail("it was done before it could be stopped")
        until_then = worked(running.pid)
        os.killpg(running.pid, signal.SIGINT)  # as a terminal does: to it and to its helpers
        running.wait(timeout=120)
        in_all = sum(os.times()[2:4]) - before
        assert running.stderr is not None
        said = running.stderr.read()
    assert "Traceback" not in said and "Error" not in said, said
    assert running.returncode in (0, 1, 130, -2)
    assert in_all - until_then < 1.0  # s of its own time, however busy the machine is; mostly under 0.2
    deadline = time.monotonic() + 10.0
    with pytest.raises(ProcessLookupError):
        while time.monotonic() < deadline:
            os.killpg(running.pid, 0)
            time.sleep(0.02)


@pytest.fixture
def interrupts() -> Iterator[None]:
    """As at a terminal, wherever the tests run."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@UNIX
def test_who_ignores_interrupts_is_not_interrupted() -> None:
    """A program in the background of a script."""
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        with many._interrupts_held():
            os.kill(os.getpid(), signal.SIGINT)
    finally:
        signal.signal(signal.SIGINT, before)


@UNIX
@pytest.mark.usefixtures("interrupts")
def test_an_interrupt_while_the_others_start_is_not_lost() -> None:
    """It is held until they have started, and they do not see it."""
    done: list[int] = []
    with pytest.raises(KeyboardInterrupt), many._interrupts_held():
        os.kill(os.getpid(), signal.SIGINT)
        started = subprocess.run(
            [sys.executable, "-c", "import os, signal; os.kill(os.getpid(), signal.SIGINT)"], timeout=30
        )
        done.append(started.returncode)
    assert done == [0]
    with pytest.raises(KeyboardInterrupt):  # and afterwards everything is as it was
        os.kill(os.getpid(), signal.SIGINT)
        time.sleep(1.0)


@UNIX
def test_a_closed_pipe_ends_it_quietly(root: Path, jobs: list[Path]) -> None:
    """As with `ventsize check … | head -1`."""
    command = [sys.executable, "-m", "ventsize", "check", *[str(job) for job in jobs if job != jobs[6]] * 20]
    with subprocess.Popen(command, cwd=root, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as running:
        assert running.stdout is not None and running.stderr is not None
        assert running.stdout.readline()
        running.stdout.close()
        assert running.wait(timeout=60) == 2
        assert running.stderr.read() == ""
