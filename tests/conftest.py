"""What every test starts from: no settings of the person who runs it, and the same examples everywhere."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest
from hypothesis import settings

ROOT = Path(__file__).resolve().parent.parent

# In CI the examples are the same at every run, so that a red run can be repeated; at a desk they vary.
settings.register_profile("ci", derandomize=True, deadline=None, max_examples=60, print_blob=True, database=None)
settings.register_profile("desk", deadline=None, max_examples=60)
settings.load_profile("ci" if os.environ.get("CI") else "desk")

# Thousands of tests keep the libraries they load: looking through them for rubbish would take a tenth of the time.
gc.set_threshold(50_000, 50, 100)

PERSONAL_FOLDERS = (
    "HOME",
    "USERPROFILE",
    "XDG_CONFIG_HOME",
    "XDG_DATA_HOME",
    "XDG_STATE_HOME",
    "XDG_CACHE_HOME",
)
PERSONAL_SETTINGS = ("VENTSIZE_FOLDER", "NO_COLOR", "FORCE_COLOR", "COLUMNS", "LINES")


@pytest.fixture(scope="session")
def root() -> Path:
    """The top of the tree."""
    return ROOT


@pytest.fixture(scope="session")
def homes(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Names of folders to come. pytest would look through all that there are for each, thousands of times."""
    folder = tmp_path_factory.mktemp("homes")
    return (folder / str(number) for number in count())


@pytest.fixture(autouse=True)
def nobody_home(homes: Iterator[Path]) -> Iterator[Path]:
    """An empty home: the tester's own tables and settings neither change a result nor are written to."""
    home = next(homes)
    home.mkdir()
    with pytest.MonkeyPatch.context() as patch:
        for name in PERSONAL_FOLDERS:
            patch.setenv(name, str(home))
        for name in PERSONAL_SETTINGS:
            patch.delenv(name, raising=False)
        yield home
