"""The README and the guide: what they show is what the program prints."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import ventsize
from ventsize.cli import main
from ventsize.guide import TOPICS, topic

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_readme_shows_the_answer_as_it_is(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The block after the command is what the command prints, line by line."""
    monkeypatch.chdir(ROOT)
    block = re.search(r"^\$ ventsize (check \S+)\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)
    assert block is not None
    assert main(block[1].split()) == 0
    assert capsys.readouterr().out == block[2]


def test_the_readme_is_short_and_names_every_topic() -> None:
    """One page to begin with; the rest stands in the guide."""
    assert len(README.splitlines()) <= 150
    assert all(f"ventsize/guide/{name}.md" in README for name in TOPICS)


@pytest.mark.parametrize("name", TOPICS)
def test_every_topic_has_its_page(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A title, and the same text by the command."""
    assert topic(name).startswith("# ")
    assert main(["guide", name]) == 0
    assert capsys.readouterr().out == topic(name)


def test_the_python_example_prints_what_it_says(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """And it uses names that `ventsize` itself has."""
    monkeypatch.chdir(ROOT)
    found = re.search(r"^```python\n(.*?)^```$.*^```\n(.*?)^```$", topic("programs"), re.MULTILINE | re.DOTALL)
    assert found is not None
    example, printed = found.groups()
    exec(compile(example, "programs.md", "exec"), {})
    assert capsys.readouterr().out == printed
    assert set(re.findall(r"ventsize\.(\w+)", example)) <= set(ventsize.__all__)
    assert all(hasattr(ventsize, name) for name in ventsize.__all__)
    assert not hasattr(ventsize, "anything else")


def test_without_a_topic_they_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    """And a topic that is none is refused with what there is."""
    assert main(["guide"]) == 0
    listed = capsys.readouterr().out
    assert all(name in listed for name in TOPICS)
    with pytest.raises(SystemExit) as left:
        main(["guide", "chimneys"])
    assert left.value.code == 2
