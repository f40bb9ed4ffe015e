"""Whether the readings are as they should be, to be read again, or off, and what is said of it."""

from __future__ import annotations

import copy
import math
from dataclasses import replace

import pytest

from tests.studies.diagnosed import LONG, blocked, found, kinds, leading, visit, why
from tests.studies.readings_of import SCENARIOS, Data, data_of, inputs_of, reading
from ventsize.check.inputs import read_inputs
from ventsize.finding import Finding
from ventsize.studies.diagnosis import _evidence, diagnose
from ventsize.studies.diagnosis.causes import suspects
from ventsize.studies.diagnosis.together import Together, unexplained
from ventsize.studies.readings import look


def test_a_sound_vent_is_not_the_fault() -> None:
    """Readings as the vent should give them: look elsewhere, and what they would not show is said."""
    result = found(*visit(data_of(LONG)))
    assert result.outcome == "as it should be"
    assert "look-elsewhere" in why(result)
    assert "switch" in {kind for kind, _ in result.unseen}
    noticed = {one.kind: one.size for one in result.noticed}
    assert {"terminal", "inside", "water", "air pipe", "leak"} <= set(noticed)
    terminal = noticed["terminal"]
    assert terminal.of is not None and 0.4 * terminal.of < terminal.value < terminal.of


def test_what_could_be_there_all_the_same_is_worth_a_look() -> None:
    """Of a vent that reads as it should: first what the readings speak for, if faintly, then what they cannot show."""
    data = data_of(LONG)
    result = diagnose(inputs_of(data, *visit(data)))
    unseen = [kind for kind, _ in result.unseen]
    assert unseen == ["switch"] and result.hardly_shown[-1] == "switch"
    hinted = {cause.kind for group in result.groups for cause in group.causes if cause.score < result.chi_square}
    assert set(result.hardly_shown[:-1]) == hinted
    assert len(result.looks) == min(len(result.hardly_shown), 3)
    again = diagnose(inputs_of({**data, "symptom": [{"what": "switch tubing is clear"}]}, *visit(data)))
    assert again.outcome == "as it should be" and again.hardly_shown == result.hardly_shown[:-1]


def test_places_that_cannot_be_seen_stay_as_likely_as_nothing_wrong() -> None:
    """The evidence for a kind is the average over its places; readings say nothing against those they do not show."""
    inputs = inputs_of(data_of(LONG), visit(data_of(LONG))[0])
    result, fitter = diagnose(inputs), _evidence(inputs, look(inputs)).fitter
    scores = {cause.kind: cause.score for group in result.groups for cause in group.causes}
    for kind, hidden in (("wind", 1), ("leak", 2)):
        places = [one for one in suspects(fitter.model) if one.kind == kind]
        each = [fitter.fit(one).score if fitter.seen(one) else result.chi_square for one in places]
        assert sum(not fitter.seen(one) for one in places) == hidden
        likely = [math.exp(-score / 2.0) for score in each]
        assert scores[kind] == pytest.approx(-2.0 * math.log(sum(likely) / len(likely)), abs=1e-6)


def past_its_band(taken: list[Data], number: int, accuracies: float) -> list[Data]:
    """The readings with one of them so far above its band, in accuracies."""
    sound = found(*taken).readings.readings[number]
    assert sound.high is not None
    made = copy.deepcopy(taken)
    unit = "Pa" if sound.kind == "pressure" else "K"
    made[number][sound.kind] = f"{sound.high + accuracies * sound.accuracy:.4f} {unit}"
    return made


def with_temperatures() -> list[Data]:
    """A visit with the flue gas's temperature read at both rates."""
    warm = [reading("collar", rate, temperature=felt) for rate, felt in (("high", "110 degF"), ("low", "100 degF"))]
    return [*visit(data_of(LONG)), *warm]


SWITCH_ACROSS = [("0.60 in w.c.", "low"), ("0.81 in w.c.", "low"), ("0.83 in w.c.", "low"), ("0.849 in w.c.", "low"),
                 ("0.86 in w.c.", "marginal"), ("0.93 in w.c.", "marginal"), ("0.97 in w.c.", "expected"),
                 ("1.30 in w.c.", "expected"), ("1.60 in w.c.", "expected")]  # fmt: skip


@pytest.mark.parametrize(("across", "verdict"), SWITCH_ACROSS)
def test_a_switch_is_judged_by_its_setting_alone(across: str, verdict: str) -> None:
    """Below it the switch opens, within 0.10 in w.c. of it is marginal, more is fine; no inducer is described.

    A healthy margin leaves the vent sound; one that is too small never says to look elsewhere, and is never all well.
    """
    taken = [*visit(data_of(LONG)), reading("switch", pressure=across)]
    result = found(*taken)
    assert result.readings.readings[-1].verdict == verdict
    assert (result.outcome == "something is off") is (verdict == "low")
    assert ("reading-marginal" in why(result)) is (verdict == "marginal")
    assert ("look-elsewhere" in why(result)) is result.all_well is (verdict == "expected")


def test_a_low_switch_beside_a_blocked_vent_is_the_vents_doing() -> None:
    """Nothing says that the inducer holds its flow: a blockage may lower what arrives at the switch."""
    taken = [*visit(blocked(data_of(LONG), 5, 8.0)), reading("switch", pressure="0.88 in w.c.")]
    result = found(*taken)
    assert {"terminal", "inside", "longer"} & kinds(result.groups[0])
    assert leading(result).misses == ()


def test_one_reading_just_past_its_accuracy_is_worth_repeating() -> None:
    """Instruments are off by more than they state now and then: marked and said, but the vent is not called off."""
    result = found(*past_its_band(with_temperatures(), 5, 1.1))
    assert result.readings.readings[5].verdict == "high"
    assert result.outcome == "as it should be" and result.repeat == 6
    assert Finding("reading-just-past", values={"readings": ("6",)}) in result.reasons


@pytest.mark.parametrize(("accuracies", "outcome"), [(1.7, "read again"), (4.0, "something is off")])
def test_one_reading_far_out_is_no_pass(accuracies: float, outcome: str) -> None:
    """However well the others agree; where no cause does better than nothing wrong, it is read again."""
    result = found(*past_its_band(with_temperatures(), 5, accuracies))
    assert result.outcome == outcome and result.repeat is None and not result.all_well
    assert ("readings-not-explained" in why(result)) is (outcome == "read again")


def test_without_others_to_judge_by_a_reading_just_past_is_off() -> None:
    """A single reading has nothing beside it that would speak for the vent."""
    assert found(*past_its_band(visit(data_of(LONG))[:1], 0, 1.1)).outcome == "something is off"


def test_a_collar_just_past_its_accuracy_at_both_rates_is_no_pass() -> None:
    """Two readings that agree are no instrument's slip, though no cause explains them better than nothing wrong."""
    result = found(*past_its_band(past_its_band(with_temperatures(), 0, 1.1), 1, 1.1))
    assert result.outcome == "read again" and not result.all_well


def test_marks_stand_below_a_setting_and_where_nothing_is_compared() -> None:
    """A switch that opens is a fault whatever explains it, and CO is compared with nothing."""
    study = found(*visit(data_of(LONG)), reading("switch", pressure="0.60 in w.c.")).readings
    little = Together(chance=0.5, gained=0.0, on_the_pipe=0.0)
    assert study.readings[-1].off and unexplained(study, little) == ()
    marked = found(*past_its_band(with_temperatures(), 5, 4.0)).readings
    assert [one.number for one in unexplained(marked, little)] == [6]
    assert unexplained(marked, replace(little, gained=4.1)) == ()


def test_together_off_though_each_alone_could_be_right() -> None:
    """High at the one rate and low at the other, each inside its band: no elbow is like that."""
    sound = found(*visit(data_of(LONG))).readings.readings
    taken = visit(data_of(LONG))
    first, second = sound[0], sound[1]
    assert first.high is not None and second.low is not None
    taken[0]["pressure"], taken[1]["pressure"] = f"{first.high:.3f} Pa", f"{second.low:.3f} Pa"
    result = found(*taken)
    assert all(one.verdict == "expected" for one in result.readings.readings)
    assert result.outcome == "something is off"
    assert why(result) == {"readings-off-together"}


@pytest.mark.parametrize("accuracies", [0.0, 0.9])
def test_a_single_reading_that_could_be_right_is_right(accuracies: float) -> None:
    """Up to its accuracy past the band: it is as expected, and there is nothing to be wrong together with."""
    alone = past_its_band(visit(data_of(LONG))[:1], 0, accuracies)
    result = found(*alone)
    assert result.readings.readings[0].verdict == "expected"
    assert result.outcome == "as it should be"


def test_one_reading_is_not_wrong_together_with_itself() -> None:
    """0.050 in w.c. by a gauge good to 0.010, where 0.042 is the most: as expected, though a longer vent fits."""
    alone = {"place": "collar", "rate": "high", "pressure": "0.05 in w.c.", "accuracy": "0.01 in w.c."}
    result = diagnose(inputs_of(data_of("simple-pass"), alone))
    assert result.readings.readings[0].verdict == "expected"
    assert result.outcome == "as it should be"


@pytest.mark.parametrize(
    ("chance", "gained", "strange"),
    [(0.5, 3.1, True), (0.5, 2.9, False), (0.009, 2.1, True), (0.009, 1.9, False), (0.011, 2.1, False)],
)
def test_what_is_strange_though_nothing_is_marked(chance: float, gained: float, strange: bool) -> None:
    """A cause that explains plainly more; or a little more, of readings that one sound vent in a hundred would give."""
    assert Together(chance=chance, gained=gained, on_the_pipe=gained).strange is strange


def test_a_doubtful_reading_is_left_out_and_said() -> None:
    """The rest being right, the vent is not called sound before the doubtful one is read again."""
    taken = visit(data_of(LONG))
    taken[3]["oxygen"] = "20.9 %"
    result = found(*taken)
    assert result.outcome == "read again"
    assert Finding("readings-cannot-be-right", values={"readings": ("4",)}) in result.reasons
    only = found(reading("collar", oxygen="20.9 %"))
    assert only.outcome == "read again" and not only.groups


def test_a_vent_that_reads_as_calculated_can_still_be_too_long() -> None:
    """The table's verdict stands beside the readings, and its length is then the finding."""
    result = diagnose(read_inputs(SCENARIOS / "second-visit.toml"))
    assert result.outcome == "as it should be" and not result.all_well
    assert result.by_table.verdict == "over" and result.by_table.decides.because.code == "length-over"
    assert "look-elsewhere" not in why(result) and "length-is-the-finding" in why(result)


def test_without_a_table_the_length_is_left_open() -> None:
    """Nothing says whether it is allowed, so nothing says that the vent is all right."""
    data = data_of(LONG)
    data["run"] = [{key: value for key, value in run.items() if key != "table"} for run in data["run"]]
    data.pop("tables", None)
    result = diagnose(inputs_of(data, *visit(data_of(LONG))))
    assert result.outcome == "as it should be" and result.by_table.verdict == "incomplete"
    assert "length-not-settled" in why(result)
