"""What hangs on the flow, held against the program's own figures: its verdict must follow them."""

from __future__ import annotations

from tests.contract.naive import Answer
from tests.contract.reading import FLUE, Data, length

WATER = 9_790.0  # Pa a metre, at a room's temperature
CERTAIN = 1.02  # beyond this share of a limit no rounding helps
FAST = 115.0  # m/s: beyond Mach 0.3 in any gas here
TENTH = 10_200.0  # Pa: a tenth of the pressure at sea level, and more than a tenth elsewhere


def not_within(job: Data, naive: Answer, theirs: Data) -> list[str]:
    """Reasons, by the program's own figures, why a job cannot be within."""
    found = []
    for run in theirs["runs"]:
        rates = run["rates"]
        if any(piece["velocity_m_s"] > FAST for rate in rates for piece in rate["pieces"]):
            found.append("faster than Mach 0.3")
        if any(rate["pressure_drop_Pa"] > TENTH for rate in rates):
            found.append("a tenth of the pressure")
        allowed = naive.pressures.get(run["name"])
        if allowed is not None and max(_loss(rate, "pressure_drop_high_Pa") for rate in rates) > allowed * CERTAIN:
            found.append("pressure row")
    found += [f"trap {why}" for why in _traps(job, theirs)]
    if _open_to_backflow(job):
        found.append("backflow")
    return sorted(set(found))


def _loss(rate: Data, key: str) -> float:
    """The loss, with draft only where it hinders [Pa]."""
    return float(rate[key]) + max(0.0, -float(rate["draft_Pa"]))


def _unhelped(rate: Data) -> float:
    """The pressure at the collar with the help of draft left out [Pa]."""
    return float(rate["static_pressure_at_appliance_Pa"]) + max(0.0, float(rate["draft_Pa"]))


def _traps(job: Data, theirs: Data) -> list[str]:
    """Appliances whose vent, one whole run, is at or above the seal stated."""
    found = []
    for one in job["appliance"]:
        if "trap_seal" not in one:
            continue
        names = [
            run["name"]
            for run in job["run"]
            if run["carries"] == FLUE and set(run["between"]) == {one["name"], "outdoors"}
        ]
        for run in theirs["runs"]:
            if run["name"] in names:
                worst = max(_unhelped(rate) for rate in run["rates"])
                if worst > length(one["trap_seal"]) * WATER * CERTAIN:
                    found.append("blown out")
    return found


def _open_to_backflow(job: Data) -> bool:
    """Whether a vent is shared, level throughout, and an appliance on it has nothing said against backflow.

    Without rise there is no draft to hold the pressure down.
    """
    flue = [run for run in job["run"] if run["carries"] == FLUE]
    level = all(
        piece.get("heading") not in ("up", "down", None) and "rise" not in piece
        for run in flue
        for piece in run.get("pieces", [])
        if "pipe" in piece
    ) and not any("rise" in run for run in flue)
    shared = {name for run in flue for name in run["between"]} & {joint["name"] for joint in job.get("joint", [])}
    on_it = {name for run in flue if shared & set(run["between"]) for name in run["between"]}
    return level and any(one["name"] in on_it and one.get("backflow_prevented") is not True for one in job["appliance"])
