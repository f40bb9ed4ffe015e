"""Papers: a document of plain blocks, written as HTML, PDF, Markdown and CSV.

    paper = Paper(
        title="…",                                  # anything a user typed may stand in any block: it is escaped
        blocks=(
            Heading("Takeoff"),                     # level 2; 3 for a part of it; the title is level 1
            Paragraph("…"),
            Table(columns=(Column("item", share=3), Column("how many", "right")), rows=(("pipe", "3"),)),
            Figure(line_chart(…), "what to see in it"),
            Formula(latex=r"v = \\frac{m}{\\rho A}", text="v = m / (ρ × A)"),
            Checklist(("joints checked for leaks",)),
            Blanks(("Installer", "License number", "Signature", "Date")),
            Room(lines=6, label="Your working"),    # ruled lines to write on
            PageBreak(),
        ),
    )
    write(paper, {"html": path, "pdf": path, "markdown": path, "csv": path}, size="letter")

`blocks` lists every block. `formulas.formula_blocks` makes `Formula` blocks from a `Step` of a working: the formula
itself, and with the numbers put in. `ventsize.report.drawing` makes the pictures.

The renderers, when the text itself is wanted: `html(paper, size=…)`, `pdf(paper, size=…)` as bytes,
`markdown(paper)`, `csv_text(paper)`; sizes are "letter" and "a4". HTML is one file that asks for nothing else. PDF
embeds its letters. CSV has the tables alone. Whatever a user typed is text there, never markup and never a formula.

`write` never leaves half a file, and does not replace a file that is there unless `replace=True`; it raises
`PaperNotWritten` with a sentence.
"""

from __future__ import annotations

from ventsize.report.paper.blocks import (
    Beside,
    Blanks,
    Block,
    Bullets,
    Callout,
    Checklist,
    Column,
    Facts,
    Figure,
    Formula,
    Heading,
    Logo,
    PageBreak,
    Paper,
    Paragraph,
    Room,
    Size,
    Table,
)
from ventsize.report.paper.writing import KINDS, Kind, PaperNotWritten, rendered, write

__all__ = [
    "KINDS",
    "Beside",
    "Blanks",
    "Block",
    "Bullets",
    "Callout",
    "Checklist",
    "Column",
    "Facts",
    "Figure",
    "Formula",
    "Heading",
    "Kind",
    "Logo",
    "PageBreak",
    "Paper",
    "PaperNotWritten",
    "Paragraph",
    "Room",
    "Size",
    "Table",
    "rendered",
    "write",
]
