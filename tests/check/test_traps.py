"""A trap is judged alike wherever it is judged, and without the help of draft."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.studies.support import again, scenario
from ventsize.check.inputs import Inputs
from ventsize.check.traps import TRAP_MARGIN, DrainPressure, worst_collar_pressure
from ventsize.check.verdict import check
from ventsize.finding import Amount
from ventsize.jobfile.job import FittingPiece, PipePiece
from ventsize.studies.checkover import check_over
from ventsize.studies.checkover.rules import read_rules
from ventsize.studies.condensate import condensate

INCH = 0.0254
FOOT = 0.3048


def upright(seal: float, *, cooling: bool = False) -> Inputs:
    """A furnace with a trap seal [m] under 30 ft of 2 in vent, straight up into the cold of −10 °F."""
    base = scenario("simple-pass")
    (appliance,) = base.job.appliances
    vent = replace(
        base.job.runs[0],
        size=2 * INCH,
        pieces=(PipePiece(pipe=30 * FOOT, heading="up"), FittingPiece(fitting="terminal-open")),
    )
    job = replace(
        base.job,
        site=replace(base.job.site, outdoor=249.817),
        appliances=(replace(appliance, trap_seal=seal),),
        runs=(vent, *base.job.runs[1:]),
        cooling=cooling,
    )
    return again(base, job)


def test_draft_that_helps_does_not_help_the_trap() -> None:
    """Static pressure at the collar without draft is what the pipe alone loses: the exit loss is its velocity pressure.

    A seal that is deep enough on a cold day and not on a mild one is not met, in the check-over as in the study.
    """
    inputs = upright(0.65 * INCH)
    (vent, *_) = check(inputs).runs
    lost = max(rate.flow.pieces[0].pressure_drop for rate in vent.rates)
    worst = worst_collar_pressure(check(inputs).runs, "furnace")
    assert worst is not None and worst.unhelped == pytest.approx(lost, rel=1e-9)
    assert worst.helped < worst.unhelped
    assert worst.helped / 9806.65 + 0.5 * INCH < 0.65 * INCH < worst.unhelped / 9806.65 + 0.5 * INCH
    told = next(item for item in check_over(inputs).items if item.key == ("trap-seal", "furnace"))
    assert told.outcome == "not met"
    assert not all(trap.holds for trap in condensate(inputs).traps)


def test_draft_that_hinders_is_not_left_out() -> None:
    """Warm gas led down 30 ft: the collar stands under what the pipe loses and the buoyancy the fan works against."""
    base = upright(0.65 * INCH)
    vent = base.job.runs[0]
    down = (PipePiece(pipe=30 * FOOT, heading="down"), FittingPiece(fitting="terminal-open"))
    inputs = again(base, replace(base.job, runs=(replace(vent, pieces=down), *base.job.runs[1:])))
    found = check(inputs).runs
    worst = worst_collar_pressure(found, "furnace")
    assert all(rate.flow.draft < 0.0 for rate in found[0].rates)
    lost = max(rate.flow.pieces[0].pressure_drop - rate.flow.draft for rate in found[0].rates)
    assert worst is not None and worst.unhelped == pytest.approx(lost, rel=1e-9)
    assert worst.unhelped == pytest.approx(worst.helped, rel=1e-9)
    hindering = [one for one in check(inputs).findings if one.code == "draft-hinders"]
    assert hindering
    for said in hindering:
        against = said.values["draft"]
        assert isinstance(against, Amount) and against.value > 0.0


@pytest.mark.parametrize("cooling", [False, True])
@pytest.mark.parametrize("seal", [0.1, 0.2, 0.3, 0.5, 0.65, 0.7, 0.75, 1.0])
def test_three_answers_about_one_trap(seal: float, cooling: bool) -> None:
    """The check-over and the study say the same of any seal; a caution says so only where the seal is blown out."""
    inputs = upright(seal * INCH, cooling=cooling)
    told = next(item for item in check_over(inputs).items if item.key == ("trap-seal", "furnace"))
    study = condensate(inputs)
    holds = all(trap.holds for trap in study.traps)
    assert (told.outcome == "met") is holds
    assert told.limit == pytest.approx(max(trap.seal_needed for trap in study.traps), rel=1e-12)
    blown = [finding for finding in check(inputs).findings if finding.code == "trap-blows-out"]
    assert [finding for finding in study.findings if finding.code == "trap-blows-out"] == blown
    assert not (blown and holds)
    for one in blown:
        pressed, depth = one.values["pressure"], one.values["seal"]
        assert isinstance(pressed, Amount) and isinstance(depth, Amount)
        assert pressed.value >= depth.value * 9806.65 == pytest.approx(seal * INCH * 9806.65)
    worst = worst_collar_pressure(check(inputs).runs, "furnace")
    assert worst is not None and worst.highest > 0.0
    small = [finding for finding in check(inputs).findings if finding.code == "trap-margin-small"]
    assert bool(small) is not (holds or bool(blown))
    for one in small:
        amounts = {name: amount.value for name, amount in one.values.items() if isinstance(amount, Amount)}
        water = worst.highest / 9806.65  # m, of 4 °C
        expected = {"pressure": worst.highest, "seal": seal * INCH, "spare": seal * INCH - water, "margin": 0.5 * INCH}
        assert amounts == pytest.approx(expected, rel=1e-4)


def test_the_margin_is_that_of_the_rule() -> None:
    """Half an inch (common practice) stands in the rules of the check-over too, where a user may change it."""
    assert read_rules().rules["trap-seal"].bound(material=[], power=None) == pytest.approx(TRAP_MARGIN)


def test_an_appliance_without_a_vent_has_no_pressure() -> None:
    """Nothing is made up for a name that no vent reaches."""
    assert worst_collar_pressure(check(scenario("simple-pass")).runs, "boiler") is None


def test_a_pressure_that_was_not_found_holds_nothing() -> None:
    """No flow, no pressure, and so no pass. With none the margin itself is enough."""
    assert DrainPressure(rate="high", helped=-5.0, unhelped=-5.0).holds(TRAP_MARGIN) is True
    assert DrainPressure(rate="high", helped=-5.0, unhelped=-5.0, settled=False).holds(1.0) is None


@pytest.mark.parametrize(("helped", "unhelped", "blown"), [
    (98.0, 50.0, False), (50.0, 98.0, False), (98.0665, 50.0, True), (50.0, 98.0665, True),
])  # fmt: skip
def test_a_seal_that_the_pressure_just_reaches_is_blown_out(helped: float, unhelped: float, blown: bool) -> None:
    """10 mm of water are 98.0665 Pa, with the help of draft or without it."""
    drain = DrainPressure(rate="high", helped=helped, unhelped=unhelped)
    assert drain.blows_out(0.01) is blown
