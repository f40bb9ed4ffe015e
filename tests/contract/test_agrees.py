"""The program agrees with the naive reading on a sample of drawn jobs; `python -m tests.contract` draws more."""

from __future__ import annotations

from collections.abc import Iterator
from copy import deepcopy

import pytest

from tests.contract.compare import Difference, compare
from tests.contract.drawing import FT
from tests.contract.generate import draw
from tests.contract.program import Program
from tests.contract.reach import reached
from tests.contract.reading import Data, length

SEED, BLOCK, BLOCKS = 2, 75, 4


@pytest.fixture
def program() -> Iterator[Program]:
    found = Program()
    yield found
    found.close()


def differences(program: Program, start: int, count: int) -> dict[int, Difference]:
    """By number of the job, but those that hang on the flow, which is not read."""
    found = {number: compare(program, *draw(SEED, number)) for number in range(start, start + count)}
    return {number: one for number, one in found.items() if one is not None and not one.explained}


@pytest.mark.parametrize("block", range(BLOCKS))
def test_the_program_agrees_with_the_naive_reading(program: Program, block: int) -> None:
    """No false `within`, no other verdict, no other figure."""
    assert differences(program, block * BLOCK, BLOCK) == {}


class Generous(Program):
    """Takes every allowance to be 20 ft longer than it is."""

    def answer(self, job: Data, tables: dict[str, Data]) -> Data:
        """The answer by tables that allow more."""
        more = deepcopy(tables)
        for row in (row for table in more.values() for row in table["row"]):
            if row.get("allowable", "not permitted") != "not permitted":
                row["allowable"] = f"{length(row['allowable']) / FT + 20} ft"
        return super().answer(job, more)


def test_a_program_that_allows_too_much_is_found_out() -> None:
    """The comparison itself: false `within` and other figures in the first drawn jobs."""
    program = Generous()
    assert {"false within", "figures"} <= {one.kind for one in differences(program, 0, 40).values()}
    program.close()


def test_the_sample_reaches_what_hides_faults() -> None:
    """Joints in both pipes, pipe without heading, missing ends, misspelt names, mixed sizes, every kind of table."""
    found = set().union(*(reached(*draw(SEED, number)) for number in range(BLOCK * BLOCKS)))
    assert found >= {
        "flue gas: joint of three", "combustion air: joint of three", "flue gas: part of a way",
        "flue gas: pipe without heading", "flue gas: no end listed",
        "flue gas: mixed sizes", "flue gas: counted", "flue gas: listed from outdoors", "table: misspelt name",
        "counts runs together", "counts each run", "table of both kinds of rows", "row: allowable_pressure",
        "mixed_sizes shares", "2 tables",
    }  # fmt: skip
