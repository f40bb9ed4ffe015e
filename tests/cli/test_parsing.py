"""Words of a command that cannot be read: one line, with what is expected; its use in full only where asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from ventsize.cli import main
from ventsize.cli.verbs import GROUPS, VERBS

BAD = [
    (("check", "j.toml", "--units", "xx"),
     "ventsize check: --units: 'xx' is none of its values; expected one of: us, si"),
    (("check",), "ventsize check: nothing is given for JOB; expected ventsize check JOB"),
    (("sweep",), "ventsize sweep: nothing is given for KIND, JOB; expected ventsize sweep KIND JOB"),
    (("check", "j.toml", "--unit"), "ventsize check: --units: nothing is given for it; expected a value after it"),
    (("check", "j.toml", "--plian"), "ventsize check: there is no option '--plian'; expected perhaps '--plain'"),
    (("check", "j.toml", "--zzz"),
     "ventsize check: there is no option '--zzz'; expected what ventsize check --help lists"),
    (("headroom", "j.toml", "k.toml"),
     "ventsize headroom: there is no argument 'k.toml'; expected what ventsize headroom --help lists"),
    (("options", "j.toml", "--take", "x"),
     "ventsize options: --take: 'x' is not a whole number; expected a whole number"),
    (("check", "j.toml", "--json=1"),
     "ventsize check: --json: it takes no value, and '1' is given; expected it alone"),
    (("tables", "--look", "a", "--sheet", "b"),
     "ventsize tables: --sheet: it cannot stand beside --look; expected one of the two"),
    (("--json", "j.toml"),
     "ventsize: '--json' stands before the verb; expected a verb that ventsize --help lists"),
    (("chek", "j.toml"), "there is no verb 'chek'; expected perhaps 'check'"),
    (("chek",), "there is no verb 'chek'; expected perhaps 'check'"),
    (("nothing-like-it",), "there is no verb 'nothing-like-it'; expected one that ventsize --help lists"),
    (("headroom.toml",), "there is no file 'headroom.toml', and no such verb; expected a job file, or a verb: "
                         "perhaps 'headroom'"),
    (("open", "no-such.toml"), "no-such.toml: there is no such file; expected a job file"),
    ((), "the screens need a terminal; expected one, or a verb that ventsize --help lists"),
    (("pyproject.toml",), "the screens need a terminal; expected one, or a verb that ventsize --help lists"),
]  # fmt: skip


def status_of(words: tuple[str, ...]) -> int:
    """The exit status, by whichever way the command is left."""
    try:
        return main(words)
    except SystemExit as left:
        return int(left.code or 0)


@pytest.mark.parametrize(("words", "said"), BAD)
def test_one_line(
    words: tuple[str, ...], said: str, root: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """As for every other input that cannot be read."""
    monkeypatch.chdir(root)
    assert status_of(words) == 2
    assert capsys.readouterr() == ("", f"{said}\n")


@pytest.mark.parametrize("verb", [verb for verb in VERBS if verb != "open"])
@pytest.mark.parametrize("more", [("--no-such-option",), ("--units", "miles")])
def test_every_verb(verb: str, more: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    """No verb falls back to several lines of use."""
    assert status_of((verb, *more)) == 2
    told = capsys.readouterr()
    assert told.out == "" and len(told.err.splitlines()) == 1
    assert told.err.startswith(f"ventsize {verb}: ") and "; expected " in told.err


@pytest.mark.parametrize("words", [("--help",), ("check", "--help"), ("-h",)])
def test_help_is_given_in_full(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    """Where it is asked for."""
    assert status_of(words) == 0
    assert "sage: ventsize" in capsys.readouterr().out


def test_several_jobs_that_none_can_be_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An array was asked for; it is empty. One job alone gives no object."""
    none, nor = str(tmp_path / "none.toml"), str(tmp_path / "nor.toml")
    assert main(["check", none, nor, "--json"]) == 2
    told = capsys.readouterr()
    assert told.out == "[]\n" and len(told.err.splitlines()) == 2
    assert main(["check", none, "--json"]) == 2
    assert capsys.readouterr().out == ""


def test_help_lists_every_verb_once_in_a_group(capsys: pytest.CaptureFixture[str]) -> None:
    """By what people want, in lines that no terminal cuts; how to begin and what the status means stand below."""
    with pytest.raises(SystemExit):
        main(["--help"])
    lines = capsys.readouterr().out.splitlines()
    assert [sum(line.startswith(f"  {verb} ") for line in lines) for verb in VERBS] == [1] * len(VERBS)
    assert all(len(line) <= 80 for line in lines) and {*GROUPS, "Examples", "Exit status"} <= set(lines)
