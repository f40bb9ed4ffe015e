"""The verbs about the program itself: completion for shells, and published values verified on this machine."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from ventsize.cli import main
from ventsize.cli.verbs import VERBS
from ventsize.studies import selfcheck


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion_is_a_script_of_that_shell(shell: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It names every verb, and the shell can read it."""
    assert main(["completion", shell]) == 0
    script = tmp_path / shell
    script.write_text(capsys.readouterr().out, encoding="utf-8")
    assert all(verb in script.read_text(encoding="utf-8") for verb in VERBS)
    if shutil.which(shell):
        subprocess.run([shell, "-n", str(script)], check=True)


@pytest.mark.skipif(not shutil.which("bash"), reason="no bash here")
@pytest.mark.parametrize(("typed", "found"), [("che", "check checkover"), ("heada", ""), ("headr", "headroom")])
def test_bash_completes_a_verb(typed: str, found: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As somebody types it."""
    assert main(["completion", "bash"]) == 0
    script = tmp_path / "completion"
    script.write_text(capsys.readouterr().out, encoding="utf-8")
    ask = (
        f"source {script}; COMP_WORDS=(ventsize {typed}); COMP_CWORD=1; "
        f"$(complete -p ventsize | sed 's/.*-F \\([^ ]*\\).*/\\1/'); echo \"${{COMPREPLY[*]}}\""
    )
    done = subprocess.run(["bash", "-c", ask], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == found


def test_without_the_package_a_sentence(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """It is an extra."""
    monkeypatch.setitem(sys.modules, "shtab", None)
    assert main(["completion", "bash"]) == 2
    told = capsys.readouterr()
    assert told.out == "" and "ventsize[completion]" in told.err


def test_the_package_is_loaded_by_its_verb_only(root: Path) -> None:
    """Nothing else waits for it."""
    code = "import sys\nfrom ventsize.cli import main\nmain(['check', 'none'])\nassert 'shtab' not in sys.modules"
    subprocess.run([sys.executable, "-c", code], cwd=root, check=True, capture_output=True)


def test_published_values_are_found_here(capsys: pytest.CaptureFixture[str]) -> None:
    """Each with its source."""
    assert main(["selfcheck"]) == 0
    assert len(capsys.readouterr().out.splitlines()) > 12
    assert main(["selfcheck", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert all(value["agrees"] and value["source"] for value in told["values"])
    assert told["libraries"]["fluids"] != "not installed"


def test_a_value_that_is_off_is_said(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """And what cannot be worked out; the others are verified all the same."""

    def broken() -> float:
        raise ImportError("no such library")

    monkeypatch.setattr(selfcheck, "_pressure", lambda: 83_400.0)
    monkeypatch.setattr(selfcheck, "_air", broken)
    assert main(["selfcheck"]) == 1
    told = capsys.readouterr().out
    assert told.count("NOT AS PUBLISHED") == 2 and "no such library" in told
    assert "2 of 14 values are not as published" in told
