"""What the naive reading knows of files: quantities, the catalog's names, pieces, runs, ways out.

Nothing here comes from ventsize: only the standard library and the records under tables/.
"""

from __future__ import annotations

import itertools
import math
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

Data = dict[str, Any]

ROOT = Path(__file__).resolve().parents[2]
INCH = 0.0254
HAIR = INCH / 100  # lengths closer than this are equal
FLUE, AIR = "flue gas", "combustion air"

UNITS = {
    "length": {"in": INCH, '"': INCH, "ft": 12 * INCH, "'": 12 * INCH, "m": 1.0, "cm": 0.01, "mm": 0.001},
    "power": {
        "btu/h": 1055.05585262 / 3600,
        "kbtu/h": 1055.05585262 / 3.6,
        "mbh": 1055.05585262 / 3.6,
        "w": 1.0,
        "kw": 1000.0,
    },
    "pressure": {"in w.c.": 249.08891, "pa": 1.0},
    "share": {"%": 0.01},
    "angle": {"deg": 1.0, "°": 1.0},
}
_PART = re.compile(r"(-?)((?:[\d,]*\.?\d+(?:e[+-]?\d+)?)(?:\s+\d+)?(?:/\d+)?)\s*([^\d\s.\-][^\d]*)")


class Bad(Exception):
    """The files cannot be judged: an error of a job or of a table. The text is the class of the error."""


class Beyond(Exception):
    """The naive reading has no answer here, and the job is not to be compared."""


@lru_cache(maxsize=4096)
def amount(text: Any, kind: str) -> float:
    """A quantity in SI, such as '12 ft 6 in', '2 1/2 in', '80 kBtu/h'."""
    if isinstance(text, (int, float)) and kind == "share":
        return float(text)
    total, sign, parts = 0.0, 1.0, _PART.findall(str(text))
    if not parts:
        raise Bad(f"no quantity: {text!r}")
    for number, (minus, value, unit) in enumerate(parts):
        if number == 0 and minus:
            sign = -1.0
        total += _number(value) * UNITS[kind][unit.strip().lower()]
    return sign * total


def _number(text: str) -> float:
    total = 0.0
    for part in text.replace(",", "").split():
        above, _, below = part.partition("/")
        total += float(above) / float(below or 1)
    return total


def length(text: Any) -> float:
    """A length [m]."""
    return amount(text, "length")


def temperature(text: str) -> float:
    """A temperature [K]."""
    value, unit = re.fullmatch(r"\s*(-?[\d.]+)\s*(.+?)\s*", text).groups()  # type: ignore[union-attr]
    degrees = float(value)
    scale = unit.lower().replace("°", "deg")
    if scale == "degf":
        return (degrees + 459.67) / 1.8
    return degrees + 273.15 if scale == "degc" else degrees


def same(one: float, other: float) -> bool:
    """Whether two lengths are the same size."""
    return abs(one - other) < HAIR


@dataclass(frozen=True)
class Record:
    """Of a fitting: what it is and how far it turns [degrees]."""

    kind: str
    angle: float = 0.0


@dataclass(frozen=True)
class Catalog:
    """Names that a job may use: fittings, and temperature limits of pipes [K].

    odd: sizes by material whose bore is outside half to twice the nominal size [m].
    """

    fittings: dict[str, Record]
    limits: dict[str, float]
    odd: dict[str, tuple[float, ...]]

    def fitting(self, name: str) -> Record:
        """The record of a fitting; Bad where there is none."""
        if name not in self.fittings:
            raise Bad("unknown fitting")
        return self.fittings[name]


def fitting_records(entries: list[Data]) -> dict[str, Record]:
    """[[fitting]] entries by name."""
    return {
        one["name"]: Record(one.get("kind", "other"), amount(one["angle"], "angle") if "angle" in one else 0.0)
        for one in entries
    }


@cache
def shipped() -> Catalog:
    """The records of tables/."""
    fittings = tomllib.loads((ROOT / "tables" / "fittings.toml").read_text(encoding="utf-8"))
    pipes = tomllib.loads((ROOT / "tables" / "pipes.toml").read_text(encoding="utf-8"))
    limits = {one["name"]: temperature(one["temperature_limit"]) for one in pipes["pipe"]}
    return Catalog(fitting_records(fittings["fitting"]), limits, {})


def catalog_of(job: Data, tables: dict[str, Data], judging: dict[str, Data]) -> Catalog:
    """The shipped records, those of the job's tables, and the job's own. judging: the tables that judge a run."""
    base = shipped()
    fittings, limits = dict(base.fittings), dict(base.limits)
    of_tables = {one["name"]: one for one in job.get("fitting", [])}
    for one in itertools.chain.from_iterable(table.get("fitting", []) for table in judging.values()):
        if of_tables.setdefault(one["name"], one) not in (one, *job.get("fitting", [])):
            raise Bad("two tables have a fitting of this name, and they differ")
    for table in tables.values():
        fittings |= fitting_records(table.get("fitting", []))
    fittings |= fitting_records(job.get("fitting", []))
    odd = {}
    for pipe in job.get("pipe", []):
        odd[pipe["name"]] = tuple(size for size, bore in map(_bore, pipe["sizes"]) if not 0.5 <= bore / size <= 2.0)
        limits[pipe["name"]] = temperature(pipe["temperature_limit"]) if "temperature_limit" in pipe else math.inf
    return Catalog(fittings, limits, odd)


def _bore(size: Data) -> tuple[float, float]:
    """Nominal size and bore [m]."""
    bore = length(size["bore"]) if "bore" in size else length(size["outside"]) - 2 * length(size["wall"])
    return length(size["nominal"]), bore


@dataclass(frozen=True)
class Piece:
    """A pipe or a fitting, as met on the way out from the appliance.

    sizes: one, or the two of a change of size [m]. angle: how far it turns [degrees]. charged: the length the job
    gives for it in place of the table's [m]. rise: outward [m]. open: the size at its outer end is sizes[-1].
    """

    name: str
    kind: str
    sizes: tuple[float, ...]
    material: str
    length: float = 0.0
    heading: str | None = None
    rise: float | None = None
    surroundings: str | None = None
    insulation: float = 0.0
    angle: float = 0.0
    charged: float | None = None
    implied: bool = False
    counted: bool = False
    also: str | None = None  # the name it has when looked at from the other end

    @property
    def is_pipe(self) -> bool:
        """Whether it is straight pipe."""
        return self.kind == "pipe"

    @property
    def is_end(self) -> bool:
        """Whether it is an end."""
        return self.kind in ("terminal", "entrance")


OPPOSITE = {"up": "down", "down": "up", "north": "south", "south": "north", "east": "west", "west": "east"}


@dataclass
class Run:
    """A run, its pieces from the appliance outward."""

    name: str
    carries: str
    inner: str
    outer: str
    size: float
    material: str
    table: str | None
    pieces: list[Piece]
    counted: bool
    serves: list[str] = field(default_factory=list)
    input: float = 0.0

    @property
    def sizes(self) -> list[float]:
        """Each size of its pieces once."""
        return distinct([size for piece in self.pieces for size in piece.sizes])


def distinct(sizes: list[float]) -> list[float]:
    """Sizes, each once."""
    found: list[float] = []
    for size in sizes:
        if not any(same(size, other) for other in found):
            found.append(size)
    return found


def read_run(data: Data, catalog: Catalog) -> Run:
    """A run in the order its file has it; `turned` puts it outward."""
    if data["material"] not in catalog.limits:
        raise Bad("unknown material")
    counted = "pieces" not in data
    pieces = _counted(data, catalog) if counted else _listed(data, catalog)
    first, second = data["between"]
    run = Run(
        data["name"],
        data["carries"],
        first,
        second,
        length(data["size"]),
        data["material"],
        data.get("table"),
        pieces,
        counted,
    )
    _ends(run)
    return run


def _thickness(data: Data) -> float:
    return length(data["insulation"]["thickness"]) if "insulation" in data else 0.0


def _counted(data: Data, catalog: Catalog) -> list[Piece]:
    size, material = length(data["size"]), data["material"]
    pipe = Piece(
        "pipe",
        "pipe",
        (size,),
        material,
        length(data["straight"]),
        surroundings=data.get("surroundings"),
        insulation=_thickness(data),
        counted=True,
    )
    pieces = [pipe]
    for name, count in data.get("fittings", {}).items():
        record = catalog.fitting(name)
        turn = _turn(name, record)
        pieces += [Piece(name, record.kind, (size,), material, angle=turn, counted=True) for _ in range(count)]
    pieces.sort(key=lambda piece: piece.is_end)
    return pieces if data["between"][1] == "outdoors" else pieces[::-1]


def _listed(data: Data, catalog: Catalog) -> list[Piece]:
    """A size holds from its piece on; a material is that piece's own. A change of size nobody lists is there."""
    size = length(data["size"])
    pieces: list[Piece] = []
    for one in data["pieces"]:
        material, before = one.get("material", data["material"]), size
        if material not in catalog.limits:
            raise Bad("unknown material")
        size = length(one["size"]) if "size" in one else size
        changes = "fitting" in one and catalog.fitting(one["fitting"]).kind == "size change"
        if not same(size, before) and not changes:
            name = "increaser" if size > before else "reducer"
            pieces.append(Piece(name, "size change", (before, size), material))
        if "pipe" in one:
            pieces.append(
                Piece(
                    "pipe",
                    "pipe",
                    (size,),
                    material,
                    length(one["pipe"]),
                    heading=one.get("heading"),
                    rise=length(one["rise"]) if "rise" in one else None,
                    surroundings=one.get("surroundings", data.get("surroundings")),
                    insulation=_thickness(one) or _thickness(data),
                )
            )
            continue
        record = catalog.fitting(one["fitting"])
        sizes = (before, size) if changes else (size,)
        charged = length(one["table_length"]) if "table_length" in one else None
        turn = _turn(one["fitting"], record)
        pieces.append(Piece(one["fitting"], record.kind, sizes, material, angle=turn, charged=charged))
    return pieces


def _turn(name: str, record: Record) -> float:
    """How far it turns [degrees]; a tee-branch turns 90."""
    return 90.0 if name == "tee-branch" else record.angle


def _ends(run: Run) -> None:
    """Errors of the job about ends; an open end is added where none is listed."""
    outer = {run.inner: 0, run.outer: len(run.pieces) - 1}.get("outdoors")
    for place, piece in enumerate(run.pieces):
        if piece.is_end and (place != outer or (piece.kind == "entrance" and run.carries == FLUE)):
            raise Bad("end out of place")
    if outer is None:
        return
    if not run.pieces or not run.pieces[outer].is_end:
        size = run.size
        if run.pieces:
            size = run.pieces[outer].sizes[-1 if outer else 0]
        last = run.pieces[outer].material if run.pieces else run.material
        end = Piece("terminal-open", "terminal", (size,), last, implied=True)
        run.pieces.insert(outer + 1 if run.outer == "outdoors" else 0, end)


def turned(run: Run) -> Run:
    """The same run listed from its other end."""
    pieces = [
        replace(
            piece,
            sizes=piece.sizes[::-1],
            heading=OPPOSITE.get(piece.heading or ""),
            rise=None if piece.rise is None else -piece.rise,
        )
        for piece in reversed(run.pieces)
    ]
    return replace(run, inner=run.outer, outer=run.inner, pieces=pieces)


def apart(runs: list[Run], appliances: set[str]) -> None:
    """Each kind of gas has its own joints; Bad where one joint is of both."""
    mine = {
        kind: {joint for run in runs if run.carries == kind for joint in (run.inner, run.outer)} for kind in (FLUE, AIR)
    }
    if (mine[FLUE] & mine[AIR]) - appliances - {"outdoors"}:
        raise Bad("a joint of both gases")


def outward(runs: list[Run], appliances: set[str], carries: str) -> tuple[list[Run], dict[str, list[list[str]]]]:
    """The runs of one kind, each from the appliance outward, and by appliance the names of its ways out.

    Beyond where a run is on no way, or on two ways that go through it from either end.
    """
    mine = [run for run in runs if run.carries == carries]
    ends: dict[str, tuple[str, str]] = {}
    ways = {name: list(_paths(name, mine, appliances)) for name in appliances}
    for way in itertools.chain.from_iterable(ways.values()):
        for name, inner, outer in way:
            if ends.setdefault(name, (inner, outer)) != (inner, outer):
                raise Beyond("a run used both ways")
    if len(ends) < len(mine):
        raise Beyond("a run that leads nowhere")
    found = [run if (run.inner, run.outer) == ends[run.name] else turned(run) for run in mine]
    return found, {name: [[part for part, _, _ in way] for way in several] for name, several in ways.items() if several}


def _paths(
    node: str, runs: list[Run], appliances: set[str], been: tuple[str, ...] = ()
) -> Iterator[list[tuple[str, str, str]]]:
    """Every way outdoors from a joint that comes to no joint twice: names of runs with the joints at both ends."""
    for run in runs:
        if node not in (run.inner, run.outer):
            continue
        other = run.outer if node == run.inner else run.inner
        if other == "outdoors":
            yield [(run.name, node, other)]
        elif other not in appliances and other not in been and other != node:
            for rest in _paths(other, runs, appliances, (*been, node)):
                yield [(run.name, node, other), *rest]
