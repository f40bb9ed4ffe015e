"""What reads files and texts, each with what it is fed; what it must not do is anything but answer or refuse.

A target gives a sketch of what came of it: the sentences with their figures and names left out, the verdicts, the
codes. An input whose sketch is new is kept and changed further, so that the search goes where the code has not been.
"""

from __future__ import annotations

import io
import json
import random
import re
import tomllib
from collections.abc import Callable, Iterator
from contextlib import redirect_stdout
from dataclasses import dataclass, field
from pathlib import Path

from tests.fuzz import changing
from ventsize.jobfile.problems import InputError, Refused

ROOT = Path(__file__).resolve().parents[2]
TABLES = ("demo-two-stage", "demo-elbow-count", "demo-runs-together", "demo-propane-metric")
SCENARIOS = tuple(sorted(path.stem for path in (ROOT / "scenarios").glob("*.toml")))
_DETAIL = re.compile(r"'[^']*'|\"[^\"]*\"|[-\d.,]+")


@dataclass(slots=True)
class Target:
    """Something that reads: by name, the texts to begin with, and what is done with one.

    make: a text from one to begin with or kept. read: reads it, and gives the sketch of what came of it.
    most_seconds: of CPU time, for one.
    """

    name: str
    seeds: tuple[str, ...]
    make: Callable[[str, tuple[str, ...], random.Random], str | None]
    read: Callable[[str, Path], str]
    share: int = 1
    most_seconds: float = 2.0
    kept: list[str] = field(default_factory=list)
    seen: set[str] = field(default_factory=set)


def sketch(text: str) -> str:
    """A sentence without what differs from one file to the next."""
    return _DETAIL.sub("#", text)[:200]


def sketch_of_faults(error: Exception) -> str:
    """Of the first few faults of a file."""
    problems = getattr(error, "problems", ())
    return " | ".join(sorted({sketch(problem.problem) for problem in problems[:5]})) or sketch(str(error))


def _changed_toml(text: str, kept: tuple[str, ...], chance: random.Random) -> str | None:
    try:
        data = tomllib.loads(text)
        other = tomllib.loads(chance.choice(kept))
    except (ValueError, RecursionError):
        return changing.disturbed(text, chance)
    return changing.as_toml(changing.changed(data, [other], chance), chance)


def _disturbed(text: str, _: tuple[str, ...], chance: random.Random) -> str | None:
    return changing.disturbed(text, chance)


def read_job(text: str, folder: Path) -> str:
    """Read, look up, check, and tell it in both units and as JSON."""
    from ventsize.check.inputs import prepare
    from ventsize.check.verdict import check
    from ventsize.jobfile.job import job_from_text
    from ventsize.quantity import System
    from ventsize.report.check_json import as_object
    from ventsize.report.check_text import render

    try:
        found = check(prepare(job_from_text(text, file="job.toml"), file="job.toml", beside=folder))
    except InputError as error:
        assert str(error).isprintable() or "\n" in str(error)
        return sketch_of_faults(error)
    except ArithmeticError as error:  # the command line says that it cannot be worked out
        return f"arithmetic: {sketch(str(error))}"
    told = "\n".join(render(found, system) for system in System)
    assert all(line.isprintable() for line in told.split("\n")), "what is told is not printable"
    json.dumps(as_object(found, System.US), allow_nan=True)
    passed = all(one.state == "met" for one in found.conditions) and not found.stops
    assert passed == (found.verdict == "within"), "a pass is not what its conditions come to"
    failed = sorted({f"{one.condition} {one.state}" for one in found.conditions if one.state != "met"})
    return f"{found.verdict} {failed} {sorted({one.code for one in found.findings})}"


def read_table(text: str, _: Path) -> str:
    """Read, look over, write as a sheet."""
    from ventsize.allowance.reading import table_from_data
    from ventsize.allowance.sheet import as_sheet
    from ventsize.catalog.library import load_catalog
    from ventsize.jobfile.document import parse_toml
    from ventsize.quantity import System
    from ventsize.report.tables import look_object, look_text
    from ventsize.studies.typed_table import look_over

    try:
        data = parse_toml(text, file="table.toml")
        found = look_over(data, load_catalog(user=False))
        look_text(found, System.SI)
        json.dumps(look_object(found, System.US))
        as_sheet(data)
        table_from_data(data, file="table.toml")
    except InputError as error:
        return sketch_of_faults(error)
    return f"usable {found.usable} {sorted({doubt.code for doubt in (*found.remarks, *found.deductions)})}"


def read_prices_file(suffix: str) -> Callable[[str, Path], str]:
    """Read a price list of that kind, and put it to a takeoff."""

    def read(text: str, folder: Path) -> str:
        from ventsize.studies.pricing.files import read_prices

        path = folder / f"prices{suffix}"
        path.write_bytes(text.encode("utf-8", "surrogatepass"))
        try:
            return f"{len(read_prices(path).prices)} prices"
        except InputError as error:
            return sketch_of_faults(error)

    return read


def read_settings(text: str, _: Path) -> str:
    """Settings of the screens."""
    from ventsize.tui.settings import settings_from

    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError):
        return "no TOML"
    return " | ".join(map(sketch, settings_from(data).faults[:3]))


def read_visits(text: str, folder: Path) -> str:
    """The visits beside a job, told and compared."""
    from ventsize.jobfile.visits import read_visits as read
    from ventsize.quantity import System
    from ventsize.report.visits import render
    from ventsize.studies.visits import compare

    (folder / "job.visits").write_bytes(text.encode("utf-8", "surrogatepass"))
    try:
        visits = read(folder / "job.toml")
        changes = compare(visits[0], visits[-1]) if len(visits) > 1 else None
        render(visits, changes, System.US, missing=[])
    except InputError as error:
        return sketch_of_faults(error)
    return f"{len(visits)} visits, {changes is not None}"


def rewrite(text: str, _: Path) -> str:
    """Whatever is read and changed comes back as it was, and what did not change stays to the letter."""
    from ventsize.jobfile.document import parse_toml
    from ventsize.jobfile.history import same
    from ventsize.jobfile.rewriting import NotToml, rewritten

    try:
        data = parse_toml(text, file="")
    except InputError as error:
        return sketch_of_faults(error)
    chance = random.Random(text)
    other = changing.changed(data, [data], chance)
    try:
        made = rewritten(text.replace("\r\n", "\n"), other)
    except NotToml:
        return "no TOML"
    assert same(tomllib.loads(made), other), "what was written is not what was to be"
    kept = rewritten(made, other)
    assert kept == made, "a file that says so already is written anew"
    return f"{'same' if made == text else 'other'} {len(made) // 2000}"


def read_quantity(text: str, _: Path) -> str:
    """A quantity of every dimension; what is read can be shown, and read again as nearly the same."""
    from ventsize.quantity import Dimension, QuantityError, System, parse, show

    found = []
    for dimension in Dimension:
        try:
            value = parse(text, dimension, signed=True)
        except QuantityError as error:
            found.append(sketch(error.problem))
            continue
        for system in System:
            show(value, dimension, system)
        found.append(dimension.name)
    return " | ".join(sorted(set(found)))


def paste(text: str, _: Path) -> str:
    """A page of lengths, or of deductions, pasted into a table."""
    from ventsize.catalog.library import load_catalog
    from ventsize.quantity import System
    from ventsize.tui.table.pasting import of_cells, of_deductions, of_page
    from ventsize.tui.table.rows_grid import grid_of

    data = tomllib.loads((ROOT / "tables" / "demo-two-stage.toml").read_text(encoding="utf-8"))
    titles = {name: fitting.title for name, fitting in load_catalog(user=False).fittings.items()}
    found = [
        of_page(data, text, System.US),
        of_cells(grid_of(data, "", (), 0, System.US), 1, 1, text),
        of_deductions(data, text, titles, System.SI),
    ]
    return " | ".join("-" if one is None else " ".join(map(sketch, one.said[:2])) for one in found)


def run_verb(text: str, folder: Path) -> str:
    """A verb on a job in a file, as somebody would call it: whatever comes is a status and sentences."""
    from ventsize.cli import main

    job = folder / "job.toml"
    job.write_bytes(text.encode("utf-8", "surrogatepass"))
    verb = random.Random(text).choice(("headroom", "takeoff", "readings", "checkover", "condensate", "roomair", "visit",
                                       "working", "cold", "along", "compare"))  # fmt: skip
    words = [verb, str(job), *([str(ROOT / "scenarios" / "simple-pass.toml")] if verb == "compare" else [])]
    out = io.StringIO()
    with redirect_stdout(out):
        status = main(words)
    assert all(line.isprintable() for line in out.getvalue().split("\n")), "what is printed is not printable"
    return f"{verb} {status}"


def targets() -> Iterator[Target]:
    """All of them, with the share of the tries each gets."""
    jobs = tuple((ROOT / "scenarios" / f"{name}.toml").read_text(encoding="utf-8") for name in SCENARIOS)
    tables = tuple((ROOT / "tables" / f"{name}.toml").read_text(encoding="utf-8") for name in TABLES)
    prices = (ROOT / "tables" / "invented-prices.toml").read_text(encoding="utf-8")
    visits = (ROOT / "scenarios" / "second-visit.visits").read_text(encoding="utf-8")
    sheet = "item,material,size,length,price,hours,currency\npipe,pvc-40,3 in,10 ft,21.50,0.5,USD\nlabor,,,,60,,USD\n"
    settings = (
        'units = "us"\ntheme = "light"\naltitude = "5200 ft"\n[folders]\ntables = "~/t"\n[keys]\n"job.save" = "f2"\n'
    )
    yield Target("job", jobs, _changed_toml, read_job, share=8)
    yield Target("table", tables, _changed_toml, read_table, share=3)
    yield Target("rewriting", (*jobs, *tables, visits), _changed_toml, rewrite, share=3)
    yield Target("prices", (prices,), _changed_toml, read_prices_file(".toml"))
    yield Target("price sheet", (sheet,), _disturbed, read_prices_file(".csv"))
    yield Target("settings", (settings,), _changed_toml, read_settings)
    yield Target("visits", (visits,), _changed_toml, read_visits)
    yield Target("quantity", ("3 in",), lambda *given: changing.quantity(given[-1]), read_quantity, share=2)
    yield Target("paste", ("3 in",), lambda *given: changing.cells(given[-1]), paste)
    yield Target("verb", jobs, _changed_toml, run_verb, most_seconds=45.0)  # the gas of a loop cools


__all__ = ["Refused", "Target", "targets"]
