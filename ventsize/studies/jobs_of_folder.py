"""The day's jobs: every job of a folder with its verdict, margin, cost and state; copied, renamed, put away."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from ventsize.check.inputs import Inputs, read_inputs
from ventsize.check.verdict import check
from ventsize.finding import Finding, Verdict
from ventsize.jobfile.document import read_text
from ventsize.jobfile.job import STATES, State
from ventsize.jobfile.problems import InputError, Problem
from ventsize.jobfile.visits import visits_file
from ventsize.jobfile.writer import NO_FILE, open_file, save
from ventsize.studies.pricing import Pricer
from ventsize.studies.pricing.prices import Cost
from ventsize.studies.takeoff import listed, takeoff
from ventsize.studies.takeoff.practice import Practice
from ventsize.studies.takeoff.tally import ItemKey, Takeoff

ARCHIVE = "archive"
"""The folder, within the one of the jobs, where those go that are done with."""

OF_ONE_VISIT = ("reading", "symptom", "checked", "confirmed", "state", "lesson")
"""What a copy of a job does not take along: it was found, or looked at, in another house."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JobLine:
    """One job of a folder. fault: why it cannot be read; nothing else is known of it then.

    margin: the least length left of any run's allowance [m], None where a run has none.
    doubts: how many stops and doubts stand beside the verdict. cost: None without a price list.
    """

    path: Path
    title: str = ""
    state: State | None = None
    verdict: Verdict | None = None
    doubts: int = 0
    margin: float | None = None
    cost: Cost | None = None
    fault: Problem | None = None

    @property
    def doubted(self) -> bool:
        """Whether it is a pass that is not plain."""
        return self.verdict == "within" and self.doubts > 0


def job_files(folder: Path) -> list[Path]:
    """The job files of a folder, by name; tables, price lists and other TOML files are none.

    Raises InputError where there is no such folder.
    """
    if not folder.is_dir():
        raise InputError(Problem(str(folder), "", "it is no folder", "a folder of job files"))
    return [path for path in sorted(folder.glob("*.toml")) if path.is_file() and _is_job(path)]


def _is_job(path: Path) -> bool:
    """Whether it has the marks of a job; one that cannot be read is shown, so that it is not missed."""
    try:
        text = read_text(path)
    except InputError:
        return True
    return re.search(r"^\s*\[\[\s*(appliance|run)\b|^\s*(appliance|run)\s*=", text, re.MULTILINE) is not None


def jobs_of(folder: Path, *, pricer: Pricer | None = None) -> Iterator[JobLine]:
    """Every job of a folder, one after another: stop by no longer asking for more."""
    for path in job_files(folder):
        yield line_of(path, pricer=pricer)


def line_of(path: Path, *, pricer: Pricer | None = None) -> JobLine:
    """One job, judged and priced."""
    try:
        inputs = read_inputs(path)
    except InputError as error:
        return JobLine(path=path, fault=error.problems[0])
    return _judged(path, inputs, pricer)


def _judged(path: Path, inputs: Inputs, pricer: Pricer | None) -> JobLine:
    found = check(inputs)
    margins = [run.margin for run in found.runs]
    known = [margin for margin in margins if margin is not None]
    return JobLine(
        path=path,
        title=inputs.job.title,
        state=inputs.job.state,
        verdict=found.verdict,
        doubts=len(found.doubted),
        margin=min(known) if known and len(known) == len(margins) else None,
        cost=None if pricer is None else pricer.cost(inputs, ranged=True),
    )


def set_state(path: Path, state: str) -> None:
    """Write a job's state into its file. Raises InputError, SaveError."""
    if state not in STATES:
        raise InputError(Problem(str(path), "state", f"'{state:.40}' is no state of a job", ", ".join(STATES)))
    opened = open_file(path)
    save(path, {**opened.data, "state": state}, known=opened.fingerprint)


def copy_job(path: Path, to: Path, *, title: str = "") -> None:
    """A job as the start of the next: appliance, runs and tables, not what was found in the other house.

    Never over a file that is there. Raises InputError, SaveError.
    """
    data = {key: value for key, value in open_file(path).data.items() if key not in OF_ONE_VISIT}
    save(to, {**data, "title": title or f"{data.get('title', path.stem)}, copy"}, known=NO_FILE)


def move_job(path: Path, to: Path) -> None:
    """Rename a job, with its visits beside it. Never over a file that is there. Raises InputError."""
    moves = [(path, to), (visits_file(path), visits_file(to))]
    for one, other in moves:
        if one.exists() and other.exists():
            raise InputError(Problem(str(other), "", "there is a file of this name already", "another name"))
    try:
        to.parent.mkdir(parents=True, exist_ok=True)
        for one, other in moves:
            if one.exists():
                one.rename(other)
    except OSError as error:
        raise InputError(Problem(str(path), "", f"it cannot be moved: {error.strerror}")) from None


def archive_job(path: Path) -> Path:
    """Put a job away, with its visits, into the folder `ARCHIVE` beside it. Gives where it is now."""
    to = path.parent / ARCHIVE / path.name
    move_job(path, to)
    return to


def order_of(jobs: Sequence[Path], *, practice: Practice) -> Takeoff:
    """What some jobs take, as one list to order by; each is still cut by itself. Raises InputError."""
    taken = [takeoff(read_inputs(job), practice=practice) for job in jobs]
    return taken[0] if len(taken) == 1 else _one_order(taken)


def _one_order(taken: Sequence[Takeoff]) -> Takeoff:
    counts: Counter[ItemKey] = Counter()
    for item in (item for one in taken for item in one.items):
        counts[item.what, item.material, item.sizes, item.label, item.length] += item.quantity
    missing: dict[tuple[object, ...], Finding] = {found.key: found for one in taken for found in one.missing}
    return Takeoff(
        title=" + ".join(one.title for one in taken),
        items=listed(counts),
        cut_lists=(),
        notes=(),
        missing=tuple(missing.values()),
        joints=sum(one.joints for one in taken),
    )
