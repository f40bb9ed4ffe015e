"""How far the inputs of a calculation may be off."""

from __future__ import annotations

from ventsize.check.inputs import Inputs
from ventsize.flow import doubt
from ventsize.flow.doubt import Ranges

__all__ = ["Ranges", "ranges_of"]


def ranges_of(inputs: Inputs) -> Ranges:
    """The ranges the job states, and the usual ones for what it does not."""
    return doubt.ranges_of(inputs.job.uncertainty)
