"""A fitting of one name in several pages of a job, and in the job itself."""

from __future__ import annotations

from copy import deepcopy
from pathlib import Path

import pytest

from tests.check.jobs import TABLE, Data, checked, job, pipe, run
from ventsize.check.inputs import prepare
from ventsize.jobfile.job import job_from_data
from ventsize.jobfile.problems import InputError


def page(k: float) -> Data:
    """A page with a wall kit of its own."""
    table = deepcopy(TABLE)
    table["deductions"]["wall-kit"] = "1 ft"
    return {**table, "fitting": [{"name": "wall-kit", "kind": "terminal", "k": k}]}


@pytest.mark.parametrize(("k", "own", "refused"), [
    (2.0, [], True), (3.0, [], False), (2.0, ["wall-kit"], False), (2.0, ["other"], True),
])  # fmt: skip
def test_two_pages_that_name_one_fitting_differently(k: float, own: list[str], refused: bool) -> None:
    """K of 3 by the vent's page and 2 by the air pipe's: one name for two things, unless the job says what it is."""
    runs = [run("vent", "furnace", "outdoors", pipe(5), {"fitting": "wall-kit"})]
    runs.append({**runs[0], "name": "air", "carries": "combustion air", "table": "other.toml"})
    data = job(runs=runs)
    loss = {"k": 4.0, "k_low": 4.0, "k_high": 4.0}
    data["fitting"] = [
        {"name": name, "title": name, "kind": "terminal", "source": "Invented", "leaving": loss, "entering": loss}
        for name in own
    ]
    if refused:
        with pytest.raises(InputError, match="another table of the job has a fitting of this name"):
            checked(data, page(3.0), other=page(k))
    else:
        assert checked(data, page(3.0), other=page(k)).verdict == "within"


@pytest.mark.parametrize(("tables", "named", "refused"), [
    (["wrong.toml"], None, True), (["wrong.toml", "table.toml"], None, False),  # none of two judges it
    (["wrong.toml"], "table.toml", False), (["air.toml", "wrong.toml"], None, True), (["air.toml"], None, False),
])  # fmt: skip
def test_names_have_to_be_known_on_the_page_that_judges(tables: list[str], named: str | None, refused: bool) -> None:
    """The only page of the job that is for flue gas, where the run names none."""
    data = {**job([pipe(5), {"fitting": "terminal-open"}]), "tables": tables}
    data["run"][0] = {**data["run"][0], **({"table": named} if named else {})}
    if not named:
        del data["run"][0]["table"]
    wrong = {**TABLE, "deductions": {"elbow-90-lnog": "3 ft"}}
    air = {**wrong, "applies_to": ["combustion air"]}
    if refused:
        with pytest.raises(InputError, match="elbow-90-lnog"):
            checked(data, wrong=wrong, air=air)
    else:
        assert checked(data, wrong=wrong, air=air).runs


def test_a_page_that_cannot_be_read_is_said_once(tmp_path: Path) -> None:
    """Two runs and the job name a file that is none; a second one is nowhere."""
    (tmp_path / "bad.toml").write_text("title = ")
    data = {**job(runs=[run(name, "furnace", "outdoors", pipe(5), table="bad.toml") for name in "ab"])}
    read = job_from_data({**data, "tables": ["bad.toml", "nowhere.toml"]}, file="test.toml")
    with pytest.raises(InputError) as refused:
        prepare(read, file="test.toml", beside=tmp_path)
    assert [(Path(one.file).name, one.place) for one in refused.value.problems][1:] == [("test.toml", "tables")]
    assert Path(refused.value.problems[0].file).name == "bad.toml"
