"""The lines of a working as formulas: the formula itself, and with its numbers put in."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from ventsize.quantity import System
from ventsize.quantity.board import Kind, unit_of
from ventsize.report.paper.blocks import Formula
from ventsize.report.working import digits, unit_factor
from ventsize.studies.working.steps import Given, Step

_LONGEST = 62  # letters of a line; a longer sum goes on below
_GREEK = {"ρ": r"\rho", "µ": r"\mu", "μ": r"\mu", "ε": r"\varepsilon", "Δ": r"\Delta ", "λ": r"\lambda", "π": r"\pi"}
_TOKEN = re.compile(r"\{\d+\}|\d+(?:\.\d+)?|[A-Za-z]+\d*|[-+*/^()]")


def formula_blocks(step: Step, system: System) -> tuple[Formula, ...]:
    """A step's formula, the same with numbers, and its result.

    As in the text of a working, C is what the formula is multiplied by so that its units come out.
    """
    symbol = symbol_latex(step.symbol)
    factor = unit_factor(step, system)
    by = not math.isclose(factor, 1.0, rel_tol=1e-12)
    symbols = [symbol_latex(given.symbol) for given in step.inputs]
    numbers = [number_latex(given.value, given.kind, system) for given in step.inputs]
    lead = r"C \cdot " if by else ""
    with_symbols = _broken(step.template, symbols, symbol, lead)
    lead = rf"{_digits_latex(factor)} \cdot " if by else ""
    with_numbers = _broken(step.template, numbers, "", lead)
    result = f"{symbol} = {number_latex(step.value, step.kind, system)}"
    shown = [_shown(given, system) for given in step.inputs]
    return (
        *_read_as(
            with_symbols, f"{step.symbol} = {_in_words(step, [g.symbol for g in step.inputs], 'C' if by else '')}"
        ),
        *_read_as(with_numbers, f"= {_in_words(step, shown, digits(factor) if by else '')}"),
        Formula(result, f"{step.symbol} = {_shown(step.result, system)}"),
    )


def _read_as(lines: Sequence[str], text: str) -> list[Formula]:
    """Lines that are one formula: it is read at the first."""
    return [Formula(line, "" if number else text) for number, line in enumerate(lines)]


def _broken(template: str, inputs: Sequence[str], symbol: str, lead: str) -> list[str]:
    """The formula in as many lines as it takes; only a sum is broken, before a plus or minus."""
    parts = _summands(template)
    if len(parts) == 1 or (lead and len(parts) > 1):
        inside = template_latex(template, inputs)
        closed = inside if len(parts) == 1 else rf"\left({inside}\right)"
        return [f"{symbol} = {lead}{closed}"]
    lines, current = [], ""
    for part in parts:
        made = template_latex(part, inputs)
        if current and len(re.sub(r"\\[A-Za-z]+|[{}]", "", current + made)) > _LONGEST:
            lines.append(current)
            current = r"\quad "
        current += made
    return [f"{symbol} = {lines[0] if lines else current}", *lines[1:], *([current] if lines else [])]


def _summands(template: str) -> list[str]:
    """A template cut before each plus and minus that stands outside all parentheses."""
    parts, depth, start = [], 0, 0
    for place, character in enumerate(template):
        depth += (character == "(") - (character == ")")
        if depth == 0 and character in "+-" and template[place - 1 : place] == " " and place:
            parts.append(template[start:place])
            start = place
    return [*parts, template[start:]]


def template_latex(template: str, inputs: Sequence[str]) -> str:
    """A template as LaTeX: fractions for divisions, roots, powers; inputs: the LaTeX of each."""
    return _Parser(template, inputs).whole()


class _Parser:
    """Reads a template: sums of products of powers, as `Step` has them."""

    def __init__(self, template: str, inputs: Sequence[str]) -> None:
        self._tokens, self._inputs, self._at = _TOKEN.findall(template), inputs, 0

    def whole(self) -> str:
        out = self._sum()
        if self._at != len(self._tokens):
            raise ValueError(f"cannot set the formula from {self._tokens[self._at]!r} on")
        return out

    def _peek(self) -> str:
        return self._tokens[self._at] if self._at < len(self._tokens) else ""

    def _take(self) -> str:
        token = self._peek()
        self._at += 1
        return token

    def _sum(self) -> str:
        out = f"{{{self._take()}}}" if self._peek() in ("+", "-") else ""
        out += self._product()
        while self._peek() in ("+", "-"):
            out += f" {self._take()} {self._product()}"
        return out

    def _product(self) -> str:
        out = self._power()
        while self._peek() in ("*", "/"):
            sign, right = self._take(), self._power()
            out = rf"{out} \cdot {right}" if sign == "*" else rf"\frac{{{out}}}{{{_bare(right)}}}"
        return out

    def _power(self) -> str:
        base = self._atom()
        if self._peek() != "^":
            return base
        self._take()
        sign = self._take() if self._peek() == "-" else ""
        raised = rf"\left({base}\right)" if r"\mathrm" in base and not base.startswith(r"\left") else base
        return f"{{{raised}}}^{{{sign}{self._atom()}}}"

    def _atom(self) -> str:
        token = self._take()
        if token == "(":
            inside = self._sum()
            self._take()
            return rf"\left({inside}\right)"
        if token.startswith("{"):
            return self._inputs[int(token[1:-1])]
        if token == "sqrt":
            return rf"\sqrt{{{_bare(self._atom())}}}"
        if token == "log10":
            return rf"\log_{{10}}{self._atom()}"
        return token


def _bare(latex: str) -> str:
    """Without the parentheses around all of it, which a fraction or a root makes needless."""
    start, end = r"\left(", r"\right)"
    if not (latex.startswith(start) and latex.endswith(end)):
        return latex
    inside = latex[len(start) : -len(end)]
    depth = 0
    for found in re.finditer(r"\\(left|right)\b", inside):
        depth += 1 if found[1] == "left" else -1
        if depth < 0:
            return latex
    return inside


def symbol_latex(symbol: str) -> str:
    """`Δp[1]` as a letter with an index set upright."""
    base, _, index = symbol.partition("[")
    letters = "".join(_GREEK.get(letter, letter) for letter in base)
    set_base = letters if len(base) == 1 or base[0] in _GREEK else rf"\mathrm{{{base}}}"
    return rf"{set_base}_{{\mathrm{{{index[:-1]}}}}}" if index else set_base


def number_latex(value: float, kind: Kind, system: System) -> str:
    """A number to six digits with its unit upright after it."""
    unit = unit_of(kind, system)
    number = _digits_latex(value / unit.factor)
    return rf"{number}\,\mathrm{{{_unit_latex(unit.label)}}}" if unit.label else number


def _digits_latex(value: float) -> str:
    text = digits(value)
    found = re.fullmatch(r"\(?(-?[\d.]+)(?:×10\^(-?\d+))?\)?", text)
    if found is None:
        return text
    power = rf" \times 10^{{{found[2]}}}" if found[2] else ""
    inside = found[1] + power
    return rf"\left({inside}\right)" if text.startswith("(") else inside


def _unit_latex(label: str) -> str:
    spaced = label.replace(" ", r"\ ").replace("·", r"{\cdot}").replace("°", r"{}^{\circ}")
    return re.sub("[²³]", lambda found: "^2" if found[0] == "²" else "^3", spaced)


def _shown(given: Given, system: System) -> str:
    unit = unit_of(given.kind, system)
    return f"{digits(given.value / unit.factor)} {unit.label}".rstrip()


def _in_words(step: Step, inputs: Sequence[str], factor: str) -> str:
    """A step's formula with its inputs put in, times a factor where there is one."""
    raised = re.sub(r"(\{\d+\})\^", r"(\1)^", step.template) if any(" " in text for text in inputs) else step.template
    said = raised.replace(" * ", " × ").format(*inputs)
    if not factor:
        return said
    return f"{factor} × ({said})" if len(_summands(step.template)) > 1 else f"{factor} × {said}"
