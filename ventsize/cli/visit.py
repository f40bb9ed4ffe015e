"""`ventsize visit`: the visits to a job, what has changed since the last one, and keeping another."""

from __future__ import annotations

import argparse
import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ventsize.cli.arguments import add_output
from ventsize.cli.printing import json_text
from ventsize.cli.status import DONE
from ventsize.cli.writing import add_files, write_some
from ventsize.jobfile.visits import visits_file

if TYPE_CHECKING:
    from ventsize.jobfile.visits import Visit
    from ventsize.report.paper import Paper


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    parser.add_argument("job", type=Path, metavar="JOB", help="a job file; its visits stand beside it")
    parser.add_argument("--on", metavar="DATE", help="show the visit of that date, or of '2026-11-20 14:05'")
    parser.add_argument(
        "--for", dest="reader", choices=("customer", "office"), help="the visit as a page: --html, --pdf, --markdown"
    )
    parser.add_argument("--since", metavar="DATE", help="what has changed since that visit instead of the last")
    keep = parser.add_argument_group("keeping a visit", "readings, ticks and verdict of the job as it stands")
    keep.add_argument("--keep", action="store_true", help="add a visit to the file beside the job")
    keep.add_argument("--date", metavar="DATE", help="of the visit, as 2026-11-20; today where not given")
    keep.add_argument("--time", metavar="TIME", help="of the visit, as 14:05; now where it is today's")
    keep.add_argument("--by", metavar="NAME", default="", help="who was there")
    keep.add_argument("--note", metavar="TEXT", default="", help="anything worth remembering")
    keep.add_argument("--photo", metavar="FILE", action="append", default=[], help="its file name; may be repeated")
    keep.add_argument(
        "--start", action="store_true", help="take the readings that the last visit kept out of the job, for new ones"
    )
    add_output(parser)
    add_files(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print visits, or keep one."""
    if options.start:
        return _start(options)
    if options.keep:
        return _keep(options)
    if options.reader:
        return _page(options)
    return _show(options) if options.on else _changes(options)


def _page(options: argparse.Namespace) -> int:
    """A visit as a page: the one named, or else the last."""
    from ventsize.jobfile.problems import InputError, Problem
    from ventsize.jobfile.visits import read_visits
    from ventsize.quantity import System
    from ventsize.report.visit_pages import visit_paper

    visits = read_visits(options.job)
    if not visits:
        raise InputError(Problem(str(options.job), "", "no visit has been kept", "a visit kept before (--keep)"))
    visit = _visit_on(visits, options.on, "--on") if options.on else visits[-1]
    system = System(options.units)

    def made() -> Paper:
        return visit_paper(visits, visit, options.job, reader=options.reader, system=system)

    write_some(options, made, keep=[visits_file(options.job)])
    return DONE


def _date(text: str | None, option: str) -> datetime.date:
    from ventsize.jobfile.problems import InputError, Problem

    try:
        return datetime.date.fromisoformat(text) if text else datetime.date.today()
    except ValueError:
        raise InputError(Problem(option, "", f"'{text:.40}' is not a date", "a date such as 2026-11-20")) from None


def _visit_on(visits: tuple[Visit, ...], text: str, option: str) -> Visit:
    """The visit of a date and time; of a date alone, the last."""
    from ventsize.jobfile.problems import InputError, Problem

    day, _, time = text.partition(" ")
    date = _date(day, option)
    found = [visit for visit in visits if visit.date == date and visit.time in (time or visit.time, "")]
    if not found:
        known = ", ".join(dict.fromkeys(visit.named for visit in visits))
        expected = f"one of: {known}" if known else "a visit kept before (--keep)"
        raise InputError(Problem(option, "", f"there was no visit on {text:.40}", expected))
    return found[-1]


def _now(options: argparse.Namespace) -> dict[str, Any]:
    """The visit that the job as it stands would be kept as."""
    from ventsize.check.inputs import prepare as look_up
    from ventsize.jobfile.job import job_from_data
    from ventsize.jobfile.writer import open_file
    from ventsize.quantity import System
    from ventsize.report.visits import words_of
    from ventsize.studies.visits import visit_now

    file = str(options.job)
    data = open_file(options.job).data
    inputs = look_up(job_from_data(data, file=file), file=file, beside=options.job.parent)
    return visit_now(
        inputs,
        data,
        date=_date(options.date, "--date"),
        time=options.time if options.time is not None or options.date else f"{datetime.datetime.now():%H:%M}",
        by=options.by,
        note=options.note,
        photos=[_beside(name, options.job.parent) for name in options.photo],
        **words_of(System(options.units)),
    )


def _beside(name: str, folder: Path) -> str:
    """A photo's file name as it is kept: from the job's folder on, where it lies in it."""
    path = Path(name)
    try:
        return path.resolve().relative_to(folder.resolve()).as_posix()
    except ValueError:
        return name


def _changes(options: argparse.Namespace) -> int:
    from ventsize.jobfile.visits import read_visits
    from ventsize.quantity import System
    from ventsize.report.visits import changes_object, render, visit_object
    from ventsize.studies.visits import as_visit, compare, photos_missing, since_last

    visits = read_visits(options.job)
    now = _now(options)
    changes = since_last(visits, as_visit(now))
    if options.since:
        changes = compare(_visit_on(visits, options.since, "--since"), as_visit(now))
    if options.json:
        listed = [visit_object(visit, missing=photos_missing(visit, options.job.parent)) for visit in visits]
        print(json_text({"visits": listed, "changes": None if changes is None else changes_object(changes)}))
    else:
        names = dict.fromkeys(name for visit in visits for name in photos_missing(visit, options.job.parent))
        print(render(visits, changes, System(options.units), missing=list(names)))
    return DONE


def _show(options: argparse.Namespace) -> int:
    from ventsize.jobfile.visits import read_visits
    from ventsize.quantity import System
    from ventsize.report.visits import visit_lines, visit_object
    from ventsize.studies.visits import photos_missing

    visit = _visit_on(read_visits(options.job), options.on, "--on")
    missing = photos_missing(visit, options.job.parent)
    if options.json:
        print(json_text(visit_object(visit, missing=missing)))
    else:
        print("\n".join(visit_lines(visit, System(options.units), missing=missing)))
    return DONE


def _keep(options: argparse.Namespace) -> int:
    from ventsize.jobfile.letters import plain
    from ventsize.jobfile.visits import add_visit, read_visits
    from ventsize.report.visits import visit_object
    from ventsize.studies.visits import as_visit, photos_missing, stale_readings

    visits = read_visits(options.job)
    visit = _now(options)
    add_visit(options.job, visit)
    kept = as_visit(visit)
    missing = photos_missing(kept, options.job.parent)
    if options.json:
        print(json_text(visit_object(kept, missing=missing)))
        return DONE
    counts = f"{len(kept.readings)} readings, {kept.met} met, {len(kept.not_met)} not met"
    where = plain(str(visits_file(options.job)))
    print(f"Kept in {where}: {kept.named}, {kept.verdict}, {counts}, {kept.to_do} to do")
    stale = stale_readings(kept, visits[-1] if visits else None)
    if stale:
        print(f"{stale} readings are those of {visits[-1].date.isoformat()}, to the letter: were they taken anew?")
    for name in missing:
        print(f"The photo {plain(name)} is not beside the job.")
    return DONE


def _start(options: argparse.Namespace) -> int:
    from ventsize.check.inputs import prepare
    from ventsize.jobfile.job import job_from_data
    from ventsize.jobfile.visits import read_visits
    from ventsize.jobfile.writer import open_file, save
    from ventsize.studies.visits import for_a_new_visit

    opened = open_file(options.job)
    visits = read_visits(options.job)
    job = job_from_data(opened.data, file=str(options.job))
    inputs = prepare(job, file=str(options.job), beside=options.job.parent)
    data = for_a_new_visit(opened.data, inputs, visits[-1] if visits else None)
    if data != opened.data:
        save(options.job, data, known=opened.fingerprint)
    left = data.get("reading", [])
    old = sum(bool(reading.get("before_repair")) for reading in left)
    print(f"{len(job.readings) - len(left)} readings taken out of the job: the last visit has them.")
    if old:
        print(f"{old} stay in it as old ones: what says to shut the appliance off stands until it is read again.")
    if len(left) > old:
        print(f"{len(left) - old} readings stay in it: the last visit does not have them.")
    return DONE
