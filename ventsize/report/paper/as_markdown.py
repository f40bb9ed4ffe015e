"""A paper as Markdown: for a repository, a mail, a text editor. Pictures are put in words."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ventsize.jobfile.letters import plain
from ventsize.report.paper.blocks import (
    Beside,
    Blanks,
    Block,
    Bullets,
    Callout,
    Checklist,
    Facts,
    Figure,
    Formula,
    Heading,
    PageBreak,
    Paper,
    Paragraph,
    Room,
    Table,
)

_MEANING = re.compile(r"([\\`*_{}\[\]()#+!|~<>&$^=-]|(?<=\d)\.(?=\s)|:(?=//)|@)")
_LINE = r"\_" * 40
_RULES = {"left": ":---", "right": "---:", "center": ":---:"}


def markdown(paper: Paper) -> str:
    """The whole paper as text."""
    parts = [f"# {text(paper.title)}"]
    if paper.subtitle:
        parts.append(text(paper.subtitle))
    parts += [block for one in paper.blocks for block in _block(one)]
    if paper.foot:
        parts += ["---", text(paper.foot)]
    return "\n\n".join(parts) + "\n"


def text(typed: str) -> str:
    """Text that Markdown takes as it stands: every character that could mean something is escaped."""
    return _MEANING.sub(r"\\\1", plain(typed).strip())


def _block(block: Block) -> Iterator[str]:
    match block:
        case Heading() | Paragraph():
            yield ("#" * block.level + " " if isinstance(block, Heading) else "") + text(block.text)
        case Bullets():
            yield "\n".join(f"{f'{n}.' if block.numbered else '-'} {text(x)}" for n, x in enumerate(block.items, 1))
        case Facts():
            yield "\n".join(f"- {text(name)}: {text(value)}" for name, value in block.pairs)
        case Table():
            yield from _table(block)
        case Figure() | Beside():
            for figure in block.figures if isinstance(block, Beside) else (block,):
                yield from _figure(figure)
        case Formula():
            yield from _formula(block)
        case Callout():
            yield "\n".join([f"> **{text(block.title)}**", *(f">\n> - {text(x)}" for x in block.sentences)])
        case PageBreak():
            yield "---"
        case _:
            yield _to_fill_in(block)


def _formula(block: Formula) -> Iterator[str]:
    if block.text:  # else it is read with the one before
        yield f"    {plain(block.text)}"


def _to_fill_in(block: Checklist | Blanks | Room) -> str:
    match block:
        case Checklist():
            return "\n".join(f"- [ ] {text(item)}" for item in block.items)
        case Blanks():
            return "\n\n".join(f"{text(label)}: {_LINE}" for label in block.labels)
        case Room():
            return "\n\n".join(([text(block.label)] if block.label else []) + [_LINE] * block.lines)


def _table(table: Table) -> Iterator[str]:
    if table.caption:
        yield text(table.caption)
    rows = [
        [text(column.name) for column in table.columns],
        [_RULES[column.align] for column in table.columns],
        *([text(cell) for cell in row] for row in table.rows),
    ]
    yield "\n".join(f"| {' | '.join(row)} |" for row in rows)


def _figure(figure: Figure) -> Iterator[str]:
    yield f"*Picture: {text(figure.drawing.alt)}*"
    if figure.caption:
        yield text(figure.caption)
