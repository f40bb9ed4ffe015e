"""What the tests of the studies share: a job of one run, and a check seen as a variant's."""

from __future__ import annotations

import math
from pathlib import Path

from ventsize.check.inputs import Inputs, prepare, read_inputs
from ventsize.check.variants import VariantCheck
from ventsize.check.verdict import check
from ventsize.finding import Outcome
from ventsize.jobfile.job import Job

SCENARIOS = Path(__file__).resolve().parent.parent.parent / "scenarios"


def scenario(name: str) -> Inputs:
    """A demonstration job."""
    return read_inputs(SCENARIOS / f"{name}.toml")


def again(inputs: Inputs, job: Job) -> Inputs:
    """Another job with the same tables."""
    return prepare(job, file=inputs.file, beside=SCENARIOS, tables=inputs.tables)


def _alike(one: Outcome, other: Outcome) -> bool:
    """Whether two outcomes say the same, figures aside: those are compared by themselves."""
    return (one.condition, one.state, one.because.code, one.because.where) == (
        other.condition, other.state, other.because.code, other.because.where
    )  # fmt: skip


def assert_same(variant: VariantCheck, inputs: Inputs) -> None:
    """A variant says what a check of the whole job says: verdicts, reasons, lengths and pressures."""
    whole = check(inputs)
    assert _alike(variant.decides, whole.decides)
    for run, full in zip(variant.runs, whole.runs, strict=True):
        assert _alike(run.decides, full.decides)
        assert _close(run.margin, full.margin)
        assert math.isclose(run.run.straight_length, full.run.straight_length, rel_tol=1e-9)
        assert (run.table is None) == (full.table is None)
        if run.table and full.table:
            assert _close(run.table.equivalent_length, full.table.equivalent_length)
            assert _close(run.table.allowable_length, full.table.allowable_length)
        for rate, other in zip(run.rates, full.rates, strict=True):
            assert rate.name == other.name and rate.within_allowance == other.within_allowance
            assert _close(rate.flow.pressure_drop, other.flow.pressure_drop)
            assert _close(rate.flow.pressure_drop_high, other.flow.pressure_drop_high)
            assert _close(rate.flow.draft, other.flow.draft)
            assert _close(rate.counted_pressure, other.counted_pressure)
            assert _close(rate.budget_pressure, other.budget_pressure)
            assert _close(rate.equivalent_length, other.equivalent_length)


def _close(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-12)
