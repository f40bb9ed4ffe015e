"""Faults that were once in the core and noticed by no test, or could well have been; each with who has to notice."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from tests.mutation.faults import Fault


class Kept(NamedTuple):
    """A fault by its text: the file, what stands there, what is put in its place, and the tests that must fail."""

    name: str
    file: str
    was: str
    put: str
    tests: tuple[str, ...]

    def fault(self, root: Path) -> Fault:
        """As a fault of a place. Raises ValueError where the text does not stand there once: the fault has to move."""
        text = (root / self.file).read_text(encoding="utf-8")
        if text.count(self.was) != 1:
            raise ValueError(f"{self.name}: '{self.was}' stands {text.count(self.was)} times in {self.file}")
        start = text.index(self.was)
        return Fault(self.file, start, start + len(self.was), self.put)


KEPT = (
    Kept(
        "a reducer costs nothing",
        "ventsize/flow/fittings.py",
        '("expanding", expanding) if gas_expands else ("contracting", contracting)',
        '("expanding", expanding) if gas_expands else ("contracting", expanding)',
        ("tests/flow/test_listing.py",),
    ),
    Kept(
        "a change of size does not know the way of the gas",
        "ventsize/flow/pieces.py",
        "gas_expands=(piece.after.bore > piece.before.bore) is forward",
        "gas_expands=piece.after.bore > piece.before.bore",
        ("tests/flow/test_listing.py",),
    ),
    Kept(
        "draft that hinders is left out where help is",
        "ventsize/flow/solve.py",
        "(flow.draft if helped else min(0.0, flow.draft))",
        "(flow.draft if helped else 0.0)",
        ("tests/check/test_traps.py::test_draft_that_hinders_is_not_left_out",),
    ),
    Kept(
        "an idle collar trusts draft",
        "ventsize/check/collars.py",
        "without_draft=rate.flow.static_pressure_to_room(name, helped=False)",
        "without_draft=rate.flow.static_pressure_to_room(name)",
        ("tests/check/test_common_vents.py",),
    ),
    Kept(
        "a common vent trusts draft",
        "ventsize/check/collars.py",
        "rate.flow.static_pressure_to_room(joint, helped=False)",
        "rate.flow.static_pressure_to_room(joint)",
        ("tests/check/test_common_vents.py::test_a_common_vent_is_judged_without_the_help_of_draft",),
    ),
    Kept(
        "of two limits the easier holds",
        "ventsize/allowance/limits.py",
        "return min(found, key=lambda outcome: order.index(outcome.state))",
        "return max(found, key=lambda outcome: order.index(outcome.state))",
        ("tests/allowance/test_where_pipe_lies.py::test_a_limit_on_how_pipe_lies_is_for_the_pipe_of_each_gas",),
    ),
    Kept(
        "of two budgets the larger holds",
        "ventsize/check/budget.py",
        "return min(known) + included",
        "return max(known) + included",
        ("tests/check/test_common_vents.py::test_by_calculation_too_the_shortest_allowance_counts",),
    ),
    Kept(
        "the room is as cold as outdoors",
        "ventsize/check/appliances.py",
        "temperature = around.outdoor if piped else around.indoor",
        "temperature = around.outdoor",
        ("tests/check/test_room_air.py",),
    ),
    Kept(
        "an implied end stands where the walk ends",
        "ventsize/run/build.py",
        "first = self._typed.between[0] == typed.OUTDOORS",
        "first = self._typed.between[1] == typed.OUTDOORS",
        ("tests/run/test_build.py",),
    ),
    Kept(
        "a gain of pressure at a tee is a loss",
        "ventsize/flow/meeting.py",
        "pressure_drop=k * flow.dynamic_pressure,",
        "pressure_drop=abs(k) * flow.dynamic_pressure,",
        ("tests/check/test_common_vents.py::test_the_faster_stream_pulls_the_slower",),
    ),
    Kept(
        "the doubt of joints is left out",
        "ventsize/flow/doubt.py",
        'terms.append(Term("joints", JOINT * joints, JOINT * joints))',
        "pass",
        ("tests/check/test_common_vents.py::test_the_faster_stream_pulls_the_slower",),
    ),
    Kept(
        "frost is water",
        "ventsize/gas/water.py",
        "if temperature < TRIPLE_POINT:\n        return float(iapws11_Psub(temperature))",
        "if temperature < 0.0:\n        return float(iapws11_Psub(temperature))",
        ("tests/gas/test_condensation.py",),
    ),
    Kept(
        "an eighth bend turns 30 degrees",
        "tables/fittings.toml",
        'angle = "22.5 deg"',
        'angle = "30 deg"',
        ("tests/check/test_verdict.py::test_elbows_that_turn_too_little_make_a_run_incomplete",),
    ),
    Kept(
        "nobody asks what stops backflow",
        "ventsize/check/conditions.py",
        'state: State = "not known" if said is None',
        'state: State = "met" if said is None',
        ("tests/check/test_common_vents.py::test_what_keeps_flue_gas_out_of_a_furnace_that_is_off",),
    ),
    Kept(
        "gas near the speed of sound is figured",
        "ventsize/flow/envelope.py",
        "return self.mach > MOST_MACH",
        "return False",
        ("tests/flow/test_envelope.py::test_gas_too_near_the_speed_of_sound_is_no_pass",),
    ),
)
