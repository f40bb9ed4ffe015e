"""A formula in LaTeX set as SVG, without a LaTeX installation."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from html import escape
from xml.etree import ElementTree

from ventsize.jobfile.letters import plain

FORMULA_SIZE = 14.0  # pt
_NAMESPACE = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True, slots=True)
class SetFormula:
    """element: the `svg` element, letters as outlines; width, height [pt]."""

    element: str
    width: float
    height: float


@lru_cache(maxsize=512)
def formula_svg(latex: str, text: str) -> SetFormula:
    """A formula as it is printed. text: read out where it cannot be seen; empty where the one before says it."""
    from ziamath.config import config
    from ziamath.zmath import Latex

    config.svg2 = False  # whole outlines: no identifiers that would clash between two formulas of a page
    made = Latex(latex, size=FORMULA_SIZE).svg()
    root = ElementTree.fromstring(made)
    _, _, width, height = (float(part) for part in root.attrib["viewBox"].split())
    inner = "".join(_bare(child) for child in root)
    named = f'role="img" aria-label="{escape(plain(text))}"' if text else 'aria-hidden="true"'
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{root.attrib["viewBox"]}" width="{width:.2f}" '
        f'height="{height:.2f}" {named}>'
    )
    return SetFormula(f"{head}{inner}</svg>", width, height)


def _bare(element: ElementTree.Element) -> str:
    """The element without the prefix of its namespace, which HTML would not read."""
    for one in element.iter():
        one.tag = one.tag.removeprefix(_NAMESPACE)
    return ElementTree.tostring(element, encoding="unicode")
