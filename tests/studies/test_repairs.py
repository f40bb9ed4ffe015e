"""Repairs: each one offered is within when it is checked, and no single change that would work is missed."""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Iterator
from dataclasses import replace

import pytest

from tests.check.jobs import TABLE, job, pipe
from tests.studies.support import again, scenario
from ventsize.allowance.reading import table_from_data
from ventsize.check.inputs import Inputs, prepare
from ventsize.check.variants import Variants
from ventsize.check.verdict import check
from ventsize.jobfile.document import parse_toml
from ventsize.jobfile.editing import units_of
from ventsize.jobfile.job import FittingPiece, PipePiece, Run, job_from_data
from ventsize.quantity import System
from ventsize.report.repairs import repair_words
from ventsize.studies.altering import changes
from ventsize.studies.options import job_with
from ventsize.studies.repairs import RunRepairs, apply_repair, repairs
from ventsize.studies.repairs.remedies import BETTER, least_cut

FOOT = 0.3048
FAILING = 200


def alone(run: Run, inputs: Inputs) -> Inputs:
    """The job with that run and no other."""
    return again(inputs, replace(inputs.job, runs=(run,)))


def failing_runs(count: int) -> Iterator[tuple[Inputs, Run]]:
    """Random runs that are over by the table, laid out and counted, of one size or two; one in ten with cooling gas."""
    cooled = scenario("over-by-table-within-by-calculation")
    inputs = again(cooled, replace(cooled.job, cooling=False))
    vent = inputs.job.runs[0]
    chance = random.Random(11)
    variants = Variants(alone(vent, inputs))
    while count:
        run = _random_run(vent, chance)
        if variants.judge({run.name: run}).verdict == "over":
            count -= 1
            yield alone(run, inputs if count % 10 else cooled), run


def _random_run(vent: Run, chance: random.Random) -> Run:
    size = chance.choice([0.0508, 0.0635, 0.0762])
    elbows = chance.choices(["elbow-90-short", "elbow-90-long", "elbow-90-mitered", "elbow-45"], k=chance.randint(1, 5))
    end = chance.choice(["terminal-open", "terminal-screened", "terminal-elbow-down"])
    lengths = [chance.randint(1, 30) * FOOT for _ in range(len(elbows) + 1)]
    if chance.random() < 0.3:
        counts = {name: elbows.count(name) for name in elbows}
        return replace(vent, size=size, pieces=None, straight=sum(lengths), fittings={**counts, end: 1})
    if chance.random() < 0.4:
        return replace(vent, size=size, pieces=(*_headed(lengths, elbows, chance), FittingPiece(fitting=end)))
    pieces: list[PipePiece | FittingPiece] = [PipePiece(pipe=lengths[0])]
    for elbow, length in zip(elbows, lengths[1:], strict=True):
        pieces += [FittingPiece(fitting=elbow), PipePiece(pipe=length)]
    if chance.random() < 0.3:
        pieces.insert(chance.randint(1, len(pieces) - 1), FittingPiece(fitting="increaser", size=0.1016))
    return replace(vent, size=size, pieces=(*pieces, FittingPiece(fitting=end)))


def _headed(lengths: list[float], elbows: list[str], chance: random.Random) -> list[PipePiece | FittingPiece]:
    """A route in right angles, with offsets where it turns back to where it went."""
    axes = (("up", "down"), ("north", "south"), ("east", "west"))
    headings = ["up"]
    for _ in elbows:
        before = headings[-2] if len(headings) > 1 and chance.random() < 0.5 else None
        across = [heading for axis in axes if headings[-1] not in axis for heading in axis]
        headings.append(before if before in across else chance.choice(across))
    pieces: list[PipePiece | FittingPiece] = []
    for heading, length, elbow in zip(headings, lengths, [*elbows, ""], strict=True):
        right = elbow if elbow.startswith("elbow-90") else "elbow-90-short"
        pieces += [PipePiece(pipe=length, heading=heading), FittingPiece(fitting=right)]
    return pieces[:-1]


def brute_force(inputs: Inputs, run: Run) -> set[str]:
    """Every single change that works, by its kind, found by trying every subset and every place."""
    variants = Variants(inputs)

    def works(made: Run | None) -> bool:
        return made is not None and variants.judge({run.name: made}).verdict == "within"

    found = {f"× {old} for {new}" for old, new in _better() if any(map(works, _every_exchange(run, old, new)))}
    before = changes.sizes_before(run) or [run.size]
    for size in inputs.catalog.pipe(run.material).sizes:
        larger = [at for at, there in enumerate(before) if size.nominal > there + 1e-5]
        if any(works(changes.with_size_from(run, at, size.nominal, inputs.catalog)) for at in larger):
            found.add(f"{size.label} ")
    cut = 0.01 - (variants.judge({}).runs[0].margin or 0.0)  # what is taken off is rounded up to a quarter inch
    leg = changes.last_leg(run)
    if works(changes.shortened(run, cut)):
        found.add("take off")
    if leg is not None and works(changes.shortened(run, cut, places=(leg,))):
        found.add("off the last pipe")
    found |= {words for words, made in _laid_otherwise(run) if works(made)}
    counts = {name: count for name, count in (run.fittings or {}).items() if name.startswith("elbow")}
    for name, count in counts.items():
        made_of_45s = [changes.exchange_count(run, name, ("elbow-45",), n) for n in range(2, count + 1, 2)]
        if "90" in name and any(map(works, made_of_45s)):
            found.add(f"{name} made")
        if any(works(changes.exchange_count(run, name, (), n)) for n in range(1, count + 1)):
            found.add(f"{name} fewer")
    return found


def _laid_otherwise(run: Run) -> Iterator[tuple[str, Run]]:
    """Offsets on the slant and left out, and the end before the last turn: by plane geometry, not the study's."""
    pieces = list(run.pieces or ())
    pipes = [n for n, piece in enumerate(pieces) if isinstance(piece, PipePiece) and piece.heading]
    for one, across, other in zip(pipes, pipes[1:], pipes[2:], strict=False):
        first, over, last = (pieces[n] for n in (one, across, other))
        assert isinstance(first, PipePiece) and isinstance(over, PipePiece) and isinstance(last, PipePiece)
        if first.heading != last.heading or (across - one, other - across) != (2, 2):
            continue
        between = f"at pieces {one + 2} to {one + 4}"
        yield f"go straight on where the offset {between}", replace(run, pieces=(*pieces[: one + 1], *pieces[other:]))
        if first.pipe + last.pipe < over.pipe:
            continue
        off = min(over.pipe, last.pipe)
        bend = FittingPiece(fitting="elbow-45")
        slant = PipePiece(pipe=math.hypot(over.pipe, over.pipe), rise=_slant_rise(first, over))
        cut = replace(first, pipe=first.pipe - over.pipe + off), bend, slant, bend, replace(last, pipe=last.pipe - off)
        yield f"make the offset {between}", replace(run, pieces=(*pieces[:one], *cut, *pieces[other + 1 :]))
    if len(pipes) > 1 and pipes[-1] - pipes[-2] == 2:
        yield "before the last turn", replace(run, pieces=(*pieces[: pipes[-2] + 1], *pieces[pipes[-1] + 1 :]))


def _slant_rise(first: PipePiece, over: PipePiece) -> float | None:
    """The slant climbs by as much as it goes along or across, whichever of the two is upright."""
    for heading in (first.heading, over.heading):
        if heading in ("up", "down"):
            return over.pipe if heading == "up" else -over.pipe
    return None


def _better() -> list[tuple[str, str]]:
    return [(old, new) for old, news in BETTER.items() for new in news]


def _every_exchange(run: Run, old: str, new: str) -> Iterator[Run]:
    if run.counted:
        for n in range(1, (run.fittings or {}).get(old, 0) + 1):
            yield changes.exchange_count(run, old, (new,), n)
        return
    places = [n for n, p in enumerate(run.pieces or ()) if isinstance(p, FittingPiece) and p.fitting == old]
    for many in range(1, len(places) + 1):
        for chosen in itertools.combinations(places, many):
            yield changes.exchange(run, dict.fromkeys(chosen, (new,)))


def test_none_missed_and_all_within() -> None:
    """Two hundred random failing runs: what brute force finds is offered, and what is offered holds by `check`."""
    checked = 0
    for number, (inputs, run) in enumerate(failing_runs(FAILING)):
        (answer,) = repairs(inputs, pairs=number % 25 == 0)
        offered = [repair_words(repair, System.US) for repair in answer.repairs if len(repair.changes) == 1]
        for words in brute_force(inputs, run):
            assert any(words in one for one in offered), (words, offered)
        for repair in answer.repairs:
            repaired = job_with(inputs.job, {repair.run: repair.made})
            assert check(again(inputs, repaired)).verdict == "within", repair.changes
            assert repair.won is None or repair.won > 0
            checked += 1
    assert checked > FAILING


def answers(name: str) -> list[RunRepairs]:
    """The repairs of a scenario."""
    return list(repairs(scenario(name)))


@pytest.mark.parametrize("name", ["over-by-table-within-by-calculation", "old-two-inch-run"])
def test_what_can_be_built_first(name: str) -> None:
    """Route and end as they are before others; what the calculation doubts after; then the smallest first."""
    found = answers(name)[0].repairs
    keys = [
        (r.elsewhere, r.within_by_calculation is False, len(r.changes), r.touched)
        for r in found
    ]  # fmt: skip
    assert keys == sorted(keys) and len(found) > 3
    assert not found[0].elsewhere and any(repair.elsewhere for repair in found)


def test_a_cut_is_as_a_person_measures() -> None:
    """Rounded up to a quarter inch, or to 5 mm where the run is metric; what is whole already stays."""
    vent = scenario("old-two-inch-run").job.runs[0]
    assert least_cut(1.0 * FOOT, vent) == pytest.approx(FOOT)
    assert least_cut(1.001 * FOOT, vent) == pytest.approx(12.25 * 0.0254)
    metric = replace(vent, pieces=None, straight=7.31)
    assert least_cut(0.301, metric) == pytest.approx(0.305)


def test_written_in_the_units_of_the_job() -> None:
    """A metric job stays metric, one in feet stays in feet, whatever the screen shows."""
    run = {"straight": "7.31 m", "pieces": [{"pipe": "900 mm"}, {"pipe": "3 ft"}, {"fitting": "elbow-45"}]}
    assert units_of({"run": [run]}) is System.SI
    assert units_of({"run": [{"pieces": [{"pipe": "3 ft"}, {"pipe": "2 m"}]}]}) is System.US
    assert units_of({"run": [{"pieces": None}, 3, {"straight": 4}]}) is System.US and units_of({}) is System.US


def test_how_sure_the_calculation_is() -> None:
    """Inside by calculation is at least as sure as not, outside at most; a size up throughout is certain."""
    sure = []
    for repair in answers("old-two-inch-run")[0].repairs:
        assert repair.share_inside is not None
        assert (repair.share_inside >= 0.5) is repair.within_by_calculation
        sure.append(repair.share_inside)
    assert max(sure) == pytest.approx(1.0) and min(sure) < 0.5


def test_offset_on_the_slant() -> None:
    """An offset of d becomes a slant of d·√2, and the pipes along it give up d (geometry of the 45° triangle)."""
    inputs = scenario("over-by-table-within-by-calculation")
    run = inputs.job.runs[0]
    place = changes.offsets(run, inputs.catalog)[-1]
    over = (run.pieces or ())[place + 2]
    assert isinstance(over, PipePiece)
    made = changes.offset_on_the_slant(run, place, "elbow-45")
    assert made is not None

    def straight(one: Run) -> float:
        return sum(piece.pipe for piece in one.pieces or () if isinstance(piece, PipePiece))

    assert straight(made) - straight(run) == pytest.approx(over.pipe * (2**0.5 - 2.0))


def test_applied_as_one_edit() -> None:
    """Each repair, written into the file's data and read again, is within."""
    inputs = scenario("over-by-table-within-by-calculation")
    with open(inputs.file, encoding="utf-8") as file:
        data = parse_toml(file.read(), file=inputs.file)
    for answer in repairs(inputs):
        for repair in (*answer.repairs, *answer.savings):
            job = job_from_data(apply_repair(data, repair, inputs=inputs), file=inputs.file)
            assert {r.run.name: r.verdict for r in check(again(inputs, job)).runs}[answer.run] == "within", (
                repair.changes
            )


def test_not_covered_is_not_repaired() -> None:
    """A run the table has no answer for is told so, with no change offered."""
    for answer in answers("not-in-the-table"):
        if answer.verdict == "not covered":
            assert not answer.repairs and not answer.savings
            return
    pytest.fail("the scenario has no run that is not covered")


def test_savings_stay_within() -> None:
    """What is saved on a run within leaves it within, with less to spare or a smaller size."""
    inputs = scenario("two-sizes")
    for answer in repairs(inputs):
        assert answer.savings
        for saving in answer.savings:
            assert check(again(inputs, job_with(inputs.job, {saving.run: saving.made}))).verdict == "within"


def test_two_changes_where_neither_is_enough() -> None:
    """40 ft, two short elbows at 5 ft, an end at 4: 54 of 49 ft. Elbows at 3, or the end at 0, leave 50: one elbow and
    the end 48, both and the end 46."""
    ells = {"elbow-90-short": "5 ft", "elbow-90-long": "3 ft", "terminal-elbow-down": "4 ft", "terminal-open": "0 ft"}
    row = {"input": "80 kBtu/h", "size": "3 in", "altitude": ["0 ft", "4500 ft"], "allowable": "49 ft"}
    short = {"fitting": "elbow-90-short"}
    pieces = [pipe(10, "up"), short, pipe(10, "east"), short, pipe(20, "north"), {"fitting": "terminal-elbow-down"}]
    table = table_from_data({**TABLE, "deductions": ells, "row": [row]}, file="table.toml")
    inputs = prepare(job_from_data(job(pieces), file="job"), file="job", tables={"table.toml": table})
    (answer,) = repairs(inputs)
    here = [repair for repair in answer.repairs if not repair.elsewhere]
    assert all(len(repair.changes) == 2 for repair in here)
    left = {frozenset((c.what.values["old"], c.what.values["count"]) for c in one.changes): one.margin for one in here}
    end = ("terminal-elbow-down", 1)
    assert left == {
        frozenset({("elbow-90-short", 2), end}): pytest.approx(3 * FOOT),
        frozenset({("elbow-90-short", 1), end}): pytest.approx(FOOT),
    }
