"""What every test of the screens has: waiting for what is going on, and not a moment longer."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.tui.waiting import until_quiet


@pytest.fixture(scope="session", autouse=True)
def no_idle_waits() -> Iterator[None]:
    """A key is through when nothing is left to do, not when the processor has looked idle for a while."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("textual.app.wait_for_idle", until_quiet)
        patch.setattr("textual.pilot.wait_for_idle", until_quiet)
        yield
