"""The job file: one site, its appliances, runs and tables, as typed; in SI floats, unresolved.

Names of fittings, materials, fuels and tables are still only names here. The layers above look
them up. Keys are those of the file; a list of tables such as [[run]] is `runs` in Python.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any, ClassVar, Literal, get_args

from pydantic import BeforeValidator, Discriminator, Field, Tag

from ventsize.jobfile.document import parse_toml, rare_record, read_text, record, validate
from ventsize.jobfile.field_types import (
    Expected,
    Fraction,
    Input,
    Length,
    NotNegativeNumber,
    PipeConductivity,
    PositiveLength,
    PositivePressure,
    SignedLength,
    SignedPressure,
    Temperature,
    TemperatureDifference,
    Text,
    Velocity,
)
from ventsize.jobfile.inducer import Inducer, inducer_faults
from ventsize.jobfile.lesson import Lesson, lesson_faults
from ventsize.jobfile.problems import Problem
from ventsize.jobfile.reading import Reading, reading_faults
from ventsize.jobfile.room import Room, room_faults
from ventsize.jobfile.symptom import Seen
from ventsize.jobfile.ticks import Tick, tick_faults
from ventsize.quantity import Unusable

OUTDOORS = "outdoors"
_MOST_EXCESS_AIR = 10.0  # ten times the air it needs; a bare 35 for 35 % is far above

Heading = Literal["up", "down", "north", "south", "east", "west"]
Carries = Literal["flue gas", "combustion air"]
Compass = Literal["north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest"]
Terrain = Literal["open", "suburb", "city"]
Side = Literal["north", "south", "east", "west", "roof"]
USUAL_HUMIDITY = 0.5  # common practice, no source


@record
class Site:
    """Conditions of the place. What is missing is None, and the check says what follows from that.

    relative_humidity: of the combustion air, see `humidity`; indoor_relative_humidity: of the room [-].
    attic, crawlspace: temperatures there [K]. design_outdoor: of the coldest day to be expected [K].
    wind: on pipe outdoors, and where `wind_from` is given on the ends of the pipes [m/s]. terrain: around the house.
    room_pressure: of the room against outdoors at the same level [Pa]. stack_height: of the neutral level of the house
    above the appliance [m].
    """

    altitude: SignedLength | None = None
    outdoor: Temperature | None = None
    indoor: Temperature | None = None
    relative_humidity: Fraction | None = None
    indoor_relative_humidity: Fraction | None = None
    attic: Temperature | None = None
    crawlspace: Temperature | None = None
    wind: Velocity | None = None
    wind_from: Annotated[Compass, Expected("where the wind comes from, such as 'northwest'")] | None = None
    terrain: Annotated[Terrain, Expected("'open', 'suburb' or 'city'")] | None = None
    design_outdoor: Temperature | None = None
    room_pressure: SignedPressure | None = None
    stack_height: SignedLength | None = None

    @property
    def humidity(self) -> float:
        """Of the combustion air where it is drawn in; `USUAL_HUMIDITY` where the job does not say [-]."""
        return USUAL_HUMIDITY if self.relative_humidity is None else self.relative_humidity


@record
class Rate:
    """A firing rate: input [W, gross], the air it burns with, and its flue gas temperature [K].

    switch_opens: what is written on the pressure switch that proves this rate: below it the switch opens [Pa].
    switch_closes: where it closes, at or above that [Pa].
    """

    name: Text
    input: Input
    flue_temperature: Temperature
    excess_air: Fraction | None = None
    oxygen: Fraction | None = None
    carbon_dioxide: Fraction | None = None
    switch_opens: PositivePressure | None = None
    switch_closes: PositivePressure | None = None


@rare_record
class Insulation:
    """Around a pipe: how thick [m], and its conductivity [W/(m·K)], assumed where it is not given."""

    thickness: PositiveLength
    conductivity: PipeConductivity | None = None


@record
class Appliance:
    """An appliance: its fuel by name, its firing rates, and the size of its vent outlet [m].

    trap_seal: depth of water in the condensate trap [m].
    air: where its combustion air comes from; None where the job does not say.
    input_basis: whether the inputs are gross or net heat; None where the job does not say.
    backflow_prevented: whether something keeps flue gas out of it while it is idle on a shared vent.
    """

    name: Text
    fuel: Text
    rates: Annotated[tuple[Rate, ...], Field(alias="rate"), Expected("at least one [[appliance.rate]]")]
    collar: PositiveLength | None = None
    trap_seal: PositiveLength | None = None
    air: Annotated[Literal["room", "pipe"], Expected("'room' or 'pipe'")] | None = None
    input_basis: Annotated[Literal["gross", "net"], Expected("'gross' or 'net'")] | None = None
    backflow_prevented: Annotated[bool, Field(strict=True), Expected("true or false")] | None = None
    inducer: Inducer | None = None


@record
class PipePiece:
    """A straight pipe: length [m], where it heads, how far it rises [m].

    size: from here on. material: of this pipe alone; the run's where not given.
    surroundings: "heated space", "attic", "crawlspace", "outdoors", or a temperature; the run's where not given.
    drain: whether water is drained off at its lower end.
    """

    ELSEWHERE: ClassVar[Mapping[str, str]] = dict.fromkeys(("k", "table_length"), "it on a fitting only")

    pipe: Length
    heading: Heading | None = None
    rise: SignedLength | None = None
    size: PositiveLength | None = None
    material: Text | None = None
    surroundings: Text | None = None
    insulation: Insulation | None = None
    drain: bool = False


@record
class FittingPiece:
    """A fitting by name. `size` is the size from here on; `k` and `table_length` are overrides.

    material: of this fitting alone; the run's where not given.
    drain: whether water is drained off there.
    """

    ELSEWHERE: ClassVar[Mapping[str, str]] = {
        **dict.fromkeys(("heading", "rise"), "it on a pipe only: the pipes beside a fitting say where it turns to"),
        **dict.fromkeys(("surroundings", "insulation"), "it on a pipe or on the run"),
    }

    fitting: Text
    size: PositiveLength | None = None
    material: Text | None = None
    k: NotNegativeNumber | None = None
    table_length: Length | None = None
    drain: bool = False


def _one_kind(piece: Any) -> Any:
    if isinstance(piece, Mapping) and ("pipe" in piece) == ("fitting" in piece):
        both = "both a pipe and a fitting" if "pipe" in piece else "neither a pipe nor a fitting"
        raise Unusable(f"it is {both}", "one of pipe = '3 ft' and fitting = 'elbow-45'")
    return piece


def _piece_kind(piece: Any) -> str:
    """The tag of a piece's record. Bracketed, so that it is never taken for a key of the file."""
    if isinstance(piece, PipePiece) or (isinstance(piece, Mapping) and "pipe" in piece):
        return "<pipe>"
    return "<fitting>"


Piece = Annotated[
    Annotated[PipePiece, Tag("<pipe>")] | Annotated[FittingPiece, Tag("<fitting>")],
    Discriminator(_piece_kind),
    BeforeValidator(_one_kind),
]
Count = Annotated[int, Field(strict=True, ge=0, le=10_000), Expected("a whole number")]


@record
class Run:
    """A chain of pieces between two joints: laid out (`pieces`) or counted (`straight`, `fittings`).

    surroundings, insulation: of every pipe of it that says nothing else.
    wall: the side of the house, or the roof, on which its outdoor end is.
    """

    name: Text
    carries: Annotated[Carries, Expected("'flue gas' or 'combustion air'")]
    between: Annotated[tuple[Text, Text], Expected("two joints such as ['furnace', 'outdoors']")]
    size: Annotated[PositiveLength, Expected("a size such as '3 in'")]
    material: Annotated[str, Expected("a material such as 'pvc-40'")]
    table: Text | None = None
    pieces: tuple[Piece, ...] | None = None
    straight: Length | None = None
    fittings: dict[str, Count] | None = None
    rise: SignedLength | None = None
    surroundings: Text | None = None
    insulation: Insulation | None = None
    wall: Annotated[Side, Expected("'north', 'south', 'east', 'west' or 'roof'")] | None = None

    @property
    def counted(self) -> bool:
        """Whether the run is a total of feet and fittings rather than a layout."""
        return self.pieces is None


@rare_record
class Joint:
    """Where runs meet: the fitting there, and the two runs that go straight through it."""

    name: Text
    fitting: Annotated[Literal["tee", "wye"], Expected("'tee' or 'wye'")]
    in_line: Annotated[tuple[Text, Text], Expected("the two runs that go straight through")]


@rare_record
class Uncertainty:
    """How far what the job states may be off, either way; what is not given is taken at its usual value.

    length: of each pipe, as a share of it; tape: of each pipe, besides [m]; input: as a share of the firing rate;
    excess_air: as a share of the air that burning needs, 0.05 for 30 to 40 % where 35 % is stated; flue_temperature
    [K]; fittings: whether each kind of fitting's loss lies anywhere in its band.
    """

    length: Fraction | None = None
    tape: Length | None = None
    input: Fraction | None = None
    excess_air: Fraction | None = None
    flue_temperature: TemperatureDifference | None = None
    fittings: bool = True


State = Literal["to measure", "offered", "ordered", "built"]
STATES: tuple[State, ...] = get_args(State)


@record
class Job:
    """One job file. `fittings` and `pipes` are the job's own records, read by the catalog.

    state: how far the work is; no answer follows from it.
    cooling: whether the gas is figured as cooling (the air as warming) along its pipes; else at one temperature.
    confirmed: footnotes of the tables that somebody has looked at, word for word.
    rooms, readings, symptoms, checked, lesson: keys of `ventsize.jobfile.room`, `.reading`, `.ticks` and `.lesson`.
    """

    title: Text
    note: Text = ""
    state: Annotated[State | None, Expected("'to measure', 'offered', 'ordered' or 'built'")] = None
    tables: tuple[Text, ...] = ()
    confirmed: Annotated[tuple[Text, ...], Expected("texts in square brackets")] = ()
    cooling: bool = True
    site: Site = Site()
    appliances: Annotated[tuple[Appliance, ...], Field(alias="appliance"), Expected("an [[appliance]]")]
    runs: Annotated[tuple[Run, ...], Field(alias="run"), Expected("a [[run]]")]
    joints: Annotated[tuple[Joint, ...], Field(alias="joint")] = ()
    fittings: Annotated[tuple[dict[str, Any], ...], Field(alias="fitting")] = ()
    pipes: Annotated[tuple[dict[str, Any], ...], Field(alias="pipe")] = ()
    uncertainty: Uncertainty = Uncertainty()
    rooms: Annotated[tuple[Room, ...], Field(alias="room")] = ()
    readings: Annotated[tuple[Reading, ...], Field(alias="reading")] = ()
    symptoms: Annotated[tuple[Seen, ...], Field(alias="symptom")] = ()
    checked: tuple[Tick, ...] = ()
    lesson: Lesson | None = None


def read_job(path: Path) -> Job:
    """The job in a file. Raises InputError with every fault found."""
    return job_from_text(read_text(path), file=str(path))


def job_from_text(text: str, *, file: str) -> Job:
    """The job in a TOML text."""
    return job_from_data(parse_toml(text, file=file), file=file)


def job_from_data(data: Mapping[str, Any], *, file: str) -> Job:
    """The job in the tables of a TOML document."""
    return validate(data, Job, file=file, beyond=lambda job: [Problem(file, *fault) for fault in _faults(job)])


def _faults(job: Job) -> list[tuple[str, str, str]]:
    """What is wrong between keys that are each right by themselves: (place, problem, expected)."""
    found: list[tuple[str, str, str]] = []
    if not job.appliances:
        found.append(("", "the job has no appliance", "at least one [[appliance]]"))
    if not job.runs:
        found.append(("", "the job has no run", "at least one [[run]]"))
    for kind, names in (
        ("appliance", [a.name for a in job.appliances]),
        ("run", [r.name for r in job.runs]),
        ("joint", [j.name for j in job.joints]),
    ):
        found += [(f"{kind} '{name}'", f"two {kind}s have this name", "each name once") for name in _repeated(names)]
        article = "an" if kind == "appliance" else "a"
        found += [(kind, f"{article} {kind} has an empty name", "a name") for name in names if not name.strip()]
    for appliance in job.appliances:
        found += _appliance_faults(appliance)
        if appliance.inducer is not None:
            found += inducer_faults(appliance.inducer, appliance.name, [rate.name for rate in appliance.rates])
    for run in job.runs:
        found += _run_faults(run)
    appliances = tuple(appliance.name for appliance in job.appliances)
    found += room_faults(job.rooms, appliances)
    found += reading_faults(job.readings, appliances, tuple(run.name for run in job.runs))
    found += tick_faults(job.checked)
    found += lesson_faults(job.lesson)
    return found


def _repeated(names: list[str]) -> list[str]:
    return sorted({name for name in names if names.count(name) > 1})


def _appliance_faults(appliance: Appliance) -> list[tuple[str, str, str]]:
    place = f"appliance '{appliance.name}'"
    found = []
    if appliance.name == OUTDOORS:
        found.append((place, f"'{OUTDOORS}' is the name of the open air", "another name"))
    if not appliance.rates:
        found.append((place, "it has no firing rate", "at least one [[appliance.rate]]"))
    if not all(rate.name.strip() for rate in appliance.rates):
        found.append((f"{place}, rate", "a firing rate has an empty name", "a name such as 'high'"))
    for name in _repeated([rate.name for rate in appliance.rates]):
        found.append((place, f"two firing rates are named '{name}'", "each name once"))
    for rate in appliance.rates:
        given = [g for g in (rate.excess_air, rate.oxygen, rate.carbon_dioxide) if g is not None]
        if len(given) != 1:
            problem = "the excess air is not given" if not given else "the excess air is given more than once"
            found.append((f"{place}, rate '{rate.name}'", problem, "one of excess_air, oxygen, carbon_dioxide"))
        if rate.excess_air is not None and rate.excess_air > _MOST_EXCESS_AIR:
            problem = f"an excess air of {rate.excess_air:.0%} is not met in practice"
            found.append((f"{place}, rate '{rate.name}', excess_air", problem, "a share such as 0.35 or '35 %'"))
        if rate.switch_closes is not None and rate.switch_closes < (rate.switch_opens or 0.0):
            problem = "the switch would close below where it opens"
            found.append((f"{place}, rate '{rate.name}', switch_closes", problem, "no less than switch_opens"))
    return found


def _run_faults(run: Run) -> list[tuple[str, str, str]]:
    place = f"run '{run.name}'"
    found = []
    if run.between[0] == run.between[1]:
        found.append((place, f"it starts and ends at '{run.between[0]}'", "two different joints"))
    if run.table is not None and not run.table.strip():
        found.append((f"{place}, table", "it is empty", "the name of a table file, or no such key"))
    if run.counted:
        if run.straight is None:
            found.append((place, "it has neither 'pieces' nor 'straight'", "a layout or a count of feet"))
    else:
        if not run.pieces:
            found.append((place, "it has no pieces", "at least one pipe or fitting"))
        for key in ("straight", "fittings", "rise"):
            if getattr(run, key) is not None:
                found.append((f"{place}, {key}", "it is given beside 'pieces'", "either a layout or a count"))
    return found
