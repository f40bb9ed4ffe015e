"""A variant as the data of a job file, so that it can be gone on with and saved."""

from __future__ import annotations

from ventsize.check.inputs import Inputs
from ventsize.jobfile.editing import Data, put, units_of, value_at, variant
from ventsize.jobfile.job import Appliance, Rate, Site
from ventsize.jobfile.lesson import Changed
from ventsize.quantity import Dimension, System, show, show_fraction, show_power, show_temperature
from ventsize.studies.altering.altered import altered_job
from ventsize.studies.altering.run_data import apply_runs


def altered_data(data: Data, inputs: Inputs, changed: Changed) -> Data:
    """The data of a job with something changed, its title told apart; a lesson's questions are left out.

    data: of the job that `inputs` were looked up from. Raises EditError where a run is not there any more.
    """
    after = altered_job(inputs, changed)
    runs = {new.name: new for new, old in zip(after.runs, inputs.job.runs, strict=True) if new is not old}
    typed_in = units_of(data)
    made = apply_runs(data, before=inputs.job, after=runs, catalog=inputs.catalog)
    made = _site(made, inputs.job.site, after.site, typed_in)
    for number, (old, new) in enumerate(zip(inputs.job.appliances, after.appliances, strict=True)):
        made = _appliance(made, number, old, new, typed_in)
    if "lesson" in made:
        made = put(made, ("lesson",), None)
    return variant(made)


def _site(data: Data, old: Site, new: Site, typed_in: System) -> Data:
    if new.altitude is not None and new.altitude != old.altitude:
        data = put(data, ("site", "altitude"), show(new.altitude, Dimension.LENGTH, typed_in, style="altitude"))
    if new.outdoor is not None and new.outdoor != old.outdoor:
        data = put(data, ("site", "outdoor"), show_temperature(new.outdoor, typed_in))
    return data


def _appliance(data: Data, number: int, old: Appliance, new: Appliance, typed_in: System) -> Data:
    if new.fuel != old.fuel:
        data = put(data, ("appliance", number, "fuel"), new.fuel)
    for place, (before, rate) in enumerate(zip(old.rates, new.rates, strict=True)):
        data = _rate(data, ("appliance", number, "rate", place), before, rate, typed_in)
    return data


def _rate(data: Data, at: tuple[str | int, ...], old: Rate, new: Rate, typed_in: System) -> Data:
    if new.input != old.input:
        data = put(data, (*at, "input"), show_power(new.input, typed_in))
    if new.flue_temperature != old.flue_temperature:
        data = put(data, (*at, "flue_temperature"), show_temperature(new.flue_temperature, typed_in))
    if new.excess_air is not None and new.excess_air != old.excess_air:
        for key in ("oxygen", "carbon_dioxide"):
            if value_at(data, (*at, key)) is not None:
                data = put(data, (*at, key), None)
        data = put(data, (*at, "excess_air"), show_fraction(new.excess_air))
    return data
