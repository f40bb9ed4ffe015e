"""What must fit between two keystrokes: reading a long job, keeping it safe, cooling many pieces, refusing nonsense.

Each is held against a plain piece of work of the same size, so that the ratio says whether it still grows with the
size alone.
"""

from __future__ import annotations

import json
import os
import tempfile
import tomllib
from pathlib import Path

import tomlkit

from tests.bench.measure import Timed, measure_together
from tests.bench.outcome import Outcome
from ventsize.check.inputs import Inputs, prepare
from ventsize.check.verdict import check
from ventsize.jobfile.job import job_from_data
from ventsize.jobfile.recovery import start_journal
from ventsize.quantity import Dimension, QuantityError, parse

TRIES = 20
PIECES = 200
HOSTILE = ("1 " * 40, "," * 80, "1/" * 40, "'" * 80, "1e" * 40, "x" * 5_000_000)
Data = dict[str, object]


def job(pieces: list[Data]) -> Data:
    """A furnace and a vent of these pieces, out in the cold."""
    rate = {"name": "high", "input": "80 kBtu/h", "excess_air": 0.35, "flue_temperature": "110 degF"}
    vent = {
        "name": "vent",
        "carries": "flue gas",
        "between": ["furnace", "outdoors"],
        "size": "3 in",
        "material": "pvc-40",
        "surroundings": "outdoors",
        "pieces": pieces,
    }
    return {
        "title": "Many pieces",
        "site": {"altitude": "0 ft", "outdoor": "0 degF"},
        "appliance": [{"name": "furnace", "fuel": "natural gas", "rate": [rate]}],
        "run": [vent],
    }


def long_job() -> Outcome:
    """A job of two hundred pieces validated, against its TOML read."""
    data = job([{"pipe": f"{number} ft 6 in", "heading": "up"} for number in range(PIECES)])
    text = tomlkit.dumps(data)
    ours, yardstick = measure_together(
        [Timed(lambda: job_from_data(data, file="job.toml")), Timed(lambda: tomllib.loads(text))], repeats=TRIES
    )
    return Outcome(
        what=f"job of {PIECES} pieces validated",
        against="its TOML read by tomllib",
        ours=ours,
        yardstick=yardstick,
        kind="at most",
        target=5.0,
    )


def snapshot() -> Outcome:
    """Unsaved work kept safe from a crash, against the same put through to the disk by hand."""
    data = job([{"pipe": "12 ft 6 in", "heading": "up"}, {"fitting": "elbow-90-long"}] * (PIECES // 2))
    with tempfile.TemporaryDirectory() as name:
        plain, journal = Path(name) / "plain", start_journal(Path(name))

        def by_hand() -> None:
            plain.with_suffix(".new").write_text(json.dumps(data), encoding="utf-8")
            os.replace(plain.with_suffix(".new"), plain)

        ours, yardstick = measure_together(
            [Timed(lambda: journal.note(data, file=Path("job.toml"))), Timed(by_hand)], repeats=TRIES
        )
        journal.close()
    return Outcome(
        what=f"job of {PIECES} pieces kept safe",
        against="the same as JSON, written and renamed",
        ours=ours,
        yardstick=yardstick,
        kind="at most",
        target=10.0,
    )


def cooling() -> Outcome:
    """Forty pieces followed in their cooling, against the same job without."""
    data = job([{"pipe": "2 ft", "heading": "east"}, {"fitting": "coupling"}] * 20)
    cold, warm = iter(_fresh(data, 2 * TRIES)), iter(_fresh(data, 2 * TRIES))
    ours, yardstick = measure_together(
        [Timed(lambda: check(next(cold), cooling=True)), Timed(lambda: check(next(warm), cooling=False))],
        repeats=TRIES,
    )
    return Outcome(
        what="40 pieces in the cold, cooling followed",
        against="the same without cooling",
        ours=ours,
        yardstick=yardstick,
        kind="at most",
        target=40.0,
    )


def nonsense() -> Outcome:
    """Texts that make a careless reader search back and forth, against as many lengths."""
    ours, yardstick = measure_together(
        [
            Timed(lambda: [_read(text) for text in HOSTILE], 10),
            Timed(lambda: [_read("12 ft 6 in") for _ in HOSTILE], 10),
        ],
        repeats=TRIES,
    )
    return Outcome(
        what=f"{len(HOSTILE)} hostile texts refused",
        against="as many lengths read",
        ours=ours,
        yardstick=yardstick,
        kind="at most",
        target=100.0,
    )


def _fresh(data: Data, count: int) -> list[Inputs]:
    """As many readings of a job, so that nothing is remembered from one to the next."""
    return [prepare(job_from_data(data, file="job.toml"), file="job.toml") for _ in range(count)]


def _read(text: str) -> float | None:
    try:
        return parse(text, Dimension.LENGTH)
    except QuantityError:
        return None
