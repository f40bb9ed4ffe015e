"""One run at one firing rate, by calculation: what it loses, what it is held to, and both as length."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ventsize.flow.pieces import SectionFlow
from ventsize.flow.rate_flow import RunFlow


@dataclass(frozen=True, slots=True, kw_only=True)
class RunRate:
    """One run at one firing rate, by calculation.

    fired: each appliance's firing rate by name, None where it is off.
    reference: the stream in straight pipe of the size the allowance is for, and `gradient` what that loses [Pa/m].
    counted_pressure: what is held against the allowance: the pressure drop, and draft where it hinders [Pa].
    allowance_pressure: what straight pipe of the allowed length would lose [Pa].
    budget_pressure: what the maker's own permission comes to: that, with what the table counts as included [Pa].
    within_allowance: whether the counted pressure of all runs judged together is inside it.
    static_pressure_at_appliance: against outdoors in still air [Pa]; None where the run does not reach an appliance.
    static_pressure_to_room: against the room, with the wind that is stated [Pa]; None where the job states no room's.

    The rest is worked out on demand, since ten thousand of them are made a second.
    """

    name: str
    fired: Mapping[str, str | None]
    flow: RunFlow
    reference: SectionFlow
    gradient: float
    counted_pressure: float
    allowance_pressure: float | None
    budget_pressure: float | None
    within_allowance: bool | None
    static_pressure_at_appliance: float | None
    static_pressure_to_room: float | None

    @property
    def equivalent_length(self) -> float | None:
        """Straight pipe of the reference size with the same pressure drop [m]; None without flow."""
        return length_at(self.flow.pressure_drop, self.gradient)

    @property
    def equivalent_length_low(self) -> float | None:
        """The lowest that lengths and fittings leave open [m]."""
        return length_at(self.flow.layout_range[0], self.gradient)

    @property
    def equivalent_length_high(self) -> float | None:
        """The highest that lengths and fittings leave open [m]."""
        return length_at(self.flow.layout_range[1], self.gradient)

    @property
    def share_inside(self) -> float | None:
        """How sure it is that the run is inside its budget, as far as lengths and fittings leave it open [-]."""
        if self.budget_pressure is None:
            return None
        return self.flow.share_within(self.budget_pressure - (self.counted_pressure - self.flow.pressure_drop))

    @property
    def spare_length(self) -> float | None:
        """Straight pipe that what is left of the budget would still carry [m]; negative where it is exceeded."""
        if self.budget_pressure is None:
            return None
        return length_at(self.budget_pressure - self.counted_pressure, self.gradient)

    @property
    def piece_lengths(self) -> tuple[float | None, ...]:
        """Each piece's loss as straight pipe of the reference size [m]."""
        return tuple(length_at(piece.pressure_drop, self.gradient) for piece in self.flow.pieces)

    @property
    def junction_lengths(self) -> tuple[float | None, ...]:
        """Each junction's loss as straight pipe of the reference size [m]."""
        return tuple(length_at(junction.pressure_drop, self.gradient) for junction in self.flow.junctions)

    @property
    def piece_shares(self) -> tuple[float | None, ...]:
        """Each piece's share of the run's pressure drop [-]; None without flow."""
        return tuple(self._share(piece.pressure_drop) for piece in self.flow.pieces)

    @property
    def junction_shares(self) -> tuple[float | None, ...]:
        """Each junction's share of the run's pressure drop [-]; None without flow."""
        return tuple(self._share(junction.pressure_drop) for junction in self.flow.junctions)

    def _share(self, pressure: float) -> float | None:
        return pressure / self.flow.pressure_drop if self.flow.pressure_drop > 0.0 else None


def counted_pressure(flow: RunFlow) -> float:
    """Return what a run is held to [Pa]: its loss, and draft where it hinders. Draft that helps is not counted."""
    return flow.pressure_drop + max(0.0, -flow.draft)


def length_at(pressure: float, gradient: float) -> float | None:
    """Straight pipe that loses a pressure [Pa] at a gradient [Pa/m], in [m]; None without flow."""
    return pressure / gradient if gradient > 0.0 else None
