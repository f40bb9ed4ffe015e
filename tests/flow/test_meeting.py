"""Where runs meet: head-on tees, changes of size nobody listed, idle collars, and mixed streams."""

from __future__ import annotations

import json
import math
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from tests.check.jobs import checked, job, pipe, run, two_furnaces
from tests.words import codes
from ventsize.check.inputs import read_inputs
from ventsize.check.verdict import check
from ventsize.cli import main
from ventsize.flow.junctions import head_on_loss, merging_loss, parting_loss
from ventsize.flow.meeting import Meeting, _findings, _parted_at_collars, _stagnant_at, unlisted_changes
from ventsize.flow.stream import Stream, mix_streams
from ventsize.gas.condensation import dew_point
from ventsize.gas.mixture import Mixture, mixture_of

AREA_4_IN = 0.785398 * 0.10154**2  # m²; schedule 40, average bore: 4.5 - 2.12 x 0.237 in

TWO_SIZES = '[[run]]\nname = "end"\ncarries = "flue gas"\nbetween = ["j", "outdoors"]\nsize = "4 in"\nmaterial = "pvc-40"\npieces = [{ pipe = "9 ft" }]\n'  # noqa: E501


@pytest.mark.parametrize("share", [0.0, 0.25, 0.5, 0.75, 1.0])
def test_a_head_on_tee_is_charged_no_less_than_a_turn(share: float) -> None:
    """A momentum balance gives a turn at least the whole velocity pressure where streams part; on the high side of
    Crane's turn into, or out of, the branch where one leg carries it all."""
    parting = head_on_loss(branch_bore=0.08, run_bore=0.08, share=share, merging=False)
    assert parting >= 1.0
    one_way = head_on_loss(branch_bore=0.08, run_bore=0.08, share=1.0, merging=False)
    assert (
        one_way >= merging_loss(angle=1.5708, run_bore=0.08, branch_bore=0.08, run_flow=0.0, branch_flow=1.0).k_branch
    )
    other_way = head_on_loss(branch_bore=0.08, run_bore=0.08, share=1.0, merging=True)
    crane = parting_loss(angle=1.5708, run_bore=0.08, branch_bore=0.08, run_flow=0.0, branch_flow=1.0).k_branch
    assert other_way >= crane


@pytest.mark.parametrize(
    ("leg", "share", "merging", "k"),
    [
        # legs as wide as the branch, and legs of twice its area, by Idelchik's formulas as the code quotes them
        (1.0, 0.5, True, 1.0 + 1.0 - 0.75), (1.0, 0.2, True, 1.0 + 1.0 - 0.48), (2.0, 0.5, True, 1.0 + 0.25 * 0.25),
        (1.0, 0.5, False, 1.0 + 1.5 * 0.25), (2.0, 0.5, False, 1.0 + 1.5 * 0.0625), (2.0, 0.0, False, 1.0),
    ],
)  # fmt: skip
def test_head_on_tees_by_hand(leg: float, share: float, merging: bool, k: float) -> None:
    """Streams that meet, 1 + r2 (1 + 3 (x2 - x)), and one that parts, 1 + 1.5 r2 x2; r of the areas, x the share."""
    found = head_on_loss(branch_bore=0.08, run_bore=0.08 * leg**0.5, share=share, merging=merging)
    assert found == pytest.approx(k)


@pytest.mark.parametrize("bores", [(0.0, 0.08), (0.08, 0.0)])
def test_a_tee_has_bores(bores: tuple[float, float]) -> None:
    """None is refused, not divided by."""
    for merging in (True, False):
        with pytest.raises(ValueError, match="above zero"):
            head_on_loss(branch_bore=bores[0], run_bore=bores[1], share=0.5, merging=merging)


def test_two_sizes_that_meet_are_charged_and_said(root: Path, tmp_path: Path) -> None:
    """A change of size between two runs does not vanish for want of a fitting (Borda-Carnot, section B2)."""
    text = (root / "scenarios" / "simple-pass.toml").read_text(encoding="utf-8")
    text = text.replace('between = ["furnace", "outdoors"]', 'between = ["furnace", "j"]', 1)
    text = text.replace('  { fitting = "terminal-open" },\n', "", 1)
    job = tmp_path / "job.toml"
    job.write_text(text + TWO_SIZES, encoding="utf-8")
    checked = check(read_inputs(job))
    vent = checked.runs[0].rates[0].flow
    (change,) = vent.junctions
    small, large = vent.run.last_section.area, checked.runs[-1].rates[0].flow.run.first_section.area
    assert change.k == pytest.approx((1.0 - small / large) ** 2)
    assert "size-change-at-joint" in codes(checked)


def test_runs_that_meet_without_a_fitting_are_said_where_they_are_three() -> None:
    """Two runs of one size in line lose nothing where they meet; of three without a tee the loss is left out."""
    in_line = [
        run("first", "furnace", "j", pipe(10)), run("second", "j", "outdoors", pipe(10), {"fitting": "terminal-open"}),
    ]  # fmt: skip
    for data, said in ((job(runs=in_line), False), (two_furnaces(), False), ({**two_furnaces(), "joint": []}, True)):
        assert ("junction-loss-left-out" in codes(checked(data))) is said


def test_idle_collars_are_shown(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In a common vent each appliance that is off has its collar's pressure, at the worst of the combinations.

    By hand, with draft left out: the static pressure in an idle leg is what the common run still has to lose; in the
    leg in line, "branch 1", also 0.55 velocity pressures of the stream that comes from the branch (Crane TP-410, all
    of it from the branch of a 90 degree tee: 1.55 - 1). What the formula takes off an idle branch is not counted.
    """
    main(["check", str(root / "scenarios" / "common-vent.toml"), "--json"])
    shown = json.loads(capsys.readouterr().out)
    collars = {collar["appliance"]: collar for collar in shown["idle_collars"]}
    assert set(collars) == {appliance["name"] for appliance in shown["appliances"]}
    (common,) = (run for run in shown["runs"] if run["name"] == "common")
    for name, collar in collars.items():
        (run,) = (run for run in shown["runs"] if run["name"] == collar["run"])
        assert f"{name} off" in collar["rate"]
        (rate,) = (rate for rate in run["rates"] if rate["name"] == collar["rate"])
        assert rate["static_pressure_at_appliance_Pa"] == collar["static_pressure_Pa"]
        k = 0.55 if run["name"] == "branch 1" else 0.0
        drops = {
            rate["name"]: rate["pressure_drop_Pa"]
            + k * 0.5 * rate["mass_flow_kg_s"] ** 2 / (rate["density_kg_m3"] * AREA_4_IN**2)
            for rate in common["rates"]
            if f"{name} off" in rate["name"]
        }
        assert collar["static_pressure_without_draft_Pa"] == pytest.approx(max(drops.values()), rel=1e-3)
        assert collar["static_pressure_without_draft_Pa"] > collar["static_pressure_Pa"]


def test_help_from_draft_hides_no_pressure_in_a_common_vent(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """On the job's cold day draft holds the common vent below the pressure outdoors; it is flagged all the same."""
    main(["check", str(root / "scenarios" / "common-vent.toml"), "--json"])
    shown = json.loads(capsys.readouterr().out)
    (vent,) = shown["common_vents"]
    assert vent["under_pressure"] and vent["serves"] == ["boiler 1", "boiler 2"]
    assert vent["worst_rate"] == "boiler 1 high + boiler 2 high"
    assert all(collar["static_pressure_Pa"] < 0.0 for collar in shown["idle_collars"])
    main(["check", "--full", str(root / "scenarios" / "common-vent.toml")])
    text = " ".join(capsys.readouterr().out.split())
    assert "UNDER PRESSURE" in text and "flue gas is pushed back into it" in text


def test_divided_gas_is_never_within(root: Path) -> None:
    """A table is for one pipe: two side by side are solved, and never passed."""
    checked = check(read_inputs(root / "scenarios" / "parallel-pipes.toml"))
    assert checked.verdict == "not covered"
    assert all(rate.flow.settled for run in checked.runs for rate in run.rates)


TEE_LEGS = Meeting(joint="t", fitting="tee", legs=("a", "b", "c"), bores=(0.08, 0.1, 0.06))


@pytest.mark.parametrize(
    ("arriving", "combined"),
    [
        ((0.6, -1.0, 0.4), 1), ((-1.0, 0.6, 0.4), 0), ((1.0, -0.6, -0.4), 0), ((-0.6, 1.0, -0.4), 1),
        ((0.4, 0.6, -1.0), 2), ((-0.4, -0.6, 1.0), 2), ((1.0, -1.0, 0.0), 0), ((0.0, 1.0, -1.0), 1),
        ((1.0, 0.0, -1.0), 0),
    ],
)  # fmt: skip
def test_the_leg_that_carries_it_all(arriving: tuple[float, float, float], combined: int) -> None:
    """Of two that carry as much one in line, so that the branch never stands for a straight leg at rest."""
    assert TEE_LEGS.combined(arriving) == combined


def test_collars_where_gas_parts() -> None:
    """Said of an appliance with two runs at its collar, not of one with one."""
    runs: Any = {name: SimpleNamespace(start=start, end="j") for name, start in (("x", "a"), ("y", "a"), ("z", "b"))}
    graph: Any = SimpleNamespace(appliances=("a", "b", "c"))
    assert [one.where.appliance for one in _parted_at_collars(graph, runs)] == ["a"]
    assert TEE_LEGS.coefficients((0.0, 0.0, 0.0)) == (0.0, 0.0, 0.0)


@pytest.mark.parametrize("fitting", ["tee", "wye"])
@pytest.mark.parametrize("arriving", [(0.6, -1.0, 0.4), (-1.0, 0.7, 0.3), (1.0, -0.6, -0.4), (-0.1, 1.0, -0.9)])
def test_a_branch_joins_or_leaves_by_crane(fitting: str, arriving: tuple[float, float, float]) -> None:
    """The straight leg's and the branch's on the bore of the combined one, whichever of the two in line that is, a
    branch wider than it taken as wide; pressures on its velocity, higher upstream where they join."""
    for bores in ((0.08, 0.1, 0.06), (0.08, 0.1, 0.09)):
        meeting = Meeting(joint="t", fitting=fitting, legs=("a", "b", "c"), bores=bores)
        at = meeting.combined(arriving)
        joins = arriving[at] < 0.0
        loss = (merging_loss if joins else parting_loss)(
            angle=math.pi / (2 if fitting == "tee" else 4), run_bore=bores[at], branch_bore=min(bores[2], bores[at]),
            run_flow=abs(arriving[1 - at]), branch_flow=abs(arriving[2]),
        )  # fmt: skip
        expected = [0.0, 0.0, loss.k_branch]
        expected[1 - at] = loss.k_run
        assert meeting.coefficients(arriving) == pytest.approx(tuple(expected))
        twice = [2.0 * flow for flow in arriving]
        unit = 4.0 * (5.0, 7.0)[at] * (1.0 if joins else -1.0)
        raised = meeting.pressures(twice, per_flow=(5.0, 7.0, 11.0))
        assert raised == pytest.approx(tuple(k * unit for k in expected))


@pytest.mark.parametrize("merging", [True, False])
def test_a_branch_that_carries_it_all_is_a_head_on_tee(merging: bool) -> None:
    """Each leg by its own bore and share; pressures on the branch's velocity."""
    arriving = [0.6, 1.4, -2.0] if merging else [-0.6, -1.4, 2.0]
    expected = [
        head_on_loss(branch_bore=0.06, run_bore=bore, share=share, merging=merging)
        for bore, share in ((0.08, 0.3), (0.1, 0.7))
    ]
    assert TEE_LEGS.coefficients(arriving) == pytest.approx((*expected, 0.0))
    sign = 44.0 if merging else -44.0
    assert TEE_LEGS.pressures(arriving, per_flow=(5.0, 7.0, 11.0)) == pytest.approx(
        (sign * expected[0], sign * expected[1], 0.0)
    )


@pytest.mark.parametrize("share", [0.001, 0.005, 0.0199])
def test_a_branch_that_begins_to_feed_passes_from_one_loss_to_the_other(share: float) -> None:
    """Straight over the first fiftieth of the flow: from what it gained as the stream fed it to what it loses."""
    branch_fed = parting_loss(angle=math.pi / 2, run_bore=0.1, branch_bore=0.06, run_flow=1.0, branch_flow=0.0).k_branch
    feeding = merging_loss(angle=math.pi / 2, run_bore=0.1, branch_bore=0.06, run_flow=1.0 - share, branch_flow=share)
    part = share / 0.02
    found = TEE_LEGS.coefficients((1.0 - share, -1.0, share))
    assert found == pytest.approx((feeding.k_run, 0.0, part * feeding.k_branch - (1.0 - part) * branch_fed))


@pytest.mark.parametrize("still", [0, 1])
@pytest.mark.parametrize("merging", [True, False])
@pytest.mark.parametrize("share", [0.001, 0.01, 0.0199])
def test_a_straight_leg_that_begins_to_flow_passes_from_one_loss_to_the_other(
    still: int, merging: bool, share: float
) -> None:
    """Straight over the first fiftieth: from the whole stream turning between the branch and the other leg, by Crane on
    that leg's velocity, to two streams head-on."""
    arriving = [1.0 - share, 1.0 - share, -1.0]
    arriving[still] = share
    arriving = arriving if merging else [-flow for flow in arriving]
    bores = (0.08, 0.1)
    turned = (parting_loss if merging else merging_loss)(
        angle=math.pi / 2, run_bore=bores[1 - still], branch_bore=0.06, run_flow=0.0, branch_flow=1.0
    )
    ratio, part = (0.06 / bores[1 - still]) ** 4, share / 0.02
    before = [0.0, 0.0]
    before[1 - still], before[still] = turned.k_branch * ratio, (turned.k_branch - turned.k_run) * ratio
    after = [
        head_on_loss(branch_bore=0.06, run_bore=bore, share=abs(flow), merging=merging)
        for bore, flow in zip(bores, arriving, strict=False)
    ]
    expected = [part * b + (1.0 - part) * a for a, b in zip(before, after, strict=True)]
    assert TEE_LEGS.coefficients(arriving) == pytest.approx((*expected, 0.0))


@pytest.mark.parametrize(
    ("bores", "arriving", "codes_there"),
    [
        ((0.08, 0.1, 0.085), (-1.0, 0.6, 0.4), ["branch-wider-than-run", "runs-in-line-differ"]),
        ((0.08, 0.1, 0.09), (0.6, -1.0, 0.4), ["runs-in-line-differ"]),
        ((0.08, 0.08, 0.08), (0.6, -1.0, 0.4), []),
        ((0.08, 0.08, 0.09), (0.4, 0.6, -1.0), ["head-on-junction"]),
        ((0.08, 0.08, 0.09), (0.0, 0.0, 0.0), []),
    ],
)  # fmt: skip
def test_what_is_said_of_a_tee(
    bores: tuple[float, float, float], arriving: tuple[float, float, float], codes_there: list[str]
) -> None:
    """A branch wider than the leg that carries it all, legs in line of two sizes, streams head-on; nothing at rest."""
    found = _findings(Meeting(joint="t", fitting="tee", legs=("a", "b", "c"), bores=bores), arriving)
    assert [one.code for one in found] == codes_there


@pytest.mark.parametrize("merging", [True, False])
def test_a_leg_at_rest_is_raised_or_drawn_at_by_crane(merging: bool) -> None:
    """All of a stream of 0.1 Pa turns between the branch and the other straight leg: the leg at rest stands apart by
    Crane's coefficient of a straight leg without flow; help is left out, for a vent and for an air pipe."""
    sign = 1.0 if merging else -1.0
    loss = merging_loss if merging else parting_loss
    k = loss(angle=math.pi / 2, run_bore=0.1, branch_bore=0.06, run_flow=0.0, branch_flow=1.0).k_run
    ends = {"a": ("x", "t"), "b": ("t", "outdoors"), "c": ("y", "t")}
    graph: Any = SimpleNamespace(runs={name: SimpleNamespace(start=s, end=e) for name, (s, e) in ends.items()})
    at_joint = SimpleNamespace(at_joint=lambda joint: SimpleNamespace(dynamic_pressure=0.1))
    walks: Any = dict.fromkeys(ends, at_joint)
    flows = {"a": 0.0, "b": sign, "c": sign}
    found = {way: _stagnant_at(graph, TEE_LEGS, flows, walks, outwards=way) for way in (True, False)}
    raised = sign * k * 0.1
    assert k != 0.0
    assert found[raised > 0.0] == {"a": pytest.approx(raised)}
    assert found[raised < 0.0] == {}


@pytest.mark.parametrize(("bore", "k"), [(0.1, (0.0, 0.0)), (0.2, (0.5625, 0.375))])
def test_a_change_of_size_without_a_fitting(bore: float, k: tuple[float, float]) -> None:
    """Sudden widening by Borda-Carnot, (1 - r)^2, and narrowing, 0.5 (1 - r), r of the areas: any textbook. Two runs of
    one size have none."""
    section = {"small": SimpleNamespace(bore=0.1), "large": SimpleNamespace(bore=bore)}
    runs: Any = {
        name: SimpleNamespace(start=start, end=end, section_at=lambda joint, at=section[name]: at)
        for name, start, end in (("large", "t", "outdoors"), ("small", "furnace", "t"))
    }
    found = unlisted_changes(SimpleNamespace(appliances=["furnace"]), runs)  # type: ignore[arg-type]
    assert [(one.widening, one.narrowing) for one in found.values()] == ([k] if any(k) else [])


def stream(mixture: Mixture, mass_flow: float, temperature: float) -> Stream:
    """At one atmosphere."""
    return Stream(mass_flow=mass_flow, mixture=mixture, temperature=temperature, pressure=101_325.0)


WARM = mixture_of({"nitrogen": 0.72, "oxygen": 0.05, "carbon dioxide": 0.08, "water": 0.15})
COOL = mixture_of({"nitrogen": 0.79, "oxygen": 0.15, "carbon dioxide": 0.02, "water": 0.01})


def test_mixed_streams_as_by_cantera() -> None:
    """Temperature and composition of two mixed streams against Cantera (gri30), to 0.1 K and 1e-6."""
    cantera = pytest.importorskip("cantera")
    gas = cantera.Solution("gri30.yaml")
    names = {"nitrogen": "N2", "oxygen": "O2", "carbon dioxide": "CO2", "water": "H2O"}
    parts = []
    for mixture, mass, temperature in ((WARM, 0.012, 390.0), (COOL, 0.02, 300.0)):
        gas.TPX = temperature, 101_325.0, {names[n]: x for n, x in mixture.mole_fractions}
        part = cantera.Quantity(gas, mass=mass)
        part.constant = "HP"
        parts.append(part)
    theirs = parts[0] + parts[1]
    ours = mix_streams([stream(WARM, 0.012, 390.0), stream(COOL, 0.02, 300.0)])
    assert ours.temperature == pytest.approx(theirs.T, abs=0.1)
    for name, short in names.items():
        assert ours.mixture.fraction(name) == pytest.approx(theirs.X[gas.species_index(short)], abs=1e-6)


def test_a_mixture_below_its_dew_point_sheds_water() -> None:
    """Saturated warm gas met by cold air: water leaves, and what stays is just saturated."""
    mixed = mix_streams([stream(WARM, 0.012, 328.0), stream(COOL, 0.02, 262.0)])
    assert mixed.mass_flow < 0.032
    assert mixed.temperature == pytest.approx(dew_point(mixed.mixture, pressure=101_325.0), abs=1e-3)


def test_streams_at_rest_do_not_count() -> None:
    """Of one that flows and one that does not, the one that flows; of several at rest, the first; of two alike, both
    together."""
    warm, cool = stream(WARM, 0.012, 390.0), stream(COOL, 0.02, 300.0)
    still = stream(COOL, 0.0, 300.0)
    assert mix_streams([still, warm]) is warm and mix_streams([still, stream(WARM, 0.0, 350.0)]) is still
    assert mix_streams([cool, cool, still]) == stream(COOL, 0.04, 300.0)
    hotter = mix_streams([cool, stream(COOL, 0.02, 320.0)])
    assert hotter.temperature == pytest.approx(310.0, abs=0.1) and hotter.mass_flow == pytest.approx(0.04)
