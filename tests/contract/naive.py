"""A second reading of the contract (design, sections 4 to 6), naive and slow, that shares no code with ventsize.

`judge` says for a job what the tables and the conditions that need no flow physics come to. What hangs on the flow
(trap, pressure rows, envelope, low spots, pressure at an idle collar) is left open: the program may be stricter
there, but where this says not within, a `within` of the program is false.

Readings taken where the contract leaves one open, the stricter unless said:

- an input is that of a row within 1e-7 of it; a size that of a row within a hundredth of an inch
- any row of the size and altitude that names ends asks for the end; a part that does not reach outdoors has the ends
  of its ways out (else nobody could answer)
- a way has the materials of all its runs; nothing is compared before all of a way is looked up, and of the two rows
  around an input each is compared with the elbows it includes
- a room answers where the air comes from, but not on a table that counts runs together; there vent and air go by one
  table; most_elbows is of both pipes, elbows included are the cheapest of both, and each reaches the minimum, by
  straight pipe as it stands
- the turns of a way are made by its elbows and joints: a tee's branch 90 degrees, a wye's 45; what turns is an elbow
- begun pairs and odd 45s are counted in each run, and at each joint by itself
- two names of a change of size between runs: the dearer; a change of size needs both figures
- a sloped pipe goes up as a whole; an air pipe goes up by the larger of what does so outward and inward, run by run
- an elbow that does not fit ends what is included; `table_length` is added in every kind of row
- exposed pipe adds up against the least of its rows; vent and air of the same size are of one size throughout
- not the stricter, by the letter: an elbow counted in an elbow-count row is not deducted there where the table has
  other rows ("deducts"); an end in elbows_each alone is no charge; pressure rows deduct nothing, since the loss holds
  each fitting; each run of a way is counted by its own table, and the shortest allowance holds; a run
  that names no table goes by the only one listed that applies to it
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, field

from tests.contract.charging import Group
from tests.contract.lengths import Lengths
from tests.contract.limits import elbows_beyond_30, exposed_faults, limit_faults
from tests.contract.page import Page, names_known, read_page
from tests.contract.reading import (
    AIR,
    FLUE,
    OPPOSITE,
    Bad,
    Catalog,
    Data,
    Piece,
    Run,
    amount,
    apart,
    catalog_of,
    length,
    outward,
    read_run,
    same,
    temperature,
)
from tests.contract.ways import Fault, Figures, Leg, worst


@dataclass
class Answer:
    """The naive answer. error: a class of error of the files, or None."""

    verdict: str
    faults: list[Fault]
    runs: dict[str, str] = field(default_factory=dict)
    figures: dict[str, Figures] = field(default_factory=dict)
    pressures: dict[str, float] = field(default_factory=dict)  # the pressure that its row allows a whole run [Pa]
    error: str | None = None


def judge(job: Data, tables: dict[str, Data]) -> Answer:
    """The answer for a job and the tables it names."""
    try:
        return _Judge(job, tables).answer()
    except Bad as bad:
        return Answer("error", [Fault("error", str(bad))], error=str(bad))


class _Judge(Lengths):
    def __init__(self, job: Data, tables: dict[str, Data]) -> None:
        self.job, self.faults = job, list[Fault]()
        used = {*job.get("tables", []), *(run["table"] for run in job["run"] if "table" in run)}
        judging = {name: tables[name] for name in _judging(job, tables) if name in tables}
        self.catalog: Catalog = catalog_of(job, {name: tables[name] for name in used if name in tables}, judging)
        self.appliances = {one["name"]: one for one in job["appliance"]}
        self.inputs = {
            name: max(amount(rate["input"], "power") for rate in one["rate"]) for name, one in self.appliances.items()
        }
        _excess_air(job)
        site = job.get("site", {})
        self.altitude = length(site["altitude"]) if "altitude" in site else None
        self.design = temperature(site["design_outdoor"]) if "design_outdoor" in site else None
        runs = [read_run(one, self.catalog) for one in job["run"]]
        apart(runs, set(self.appliances))
        self.ways: dict[str, dict[str, list[Leg]]] = {}
        self.runs: dict[str, Run] = {}
        for carries in (FLUE, AIR):
            mine, ways = outward(runs, set(self.appliances), carries)
            self.runs |= {run.name: run for run in mine}
            self.ways[carries] = {name: [self._way(way) for way in several] for name, several in ways.items()}
        for name in self.appliances:
            for carries in (FLUE, AIR):
                legs = self.ways[carries].get(name, [])
                for run in {run.name: run for leg in legs for run in leg.runs}.values():
                    run.serves.append(name)
                    run.input += self.inputs[name]
        self.pages: dict[str, Page | None] = self._pages(tables)
        self.figures: dict[str, Figures] = {}
        self.pressures: dict[str, float] = {}

    def _pages(self, tables: dict[str, Data]) -> dict[str, Page | None]:
        """The table of each run."""
        listed = self.job.get("tables", [])
        named = dict.fromkeys([*listed, *(run.table for run in self.runs.values() if run.table is not None)])
        if any(file not in tables for file in named):
            raise Bad("unknown table")
        read = {file: read_page(file, tables[file], self.catalog, self.job.get("confirmed", [])) for file in named}
        found = {}
        for name, run in self.runs.items():
            fit = [file for file in listed if run.carries in read[file].applies]
            file = run.table if run.table is not None else fit[0] if len(fit) == 1 else None
            found[name] = None if file is None else read[file]
            if file is not None:
                names_known(read[file], self.catalog)
        return found

    def _way(self, names: list[str]) -> Leg:
        """The runs of a way with the joints between them."""
        runs = tuple(self.runs[name] for name in names)
        groups = []
        for number, run in enumerate(runs):
            groups.append(Group(tuple(run.pieces), counted=run.counted))
            if number + 1 < len(runs):
                groups.append(Group(tuple(self._joint(run, runs[number + 1])), joint=True))
        return Leg(tuple(groups), runs)

    def _joint(self, inner: Run, outer: Run) -> Iterator[Piece]:
        before = inner.pieces[-1].sizes[-1] if inner.pieces else inner.size
        after = outer.pieces[0].sizes[0] if outer.pieces else outer.size
        sizes = (before,) if same(before, after) else (before, after)
        entry = next((one for one in self.job.get("joint", []) if one["name"] == inner.outer), None)
        if entry is not None:
            straight_on = {inner.name, outer.name} == set(entry["in_line"])
            names = {"tee": ("tee-through", "tee-branch"), "wye": ("wye-through", "wye")}[entry["fitting"]]
            angle = 0.0 if straight_on else 90.0 if entry["fitting"] == "tee" else 45.0
            yield Piece(names[not straight_on], "tee", sizes, outer.material, angle=angle)
        if len(sizes) > 1:
            wider = (after > before) == (inner.carries == FLUE)
            names = ("increaser", "reducer") if wider else ("reducer", "increaser")
            yield Piece(names[0], "size change", sizes, outer.material, also=names[1])

    def answer(self) -> Answer:
        if self.altitude is None:
            self.fault("incomplete", "altitude missing")
        for name in self.appliances:
            self._appliance(name)
        for run in self.runs.values():
            self._run(run)
        self._parts_together()
        for carries in (FLUE, AIR):
            for leg in itertools.chain.from_iterable(self.ways[carries].values()):
                self._whole(leg)
        runs = {
            name: worst([fault.verdict for fault in self.faults if not fault.runs or name in fault.runs])
            for name in self.runs
        }
        return Answer(worst([fault.verdict for fault in self.faults]), self.faults, runs, self.figures, self.pressures)

    def _appliance(self, name: str) -> None:
        one = self.appliances[name]
        if one.get("air") == "pipe" and name not in self.ways[AIR]:
            self.fault("incomplete", "air pipe not entered")
        if one.get("air") == "room" and name in self.ways[AIR]:
            self.fault("incomplete", "air pipe entered, and the room said")
        for carries in (FLUE, AIR):
            several = self.ways[carries].get(name, [])
            if len(several) > 1:
                self.fault("not covered", "gas divides", tuple(run for leg in several for run in leg.names))
        if name not in self.ways[FLUE]:
            self.fault("incomplete", "no way out")
            return
        hottest = max(temperature(rate["flue_temperature"]) for rate in one["rate"])
        for leg in self.ways[FLUE][name]:
            pipes = [piece for piece in leg.pieces if piece.is_pipe]
            if self.job.get("cooling", True):
                pipes = [piece for piece in leg.groups[0].pieces if piece.is_pipe][:1]
            if any(hottest > self.catalog.limits[piece.material] + 1e-6 for piece in pipes):
                self.fault("unsafe", "gas too hot", leg.names)

    def two_pipes(self, leg: Leg) -> bool | str | None:
        """Whether the appliances of a way have an air pipe: True, False, None where one does not say, or 'mixed'."""
        said = {self._air_of(name) for run in leg.runs for name in run.serves}
        if None in said:
            return None
        return said.pop() if len(said) == 1 else "mixed"

    def _air_of(self, name: str) -> bool | None:
        if name in self.ways[AIR]:
            return True
        said = self.appliances[name].get("air")
        if said is None and any(name in room.get("appliances", []) for room in self.job.get("room", [])):
            return False
        return None if said is None else said == "pipe"

    def _run(self, run: Run) -> None:
        """What is asked of each run by itself."""
        page = self.pages[run.name]
        pipes = [piece for piece in run.pieces if piece.is_pipe]
        if not pipes or any(piece.length <= 0.0 for piece in pipes):
            self.fault("incomplete", "length not said", (run.name,))
        if _cannot_turn(list(run.pieces)):
            self.fault("incomplete", "turn", (run.name,))
        if any(same(size, odd) for p in run.pieces for odd in self.catalog.odd.get(p.material, ()) for size in p.sizes):
            self.fault("incomplete", "bore", (run.name,))
        if page is None:
            self.fault("incomplete", "no table", (run.name,))
            return
        if run.carries not in page.applies:
            self.fault("not covered", "applies_to", (run.name,))
        for note in page.confirm:
            if note not in page.confirmed:
                self.fault("incomplete", "footnote", (run.name,))
        if not any(leg.runs == (run,) for leg in self.every_way()):
            self._part(run, page)

    def _part(self, run: Run, page: Page) -> None:
        """A run that is part of a way: what it alone comes to is no more than the way may have."""
        part = Leg((Group(tuple(run.pieces), counted=run.counted),), (run,))
        if not page.together:
            self.compare([part])
        if run.carries == FLUE:
            for verdict, reason in exposed_faults(page, part, self.design):
                self.fault(verdict, reason, (run.name,))

    def _parts_together(self) -> None:
        """Runs that one table counts together and that serve the same appliances, as parts of their ways."""
        found: dict[tuple[str, ...], list[Run]] = {}
        for run in self.runs.values():
            page = self.pages[run.name]
            if page is not None and page.together:
                found.setdefault((page.file, *sorted(run.serves)), []).append(run)
        for runs in found.values():
            gases = [[run for run in runs if run.carries == carries] for carries in (FLUE, AIR)]
            legs = [
                Leg(tuple(Group(tuple(run.pieces), counted=run.counted) for run in of), tuple(of)) for of in gases if of
            ]
            self.compare(legs)
            page, names = self.pages[runs[0].name], tuple(run.name for run in runs)
            most = None if page is None else page.limits.get("most_elbows")
            if most is not None and sum(elbows_beyond_30(leg.pieces) for leg in legs) > most:
                self.fault("over", "most_elbows", names)

    def _whole(self, leg: Leg) -> None:
        """What is asked of a way out as one run."""
        if len(leg.runs) > 1 and _cannot_turn(leg.pieces):
            self.fault("incomplete", "turn at a joint", leg.names)
        two = self.two_pipes(leg)
        pages = [page for page in {run.name: self.pages[run.name] for run in leg.runs}.values() if page is not None]
        if any(page.together for page in pages):
            self._together(leg)
        elif len(pages) == len(leg.runs):
            self.compare([leg])
        others = self.others_of(leg)
        done = []
        for page in pages:
            if page.file in done:
                continue
            done.append(page.file)
            paired = [
                other for other in others
                if page.together and all(self.pages[run.name] is page for run in (*leg.runs, *other.runs))
            ]  # fmt: skip
            for verdict, reason in limit_faults(page, leg, others, two, paired):
                self.fault(verdict, reason, leg.names)
            if leg.runs[0].carries == FLUE:
                for verdict, reason in exposed_faults(page, leg, self.design):
                    self.fault(verdict, reason, leg.names)

    def _together(self, leg: Leg) -> None:
        """A way on a table that counts runs together, with the way of the other pipe."""
        served = leg.runs[0].serves[0]
        if "air" not in self.appliances[served] and served not in self.ways[AIR]:
            self.fault("incomplete", "air not said on runs together", leg.names)
        every = [run for carries in (FLUE, AIR) for one in self.ways[carries].get(served, []) for run in one.runs]
        mixed = len({id(self.pages[run.name]) for run in every}) > 1
        for other in self.others_of(leg) or [Leg((), ())]:
            legs = [one for one in (leg, other) if one.runs]
            pages = [(self.pages[run.name], run) for one in legs for run in one.runs]
            counting = [page for page, run in pages if page is not None and page.together]
            apart = [
                page for page, run in pages if any(one is not page and run.carries in one.applies for one in counting)
            ]
            if apart:
                self.fault("incomplete", "runs together by two tables", leg.names)
            if mixed:
                if len(leg.runs) == 1:  # compared with what its own table counts with it, as a part
                    rows = self.rows(leg, leg.runs[0]) or {}
                    self._minimum([leg], [pair for pairs in rows.values() for pair in pairs], leg.names)
                    continue
                legs = [leg]
            self.compare(legs)


def _judging(job: Data, tables: dict[str, Data]) -> Iterator[str]:
    """The tables that judge a run."""
    for run in job["run"]:
        fit = [file for file in job.get("tables", []) if run["carries"] in tables[file].get("applies_to", [FLUE, AIR])]
        if "table" in run or len(fit) == 1:
            yield run.get("table", fit and fit[0])


def _excess_air(job: Data) -> None:
    """Above 1000 % is refused; figures between clear and refused are beyond this reading's chemistry, and not drawn."""
    for one in job["appliance"]:
        for rate in one["rate"]:
            if "excess_air" in rate and amount(rate["excess_air"], "share") > 10.0:
                raise Bad("excess air")
            if "oxygen" in rate and amount(rate["oxygen"], "share") >= 0.194:
                raise Bad("excess air")
            if "carbon_dioxide" in rate and amount(rate["carbon_dioxide"], "share") <= 0.008:
                raise Bad("excess air")


def _cannot_turn(pieces: list[Piece]) -> bool:
    """Whether the elbows between two headings cannot make the turn."""
    last: Piece | None = None
    angles, flexible = 0.0, False
    for piece in pieces:
        flexible = flexible or (piece.is_pipe and piece.material.startswith("flexible"))
        if not piece.is_pipe:
            angles += piece.angle
        elif piece.heading is not None:
            if last is not None and not flexible and angles < _between(last.heading, piece.heading) - 1e-6:
                return True
            last, angles = piece, 0.0
            flexible = piece.material.startswith("flexible")
    return False


def _between(one: str | None, other: str | None) -> float:
    """The angle between two headings [degrees]."""
    if one == other or one is None or other is None:
        return 0.0
    return 180.0 if OPPOSITE[one] == other else 90.0
