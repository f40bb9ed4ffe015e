"""The working of a loss coefficient: pipe by f·L/D, a fitting by the formula of the method that its record names."""

from __future__ import annotations

import math
from collections.abc import Mapping

from fluids import fittings as published
from fluids.numerics import interp
from fluids.piping import NPS40, S40i

from ventsize.flow import measured
from ventsize.flow.correlations import INCH, THREE_K, TWO_K
from ventsize.flow.fittings import losses_of
from ventsize.flow.pieces import ENDS, PieceFlow, leaves_at
from ventsize.quantity.board import Kind
from ventsize.run.model import Run
from ventsize.studies.working.steps import Given, Step, line

_SHAPES = {"molded elbow": "elbow", "molded tee run": "tee run", "molded tee branch": "tee branch"}
_REDUCERS = {"molded reducer": measured.REDUCER, "molded bushing": measured.BUSHING}
_RECORD = "the fitting's record"
_SAID = {"leaving": "what the gas loses that leaves", "entering": "what the gas loses that enters",
         "loss": "the fitting itself"}  # fmt: skip

Formula = tuple[str, tuple[Given, ...]]


def coefficient(solved: PieceFlow, run: Run, number: int, *, forward: bool, at: Mapping[str, Given]) -> Given | Step:
    """K of a piece as a line; as a given where it is fixed, or its method has no formula that fits on a line.

    number: of the piece, from 1. forward: whether the gas goes the way the run is listed.
    at: the friction factor `f`, bore `D` and Reynolds number `Re` there.
    """
    piece = solved.piece
    name, symbol = f"loss coefficient of {number}. {piece.name}", f"K[{number}]"
    if piece.is_pipe:
        long = Given("length", f"L[{number}]", piece.length, Kind.LENGTH, "the job")
        return line(name, symbol, "{0} * {1} / {2}", at["f"], long, at["D"], powers=(0, 1, -1), value=solved.k,
                    source=solved.method, part="flow")  # fmt: skip
    if piece.fitting is None or piece.k is not None:
        return Given(name, symbol, solved.k, source=solved.method)
    leaving = piece.kind in ENDS and leaves_at(run, piece, forward=forward)
    expands = (piece.after.bore > piece.before.bore) is forward
    (_, first), *others = losses_of(piece.fitting, expands, leaving, piece.section.plastic)
    fixed = [(role, loss.k) for role, loss in others if loss.k is not None]
    formula = None if first.method is None else _formula(first.method, solved, number, at)
    if formula is None and (first.method or not fixed):
        return Given(name, symbol, solved.k, source=solved.method)
    if formula is None:
        formula = "{0}", (Given(_SAID["loss"], f"K[own,{number}]", first.k or 0.0, source=_RECORD),)
    template, inputs = formula
    for role, k in fixed:
        template += f" + {{{len(inputs)}}}"
        inputs = (*inputs, Given(_SAID[role], f"K[end,{number}]", k, source=_RECORD))
    return line(name, symbol, template, *inputs, value=solved.k, source=solved.method, part="flow")


def _formula(method: str, solved: PieceFlow, number: int, at: Mapping[str, Given]) -> Formula | None:
    """A method's formula and what it takes; None for one that has no short formula."""
    piece, bore, reynolds = solved.piece, at["D"], at["Re"]

    def own(name: str, symbol: str, value: float) -> Given:
        return Given(name, f"{symbol}{number}]", value, source="that method")

    if method in TWO_K:
        slow, fast = published.Hooper[TWO_K[method]]
        inch = Given("one inch", "D[1in]", INCH, Kind.BORE, "the unit of that formula")
        return "{0} / {1} + {2} * (1 + {3} / {4})", (
            own("what it loses more in slow flow", "K[1,", slow), reynolds,
            own("what it loses in fast flow and large pipe", "K[∞,", fast), inch, bore,
        )  # fmt: skip
    if method in THREE_K:
        slow, fast, size = published.Darby[THREE_K[method]]
        nominal = float(interp(piece.section.bore, S40i, NPS40, extrapolate=True))
        return "{0} / {1} + {2} * (1 + {3} / {4}^0.3)", (
            own("what it loses more in slow flow", "K[1,", slow), reynolds,
            own("what it loses in fast flow and large pipe", "K[i,", fast),
            own("what it loses more in small pipe", "K[d,", size),
            own("nominal size in inches, schedule 40", "N[D,", nominal),
        )  # fmt: skip
    if method in _SHAPES:
        middle, tested, rise = measured.middle(_SHAPES[method], piece.section.bore)
        angle = (piece.fitting.angle if piece.fitting else None) or 0.0
        share = measured.elbow_share(math.degrees(angle)) if method == "molded elbow" else 1.0
        return "{0} * ({1} + {2} * (1 / {3} - 1 / {4}))", (
            own("share of a 90° turn", "s[", share), own("middle of what was measured in this size", "K[m,", middle),
            own("how it rises in slower flow", "K[1,", rise), reynolds,
            own("Reynolds number of the test", "Re[m,", tested),
        )  # fmt: skip
    if method == "duct miter":
        factor = measured.reynolds_factor(solved.at.reynolds)
        return "{0} * {1}", (own("in fast flow, by the table", "K[m,", solved.loss.by_method[0][1] / factor),
                             own("factor of the table at this Reynolds number", "F[", factor))  # fmt: skip
    if piece.kind != "size change":
        return None
    wide = Given("bore of the larger pipe", f"D[w,{number}]", max(piece.before.bore, piece.after.bore), Kind.BORE,
                 "the pipe's record")  # fmt: skip
    if method == "sudden expansion":
        return "(1 - ({0} / {1})^2)^2", (bore, wide)
    if method == "Crane sudden contraction":
        return "0.5 * (1 - ({0} / {1})^2)", (bore, wide)
    if method in _REDUCERS:
        ratio = piece.section.bore / wide.value
        worst = measured.reducer(ratio, part=0.5, table=_REDUCERS[method]) / (1.0 - ratio * ratio)
        return "{2} * (1 - ({0} / {1})^2)", (bore, wide, own("measured, as if into the smallest pipe", "c[", worst))
    return None
