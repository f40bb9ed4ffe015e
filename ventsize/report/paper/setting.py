"""A formula in LaTeX set as SVG, without a LaTeX installation."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from html import escape
from xml.etree import ElementTree

from ventsize.jobfile.letters import plain

FORMULA_SIZE = 14.0  # pt
_ROW, _SIGN, _POWER = (f"{{http://www.w3.org/1998/Math/MathML}}{tag}" for tag in ("mrow", "mo", "msup"))
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
    from ziamath.zmath import Math

    config.svg2 = False  # whole outlines: no identifiers that would clash between two formulas of a page
    made = Math(_in_few_rows(latex), size=FORMULA_SIZE).svg()
    root = ElementTree.fromstring(made)
    _, _, width, height = (float(part) for part in root.attrib["viewBox"].split())
    inner = "".join(_bare(child) for child in root)
    named = f'role="img" aria-label="{escape(plain(text))}"' if text else 'aria-hidden="true"'
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{root.attrib["viewBox"]}" width="{width:.2f}" '
        f'height="{height:.2f}" {named}>'
    )
    return SetFormula(f"{head}{inner}</svg>", width, height)


def _in_few_rows(latex: str) -> ElementTree.Element:
    """A formula as MathML, without the rows that hold a single thing: ziamath sets each row twice.

    So what stands in ten rows is set a thousand times. A sign keeps its row, and an exponent: the space around the one
    and the height of the other hang on it.
    """
    from ziamath.tex import tex2mml

    root = ElementTree.fromstring(tex2mml(latex))
    root[:] = root[0]
    for element in root.iter():
        for place, child in enumerate(element):
            exponent = place == 1 and element.tag == _POWER
            while child.tag == _ROW and len(child) == 1 and child[0].tag != _SIGN and not exponent:
                child = element[place] = child[0]
    return root


def _bare(element: ElementTree.Element) -> str:
    """The element without the prefix of its namespace, which HTML would not read."""
    for one in element.iter():
        one.tag = one.tag.removeprefix(_NAMESPACE)
    return ElementTree.tostring(element, encoding="unicode")
