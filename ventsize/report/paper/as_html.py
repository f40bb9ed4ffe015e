"""A paper as one HTML file that asks for nothing else: styles and pictures are in it, and it runs no script."""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from typing import TYPE_CHECKING, Any

from ventsize.jobfile.letters import plain
from ventsize.report.drawing.as_svg import svg
from ventsize.report.paper.blocks import Block, Paper, Size
from ventsize.report.paper.setting import formula_svg

if TYPE_CHECKING:
    from jinja2 import Template

PAGE = {"letter": "letter", "a4": "A4"}


def html(paper: Paper, *, size: Size = "letter") -> str:
    """The whole file as text."""
    return _template().render(paper=paper, page=PAGE[size])


@cache
def _template() -> Template:
    from jinja2 import Environment, PackageLoader, StrictUndefined
    from markupsafe import Markup

    environment = Environment(
        loader=PackageLoader("ventsize.report.paper"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=lambda value: plain(value) if type(value) is str else value,
    )
    environment.filters["picture"] = lambda drawing: Markup(svg(drawing))  # svg() has escaped its text
    environment.filters["formula"] = lambda formula: Markup(formula_svg(formula.latex, formula.text).element)
    environment.filters["inlined"] = lambda logo: b64encode(logo.png).decode()
    environment.filters["kind"] = _kind
    environment.filters["filled"] = _filled
    return environment.get_template("paper.html.jinja")


def _kind(block: Block) -> str:
    return type(block).__name__.lower()


def _filled(rows: Any) -> list[int]:
    """The numbers of the columns whose every cell is short, so that they are not broken."""
    columns = list(zip(*rows, strict=True))
    return [number for number, cells in enumerate(columns) if all(len(cell) <= 14 for cell in cells)]
