"""Words for the findings of `finding.codes.FLOW`."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ventsize.report.wording import Values


def _transition(values: Values) -> str:
    low, high = values.raw["lowest"], values.raw["highest"]
    reynolds = f"{low:,}" if low == high else f"{low:,} to {high:,}"
    return (
        f"Reynolds number {reynolds} in {values['size']} pipe is between laminar and turbulent, where the loss is "
        "uncertain. It is calculated as turbulent."
    )


WORDS: dict[str, str | Callable[[Values], str]] = {
    "air-pipe-blows-out": "Air leaves by the outdoor end; check the layout.",
    "branch-wider-than-run": "The branch is wider than the run, and is calculated as wide as the run.",
    "few-tests": "{pieces}: few fittings have been tested at a Reynolds number below 10,000. Their losses and the "
    "low-high band are extrapolated from faster flow.",
    "flow-in-friction-step": "The flow settles at Reynolds number 2040, the step between laminar and turbulent. The "
    "real flow may swing between the two.",
    "flow-not-found": "Runs {runs}: the flow did not converge; do not use these pressures.",
    "gas-circulates": "Runs {runs}: the gas goes round in them, up one and down the other, because of its "
    "temperature; check the layout.",
    "head-on-junction": "The streams meet or part head-on in the {fitting}. Its loss is by a formula for symmetric "
    "tees, from memory and on the high side.",
    "junction-loss-left-out": "No [[joint]] says which fitting is here, so its loss is left out.",
    "laminar-fitting": "{pieces}: the flow is laminar or nearly so (Reynolds number below 4000). Losses of fittings "
    "are rough there and lie anywhere in a wide low-high band.",
    "loss-at-collar-left-out": "Several runs meet at the collar; the loss of parting there is left out.",
    "outdoor-air-enters-vent": "Outdoor air enters at the outdoor end; check the layout.",
    "rough-beyond-data": "{pieces}: the inside is rougher than the friction data reach (5 % of the bore); its loss is "
    "extrapolated.",
    "runs-in-line-differ": "The two runs in line are of different size. List an increaser or reducer at the end of "
    "one, or the loss of the change is left out.",
    "size-change-at-joint": "{small} and {large} are of different size and no fitting is listed between them. A sudden "
    "change is counted there.",
    "transition-flow": _transition,
}
