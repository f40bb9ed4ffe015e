"""Structure of a PDF for those who have it read out: what is a heading, a list, a table's cell, a picture.

fpdf2 keeps a flat list of pictures and headings only; here elements lie in each other as the standard has them
(ISO 32000-1, 14.7 and 14.8). What is not an element is an artifact: rules, frames, the foot of a page.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any, Literal

from fpdf.structure_tree import StructElem, StructureTreeBuilder


class _Element(StructElem):
    """An element with attributes. a: as the file has them."""

    a: str | None = None


class Tags(StructureTreeBuilder):
    """The elements in each other. Those with content carry its number on their page, in the order it was put there.

    scope: whether a cell that names others names its column or its row.
    """

    scope: Literal["Column", "Row"] = "Column"

    def __init__(self) -> None:
        super().__init__()
        self._within: list[StructElem] = [self.doc_struct_elem]
        self._used: Counter[int] = Counter()

    def next_mcid_for_page(self, page_number: int) -> int:
        """The number of the next content on a page."""
        return self._used[page_number]

    def add_marked_content(
        self,
        page_number: int,
        struct_type: str,
        mcid: int | None = None,
        title: str | None = None,
        alt_text: str | None = None,
    ) -> tuple[StructElem, int]:
        """An element with content of its own, or without a number one that holds others."""
        parents = self.spid_per_page_number.setdefault(page_number, len(self.spid_per_page_number))
        within = self._within[-1]
        kids: list[int] = [] if mcid is None else [mcid]
        element = _Element(struct_type, within, kids, page_number=page_number, title=title, alt=alt_text)
        if struct_type == "/TH":
            element.a = f"<</O /Table /Scope /{self.scope}>>"
        within.k.append(element)
        if mcid is not None:
            self._used[page_number] += 1
            self.struct_tree_root.parent_tree.nums[parents].append(element)
        return element, parents

    def enter(self, page_number: int, struct_type: str) -> None:
        """What follows lies in a new element."""
        element, _ = self.add_marked_content(page_number, struct_type)
        self._within.append(element)

    def leave(self) -> None:
        """What follows lies beside it again."""
        self._within.pop()

    def elements(self, of: StructElem | None = None) -> Iterator[StructElem]:
        """Every element below one, or below the document."""
        kids: Any = (of or self.doc_struct_elem).k
        for kid in kids:
            if isinstance(kid, StructElem):
                yield kid
                yield from self.elements(kid)

    def __iter__(self) -> Iterator[Any]:
        """All that goes into the file, the root of the tree first."""
        yield self.struct_tree_root
        yield self.doc_struct_elem
        yield self.struct_tree_root.parent_tree
        yield from self.elements()
