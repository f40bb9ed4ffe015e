"""Copied text as lines of cells: from a spreadsheet by its tabs, from a file by its commas, from a PDF by its gaps."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator

Cells = tuple[str, ...]

_POWER = r"kBtu/?h(?:r)?|Btu/?h(?:r)?|BTUH|MBH|kW|Btu"
_UNITS = rf"{_POWER}|inch(?:es)?|in\.?(?![a-z])|\"|”|″|mm|feet|foot|ft\.?|'|′|’|metres?|meters?|m(?![a-z])"
_W_C = r"in\.? ?w\.?c\.?|Pa"
_NUMBER = r"-?(?:\d{1,3}(?:,\d{3})+(?!\d)|\d+)(?:\.\d+)?(?:[ -]\d+/\d+)?|\d+/\d+"
_MARK = r"(?:[*†‡§]+|\(\d\))?"
_END = r"(?![\w/]|\s*[°º])"
_ELBOWS = r"(?:90|45)\s*(?:°|º|deg(?:rees?)?\.?)?\s*-?\s*(?:elbows?|ells?)"
_TOKEN = re.compile(
    rf"(?P<elbows>{_ELBOWS})"
    rf"|(?P<band>(?:{_NUMBER})\s*(?:ft\.?|m|')?\s*(?:to|thru|through|[-–—])\s*(?:{_NUMBER})\s*(?:feet|ft\.?|metres?|meters?|m(?![a-z])|'|′)?{_END})"
    rf"|(?P<number>(?:{_NUMBER}){_MARK}\s?(?:{_W_C}|{_UNITS})?{_MARK}{_END})"
    r"|(?P<none>(?:not (?:permitted|allowed)|N\.?/?A\.?|N\.?P\.?|[-–—―]+)(?=\s|$)(?!\s*=))"
    r"|(?P<gap>\s{2,})|(?P<space>\s)|(?P<word>\S+)",
    re.IGNORECASE,
)
_ONE_NUMBER = re.compile(rf"(?:{_NUMBER}){_MARK}\s?(?:(?:{_W_C}|{_UNITS}){_MARK}{_END})?", re.IGNORECASE)
_THOUSANDS = re.compile(r"(?<!\d)\d{1,3}(?:,\d{3})+(?!\d)")
_NEW_HEAD = re.compile(
    r"(?<!pipe)(?<!vent)(?<!air)(?<!nominal)\s+"
    r"(?=(?:altitude|elevation|input|(?:(?:air|vent|pipe|nominal) )*(?:size|diameter)"
    r"|least|from|to|number of|elbows? in(?:cluded)?)\b(?! of))"
    r"|(?<!max)(?<!maximum)(?<!vent)(?<!pipe)(?<!min)(?<!minimum)(?<!equivalent)\s+(?=(?:max|min|allow|length)[a-z]*\b)",
    re.IGNORECASE,
)


def split(text: str) -> list[Cells]:
    """The lines that hold anything, each as its cells. Empty cells are kept where the text says where cells are."""
    text = text.replace("\r\n", "\n").replace("\r", "\n").replace("\u00a0", " ").lstrip("\ufeff").strip("\n")
    lines = [line for line in text.split("\n") if line.strip()]
    mark = _delimiter(lines)
    if mark:
        reader = csv.reader(io.StringIO("\n".join(lines)), delimiter=mark, skipinitialspace=mark != "\t")
        found = [tuple(" ".join(cell.split()) for cell in line) for line in reader]
        found = [_without_edges(line) if mark == "|" else line for line in found]
        return [line for line in found if any(line)]
    return [cells for line in lines if (cells := tokens(line))]


def _delimiter(lines: list[str]) -> str:
    for mark in ("\t", "|", ";"):
        if any(mark in line for line in lines):
            return mark
    by_commas = [line for line in lines if "," in _THOUSANDS.sub("", line) or '"' in line and '",' in line]
    return "," if by_commas and 2 * len(by_commas) > len(lines) else ""


def _without_edges(line: Cells) -> Cells:
    """A line between bars, or a rule of dashes between them."""
    if all(set(cell) <= set("-: ") for cell in line):
        return ()
    return line[int(line[0] == "") : len(line) - int(line[-1] == "")]


def tokens(line: str) -> Cells:
    """The cells of a line that has nothing but gaps between them."""
    return tuple(_tokens(line))


def _tokens(line: str) -> Iterator[str]:
    """Numbers with their units, ranges and dashes one by one; words that stand together as one cell."""
    words = ""
    at = 0
    line = line.strip()
    while at < len(line):
        match = _TOKEN.match(line, at)
        assert match is not None  # the last alternatives take whatever is there
        kind, text = match.lastgroup, match[0]
        if kind == "band" and not _is_band(text):
            match = _ONE_NUMBER.match(line, at)
            assert match is not None
            kind, text = "number", match[0]
        at += len(text)
        if (
            kind in ("word", "elbows")
            or (kind == "space" and words)
            or (kind == "number" and _in_words(words, line[at:]))
        ):
            words += text
            continue
        yield from _heads(words)
        words = ""
        if kind in ("number", "band", "none"):
            yield text.strip()
    yield from _heads(words)


def _in_words(words: str, rest: str) -> bool:
    """Whether a number belongs to a sentence, such as a footnote: not to the label before it."""
    return words.endswith("(") or (len(words.split()) > 3 and re.search(r"[a-z]{4}", rest, re.IGNORECASE) is not None)


def _heads(words: str) -> Iterator[str]:
    """Heads of columns that stand side by side with nothing but a space between."""
    if words.strip():
        yield from (head.strip() for head in _NEW_HEAD.split(words.strip()) if head.strip())


def _is_band(text: str) -> bool:
    """Whether two numbers with a dash between are a range: a dash with gaps round it may be a cell of its own."""
    if re.match(r"\d+-\d+/\d", text):
        return False  # two and a half
    tight = re.fullmatch(r"\S+[-–—]\S+(?:\s*[a-z.'′]+)?", text, re.IGNORECASE)
    if tight or re.search(r"to|thru|through", text, re.IGNORECASE):
        return True
    numbers = [float(n.replace(",", "")) for n in re.findall(r"\d[\d,]*(?:\.\d+)?", text)]
    has_unit = re.search(r"[a-z'′]", text, re.IGNORECASE) is not None
    return len(numbers) == 2 and numbers[0] < numbers[1] and (has_unit or numbers[1] >= 1000)
