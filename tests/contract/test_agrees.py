"""Program and naive reading agree on a sample of random jobs; `python -m tests.contract` draws more."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.contract.compare import compare
from tests.contract.decisions import explained
from tests.contract.generate import draw
from tests.contract.program import Program


@pytest.fixture
def program() -> Iterator[Program]:
    """In a folder that goes again."""
    one = Program()
    yield one
    one.close()


@pytest.mark.parametrize("seed", [101, 102, 103, 104])
def test_no_false_within_and_no_difference_unexplained(program: Program, seed: int) -> None:
    """100 jobs of each seed. A failure names the class and the job: `--seed … --start … --count 1 --show 1`."""
    found = {}
    for number in range(100):
        difference = compare(program, *draw(seed, number))
        if difference is not None and explained(difference) is None:
            found[number] = difference
    assert found == {}


def test_the_sample_reaches_every_verdict(program: Program) -> None:
    """Were every job refused or over, agreement would say nothing."""
    verdicts: dict[str | None, int] = {}
    for number in range(60):
        compare(program, *draw(101, number))
        verdicts[program.last] = verdicts.get(program.last, 0) + 1
    assert verdicts["within"] > 8
    assert {"over", "not covered", "incomplete", "error"} <= set(verdicts)
