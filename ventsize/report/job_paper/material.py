"""What the paper of a job is made from."""

from __future__ import annotations

import platform
from dataclasses import dataclass
from datetime import date
from importlib.metadata import PackageNotFoundError, version

from ventsize import __version__
from ventsize.check.inputs import Inputs
from ventsize.check.result import JobCheck
from ventsize.check.verdict import check as check_job
from ventsize.quantity import System
from ventsize.report.job_paper.letterhead import Head, own_head
from ventsize.studies.checkover import CheckOver, check_over
from ventsize.studies.pricing.prices import Cost, PriceList, cost
from ventsize.studies.room_air import RoomAirStudy, room_air
from ventsize.studies.takeoff import takeoff
from ventsize.studies.takeoff.practice import Practice, read_practice
from ventsize.studies.takeoff.tally import Takeoff

_LIBRARIES = ("fluids", "chemicals", "ht", "numpy", "scipy")


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A job with its results. takeoff, cost: None where the paper goes without. practice: what it went by.

    head: whose paper it is.
    rooms: None where the job describes none. over: None where nothing of the check-over was ticked off.
    """

    inputs: Inputs
    check: JobCheck
    system: System
    day: date
    takeoff: Takeoff | None = None
    cost: Cost | None = None
    practice: str = ""
    rooms: RoomAirStudy | None = None
    over: CheckOver | None = None
    head: Head = Head()


def material_of(
    inputs: Inputs,
    *,
    system: System,
    day: date,
    prices: PriceList | None = None,
    practice: Practice | None = None,
    check: JobCheck | None = None,
) -> Material:
    """A job with all that its paper shows. Raises InputError where the job cannot be figured.

    prices, practice: the user's; without them no cost, and the usual way of building. check: where it is at hand.
    """
    by = practice or read_practice()
    checked = check or check_job(inputs)
    head = own_head()
    taken = takeoff(inputs, practice=by)
    return Material(
        inputs=inputs,
        check=checked,
        system=system,
        day=day,
        takeoff=taken,
        cost=None if prices is None else cost(taken, prices),
        practice=by.source,
        rooms=room_air(inputs) if inputs.job.rooms else None,
        head=head,
        over=check_over(inputs, checked=checked) if inputs.job.checked else None,
    )


def written_day(day: date) -> str:
    """A date that nobody reads the wrong way round: `25 November 2026`."""
    return f"{day.day} {day:%B} {day.year}"


def foot_of(title: str, day: date) -> str:
    """The foot of every page."""
    shown = title if len(title) <= 50 else title[:49] + "…"
    return (
        f"{shown}. ventsize {__version__}, {written_day(day)}. An estimate: the maker's instructions and the local "
        "code decide."
    )


def versions() -> tuple[tuple[str, str], ...]:
    """The programs that the figures come from, with their versions."""
    found = [("ventsize", __version__)]
    for name in _LIBRARIES:
        try:
            found.append((name, version(name)))
        except PackageNotFoundError:
            found.append((name, "not known"))
    return (*found, ("Python", platform.python_version()))
