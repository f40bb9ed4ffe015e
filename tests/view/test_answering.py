"""Every question a choice can answer is asked once, and each answer settles it."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import pytest

from tests.check.jobs import TABLE, Data, job, pipe, run, table_of_two, two_furnaces
from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.reading import table_from_data
from ventsize.check.inputs import prepare
from ventsize.check.result import JobCheck
from ventsize.check.verdict import check
from ventsize.jobfile.job import job_from_data
from ventsize.jobfile.problems import InputError
from ventsize.tui.job.edits import laid_out_job
from ventsize.view.answering import OpenQuestion, open_question, still_needed


def judged(data: Data, page: Data) -> tuple[JobCheck, dict[str, AllowanceTable]]:
    """The check of a job whose tables are all this page, and the tables."""
    read = job_from_data(data, file="job")
    names = {*read.tables, *(one.table for one in read.runs if one.table)}
    inputs = prepare(read, file="job", tables={name: table_from_data(page, file=name) for name in names})
    return check(inputs), dict(inputs.tables)


def asked(data: Data, page: Data) -> OpenQuestion | None:
    """What is open."""
    found, tables = judged(data, page)
    return open_question(found, data, tables=tables)


def page(**changed: Any) -> Data:
    """The table of the tests with keys changed, or those of its rows."""
    made = deepcopy(TABLE)
    made.update({key: value for key, value in changed.items() if key != "row"})
    for row in made["row"]:
        row.update(changed.get("row", {}))
    return made


COMMON = two_furnaces(common=10)
for one in COMMON["appliance"]:
    del one["backflow_prevented"]
TWO_PIPES = job()
TWO_PIPES["run"].append({**TWO_PIPES["run"][0], "name": "air", "carries": "combustion air"})
TWO_PIPES["appliance"][0]["air"] = "room"
CASES: dict[str, tuple[Data, Data, int]] = {
    "air-not-said": (job(), page(counts="runs together"), 2),
    "air-run-missing": ({**job(), "appliance": [{**job()["appliance"][0], "air": "pipe"}]}, page(), 1),
    "air-contradicts": (TWO_PIPES, page(), 1),
    "backflow-not-known": (COMMON, table_of_two(single={"allowable": "90 ft"}, common={"allowable": "90 ft"}), 2),
    "footnotes-open": (job(), page(confirm=["Terminals on one wall.", "No liner."]), 2),
    "altitude-not-confirmed": (job(altitude="3000 ft"), {**page(), "row": [
        {key: value for key, value in row.items() if key != "altitude"} for row in TABLE["row"]]}, 1),
    "surroundings-not-said": ({**job(), "site": {**job()["site"], "design_outdoor": "0 degF"}}, page(exposed=[
        {"size": "3 in", "outdoor": "0 degF", "insulation": "0 in", "allowable": "30 ft"}]), 4),
    "several-tables-apply": ({**job(runs=[{k: v for k, v in job()["run"][0].items() if k != "table"}]),
                              "tables": ["table.toml", "other.toml"]}, page(), 2),
    "case-not-said": (job([pipe(10, "up")]), page(row={"ends": ["terminal-elbow-down"]}), 2),
}  # fmt: skip


@pytest.mark.parametrize("code", CASES)
def test_each_answer_settles_its_question(code: str) -> None:
    """The job is incomplete for it; with any of the answers it is no more what is not known."""
    data, of, count = CASES[code]
    question = asked(data, of)
    assert question is not None and question.question.code == code and len(question.answers) == count
    assert judged(data, of)[0].verdict == "incomplete"
    where = question.question.where
    if code not in ("footnotes-open", "altitude-not-confirmed"):  # these hold for the whole job
        assert all(answer.label.startswith(f"{where.appliance or where.run}: ") for answer in question.answers)
    for answer in question.answers:
        after = judged(answer.data, of)[0]
        open_still = [outcome.because for outcome in after.conditions if outcome.state == "not known"]
        if code != "footnotes-open":  # one footnote leaves the other
            assert (code, question.question.where) not in [(finding.code, finding.where) for finding in open_still]
    if code == "footnotes-open":
        again = asked(question.answers[0].data, of)
        assert again is not None and len(again.answers) == 1 and asked(again.answers[0].data, of) is None


def test_an_end_is_put_where_the_run_leaves_the_house() -> None:
    """Last, or first in a run listed from outdoors; in a count as one of it."""
    of = page(row={"ends": ["terminal-elbow-down"]})
    inward = job([pipe(10, "down")], between=["outdoors", "furnace"])
    counted = job(runs=[{**run("vent", "furnace", "outdoors"), "straight": "10 ft", "fittings": {}}])
    del counted["run"][0]["pieces"]
    for data, at in ((job([pipe(10, "up")]), -1), (inward, 0)):
        question = asked(data, of)
        assert question is not None
        assert question.answers[0].data["run"][0]["pieces"][at] == {"fitting": "terminal-elbow-down"}
    question = asked(counted, of)
    assert question is not None
    assert question.answers[0].data["run"][0]["fittings"] == {"terminal-elbow-down": 1}


def test_where_nothing_is_open_nothing_is_asked() -> None:
    """A pass, and a job that is over."""
    assert asked(job(), page()) is None
    assert asked(job([pipe(99, "up")]), page()) is None


def test_what_is_empty_is_named_with_its_key() -> None:
    """Of a new job, that is all; a fault besides is told in its own words."""
    data: Data = laid_out_job()

    def said() -> str:
        with pytest.raises(InputError) as refused:
            job_from_data(data, file="")
        return still_needed(refused.value.problems, data)

    assert said() == "still needed: altitude (F4), input (F3)"
    data["site"]["altitude"] = "7 bananas"
    assert said() == ""
