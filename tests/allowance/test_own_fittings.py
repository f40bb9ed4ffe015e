"""A page's own fittings as records: what the page says of them, and what is taken where it says nothing."""

from __future__ import annotations

import math

import pytest

from tests.allowance.support import HEAD, row
from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.own_fittings import BEND, clashes, with_own_fittings
from ventsize.allowance.reading import table_from_text
from ventsize.catalog.library import load_catalog
from ventsize.catalog.records import Loss

CATALOG = load_catalog()


def page(*fittings: str) -> AllowanceTable:
    return table_from_text(HEAD + row("90 ft") + "".join(f"[[fitting]]\n{one}\n" for one in fittings), file="t")


def test_kinds_and_losses() -> None:
    """A figure of the page's; without one, the shipped record it is likest."""
    read = page(
        'name = "wall-kit"\ntitle = "Wall kit"\nkind = "terminal"', 'name = "roof-kit"\nkind = "terminal"\nk = 2.5',
        'name = "slim-cap"\nkind = "terminal"\nk = 0.2', 'name = "sweep"\nkind = "elbow"\nangle = "60 deg"\nk = 0.3',
        'name = "bend"\nkind = "elbow"\nangle = "70 deg"', 'name = "union"\nkind = "coupling"',
        'name = "silencer"\nkind = "other"',
    )  # fmt: skip
    found = with_own_fittings(CATALOG, [read]).fittings
    leaving = {name: found[name].leaving for name in ("wall-kit", "roof-kit", "slim-cap")}
    assert found["wall-kit"].title == "Wall kit" and "Invented" in found["wall-kit"].source
    assert leaving["wall-kit"] == CATALOG.fittings["terminal-open"].leaving
    assert leaving["roof-kit"] is not None and leaving["roof-kit"].k == 2.5
    assert leaving["slim-cap"] == leaving["wall-kit"]  # no end loses less than a plain open one
    assert found["sweep"].loss is not None and found["sweep"].loss.k == 0.3
    assert found["sweep"].angle == pytest.approx(math.pi / 3)
    assert found["bend"].loss is not None and found["bend"].loss.method == "Rennels bend"
    assert found["union"].loss == CATALOG.fittings["coupling"].loss
    assert found["silencer"].loss is not None and (found["silencer"].loss.k, found["silencer"].loss.k_high) == (1, 2)


def test_an_end_that_turns_the_gas() -> None:
    """Without a figure it has a bend's loss besides; with one that is all of it, whichever way the gas goes."""
    read = page(
        'name = "hood"\nkind = "terminal"\nangle = "90 deg"',
        'name = "snout"\nkind = "terminal"\nangle = "90 deg"\nk = 2',
        'name = "bell"\nkind = "entrance"\nk = 3', 'name = "lip"\nkind = "entrance"\nk = 0.001',
        'name = "even"\nkind = "terminal"\nk = 1.0',
    )  # fmt: skip
    found = with_own_fittings(CATALOG, [read]).fittings
    turning = {name: (found[name].bend_diameters, found[name].loss) for name in ("hood", "snout", "bell")}
    assert turning == {"hood": (1.0, BEND), "snout": (1.0, None), "bell": (None, None)}
    assert [found[name].leaving for name in ("snout", "even")] == [
        Loss(k=2.0, k_low=2.0, k_high=2.0), CATALOG.fittings["terminal-open"].leaving,
    ]  # fmt: skip
    assert [found[name].entering for name in ("bell", "lip")] == [
        Loss(k=3.0, k_low=3.0, k_high=3.0), CATALOG.fittings["entrance-open"].entering,
    ]  # fmt: skip


def test_a_table_without_its_own_changes_nothing() -> None:
    assert with_own_fittings(CATALOG, [page()]) is CATALOG


def test_two_tables_may_not_mean_two_things_by_one_name() -> None:
    """The same fitting in the vent's and in the air pipe's table is no clash."""
    one, other = page('name = "kit"\nkind = "terminal"'), page('name = "kit"\nkind = "terminal"\nk = 2')
    assert clashes([one, one]) == []
    assert [(table is other, fitting.name) for table, fitting in clashes([one, other])] == [(True, "kit")]
