"""A copied block of deductions: which fitting each line is for, and its equivalent length for every size or by size."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ventsize.quantity import System
from ventsize.view.page import heads, texts
from ventsize.view.page.blocks import Cells, split
from ventsize.view.page.heads import is_value, kind_by_figures, unmarked
from ventsize.view.page.texts import LENGTH, SIZE

Lengths = str | dict[str, str]


@dataclass(frozen=True, slots=True)
class PastedDeductions:
    """Fittings with their lengths in the order of the block; lines that no fitting of ours is meant by stay out."""

    lengths: Mapping[str, Lengths]
    left_out: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()


def understand_deductions(text: str, titles: Mapping[str, str], system: System = System.US) -> PastedDeductions | None:
    """What a copied block deducts; None where no line of it has words and a figure.

    titles: of the fittings that there are, by name
    """
    found: dict[str, Lengths] = {}
    left_out: list[str] = []
    remarks: list[str] = []
    sizes: list[str] = []
    unit = ""
    for line in split(text):
        words = " ".join(cell for cell in line if cell and not is_value(cell))
        figures = _figures(line)
        if _is_head(words, figures):
            sizes = [f"{cell} in" if texts.is_number(cell) else cell for cell in figures]
            unit = heads.unit_in(re.sub(r"\b(?:size|pipe).*", "", words.lower()), LENGTH) or unit
            continue
        if not words or not figures:
            named_unit = heads.unit_in(words, LENGTH)
            unit = named_unit or unit
            caption = not figures and (named_unit or not re.search(r"\d", words)) and not named_any(words)
            left_out += [] if caption or _is_caption(words) else [" ".join(line)]
            continue
        lengths = _lengths(figures, sizes, unit, system)
        names = named(words, titles)
        if not names or lengths is None:
            left_out.append("  ".join(cell for cell in line if cell))
            continue
        if len(names) > 1:
            remarks.append(f"{words}: taken for {' and '.join(names)}")
        if re.search(r"\b(?:two|pair|2)\b", words.lower()) and isinstance(lengths, str):
            lengths = {"per_two": lengths}
        found |= dict.fromkeys(names, lengths)
    if found and not unit and not any(_has_unit(value) for value in re.findall(r"\S+", text)):
        remarks.append(f"the block names no unit: taken as {texts.usual_unit(LENGTH, '', system)}")
    return PastedDeductions(found, tuple(left_out), tuple(remarks)) if found or left_out else None


def named(words: str, titles: Mapping[str, str]) -> tuple[str, ...]:
    """The fittings that some words mean; several where the page makes no difference between them, none if unknown."""
    plain = " ".join(re.sub(r"[,.:;()°º]", " ", words.lower()).split())
    for name, title in titles.items():
        if plain in (name, " ".join(re.sub(r"[,.:;()°º]", " ", title.lower()).split())):
            return (name,)
    return tuple(name for name in _meant(plain) if name in titles)


def _meant(plain: str) -> Iterable[str]:
    if re.search(r"\b(?:elbows?|ells?|els?|bends?|sweeps?)\b", plain) and not re.search(r"termina|down\b", plain):
        return _elbows(plain)
    if re.search(r"\btees?\b", plain):
        if re.search(r"through|straight|run\b", plain):
            return ("tee-through",)
        return ("tee-branch",) if re.search(r"branch|side|turn", plain) else ()
    if re.search(r"kit|concentric|cap\b", plain):
        return ()  # the page's own
    if re.search(r"\b(?:intake|inlet|entrance)\b", plain):
        return ("entrance-open",)
    if re.search(r"screen", plain):
        return ("terminal-screened",)
    if re.search(r"down\b", plain) and re.search(r"elbow|turned|termina", plain):
        return ("terminal-elbow-down",)
    if re.search(r"open|plain|straight", plain) and re.search(r"\bend|termina", plain):
        return ("terminal-open",)
    return (word,) if (word := plain.removesuffix("s")) in ("coupling", "increaser", "reducer") else ()


def _elbows(plain: str) -> Iterable[str]:
    match = re.search(r"\b(90|45|30|22|15)\b", plain)
    angle = match[1] if match else ""
    if angle in ("30", "22", "15"):
        return (f"elbow-{angle}",)
    if re.search(r"miter|mitre", plain):
        return (f"elbow-{angle}-mitered",)
    long = re.search(r"\blong\b|\bsweep|large", plain) is not None
    short = re.search(r"\bshort\b|tight|close|small", plain) is not None
    if angle == "90":
        return (
            ("elbow-90-long",)
            if long and not short
            else ("elbow-90-short",)
            if short
            else ("elbow-90-long", "elbow-90-short")
        )
    if angle == "45":
        return ("elbow-45-long",) if long and not short else ("elbow-45",) if short else ("elbow-45", "elbow-45-long")
    return ()


def _figures(line: Cells) -> list[str]:
    return [unmarked(cell)[0] for cell in line if cell and is_value(cell)]


def _is_head(words: str, figures: list[str]) -> bool:
    """Whether a line is the sizes over the lengths."""
    kind = kind_by_figures(figures) if figures else ""
    by_unit = {heads.kind_by_unit(cell) for cell in figures} == {SIZE}
    labelled = SIZE in heads.head_of(words).kinds or not words or "fitting" in words.lower()
    return bool(figures) and (by_unit or (kind == SIZE and labelled and not named_any(words)))


def _is_caption(words: str) -> bool:
    """Whether some words are the heading of a list of fittings."""
    return re.search(r"fittings?\b|equivalent|deduct", words.lower()) is not None and not re.search(r"\d", words)


def named_any(words: str) -> bool:
    """Whether some words speak of a fitting at all."""
    return re.search(r"elbow|ell\b|tee\b|end\b|screen|coupling|kit", words.lower()) is not None


def _lengths(figures: list[str], sizes: list[str], unit: str, system: System) -> Lengths | None:
    """A length, or one by size; None where there are not as many as sizes."""
    made = []
    for cell in figures:
        if texts.is_not_permitted(cell) or texts.band(cell):
            return None
        made.append(f"{cell} {unit}" if unit and texts.is_number(cell) else texts.with_unit(cell, LENGTH, "", system))
    if len(made) == 1 and len(sizes) != 1:
        return made[0]
    if len(made) != len(sizes):
        return None
    return made[0] if len(set(made)) == 1 and len(made) > 1 else dict(zip(sizes, made, strict=True))


def _has_unit(word: str) -> bool:
    return re.search(r"\bft\b|\bfeet\b|'|\bm\b|met(?:er|re)s?", word) is not None
