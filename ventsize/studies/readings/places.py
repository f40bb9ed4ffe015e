"""Where a reading is taken: a place named in a job file, found on the run."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ventsize.check.inputs import Inputs
from ventsize.jobfile.document import nearest
from ventsize.jobfile.job import OUTDOORS
from ventsize.jobfile.problems import InputError, Problem
from ventsize.jobfile.reading import METER, PLACES, ROOM, SWITCH, Kind, Reading
from ventsize.run.model import Piece, Run

FLUE, AIR = "flue gas", "combustion air"
ENDS = ("terminal", "entrance")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tap:
    """Where, at which rate and of what a reading is, or would be.

    place: as a job file names it. run: the run it is taken in, None for the room, the switch, the inducer and the
    meter; carries: what that run does; piece: the name of the piece it is taken behind, where the place is one.
    position: how many of the pieces of `ordered` lie before it. outdoor: temperature meanwhile [K], None where
    the site's is taken. setting: of the pressure switch, where the reading gives it [Pa]; dial: of the gas meter [m³].
    """

    kind: Kind
    place: str
    rate: str
    appliance: str
    run: str | None = None
    carries: str = ""
    piece: str = ""
    position: int = 0
    outdoor: float | None = None
    setting: float | None = None
    dial: float | None = None

    @property
    def condition(self) -> tuple[str, float | None]:
        """The rate and the weather it is taken in."""
        return self.rate, self.outdoor


def ordered(run: Run) -> tuple[Piece, ...]:
    """A run's pieces in walking order, the end of a counted run's pipe put where the outdoors is."""
    if not run.counted:
        return run.pieces
    ends = tuple(piece for piece in run.pieces if piece.kind in ENDS)
    others = tuple(piece for piece in run.pieces if piece.kind not in ENDS)
    return (*ends, *others) if run.start == OUTDOORS else (*others, *ends)


def tap_of(inputs: Inputs, number: int, reading: Reading, rates: tuple[str, ...]) -> Tap:
    """The tap of a reading.

    number: of the reading in the job, from 1. rates: names of the firing rates, or combinations, that there are.
    Raises InputError where the job has no such rate or place, or more than one.
    """
    return _Finder(inputs, f"reading {number}").tap(reading, rates)


def tap_at(
    inputs: Inputs,
    *,
    place: str,
    rate: str,
    kind: Kind,
    appliance: str,
    run: str | None,
    outdoor: float | None,
    setting: float | None = None,
    dial: float | None = None,
) -> Tap:
    """The tap at a place, for a reading that could be taken. Raises InputError where there is no such place."""
    blank = Reading(
        place=place, rate=rate, appliance=appliance, run=run, outdoor=outdoor, setting=setting, meter_dial=dial
    )
    reading = replace(blank, **{kind: 1.0})  # type: ignore[arg-type]
    return _Finder(inputs, "reading").tap(reading, (rate,))


class _Finder:
    """Finds the place of one reading."""

    def __init__(self, inputs: Inputs, place: str) -> None:
        self._inputs = inputs
        self._graph = inputs.graph
        self._place = place

    def tap(self, reading: Reading, rates: tuple[str, ...]) -> Tap:
        if reading.place == ROOM:  # as much at every rate
            reading = replace(reading, rate=rates[0])
        if reading.rate not in rates:
            problem = f"the job has no firing rate '{reading.rate:.40}'"
            raise self._fault(problem, nearest(reading.rate, rates), "rate")
        appliance = self._appliance(reading)
        run, position = self._spot(reading, appliance)
        self._suits(reading, run)
        return Tap(
            kind=reading.kind,
            place=reading.place,
            rate=reading.rate,
            appliance=appliance,
            run=None if run is None else run.name,
            carries="" if run is None else run.carries,
            piece=run.pieces[position - 1].name if run is not None and reading.after_piece is not None else "",
            position=position,
            outdoor=reading.outdoor,
            setting=reading.setting,
            dial=reading.meter_dial,
        )

    def _fault(self, problem: str, expected: str, key: str = "place") -> InputError:
        return InputError(Problem(self._inputs.file, f"{self._place}, {key}", problem, expected))

    def _appliance(self, reading: Reading) -> str:
        names = [appliance.name for appliance in self._inputs.job.appliances]
        if reading.appliance is not None:
            return reading.appliance
        if len(names) == 1:
            return names[0]
        if reading.run is not None:
            run = self._graph.runs[reading.run]
            at_collar = [name for name in names if name in (run.start, run.end)]
            return at_collar[0] if at_collar else names[0]
        if reading.place in ("collar", "air pipe", SWITCH):
            problem = f"the job has {len(names)} appliances, and it does not say which one"
            raise self._fault(problem, f"appliance = one of: {', '.join(names)}", "appliance")
        return names[0]

    def _spot(self, reading: Reading, appliance: str) -> tuple[Run | None, int]:
        """The run, and the position in it."""
        if reading.kind == "speed" or reading.place in ("inducer", SWITCH, METER, ROOM):
            return None, 0
        if reading.place in ("collar", "air pipe"):
            run = self._at_appliance(reading, appliance, FLUE if reading.place == "collar" else AIR)
            return run, self._at_joint(run, appliance)
        if reading.place == "terminal":
            return self._terminal(reading)
        if reading.after_piece is not None:
            return self._behind_piece(reading, reading.after_piece)
        return self._joint(reading)

    def _at_appliance(self, reading: Reading, appliance: str, carries: str) -> Run:
        found = [run for run in self._graph.runs_at(appliance) if run.carries == carries]
        if reading.run is not None:
            found = [run for run in self._graph.runs_at(appliance) if run.name == reading.run]
        if not found:
            if carries == AIR and reading.run is None:
                problem = f"'{appliance}' has no air pipe: it takes its air from the room"
                raise self._fault(problem, "a place on the vent, such as 'collar'")
            raise self._fault(f"no such run meets '{appliance}'", "a run at that appliance", "run")
        if len(found) > 1:
            names = ", ".join(run.name for run in found)
            raise self._fault(f"{len(found)} runs meet '{appliance}' there", f"run = one of: {names}", "run")
        return found[0]

    @staticmethod
    def _at_joint(run: Run, joint: str) -> int:
        return 0 if run.start == joint else len(run.pieces)

    def _terminal(self, reading: Reading) -> tuple[Run, int]:
        outer = [run for run in self._graph.runs.values() if OUTDOORS in (run.start, run.end)]
        wanted = [run for run in outer if (run.carries == FLUE if reading.run is None else run.name == reading.run)]
        if not wanted:
            raise self._fault("that run does not reach outdoors", "a run that does", "run")
        if len(wanted) > 1:
            names = ", ".join(run.name for run in wanted)
            raise self._fault(f"{len(wanted)} vents end outdoors", f"run = one of: {names}", "run")
        run = wanted[0]
        return run, 1 if run.start == OUTDOORS else len(run.pieces) - 1

    def _behind_piece(self, reading: Reading, number: int) -> tuple[Run, int]:
        runs = [run for run in self._graph.runs.values() if reading.run in (None, run.name)]
        if len(runs) > 1:
            runs = [run for run in runs if run.carries == FLUE] or runs
        if len(runs) > 1:
            names = ", ".join(run.name for run in runs)
            raise self._fault("several runs have pieces", f"run = one of: {names}", "run")
        run = runs[0]
        if run.counted:
            problem = f"run '{run.name}' is counted: its pieces have no order"
            raise self._fault(
                problem, f"'collar' or 'terminal', or a run laid out with 'pieces'; not '{reading.place}'"
            )
        places = [piece.place for piece in run.pieces]
        wanted = f"run '{run.name}', piece {number}"
        typed = next(typed for typed in self._inputs.job.runs if typed.name == run.name)
        if wanted not in places:
            problem = f"run '{run.name}' has no piece {number}"
            raise self._fault(problem, f"'after piece 1' to 'after piece {len(typed.pieces or ())}'")
        position = len(places) - places[::-1].index(wanted)
        outside = 0 if run.start == OUTDOORS else len(places)
        if (run.start == OUTDOORS and position == outside) or (run.end == OUTDOORS and position == outside):
            raise self._fault("behind the terminal there is the open air", "'terminal', just before it")
        return run, position

    def _joint(self, reading: Reading) -> tuple[Run, int]:
        joints = {joint for run in self._graph.runs.values() for joint in (run.start, run.end)} - {OUTDOORS}
        if reading.place not in joints:
            problem = f"the job has no place '{reading.place:.40}'"
            raise self._fault(problem, nearest(reading.place, [*PLACES, "after piece 1", *sorted(joints)]))
        runs = [run for run in self._graph.runs_at(reading.place) if reading.run in (None, run.name)]
        if not runs:
            raise self._fault(f"run '{reading.run}' does not meet '{reading.place}'", "one that does", "run")
        return runs[0], self._at_joint(runs[0], reading.place)

    def _suits(self, reading: Reading, run: Run | None) -> None:
        """Whether such a value can be read there."""
        if reading.place == "inducer" and reading.kind != "speed":
            raise self._fault("of the inducer only its speed is compared", "speed = '72 %', or another place")
        if run is None and reading.kind not in ("pressure", "speed", "meter_seconds"):
            raise self._fault("across the switch there is only a pressure to read", "place = 'collar'")
        if reading.kind == "speed" and reading.place not in ("inducer", "collar", SWITCH):
            raise self._fault("the speed read is the inducer's", "place = 'inducer'")
