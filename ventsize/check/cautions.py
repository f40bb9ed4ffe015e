"""What has to be said beside a result: about this job first, then what always holds."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from ventsize.allowance.implied import remarks_on_deductions
from ventsize.allowance.plausibility import order_remarks, unknown_fittings
from ventsize.catalog.records import same_size
from ventsize.check.appliances import ASSUMED_OUTDOOR, ApplianceGas
from ventsize.check.collars import common_vents, idle_collars
from ventsize.check.inputs import Inputs
from ventsize.check.limits import limit_unknown, too_hot_for
from ventsize.check.result import RunCheck, RunRate
from ventsize.check.traps import trap_cautions
from ventsize.check.unusual import unusual
from ventsize.flow.solve import RateFlow
from ventsize.gas.derating import derated_inputs
from ventsize.quantity import Dimension, System, show_apart, show_power, show_pressure, show_temperature

ALWAYS = (
    "This is an estimate. The appliance maker's instructions and the local code decide, and the work belongs to a "
    "licensed installer; use only pipe and fittings that those instructions list.",
    "A vent that is too long, blocked, leaking or wrongly built can put carbon monoxide in a building. After any "
    "change to a vent: a combustion check, a leak check, and a working CO alarm.",
    "For appliances whose fan pushes the flue gas out under pressure. A natural-draft appliance with a draft hood "
    "must not be sized this way.",
)

ONE_TEMPERATURE = (
    "the gas is figured at one temperature all along each run; a long or cold run cools and loses a little less "
    "(check --cooling, or cooling = true in the job, follows it)"
)
COOLS = (
    "the gas is figured as cooling along each run, with the vapour that condenses on a wet wall and the mist that "
    "forms where streams meet. Films and insulation are known to some 20 %; water that has left the gas is not "
    "taken up again"
)


def for_job(
    inputs: Inputs,
    *,
    appliances: Sequence[ApplianceGas],
    rates: Sequence[RateFlow],
    runs: Sequence[RunCheck],
    system: System,
    assumed: Sequence[str] | None = None,
) -> tuple[str, ...]:
    """Every caution that goes with a result, each once, those of this job first.

    assumed: what was assumed of the air around the pipes; None where the gas is figured at one temperature.
    """
    said = [f"run '{check.run.name}': {hot}" for check in runs for hot in _too_hot(check, system)]
    said += [*_readings_kept(inputs), *_table_cautions(inputs, system), *unusual(inputs.job, system)]
    for check in runs:
        said += _run_cautions(check, system)
    for rate in rates:
        said += rate.cautions
    said += _site_cautions(inputs, system)
    said += [ONE_TEMPERATURE] if assumed is None else [*assumed, COOLS]
    said += _appliance_cautions(inputs, appliances, system)
    said += _collar_cautions(inputs, runs)
    said += trap_cautions({a.name: a.trap_seal for a in inputs.job.appliances}, runs, system)
    said += _shared_vent(runs, system)
    said += _combinations(appliances, rates, runs)
    return tuple(dict.fromkeys([*said, *ALWAYS]))


def _readings_kept(inputs: Inputs) -> Iterator[str]:
    """What was measured is not asked by a verdict on feet and fittings, and may well say otherwise."""
    kept = len(inputs.job.readings)
    if kept:
        readings = "1 reading is" if kept == 1 else f"{kept} readings are"
        yield (
            f"{readings} kept with this job, and the verdict does not go by what was measured: ask what the readings "
            "mean (ventsize diagnose) before relying on it"
        )


def _too_hot(check: RunCheck, system: System) -> tuple[str, ...]:
    return too_hot_for(check.run, (rate.flow for rate in check.rates), system)


def _run_cautions(check: RunCheck, system: System) -> Iterator[str]:
    yield from check.run.cautions
    yield from (f"run '{check.run.name}': {turn}" for turn in check.run.unturned)
    if check.run.carries == "flue gas":
        yield from (f"run '{check.run.name}': {said}" for said in limit_unknown(check.run))
    if check.table is not None:
        yield from (f"run '{check.run.name}': {said}" for said in check.table.cautions)
    own = sorted({piece.name for piece in check.run.pieces if piece.table_length is not None})
    if own:
        yield f"run '{check.run.name}': the length of {', '.join(own)} is the job's own figure, not the table's"
    yield from _disagreement(check, system)
    for rate in check.rates:
        yield from _rate_cautions(check, rate, system)
    yield from _piece_cautions(check)
    if not check.run.rise_known:
        yield f"run '{check.run.name}' is counted, not laid out: how far it rises is not known, so draft is left out"


def _disagreement(check: RunCheck, system: System) -> Iterator[str]:
    over = [rate for rate in check.rates if rate.within_allowance is False]
    if check.verdict == "within" and over:
        rate = over[0]
        yield (
            f"run '{check.run.name}' is within by the table, but by calculation it loses more at {rate.name} than "
            f"straight pipe of the allowed length would ({_pressures(rate, system)}): ask the maker before relying "
            "on the table here"
        )
    if check.verdict == "over" and not over and check.worst.within_allowance:
        yield (
            f"run '{check.run.name}' is over by the table, and by calculation inside it "
            f"({_pressures(check.worst, system)}): the table decides"
        )


def _pressures(rate: RunRate, system: System) -> str:
    assert rate.budget_pressure is not None
    counted, allowed = show_apart(rate.counted_pressure, rate.budget_pressure, Dimension.PRESSURE, system)
    return f"{counted} against {allowed}"


def _rate_cautions(check: RunCheck, rate: RunRate, system: System) -> Iterator[str]:
    place = f"run '{check.run.name}', {rate.name}"
    unsettled: dict[str, list[float]] = {}
    for piece in rate.flow.pieces:
        if piece.at.regime == "transition":
            unsettled.setdefault(piece.piece.section.label, []).append(piece.at.reynolds)
    for label, numbers in unsettled.items():
        low, high = f"{min(numbers):,.0f}", f"{max(numbers):,.0f}"
        reynolds = low if low == high else f"{low} to {high}"
        yield (
            f"{place}: Reynolds number {reynolds} in {label} pipe is between laminar and turbulent, where the "
            "loss is uncertain; it is figured as turbulent"
        )
    if rate.flow.draft < -0.05:
        yield (
            f"{place}: draft works against the gas with {show_pressure(-rate.flow.draft, system)}, and is counted "
            "against the allowance by calculation"
        )
    overridden = sorted({p.piece.name for p in rate.flow.pieces if p.overridden})
    if overridden:
        yield f"run '{check.run.name}': the loss of {', '.join(overridden)} is the job's own figure, not the catalog's"


def _piece_cautions(check: RunCheck) -> Iterator[str]:
    """What the methods say of themselves, each once, with the rates and pieces it is said of."""
    rates: dict[str, list[str]] = {}
    pieces: dict[str, list[str]] = {}
    for rate in check.rates:
        for piece in rate.flow.pieces:
            for said in piece.cautions:
                rates.setdefault(said, []).append(rate.name)
                pieces.setdefault(said, []).append(piece.piece.name)
    for said in rates:
        at, of = (", ".join(dict.fromkeys(names[said])) for names in (rates, pieces))
        yield f"run '{check.run.name}', {at}: {of}: {said}"


def _table_cautions(inputs: Inputs, system: System) -> Iterator[str]:
    """What in a table is likely mistyped: it is read as it stands, never corrected."""
    for name, table in inputs.tables.items():
        deductions = (remark.text for remark in remarks_on_deductions(table, inputs.catalog, system))
        remarks = (*unknown_fittings(table, inputs.catalog.fittings), *order_remarks(table), *deductions)
        yield from (f"table '{name}': {remark}" for remark in remarks)


def _site_cautions(inputs: Inputs, system: System) -> Iterator[str]:
    site = inputs.job.site
    if site.altitude is None:
        yield "the job gives no altitude; the calculation is for sea level, and no table can be read"
    if site.outdoor is None:
        yield (
            f"the job gives no outdoor temperature; {show_temperature(ASSUMED_OUTDOOR, system)} is assumed for draft "
            "and for the combustion air"
        )
    if site.indoor is None and site.relative_humidity > 0.0 and _takes_room_air(inputs):
        yield "the job gives no indoor temperature; air from the room is figured as humid air at the outdoor one"


def _takes_room_air(inputs: Inputs) -> bool:
    """Whether any appliance has no air pipe of its own."""
    return any(
        all(run.carries != "combustion air" for run in inputs.graph.runs_at(appliance.name))
        for appliance in inputs.job.appliances
    )


def _appliance_cautions(inputs: Inputs, appliances: Sequence[ApplianceGas], system: System) -> Iterator[str]:
    altitude = inputs.job.site.altitude or 0.0
    for appliance in appliances:
        if not any(run.carries == "flue gas" for run in inputs.graph.runs_at(appliance.name)):
            yield f"appliance '{appliance.name}' has no run that carries its flue gas"
        if not any(run.carries == "combustion air" for run in inputs.graph.runs_at(appliance.name)):
            yield (
                f"appliance '{appliance.name}' takes its air from the room; whether the room has enough is not judged "
                "here"
            )
        top = appliance.highest
        derated = derated_inputs(input=top.gas.input, altitude=altitude)
        if derated is not None:
            yield (
                f"appliance '{appliance.name}': at this altitude the code asks for a lower input unless the maker says "
                f"otherwise. It is read two ways: {show_power(derated.whole_altitude, system)} (4 % per 1000 ft of the "
                f"whole altitude) or {show_power(derated.part_above, system)} (of the part above 2000 ft). The job's "
                f"{show_power(top.gas.input, system)} is used as it stands"
            )


def _collar_cautions(inputs: Inputs, runs: Sequence[RunCheck]) -> Iterator[str]:
    collars = {a.name: a.collar for a in inputs.job.appliances if a.collar is not None}
    for check in runs:
        joint = next((j for j in (check.run.start, check.run.end) if j in collars), None)
        if joint is None or check.run.carries != "flue gas":
            continue
        section = check.run.section_at(joint)
        if not same_size(section.nominal, collars[joint]):
            yield (
                f"run '{check.run.name}' starts at {section.label} on a collar of another size; the loss of a size "
                "change there is counted only if the run lists an increaser or reducer"
            )


def _shared_vent(runs: Sequence[RunCheck], system: System) -> Iterator[str]:
    for vent in common_vents(runs):
        under = f" under up to {show_pressure(vent.pressure, system)}" if vent.positive else ""
        yield (
            f"run '{vent.run}' carries the flue gas of {' and '.join(vent.serves)}{under}: only where every one of "
            "them is listed for a common vent under pressure. With one of them off, the pressure in the common run "
            "pushes flue gas back into it unless something stops it"
        )
    for collar in idle_collars(runs):
        if collar.without_draft > 0.0:
            yield (
                f"with appliance '{collar.appliance}' off, its collar is under up to "
                f"{show_pressure(collar.without_draft, system)} (at {collar.rate}, without help from draft): that is "
                "what pushes flue gas back into it"
            )


def _combinations(
    appliances: Sequence[ApplianceGas], rates: Sequence[RateFlow], runs: Sequence[RunCheck]
) -> Iterator[str]:
    """Which combination of rates is the worst, and whether every one has been figured."""
    if len(appliances) == 1:
        return
    every = math.prod(len(appliance.rates) + 1 for appliance in appliances) - 1
    if len(rates) < every:
        yield (
            f"of {every} combinations of firing rates {len(rates)} are figured: all at their highest and all at their "
            "lowest, each one lower or off beside the others at their highest, and each alone"
        )
    worst = {check.worst.name for check in runs if len(check.serves) > 1}
    for name in sorted(worst):
        of = ", ".join(f"'{check.run.name}'" for check in runs if len(check.serves) > 1 and check.worst.name == name)
        yield f"of the combinations of firing rates, {of} loses the most at {name}"
