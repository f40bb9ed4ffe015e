"""Pressures of a run by itself between an appliance and the open air."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.check.jobs import checked, job
from ventsize.flow.rate_flow import straight_outdoors


@pytest.mark.parametrize("draft", [2.0, 0.05, -0.05, -2.0])
def test_help_from_draft_is_left_out_and_hindrance_is_not(draft: float) -> None:
    """By hand, loss 3 Pa and wind 1 Pa: at the appliance stand loss and wind less draft; without help, only a draft
    that hinders counts."""
    flow = replace(checked(job()).runs[0].rates[0].flow, pressure_drop=3.0, draft=draft)
    found = straight_outdoors(flow, wind=1.0, room=None).levels
    unhelped = 3.0 + max(0.0, -draft)
    assert found.windy == pytest.approx((4.0 - draft, 1.0))
    assert found.windy_unhelped == pytest.approx((1.0 + unhelped, 1.0))
    assert found.calm == pytest.approx((3.0 - draft, 0.0))
    assert found.calm_unhelped == pytest.approx((unhelped, 0.0))
