"""A block whose lines are not all of one length: what fits its heads is read, the rest is named, nothing is shifted."""

from __future__ import annotations

import pytest

from ventsize.view.page.pasted import understand


@pytest.mark.parametrize(
    ("block", "lengths", "ragged"),
    [
        ("input\t2 in\t3 in\n60 kBtu/h\t45\t90\n80 kBtu/h\t30", ["45 ft", "90 ft"], ("80 kBtu/h  30",)),
        ("input\t2 in\t3 in\n60 kBtu/h\t45\t90\n80 kBtu/h\t30\t60\t70", ["45 ft", "90 ft"],
         ("80 kBtu/h  30  60  70",)),
        ("\t2\t3\n60\t45\t90\n80\t30\t60\t70", ["45 ft", "90 ft"], ("80  30  60  70",)),
        ("2\t3\n60\t45\t90\n80\t30\t60\n100\t30\t60\t70", ["45 ft", "90 ft", "30 ft", "60 ft"],
         ("100  30  60  70",)),
        ("input\tsize\tallowable\n60\t2\t45\n80\t3\t90\t7", ["45 ft"], ("80  3  90  7",)),
    ],
)  # fmt: skip
def test_a_line_too_long_or_too_short_shifts_no_other(block: str, lengths: list[str], ragged: tuple[str, ...]) -> None:
    """Each length stands under its own head, whatever the line with a cell too many would make of the heads."""
    found = understand(block)
    assert found is not None
    assert [row["allowable"] for row in found.rows] == lengths
    assert found.ragged == ragged
