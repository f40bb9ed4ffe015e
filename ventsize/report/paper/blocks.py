"""What a paper is made of. Every text may be as somebody typed it: the renderers make it harmless."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ventsize.report.drawing.model import Drawing

Size = Literal["letter", "a4"]
Align = Literal["left", "right", "center"]
Tone = Literal["caution", "good", "bad"]


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading below the paper's title. level: 2, or 3 for a part of a part.

    together: whether all up to the next heading stands on its page, where one page is enough.
    """

    text: str
    level: Literal[2, 3] = 2
    together: bool = False


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Text in lines as wide as the page. small: for what has to be there but is not read first."""

    text: str
    small: bool = False


@dataclass(frozen=True, slots=True)
class Bullets:
    """A list of sentences."""

    items: tuple[str, ...]
    numbered: bool = False


@dataclass(frozen=True, slots=True)
class Facts:
    """Names with what they are: `Altitude`, `620 ft`."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A column's name, to which side it is set, and its share of the width beside the others."""

    name: str
    align: Align = "left"
    share: float = 1.0


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under named columns. caption: what it holds. totals: how many of the last rows are sums.

    tight: rows close together, so that a class stays on a page.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    caption: str = ""
    totals: int = 0
    tight: bool = False

    def __post_init__(self) -> None:
        for row in self.rows:
            if len(row) != len(self.columns):
                raise ValueError(f"a row of {len(row)} cells in a table of {len(self.columns)} columns")


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing; its alt text is in it. caption: below it."""

    drawing: Drawing
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Beside:
    """Figures beside each other on paper, below each other on a phone."""

    figures: tuple[Figure, ...]


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula. latex: how it is set; text: how it is read where it cannot be set."""

    latex: str
    text: str


@dataclass(frozen=True, slots=True)
class Callout:
    """Sentences that must not be missed, in a frame. tone: said by the title too, never by color alone."""

    title: str
    sentences: tuple[str, ...] = ()
    tone: Tone = "caution"


@dataclass(frozen=True, slots=True)
class Checklist:
    """Things to tick off with a pen."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Blanks:
    """Lines to write on, each with its label before it: a license number, a signature."""

    labels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Room:
    """Empty lines to write on."""

    lines: int
    label: str = ""


@dataclass(frozen=True, slots=True)
class PageBreak:
    """The next block begins a page where there are pages."""


Block = (
    Heading
    | Paragraph
    | Bullets
    | Facts
    | Table
    | Figure
    | Beside
    | Formula
    | Callout
    | Checklist
    | Blanks
    | Room
    | PageBreak
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Logo:
    """A picture above the title. png: the file. wide, high: its pixels. alt: what it is, in words."""

    png: bytes
    wide: int
    high: int
    alt: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A document. subtitle: a line below the title. foot: at the foot of every page. creator: for the file's data."""

    title: str
    blocks: tuple[Block, ...]
    subtitle: str = ""
    foot: str = ""
    creator: str = "ventsize"
    logo: Logo | None = None
