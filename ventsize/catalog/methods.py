"""The published methods a fitting's loss may be computed by: their names, sources and limits.

Names only, so that a table file can be checked without loading the correlations themselves, which are in
`ventsize.flow.fittings`. Tests hold the two together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Use = Literal["turn", "expansion", "contraction"]

RENNELS = "Rennels and Hudson, Pipe Flow, Wiley 2012"
CRANE = "Crane Co., Flow of Fluids Through Valves, Fittings and Pipe, TP-410, 2009"
ITO = "Ito, Pressure losses in smooth pipe bends, J. Basic Eng. 82, 1960"
MILLER = "Miller, Internal Flow Systems, 2nd ed. 1990"
HOOPER = "Hooper, The two-K method predicts head losses in pipe fittings, Chem. Eng. 88(17), 1981"
HOOPER_SIZES = "Hooper, Calculate head loss caused by change in pipe size, Chem. Eng. 95(16), 1988"
DARBY = "Darby, Chemical Engineering Fluid Mechanics, 2nd ed. 2001 (3-K)"
BLEVINS = "Blevins, Applied Fluid Dynamics Handbook, 1984"
IDELCHIK = "Idelchik, Handbook of Hydraulic Resistance"
SWAMEE = "Swamee and Sharma, Design of Water Supply Pipe Networks, 2008"
BORDA = "Borda-Carnot momentum balance"


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """A published way to a loss coefficient.

    angle: the one turn it was published for, None for any [degrees].
    bend: which radius of the fitting it needs: "", "usual" or "tight".
    in_spread: False for methods that only the study of all methods shows; `why_not` says why.
    """

    name: str
    source: str
    use: Use = "turn"
    angle: float | None = None
    bend: Literal["", "usual", "tight"] = ""
    in_spread: bool = True
    why_not: str = ""


_SLOW = "read from charts, some hundred times slower than the others"
_SWAMEE_HIGH = "an outlier: about three times every other method at a radius of one diameter"
_TEE_RUN_LOW = "an outlier: the constant in circulation, 0.05, is a tenth of the one remembered from the paper"
_LAMINAR_STEP = "an outlier below Re 4000, where it steps up threefold to fivefold"


def _turn(name: str, source: str, angle: float | None = None) -> Method:
    return Method(name=name, source=source, angle=angle)


_ALL = (
    Method(name="Rennels bend", source=RENNELS, bend="usual"),
    Method(name="Rennels tight bend", source=RENNELS, bend="tight"),
    Method(name="Crane bend", source=CRANE, bend="usual"),
    _turn("Crane standard elbow", CRANE),
    Method(name="Ito bend", source=ITO, bend="usual"),
    Method(name="Miller bend", source=MILLER, bend="usual", in_spread=False, why_not=_SLOW),
    Method(name="Swamee bend", source=SWAMEE, bend="usual", in_spread=False, why_not=_SWAMEE_HIGH),
    _turn("Hooper threaded 90", HOOPER, 90.0),
    _turn("Hooper flanged 90", HOOPER, 90.0),
    _turn("Hooper long 90", HOOPER, 90.0),
    _turn("Hooper mitered 90", HOOPER, 90.0),
    _turn("Hooper standard 45", HOOPER, 45.0),
    _turn("Hooper long 45", HOOPER, 45.0),
    _turn("Hooper mitered 45", HOOPER, 45.0),
    _turn("Darby threaded 90", DARBY, 90.0),
    _turn("Darby flanged 90", DARBY, 90.0),
    _turn("Darby long 90", DARBY, 90.0),
    _turn("Darby mitered 90", DARBY, 90.0),
    _turn("Darby threaded 45", DARBY, 45.0),
    _turn("Darby long 45", DARBY, 45.0),
    _turn("Darby mitered 45", DARBY, 45.0),
    _turn("Rennels miter", RENNELS),
    _turn("Crane miter", CRANE),
    _turn("Blevins miter", BLEVINS),
    Method(name="Miller miter", source=MILLER, in_spread=False, why_not=_SLOW),
    _turn("Crane tee run", CRANE, 0.0),
    _turn("Hooper threaded tee run", HOOPER, 0.0),
    _turn("Darby threaded tee run", DARBY, 0.0),
    _turn("Darby flanged tee run", DARBY, 0.0),
    Method(name="Hooper flanged tee run", source=HOOPER, angle=0.0, in_spread=False, why_not=_TEE_RUN_LOW),
    _turn("Crane tee branch", CRANE, 90.0),
    _turn("Hooper threaded tee branch", HOOPER, 90.0),
    _turn("Hooper flanged tee branch", HOOPER, 90.0),
    _turn("Darby threaded tee branch", DARBY, 90.0),
    _turn("Darby flanged tee branch", DARBY, 90.0),
    Method(name="sudden expansion", source=BORDA, use="expansion"),
    Method(name="Rennels 30 degree cone expansion", source=RENNELS, use="expansion"),
    Method(name="Rennels 60 degree cone expansion", source=RENNELS, use="expansion"),
    Method(name="Crane 30 degree cone expansion", source=CRANE, use="expansion"),
    Method(
        name="Hooper sudden expansion",
        source=HOOPER_SIZES,
        use="expansion",
        in_spread=False,
        why_not=_LAMINAR_STEP,
    ),
    Method(name="Crane sudden contraction", source=CRANE, use="contraction"),
    Method(name="Rennels sudden contraction", source=RENNELS, use="contraction"),
    Method(name="Rennels 60 degree cone contraction", source=RENNELS, use="contraction"),
    Method(name="Crane 60 degree cone contraction", source=CRANE, use="contraction"),
    Method(
        name="Hooper sudden contraction",
        source=HOOPER_SIZES,
        use="contraction",
        in_spread=False,
        why_not=_LAMINAR_STEP,
    ),
)

METHODS: Mapping[str, Method] = {method.name: method for method in _ALL}
