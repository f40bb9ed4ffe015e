"""Cold weather: the end of the vent, where it freezes, and what cures it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from ventsize.check.inputs import Inputs, prepare, read_inputs
from ventsize.finding import share
from ventsize.gas.constants import FREEZING
from ventsize.jobfile.job import job_from_text
from ventsize.jobfile.problems import InputError
from ventsize.studies.cold import cold_weather

SCENARIOS = Path(__file__).parents[2] / "scenarios"


def attic(*changes: tuple[str, str]) -> Inputs:
    """The attic scenario, changed."""
    text = (SCENARIOS / "attic-in-the-cold.toml").read_text()
    for before, after in changes:
        assert before in text
        text = text.replace(before, after)
    return prepare(job_from_text(text, file="job.toml"), file="job.toml")


def test_colder_days_are_colder_all_along() -> None:
    """Gas and wall at the end fall with the outdoor temperature, and frost comes nearer to the appliance."""
    study = cold_weather(attic())
    for name in ("high", "low"):
        rates = [rate for rate in study.rates if rate.rate == name]
        assert [r.outdoor for r in rates] == sorted((r.outdoor for r in rates), reverse=True)
        assert [r.terminal_gas for r in rates] == sorted((r.terminal_gas for r in rates), reverse=True)
        assert [r.terminal_wall for r in rates] == sorted((r.terminal_wall for r in rates), reverse=True)
        frost = [r.freezes_at for r in rates if r.freezes_at is not None]
        assert frost == sorted(frost, reverse=True)


def test_the_place_that_freezes_is_the_first_with_the_wall_below_freezing() -> None:
    """Before it the wall is above freezing at every point, and there it is below."""
    for rate in cold_weather(attic()).rates:
        if rate.freezes_at is not None:
            before = [p for p in rate.points if p.distance < rate.freezes_at]
            assert all(point.inside_wall >= FREEZING for point in before)
            assert any(p.distance == rate.freezes_at and p.inside_wall < FREEZING for p in rate.points)


def test_the_insulation_found_just_cures() -> None:
    """With that thickness the coldest inside wall stands at freezing in the doubt of the films, and above without."""
    cure = next(c for c in cold_weather(attic()).cures if c.run == "vent")
    assert cure.thickness is not None
    covered = f'material = "pvc-40"\ninsulation = {{ thickness = "{cure.thickness * 1000:.6f} mm" }}\n'
    study = cold_weather(attic(('material = "pvc-40"\n', covered)))
    design = [rate for rate in study.rates if rate.outdoor == study.rates[0].outdoor]
    assert min(rate.coldest_wall_least for rate in design) == pytest.approx(FREEZING, abs=0.02)
    assert all(rate.coldest_wall > FREEZING for rate in design)


def test_doubt_of_the_films_is_on_the_cold_side() -> None:
    """What is said of the worst is no warmer than what is said as it is: gas, wall and surface of the air pipe."""
    study = cold_weather(attic())
    for rate in study.rates:
        assert rate.terminal_gas_least < rate.terminal_gas
        assert rate.coldest_wall_least < rate.coldest_wall
        assert rate.may_freeze or rate.freezes_at is None
    for sweat in study.sweating:
        assert sweat.coldest_surface_least < sweat.coldest_surface


def test_days_and_insulation_as_typed() -> None:
    """Asked about one day, it answers for that day; insulation typed in stands for the job's own."""
    day = 250.0
    asked = cold_weather(attic(), outdoors=[day], insulation=0.0254)
    assert {rate.outdoor for rate in asked.rates} == {day}
    text = 'material = "pvc-40"\ninsulation = { thickness = "1 in" }\n'
    shown = cold_weather(attic(('material = "pvc-40"\n', text)), outdoors=[day])
    vents = [rate for rate in shown.rates if rate.run == "vent"]
    assert [r.terminal_gas for r in asked.rates if r.run == "vent"] == pytest.approx([r.terminal_gas for r in vents])
    bare = cold_weather(attic(), outdoors=[day])
    assert all(one.coldest_wall > other.coldest_wall for one, other in zip(asked.rates, bare.rates, strict=True))
    with pytest.raises(InputError, match="colder than anywhere"):
        cold_weather(attic(), outdoors=[150.0])


def test_air_pipe_sweats_in_a_damp_room_and_not_in_a_dry_one() -> None:
    """The dew point of a room at 68 °F and 35 % is some 39 °F (psychrometric charts); at 5 % it is below freezing."""
    damp = cold_weather(attic()).sweating
    assert all(s.dew_point == pytest.approx(273.15 + 4.1, abs=0.5) for s in damp)
    assert any(s.sweats for s in damp)
    dry = cold_weather(attic(("indoor_relative_humidity = 0.35", "indoor_relative_humidity = 0.05"))).sweating
    assert not any(s.sweats for s in dry)


def test_what_is_missing_is_asked_for_or_said() -> None:
    """Without an outdoor temperature there is no cold to speak of; an unknown humidity is assumed, and said."""
    inputs = read_inputs(SCENARIOS / "attic-in-the-cold.toml")
    site = replace(inputs.job.site, outdoor=None)
    with pytest.raises(InputError, match="outdoor design temperature"):
        cold_weather(replace(inputs, job=replace(inputs.job, site=site)))
    study = cold_weather(attic(("indoor_relative_humidity = 0.35\n", "")))
    assumed = next(finding for finding in study.cautions if finding.code == "room-humidity-assumed")
    assert assumed.values["humidity"] == share(0.4)
