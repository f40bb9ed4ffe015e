"""`ventsize schema`: files and answers are as it says, and what the reader refuses as unknown it refuses too."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.json_schema import as_json, faults
from tests.studies.support import SCENARIOS
from ventsize.check.inputs import read_inputs
from ventsize.check.verdict import check
from ventsize.cli import main
from ventsize.cli.schema import schema
from ventsize.report.check_json import as_object

JOBS = sorted(SCENARIOS.rglob("*.toml"))
TABLES = [path for path in sorted((SCENARIOS.parent / "tables").glob("*.toml")) if "applies_to" in path.read_text()]

described = cache(schema)


def found(what: str, data: Any) -> list[str]:
    """What is wrong with a document by its schema."""
    return list(faults(as_json(data), described(what), described(what)))


def read(path: Path) -> dict[str, Any]:
    """A file's tables and values."""
    return tomllib.loads(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("what", "path"),
    [("job", path) for path in JOBS] + [("table", path) for path in TABLES],
    ids=lambda it: str(it)[-30:],
)
def test_files_are_as_described_and_no_other_key_is(what: str, path: Path) -> None:
    """Every shipped file passes; an unknown key is flagged in each of its tables.

    Where a table's keys are names, such as [deductions], the value is none that a name may have.
    """
    assert found(what, read(path)) == []
    for number, _ in enumerate(tables(read(path))):
        changed = read(path)
        list(tables(changed))[number]["unheard of"] = [None]
        assert found(what, changed) != []


def tables(data: Any) -> Iterator[dict[str, Any]]:
    """Every table in some data, the data itself first."""
    if isinstance(data, dict):
        yield data
    for value in data.values() if isinstance(data, dict) else data if isinstance(data, list) else ():
        yield from tables(value)


@pytest.mark.parametrize("path", [path for path in JOBS if path.parent == SCENARIOS], ids=lambda path: path.stem)
def test_answers_are_as_described(path: Path) -> None:
    """Every key of every answer is one that the schema has, and of its type."""
    assert found("result", json.loads(json.dumps(as_object(check(read_inputs(path)))))) == []


def test_what_is_missing_or_of_another_kind_is_flagged() -> None:
    """Keys that must be there, quantities without a unit, and words that are none of those known."""
    path = SCENARIOS / "simple-pass.toml"
    for spoil in (
        lambda job: job.pop("title"),
        lambda job: job["run"][0].pop("size"),
        lambda job: job["run"][0].update(size=3),
        lambda job: job["run"][0].update(carries="steam"),
        lambda job: job["run"][0].update(between=["furnace"]),
        lambda job: job["run"][0].update(between=["furnace", "a", "b"]),
        lambda job: job["run"][0]["pieces"].append({"heading": "up"}),
        lambda job: job["appliance"][0]["rate"][0].update(excess_air=-0.1),
    ):
        job = read(path)
        spoil(job)
        assert found("job", job) != []


@pytest.mark.parametrize("what", ["job", "table", "result"])
def test_it_is_printed(what: str, capsys: pytest.CaptureFixture[str]) -> None:
    """As JSON, which is the same that the tests hold files against."""
    assert main(["schema", what]) == 0
    assert json.loads(capsys.readouterr().out) == described(what)
