"""What holds for the tree as a whole: what starting costs, what files may say, and where things stand."""

from __future__ import annotations

import ast
import fnmatch
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parent.parent
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "ventsize", "tables", "tests", "scenarios"}
TABLES = sorted((ROOT / "tables").rglob("*.toml"))
LATE = ("textual", "rich", "pandas", "matplotlib", "scipy.optimize", "ventsize.tui")

# In pieces, so that this file may be searched too.
MACHINE_PATH = re.compile(r"(?<![\w.:/~$}*)])/(?:work|tmp|farm|root|home|Users|mnt|opt|srv)/[A-Za-z_.]")
REGISTRY = re.compile(r"(?:py" r"pi|pythonhosted|npm" r"js|conda-?forge|anaconda)\.(?:org|io|com)", re.IGNORECASE)


def left_out_by_git() -> list[str]:
    """Patterns of what may lie about in a working tree."""
    lines = (ROOT / ".gitignore").read_text(encoding="utf-8").splitlines()
    return [line.rstrip("/") for line in lines if line and not line.startswith("#")]


def texts() -> Iterator[tuple[str, str]]:
    """Every text file of the tree with its name, but for what git leaves out."""
    skipped = [".git", *left_out_by_git()]
    for path in sorted(ROOT.rglob("*")):
        place = path.relative_to(ROOT)
        if path.is_dir() or any(fnmatch.fnmatch(part, name) for part in place.parts for name in skipped):
            continue
        try:
            yield place.as_posix(), path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue


def loaded_after(code: str) -> set[str]:
    """The modules in memory after a fresh interpreter has run this code."""
    code += "\nimport sys; print('\\n'.join(sys.modules), file=sys.stderr)"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, encoding="utf-8", check=True
    )
    return set(done.stderr.split())


def test_command_line_starts_light() -> None:
    """Whoever asks for a verdict in a script does not wait for the screens, nor for data frames."""
    loaded = loaded_after("import ventsize.cli")
    assert "ventsize.cli" in loaded
    assert loaded.isdisjoint(LATE)


def test_a_check_stays_light() -> None:
    """Checking a job loads the solver, but neither screens nor data frames."""
    scenario = ROOT / "scenarios" / "simple-pass.toml"
    loaded = loaded_after(f"from ventsize.cli import main\nassert main(['check', {str(scenario)!r}]) == 0")
    assert "fluids" in loaded
    assert loaded.isdisjoint(LATE)


def test_screens_are_opened_late() -> None:
    """The layer contract lets the command line import the screens; that must be inside a function."""
    modules = [ast.parse(path.read_text(encoding="utf-8")) for path in (ROOT / "ventsize" / "cli").glob("*.py")]
    assert modules
    names = [name for module in modules for node in module.body for name in imported(node)]
    early = [name for name in names if name.startswith(("ventsize.tui", "textual"))]
    assert early == []


def imported(node: ast.stmt) -> list[str]:
    """The modules that one statement imports by itself."""
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.ImportFrom):
        return [f"{node.module}", *(f"{node.module}.{alias.name}" for alias in node.names)]
    return []


@pytest.mark.parametrize("pattern", [MACHINE_PATH, REGISTRY], ids=["path of a machine", "package registry"])
def test_files_name_no_machine(pattern: re.Pattern[str]) -> None:
    """What exists on one machine only, or leads away from the user's package index, is not written down."""
    found = [f"{name}: {match.group()}" for name, text in texts() for match in pattern.finditer(text)]
    assert found == []


def test_the_patterns_find_what_they_look_for() -> None:
    """A pattern that cannot match would pass every tree."""
    assert MACHINE_PATH.search("see " + "/".join(["", "home", "someone", "jobs"]))
    assert REGISTRY.search("https://" + ".".join(["py" + "pi", "org"]))
    assert not MACHINE_PATH.search("https://example.com/home/page, tests/tmp/x and ~/work/x")


def test_top_level_holds_what_is_known() -> None:
    """Seven things stand at the top; anything else there is forgotten or belongs further down."""
    ignored = left_out_by_git()
    names = {
        path.name
        for path in ROOT.iterdir()
        if not path.name.startswith(".") and not any(fnmatch.fnmatch(path.name, name) for name in ignored)
    }
    assert names == TOP_LEVEL


def test_there_are_tables() -> None:
    """The check of each table is no check where no table is found."""
    assert TABLES


@pytest.mark.parametrize("table", TABLES, ids=lambda path: path.stem)
def test_every_table_names_its_source(table: Path) -> None:
    """A number without a source cannot be checked by anybody: the file has one, or each of its records."""
    data = tomllib.loads(table.read_text(encoding="utf-8"))
    assert sourced(data) or without_source(data) == []


def without_source(data: dict[str, Any]) -> list[str]:
    """The records of a file that name no source."""
    missing = []
    for key, value in data.items():
        records = value if isinstance(value, list) else [value]
        missing += [f"{key} {index}: {record}" for index, record in enumerate(records, start=1) if not sourced(record)]
    return missing


def sourced(record: object) -> bool:
    """Whether a record says where it comes from."""
    return isinstance(record, dict) and isinstance(record.get("source"), str) and bool(record["source"].strip())


def test_readme_commands_are_whole() -> None:
    """Each of the two commands is one line with an environment of its own, on a scenario that is there."""
    lines = [line for line in (ROOT / "README.md").read_text(encoding="utf-8").splitlines() if "pip install" in line]
    opening, testing = (line for line in lines if line.startswith("python3 -m venv"))
    scenario = opening.split()[-1]
    assert scenario.startswith("scenarios/") and (ROOT / scenario).is_file()
    assert '".[test]"' in testing and testing.endswith("-m pytest -n auto")


def test_files_that_the_contributor_guide_names_are_there() -> None:
    """Each by the end of its path, as it is named."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    named = set(re.findall(r"`([\w./-]+\.(?:py|toml|md))`", text))
    there = ["/" + place for place, _ in texts()]
    assert len(named) > 50
    assert [name for name in sorted(named) if not any(place.endswith("/" + name) for place in there)] == []
