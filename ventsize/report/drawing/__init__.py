"""Drawings: lines, boxes, dots and words with a role each, put on a page as SVG or into a PDF.

    drawing = line_chart([Series("high", points)], across="ft", up="in w.c.", title="…", description="…")
    text = svg(drawing)                       # stands alone, or inline in HTML
    draw(drawing, pdf, x=…, y=…, width=…)     # vector graphics in a PDF (ventsize.report.drawing.on_pdf)

What makes drawings:

- `charts.line_chart`, `charts.bars`: values already in the units shown; titles and descriptions become the alt text.
- `route.route`: the route of a laid-out run, in isometric.
- `strip.strip`: the pieces of a run in their order, not to scale; of a counted run, how many of each.

A drawing of your own is a `Drawing` of marks (`model`): coordinates in points, y downwards. Say what a mark is by
its role, never by its color: `styles.STYLES` gives each role a color that color-blind people tell apart, and a dash
or a shade that survives a greyscale printer.
"""

from __future__ import annotations

from ventsize.report.drawing.as_svg import svg
from ventsize.report.drawing.charts import Bar, Series, bars, beside, line_chart
from ventsize.report.drawing.model import Box, Dot, Drawing, Line, Mark, Words, width_of

__all__ = [
    "Bar",
    "Box",
    "Dot",
    "Drawing",
    "Line",
    "Mark",
    "Series",
    "Words",
    "bars",
    "beside",
    "line_chart",
    "svg",
    "width_of",
]
