"""A page's own fittings as records: what the page says of them, and what is taken where it says nothing."""

from __future__ import annotations

import math

import pytest

from tests.allowance.support import HEAD, row
from ventsize.allowance.model import AllowanceTable
from ventsize.allowance.own_fittings import clashes, with_own_fittings
from ventsize.allowance.reading import table_from_text
from ventsize.catalog.library import load_catalog

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


def test_a_table_without_its_own_changes_nothing() -> None:
    assert with_own_fittings(CATALOG, [page()]) is CATALOG


def test_two_tables_may_not_mean_two_things_by_one_name() -> None:
    """The same fitting in the vent's and in the air pipe's table is no clash."""
    one, other = page('name = "kit"\nkind = "terminal"'), page('name = "kit"\nkind = "terminal"\nk = 2')
    assert clashes([one, one]) == []
    assert [(table is other, fitting.name) for table, fitting in clashes([one, other])] == [(True, "kit")]
