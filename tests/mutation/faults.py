"""Faults of one place in a module, each as the text it replaces: what a slip of the finger or of thought would leave.

Made: comparisons moved by one or turned round, + and -, * and /, and and or, min and max, any and all, a negation
dropped, a sign dropped, a number a tenth larger, true and false. Not made: faults in words, types and defaults of
arguments, which the type checker and other tests hold, and in tolerances and steps of iterations.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

SWAPPED = {
    ast.Lt: "<=", ast.LtE: "<", ast.Gt: ">=", ast.GtE: ">", ast.Eq: "!=", ast.NotEq: "==",
    ast.Is: "is not", ast.IsNot: "is", ast.In: "not in", ast.NotIn: "in",
    ast.Add: "-", ast.Sub: "+", ast.Mult: "/", ast.Div: "*",
}  # fmt: skip
TINY = 1e-6  # numbers up to it are steps and tolerances of an iteration
ORDERED = (ast.Lt, ast.LtE, ast.Gt, ast.GtE)
TOLERANCE = r"^_?(SAME_\w+|ROUNDING|LEVEL|LOOSE|ABOUT|SETTLED|CLOSED|NEAR|LEAST_PRESSURE|TINY)$"
CALLS = {"min": "max", "max": "min", "any": "all", "all": "any", "ceil": "floor", "floor": "ceil"}


@dataclass(frozen=True, slots=True)
class Fault:
    """A text of a file put in place of another. file: within the tree. start, end: of what is replaced, in letters."""

    file: str
    start: int
    end: int
    put: str

    @property
    def layer(self) -> str:
        """The layer it is in."""
        return Path(self.file).parts[1]

    def lines(self, text: str) -> range:
        """Those of the statement it is in, counted from 1; of one that holds others, its head."""
        at = text.count("\n", 0, self.start) + 1
        found = (_head(node) for node in ast.walk(ast.parse(text)) if isinstance(node, ast.stmt))
        return min((lines for lines in found if at in lines), key=len)

    def applied(self, text: str) -> str:
        """The file with the fault in it."""
        return text[: self.start] + self.put + text[self.end :]

    def _lines(self, root: Path) -> tuple[int, str, str]:
        text = (root / self.file).read_text(encoding="utf-8")
        first, last = text.rfind("\n", 0, self.start) + 1, text.find("\n", self.end)
        now = text[first : self.start] + self.put + text[self.end : last]
        return text.count("\n", 0, first) + 1, text[first:last].strip(), now.strip()

    def named(self, root: Path) -> tuple[str, str]:
        """What it is known by: the module within the package, and the line with the fault in it."""
        return self.file.partition("/")[2], self._lines(root)[2]

    def shown(self, root: Path) -> str:
        """Where it is, and the line as it was and is."""
        number, was, now = self._lines(root)
        return f"{self.file}:{number}\n  - {was}\n  + {now}"


def faults_in(root: Path, file: str) -> list[Fault]:
    """Every fault that is made in a module, in its order."""
    text = (root / file).read_text(encoding="utf-8")
    return sorted(_Finder(text, file).faults(ast.parse(text)), key=lambda fault: (fault.start, fault.put))


class _Finder:
    def __init__(self, text: str, file: str) -> None:
        self._file, self._text = file, text
        self._lines = [line.encode() for line in text.splitlines(keepends=True)]
        self._starts = [0]
        for line in text.splitlines(keepends=True):
            self._starts.append(self._starts[-1] + len(line))

    def _at(self, line: int, column: int) -> int:
        """A place of the syntax tree, which counts bytes, in letters of the text."""
        return self._starts[line - 1] + len(self._lines[line - 1][:column].decode())

    def _span(self, node: ast.expr) -> tuple[int, int]:
        assert node.end_lineno is not None and node.end_col_offset is not None
        return self._at(node.lineno, node.col_offset), self._at(node.end_lineno, node.end_col_offset)

    def faults(self, node: ast.AST) -> Iterator[Fault]:
        """Those at a node and below it."""
        yield from self._here(node)
        for child in _below(node):
            yield from self.faults(child)

    def _here(self, node: ast.AST) -> Iterator[Fault]:
        match node:
            case ast.Compare(left=left, ops=ops, comparators=others):
                for before, operator, after in zip([left, *others], ops, others, strict=False):
                    yield from self._compared(before, operator, after)
            case ast.BinOp(left=left, op=operator, right=right) if type(operator) in SWAPPED and _figures(left, right):
                yield from self._between(left, right, SWAPPED[type(operator)])
            case ast.BoolOp(op=operator, values=values):
                for before, after in pairwise(values):
                    yield from self._between(before, after, "or" if isinstance(operator, ast.And) else "and")
            case ast.UnaryOp(op=ast.Not() | ast.USub() as operator):
                start, _ = self._span(node)
                yield Fault(self._file, start, start + (3 if isinstance(operator, ast.Not) else 1), "")
            case ast.Call(func=ast.Name(id=name) | ast.Attribute(attr=name)) if name in CALLS:
                _, end = self._span(node.func)
                yield Fault(self._file, end - len(name), end, CALLS[name])
            case ast.Constant(value=bool(value)):
                yield Fault(self._file, *self._span(node), str(not value))
            case ast.Constant(value=float(value)) if value == 0.0 or value > TINY:
                yield Fault(self._file, *self._span(node), repr(1.1 * value if value else 0.1))

    def _compared(self, before: ast.expr, operator: ast.cmpop, after: ast.expr) -> Iterator[Fault]:
        if not (isinstance(operator, ORDERED) and any(map(_tolerance, (before, after)))):
            yield from self._between(before, after, SWAPPED[type(operator)])

    def _between(self, before: ast.expr, after: ast.expr, put: str) -> Iterator[Fault]:
        start, end = self._span(before)[1], self._span(after)[0]
        between = self._text[start:end]
        old = between.strip(" ()\n\\")
        if old and "#" not in between:
            at = start + between.index(old)
            yield Fault(self._file, at, at + len(old), put)


def _head(node: ast.stmt) -> range:
    body = getattr(node, "body", None)
    assert node.end_lineno is not None
    return range(node.lineno, max(node.lineno, body[0].lineno - 1 if body else node.end_lineno) + 1)


def _below(node: ast.AST) -> Sequence[ast.AST]:
    """The parts of a node in which a slip would change an answer."""
    match node:
        case ast.arguments() | ast.Raise() | ast.JoinedStr() | ast.Assert() | ast.keyword(arg="strict"):
            return ()
        case ast.Assign(targets=[ast.Name(id=name)]) if re.search(TOLERANCE, name):
            return ()
        case ast.AnnAssign(value=value):
            return () if value is None else (value,)
        case ast.FunctionDef(body=body):
            return body
        case ast.ClassDef(body=body):  # without what its fields begin as, which are defaults of arguments too
            return [part for part in body if not isinstance(part, ast.AnnAssign)]
    return tuple(ast.iter_child_nodes(node))


def _tolerance(part: ast.expr) -> bool:
    """Whether a side of a comparison leaves a margin: at the very edge of it either answer is right."""
    return any(isinstance(node, ast.Name) and re.search(TOLERANCE, node.id) for node in ast.walk(part))


def _figures(*parts: ast.expr) -> bool:
    """Whether these are added or multiplied as numbers that matter: no texts or lists, no tolerances."""
    return not any(
        isinstance(part, ast.JoinedStr | ast.List | ast.Tuple)
        or (isinstance(part, ast.Constant) and (isinstance(part.value, str) or 0 < part.value <= TINY))
        for part in parts
    )
