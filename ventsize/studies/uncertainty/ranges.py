"""How far the inputs of a calculation may be off."""

from __future__ import annotations

from dataclasses import dataclass

from ventsize.check.inputs import Inputs


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranges:
    """How far each input may be off, either way.

    length: of each pipe, as a share of it [-]; tape: of each pipe besides [m]; excess_air: as a fraction of the
    theoretical air [-]; flue_temperature [K]; fittings: whether each fitting lies anywhere within its band.
    """

    length: float = 0.01
    tape: float = 0.0127
    excess_air: float = 0.05
    flue_temperature: float = 3.0
    fittings: bool = True


def ranges_of(inputs: Inputs) -> Ranges:
    """The ranges the job states, and the usual ones for what it does not."""
    stated = inputs.job.uncertainty
    usual = Ranges()
    return Ranges(
        length=usual.length if stated.length is None else stated.length,
        tape=usual.tape if stated.tape is None else stated.tape,
        excess_air=usual.excess_air if stated.excess_air is None else stated.excess_air,
        flue_temperature=usual.flue_temperature if stated.flue_temperature is None else stated.flue_temperature,
        fittings=stated.fittings,
    )
