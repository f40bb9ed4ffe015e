"""The check-over's rules: records of check-over.toml, the user's own and local ones over those shipped."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator

from ventsize.catalog.folders import shipped_table, user_tables_folder
from ventsize.catalog.properties import Source, Written
from ventsize.jobfile.document import nearest, read_toml, record, validate
from ventsize.jobfile.field_types import Expected
from ventsize.jobfile.problems import InputError, Problem
from ventsize.jobfile.ticks import YesOrNo
from ventsize.quantity import Dimension, QuantityError, Unusable, parse

FILE_NAME = "check-over.toml"
LOCAL_FILES = "check-over-*.toml"

GROUPS = {
    "terminal": "Terminals",
    "pipe": "The pipe",
    "supports": "Supports",
    "water": "Water",
    "joints": "Joints",
    "labels": "Labels",
    "air": "Air",
    "after": "After the work",
}
STATUS_WORDS = {
    "published": "published",
    "from memory": "from memory, check before use",
    "common practice": "common practice, no source",
}
DIMENSIONS = {"length": Dimension.LENGTH, "slope": Dimension.SLOPE, "temperature": Dimension.TEMPERATURE}

Group = Annotated[
    Literal["terminal", "pipe", "supports", "water", "joints", "labels", "air", "after"],
    Expected("one of terminal, pipe, supports, water, joints, labels, air, after"),
]
Of = Annotated[
    Literal["job", "appliance", "vent", "air pipe", "run", "vent terminal", "air terminal", "terminal", "material"],
    Expected("one of job, appliance, vent, air pipe, run, vent terminal, air terminal, terminal, material"),
]
Condition = Annotated[
    Literal[
        "two pipes",
        "air from the room",
        "cemented",
        "several materials",
        "horizontal pipe",
        "upright pipe",
        "adaptive inducer",
        "shared vent",
    ],
    Expected("a condition such as 'two pipes' or 'air from the room'"),
]
Told = Annotated[
    Literal[
        "allowance", "table fittings", "temperature", "expansion", "slope", "low spots", "trap seal", "room air"
    ],
    Expected("what the job tells, such as 'slope' or 'temperature'"),
]  # fmt: skip
Measure = Annotated[Literal["length", "slope", "temperature"], Expected("'length', 'slope' or 'temperature'")]
Status = Annotated[
    Literal["published", "from memory", "common practice"],
    Expected("'published', 'from memory' or 'common practice'"),
]


def _limit(value: Any) -> Any:
    """One value, a table by material, or a list of inputs with the value up to each: as typed."""
    if isinstance(value, str):
        return value
    if isinstance(value, Mapping) and value and all(isinstance(text, str) for text in value.values()):
        return dict(value)
    if isinstance(value, list | tuple) and value and all(map(_is_step, value)):
        return tuple((step[0], step[1]) for step in value)
    raise Unusable(f"{value!r:.40} is no limit", "'12 in', or { pvc-40 = '4 ft' }, or [['50,000 Btu/h', '9 in'], …]")


def _is_step(step: Any) -> bool:
    return isinstance(step, list | tuple) and len(step) == 2 and all(isinstance(text, str) for text in step)


Limit = Annotated[Any, BeforeValidator(_limit), Expected("a limit such as '12 in'")]


@record
class Rule:
    """One rule as its file has it; what its keys mean stands at the top of check-over.toml."""

    name: Written
    title: Written
    group: Group
    of: Of
    ask: Written
    source: Source
    status: Status
    edition: Written | None = None
    where: tuple[Condition, ...] = ()
    told: Told | None = None
    measure: Measure | None = None
    least: Limit = None
    greatest: Limit = None
    asked: YesOrNo = True
    local: YesOrNo = False

    @property
    def dimension(self) -> Dimension | None:
        """What is measured for it; None where nothing is."""
        return None if self.measure is None else DIMENSIONS[self.measure]

    @property
    def heading(self) -> str:
        """The title, and that it is from one place's code where it is."""
        return f"{self.title} (local example)" if self.local else self.title

    @property
    def cited(self) -> str:
        """Source, edition and status as one phrase."""
        edition = f", edition {self.edition}" if self.edition else ""
        local = "Local example, one place's code: " if self.local else ""
        said = self.status == "common practice" and "common practice" in self.source.lower()
        return f"{local}{self.source}{edition}" + ("" if said else f" ({STATUS_WORDS[self.status]})")

    def read(self, text: str) -> float:
        """A measured value in SI. Raises QuantityError."""
        assert self.dimension is not None
        return parse(text, self.dimension, signed=self.measure != "length")

    def bound(self, *, material: Iterable[str] = (), power: float | None = None) -> float | None:
        """The limit in SI, whichever of least and greatest the rule has; None where it has none for this place.

        material: of all pipe there; the strictest of them governs. power: input of what it serves [W].
        """
        limit = self.greatest if self.least is None else self.least
        if isinstance(limit, str):
            return self.read(limit)
        if isinstance(limit, dict):
            found = [self.read(limit[name]) if name in limit else None for name in material]
            known = [value for value in found if value is not None]
            if not known or len(known) < len(found):
                return None
            return max(known) if self.greatest is None else min(known)
        for most, text in limit or ():
            if power is not None and power <= parse(most, Dimension.POWER) * (1 + 1e-9):
                return self.read(text)
        return None


@dataclass(frozen=True, slots=True)
class CheckOverRules:
    """Every rule by name, in the order of the files. files: that they were read from, the last one overriding."""

    rules: Mapping[str, Rule]
    files: tuple[str, ...]


def read_rules(extra: Path | None = None) -> CheckOverRules:
    """The shipped rules, under the user's own and local ones, under those of one file more.

    Raises InputError with every fault of a file.
    """
    paths = [shipped_table(FILE_NAME)]
    folder = user_tables_folder()
    if folder.is_dir():
        paths += [path for path in (folder / FILE_NAME, *sorted(folder.glob(LOCAL_FILES))) if path.is_file()]
    if extra is not None:
        paths.append(extra)
    known: dict[str, Rule] = {}
    for path in paths:
        known |= _with_file(known, path)
    return CheckOverRules(rules=known, files=tuple(path.name for path in paths))


def _with_file(known: Mapping[str, Rule], path: Path) -> dict[str, Rule]:
    file = str(path)
    data = read_toml(path)
    for key in data:
        if key not in ("rule", "source"):
            raise InputError(Problem(file, "", f"unknown key '{key:.40}'", "records that begin with [[rule]]"))
    records = data.get("rule", [])
    if not isinstance(records, list):
        raise InputError(Problem(file, "", "'rule' is not a list of records", "records that begin with [[rule]]"))
    found: dict[str, Rule] = {}
    faults: list[Problem] = []
    for number, raw in enumerate(records, start=1):
        name = raw.get("name") if isinstance(raw, Mapping) else None
        place = f"rule '{name:.40}'" if isinstance(name, str) and name.strip() else f"rule {number}"
        try:
            rule = validate(_switched(raw, known, file), Rule, file=file, place=place)
        except InputError as error:
            faults += error.problems
            continue
        faults += [Problem(file, place, *fault) for fault in _faults(rule)]
        if rule.name in found:
            faults.append(Problem(file, place, "two rules have this name", "each name once"))
        found[rule.name] = rule
    if faults:
        raise InputError(faults)
    return found


def _switched(raw: Any, known: Mapping[str, Rule], file: str) -> Any:
    """A record of name and asked alone turns a rule on or off; any other record replaces it whole."""
    if not isinstance(raw, Mapping) or set(raw) != {"name", "asked"}:
        return raw
    if raw["name"] not in known:
        place = f"rule '{raw['name']!s:.40}'"
        raise InputError(Problem(file, place, "there is no rule to turn on or off", nearest(str(raw["name"]), known)))
    rule = known[raw["name"]]
    kept = {field.name: getattr(rule, field.name) for field in fields(rule)}
    return {name: value for name, value in kept.items() if value is not None} | {"asked": raw["asked"]}


def _faults(rule: Rule) -> Iterator[tuple[str, str]]:
    """What cannot be in a rule though each key by itself could: (problem, expected)."""
    if rule.least is not None and rule.greatest is not None:
        yield "least and greatest are both given", "one of them"
    limit = rule.greatest if rule.least is None else rule.least
    if limit is None:
        return
    if rule.measure is None:
        yield "it has a limit, and does not say what is measured", "measure = 'length', 'slope' or 'temperature'"
        return
    yield from _limit_faults(rule, limit)


def _limit_faults(rule: Rule, limit: Any) -> Iterator[tuple[str, str]]:
    texts = [limit] if isinstance(limit, str) else list(limit.values()) if isinstance(limit, dict) else []
    try:
        if isinstance(limit, tuple):
            inputs = [parse(most, Dimension.POWER) for most, _ in limit]
            texts = [text for _, text in limit]
            if inputs != sorted(set(inputs)):
                yield "its inputs do not rise from step to step", "the smallest input first"
        values = [rule.read(text) for text in texts]
    except QuantityError as error:
        yield error.problem, error.expected
        return
    if rule.measure != "temperature" and min(values) <= 0:
        yield "a limit of zero asks for nothing", "a limit above zero"
