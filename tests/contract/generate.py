"""Random jobs with their tables: small figures, so that limits are met exactly, and everything that a file may say.

`draw(seed, number)` gives the same job always. Most jobs are sound, so that a pass is within reach; each fault of
typing or of thought has its own small chance. After a job is drawn, `tuned` may set one figure of its table to what
the job comes to, exactly or a hair beside it.
"""

from __future__ import annotations

import random

from tests.contract.drawing import AIR_ENDS, ENDS, FT, MATERIALS, OWN, SIZES, Draw
from tests.contract.generate_tables import table
from tests.contract.reading import Data
from tests.contract.tuning import tuned

HEADINGS = ("up", "north", "south", "east", "west")
OPPOSITE = {"up": "down", "down": "up", "north": "south", "south": "north", "east": "west", "west": "east"}
TURNS: dict[str, list[str]] = {
    "elbow-90-long": ["elbow-90-long"],
    "elbow-90-short": ["elbow-90-short"],
    "elbow-90-mitered": ["elbow-90-mitered"],
    "two 45s": ["elbow-45", "elbow-45"],
    "45s of two kinds": ["elbow-45", "elbow-45-long"],
    "four 22s": ["elbow-22"] * 4,
    "three 30s": ["elbow-30"] * 3,
    "tee-branch": ["tee-branch"],
    "own bend": ["own-bend"],
    "page bend": ["page-bend"],
}


def draw(seed: int, number: int) -> tuple[Data, dict[str, Data]]:
    """A job and its tables by file name."""
    d = Draw(random.Random(f"{seed}/{number}"))
    _site(d)
    d.job["appliance"], d.job["run"], d.job["joint"] = [], [], []
    shape = d.rng.choices(("single", "series", "tree"), (60, 15, 25))[0]
    count = 1 if shape != "tree" else d.rng.choice((2, 2, 2, 3))
    for index in range(count):
        d.job["appliance"].append(_appliance(d, index))
    tables = ["one.toml"] if d.chance(0.75) else ["one.toml", "two.toml"]
    _flue(d, shape)
    _air(d, shape)
    _own_records(d)
    inputs = _inputs(d)
    for name in tables:
        d.tables[name] = table(d, inputs)
    for run in d.job["run"]:
        run["table"] = d.rng.choice(tables) if d.chance(0.4) else tables[0]
        if d.chance(0.01):
            del run["table"]
    if d.chance(0.5):
        d.job["tables"] = tables
    _confirm(d)
    if d.chance(0.45):
        tuned(d)
    for key in ("joint", "fitting"):
        if not d.job.get(key):
            d.job.pop(key, None)
    return d.job, d.tables


def _site(d: Draw) -> None:
    d.job.update(title="Drawn", cooling=d.chance(0.15))
    site: Data = {"outdoor": "30 degF", "indoor": "68 degF"}
    if not d.chance(0.02):
        feet = d.rng.choice((0, 0, 0, 300, 500, 700, 900, 1999, 2000, 2001, 3000, 4000, 4001, 4500, 4501, 5200, 7000))
        site["altitude"] = f"{feet * FT:.10g} m" if d.chance(0.1) else f"{feet} ft"
    if d.chance(0.6):
        site["design_outdoor"] = d.rng.choice(("-10 degF", "-5 degF", "0 degF", "10 degF", "-20 degF", "-23 degC"))
    d.job["site"] = site


def _appliance(d: Draw, index: int) -> Data:
    inputs = (40, 60, 60, 70, 80, 80, 90, 100)
    high = d.rng.choice(inputs) if not d.chance(0.005) else 3000
    text = f"{high} kBtu/h"
    if d.chance(0.1):
        text = d.rng.choice((f"{high * 1000:,} Btu/h", f"{high} MBH", f"{high * 0.29307107017222:.13g} kW"))
    rates = [{"name": "high", "input": text, "excess_air": 0.35, "flue_temperature": "110 degF"}]
    if d.chance(0.04):
        del rates[0]["excess_air"]
        rates[0] |= d.rng.choice(
            (
                {"excess_air": 10.5},
                {"oxygen": "20.5 %"},
                {"carbon_dioxide": "0.5 %"},
                {"oxygen": "6 %"},
                {"carbon_dioxide": "8.4 %"},
                {"excess_air": "35 %"},
            )
        )
    if d.chance(0.04):
        rates[0]["flue_temperature"] = d.rng.choice(("139 degF", "140 degF", "141 degF", "200 degF"))
    if d.chance(0.2):
        low = {"name": "low", "input": f"{high // 2} kBtu/h", "excess_air": 0.45, "flue_temperature": "105 degF"}
        rates.insert(d.rng.randrange(2), low)
    one: Data = {"name": f"appliance {index + 1}", "fuel": "natural gas", "rate": rates}
    if d.chance(0.05):
        one["collar"] = "2 in"
    if d.chance(0.06):
        one["trap_seal"] = d.rng.choice(("1/8 in", "1/4 in", "2 in", "50 mm"))
    if d.chance(0.05):
        one["input_basis"] = d.rng.choice(("gross", "net"))
    if d.chance(0.95):
        one["backflow_prevented"] = not d.chance(0.03)
    return one


def _walk(d: Draw, *, flue: bool, feet: int, start: str | None = None) -> list[Data]:
    """Pieces outward, without an end: pipes with headings and what turns them."""
    heading = start or d.rng.choice(HEADINGS)
    pieces: list[Data] = [_pipe(d, heading, flue)]
    for _ in range(d.rng.choice((0, 1, 1, 2, 2, 3, 4))):
        other = d.rng.choice([one for one in HEADINGS if one not in (heading, OPPOSITE[heading])])
        if d.chance(0.02):
            other = d.rng.choice([*HEADINGS, "down"])
        turn = list(TURNS[d.rng.choices(list(TURNS), (30, 25, 5, 12, 4, 3, 3, 5, 2, 1))[0]])
        if d.chance(0.03):
            turn.pop()
        if d.chance(0.04) and turn:
            turn.insert(1, "no heading")
        pieces += [_pipe(d, None, flue) if name == "no heading" else {"fitting": name} for name in turn]
        if d.chance(0.04):
            pieces.append(_pipe(d, None, flue))
        pieces.append(_pipe(d, other, flue))
        heading = other
        if d.chance(0.1):
            pieces.append({"fitting": d.rng.choice(("coupling", "tee-through"))})
            pieces.append(_pipe(d, heading, flue))
    total = sum(piece["feet"] for piece in pieces if "feet" in piece)
    for piece in pieces:
        if "feet" in piece:
            share = max(1, round(feet * piece.pop("feet") / total))
            share = 0 if d.chance(0.01) and "rise" not in piece else share
            piece["pipe"] = d.feet(share + d.rng.choice((0, 0, 0, 0.5, 0.25)))
        elif d.chance(0.01):
            piece["table_length"] = d.feet(d.rng.choice((0, 2, 4)))
    return pieces


def _pipe(d: Draw, heading: str | None, flue: bool) -> Data:
    piece: Data = {"pipe": "", "feet": d.rng.randint(1, 5)}
    if heading is not None:
        piece["heading"] = heading
        if heading not in ("up", "down") and d.chance(0.05):
            piece["rise"] = "6 in"
    elif d.chance(0.2):
        piece["rise"] = "6 in"
    if flue and d.chance(0.2):
        piece["surroundings"] = d.rng.choice(
            ("attic", "crawlspace", "outdoors", "heated space", "heated space", "49 degF", "50 degF", "55 degF")
        )
        if d.chance(0.4):
            piece["insulation"] = {"thickness": d.rng.choice(("1/2 in", "1 in", "1/4 in"))}
    if d.chance(0.03):
        piece["material"] = d.rng.choice(MATERIALS)
    return piece


def _of_its_own_size(d: Draw, pieces: list[Data], size: str, sizes: tuple[str, ...]) -> tuple[list[Data], str]:
    """A pipe or a fitting that says its own size, with no change of size listed before it, and the size at the end."""
    place = d.rng.randrange(1, len(pieces))
    other = d.rng.choice([one for one in sizes if one != size])
    return [*pieces[:place], {**pieces[place], "size": other}, *pieces[place + 1 :]], other


def _grown(d: Draw, pieces: list[Data], size: str, sizes: tuple[str, ...]) -> tuple[list[Data], str]:
    """Pieces with a change of size among them now and then, and the size at their outer end."""
    place = d.rng.randrange(1, len(pieces) + 1)
    other = d.rng.choice([one for one in sizes if one != size])
    name = "increaser" if other > size else "reducer"
    return [*pieces[:place], {"fitting": name, "size": other}, *pieces[place:]], other


def _reversed(pieces: list[Data], size: str) -> tuple[list[Data], str]:
    """The same pieces listed from the other end, and the size the list then begins with."""
    sizes = [size]
    for piece in pieces:
        if "size" in piece:
            sizes.append(piece["size"])
    start, before = sizes[-1], sizes[-2::-1]
    found = []
    for piece in reversed(pieces):
        one = dict(piece)
        if "heading" in one:
            one["heading"] = OPPOSITE[one["heading"]]
        if "rise" in one:
            one["rise"] = one["rise"][1:] if one["rise"].startswith("-") else "-" + one["rise"]
        if "size" in one:
            one["size"] = before.pop(0)
            one["fitting"] = {"increaser": "reducer", "reducer": "increaser"}.get(one["fitting"], one["fitting"])
        found.append(one)
    return found, start


def _run(
    d: Draw, name: str, carries: str, inner: str, outer: str, size: str, feet: int, start: str | None = None
) -> tuple[str, str | None]:
    """Add a run; the size and the heading at its outer end."""
    flue = carries == "flue gas"
    run: Data = {"name": name, "carries": carries, "between": [inner, outer]}
    run["material"] = "pvc-40" if d.chance(0.8) else d.rng.choice((*MATERIALS, "flexible-liner-corrugated"))
    if d.chance(0.03):
        run["material"] = "own-pipe"
        d.own.add("own-pipe")
    flexible = run["material"].startswith("flexible")  # of which there is no 2 in
    size = "3 in" if flexible and size == "2 in" else size
    run["size"] = d.size(size)
    if d.chance(0.7):
        run["surroundings"] = "heated space"
    end = _end(d, ENDS if flue else AIR_ENDS, outer)
    d.job["run"].append(run)
    if d.chance(0.2):
        _count(d, run, feet, end)
        return size, None
    pieces = _walk(d, flue=flue, feet=feet, start=start)
    d.own |= {piece["fitting"] for piece in pieces if piece.get("fitting") in OWN}
    first = size
    if outer != "outdoors" and d.chance(0.3):
        del pieces[-1]["heading"]
    heading, own_size = pieces[-1].get("heading"), False
    if d.chance(0.15):
        pieces, size = _grown(d, pieces, size, SIZES[1:] if flexible else SIZES)
    elif d.chance(0.03) and len(pieces) > 1:
        pieces, size = _of_its_own_size(d, pieces, size, SIZES[1:] if flexible else SIZES)
        own_size = True
    if end is not None:
        pieces.insert(len(pieces) if not d.chance(0.003) else 0, {"fitting": end})
    if d.chance(0.3) and not own_size:
        run["between"] = [outer, inner]
        pieces, first = _reversed(pieces, first)
        run["size"] = first
    if d.chance(0.004) and len(pieces) > 1:
        pieces[1] = {"fitting": "elbow-90-lnog"}
    run["pieces"] = pieces
    return size, heading


def _end(d: Draw, ends: tuple[str, ...], outer: str) -> str | None:
    """An end, mostly where one belongs."""
    end = d.rng.choice(ends) if outer == "outdoors" and d.chance(0.85) else None
    if d.chance(0.003):
        end = d.rng.choice(AIR_ENDS)
    if end is not None and d.chance(0.05):
        end = "wall-kit"
        d.own.add(end)
    return end


def _count(d: Draw, run: Data, feet: int, end: str | None) -> None:
    """Make it a counted run."""
    run["straight"] = d.feet(feet)
    names = d.rng.sample(("elbow-90-long", "elbow-90-short", "elbow-45", "elbow-22", "tee-branch"), 2)
    run["fittings"] = {one: d.rng.choice((0, 1, 2, 3)) for one in names}
    if end is not None:
        run["fittings"][end] = 1
    if d.chance(0.3):
        run["between"].reverse()


def _flue(d: Draw, shape: str) -> None:
    _branches(d, shape, "flue gas", "vent", {"feet": d.rng.randint(4, 45), "size": d.rng.choice(SIZES)})


def _branches(d: Draw, shape: str, carries: str, word: str, more: Data) -> None:
    """One pipe from every appliance outdoors, in the shape of the job."""
    size, feet = more["size"], more["feet"]
    names = [one["name"] for one in d.job["appliance"]]
    if shape == "single":
        _run(d, word, carries, names[0], "outdoors", size, feet)
    elif shape == "series":
        node, parts, heading = names[0], d.rng.choice((2, 2, 3)), None
        for part in range(parts):
            joint = "joint" if d.chance(0.01) else f"{word} joint"
            outer = "outdoors" if part == parts - 1 else f"{joint} {part + 1}"
            start = None if d.chance(0.1) else heading
            if 0 < part < parts - 1 and d.chance(0.5):
                _beside(d, word, carries, node, outer, size)
            size, heading = _run(d, f"{word} {part + 1}", carries, node, outer, size, max(2, feet // parts), start)
            node = outer
            if d.chance(0.2):
                size = d.rng.choice(SIZES)
    elif d.chance(0.25):
        for index, name in enumerate(names):
            _run(d, f"{word} {index + 1}", carries, name, "outdoors", size, feet)
    else:
        _tree(d, carries, word, names, more)


def _beside(d: Draw, word: str, carries: str, inner: str, outer: str, size: str) -> None:
    """A second pipe between two joints, which become tees."""
    _run(d, f"{word} beside", carries, inner, outer, size, d.rng.randint(2, 20))
    for joint, line in ((inner, [f"{word} 1", f"{word} 2"]), (outer, [f"{word} 2", f"{word} 3"])):
        d.job["joint"].append({"name": joint, "fitting": d.rng.choice(("tee", "wye")), "in_line": line})


def _tree(d: Draw, carries: str, word: str, names: list[str], more: Data) -> None:
    node, last, heading = names[0], f"{word} of {names[0]}", None
    size = more["size"]
    for index, name in enumerate(names[1:], 1):
        joint = f"{word} tee {index}"
        if index == 1:
            _, heading = _run(d, last, carries, node, joint, size, d.rng.randint(2, 12))
        branch = f"{word} of {name}"
        _, other = _run(d, branch, carries, name, joint, size, d.rng.randint(2, 12))
        outer = "outdoors" if index == len(names) - 1 else f"{word} tee {index + 1}"
        common = f"{word} common {index}"
        line = [last, common] if d.chance(0.7) else [branch, common]
        ahead = heading if line[0] == last else other
        if d.chance(0.9):
            _unheaded_end(d, branch if line[0] == last else last, joint)
        size = size if d.chance(0.5) else d.rng.choice(SIZES[1:])
        _, heading = _run(d, common, carries, joint, outer, size, max(2, more["feet"] // 2), ahead)
        if d.chance(0.1):
            line = [last, branch]
        d.job["joint"].append({"name": joint, "fitting": d.rng.choice(("tee", "tee", "wye")), "in_line": line})
        node, last = joint, common


def _unheaded_end(d: Draw, name: str, joint: str) -> None:
    """Let the pipe that meets a joint go anywhere, so that the joint can be made."""
    run = next(one for one in d.job["run"] if one["name"] == name)
    if "pieces" in run:
        run["pieces"][-1 if run["between"][1] == joint else 0].pop("heading", None)


def _air(d: Draw, shape: str) -> None:
    way = d.rng.choices(("pipe", "room", "unsaid", "named room", "lost"), (45, 30, 17, 5, 3))[0]
    if way == "pipe":
        flue = d.job["run"][0]
        same = str(flue["size"]) if d.chance(0.7) and str(flue["size"]) in SIZES else d.rng.choice(SIZES)
        if shape == "tree" and d.chance(0.5):
            for index, one in enumerate(d.job["appliance"]):
                if index and d.chance(0.15):
                    one["air"] = "room"
                    continue
                _run(d, f"air {index + 1}", "combustion air", one["name"], "outdoors", same, d.rng.randint(4, 50))
        else:
            more = {"feet": d.rng.randint(4, 50), "size": same}
            _branches(d, shape if d.chance(0.6) or shape == "tree" else "single", "combustion air", "air", more)
    for one in d.job["appliance"]:
        if way == "room" or (way == "pipe" and "air" not in one and d.chance(0.3)):
            one["air"] = "room" if way == "room" or d.chance(0.02) else "pipe"
        elif way == "lost":
            one["air"] = "pipe"
    if way == "named room":
        names = [one["name"] for one in d.job["appliance"]]
        d.job["room"] = [{"name": "basement", "volume": "4,000 ft³", "appliances": names}]


def _own_records(d: Draw) -> None:
    d.job["fitting"] = []
    if "own-pipe" in d.own:
        sizes = [{"nominal": one, "outside": one, "wall": "0.1 in"} for one in ("2.4 in", "3.5 in", "4.5 in")]
        for one, size in zip(sizes, SIZES, strict=True):
            one["nominal"] = size
            if d.chance(0.05):
                one["wall"] = "1.1 in"
        record = {"name": "own-pipe", "source": "Invented", "roughness": "0.0015 mm", "conductivity": "0.16 W/(m K)"}
        limit = d.rng.choice(("109 degF", "140 degF", "300 degF"))
        d.job["pipe"] = [{**record, "temperature_limit": limit, "sizes": sizes}]
    if "own-bend" in d.own and not d.chance(0.02):
        d.job["fitting"].append(
            {"name": "own-bend", "source": "Invented", "kind": "elbow", "angle": "90 deg", "loss": {"k": 0.4}}
        )


def _inputs(d: Draw) -> list[float]:
    """Rows' inputs [kBtu/h]: some below, some above what the job's appliances and their sums come to."""
    found = set(d.rng.sample((40, 50, 60, 70, 80, 90, 100), 2)).union({30, 120})
    if len(d.job["appliance"]) > 1:
        found |= {150, 200, 320}
    if any("3000" in rate["input"] for one in d.job["appliance"] for rate in one["rate"]):
        found |= {3000, 3500}
    return sorted(found)


def _confirm(d: Draw) -> None:
    words = []
    if d.chance(0.7):
        words.append("The table holds at this altitude.")
    if any("confirm" in page for page in d.tables.values()) and d.chance(0.7):
        words.append(
            d.rng.choice(("Terminals on one wall.",) * 5 + ("Terminals on one wall", "terminals on one wall."))
        )
    if words:
        d.job["confirmed"] = words
