"""The published methods a fitting's loss may be computed by: their names, sources and limits.

Names only, so that a table file can be checked without loading the correlations themselves, which are in
`ventsize.flow.fittings`. Tests hold the two together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Use = Literal["turn", "expansion", "contraction"]
Family = Literal["bend", "miter", "tee run", "tee branch", "expansion", "contraction"]

RENNELS = "Rennels and Hudson, Pipe Flow, Wiley 2012"
CRANE = "Crane Co., Flow of Fluids Through Valves, Fittings and Pipe, TP-410, 2009"
ITO = "Ito, Pressure losses in smooth pipe bends, J. Basic Eng. 82, 1960"
MILLER = "Miller, Internal Flow Systems, 2nd ed. 1990"
HOOPER = "Hooper, The two-K method predicts head losses in pipe fittings, Chem. Eng. 88(17), 1981"
HOOPER_SIZES = "Hooper, Calculate head loss caused by change in pipe size, Chem. Eng. 95(16), 1988"
DARBY = "Darby, Chemical Engineering Fluid Mechanics, 2nd ed. 2001 (3-K)"
BLEVINS = "Blevins, Applied Fluid Dynamics Handbook, 1984"
SWAMEE = "Swamee and Sharma, Design of Water Supply Pipe Networks, 2008"
BORDA = "Borda-Carnot momentum balance"
MOLDED = "ASHRAE Handbook-Fundamentals 2021, ch. 22, tables 8 and 9 (RP-1193): molded PVC, water at 2.43 m/s"
MOLDED_SLOWER = f"{MOLDED}; slower flow by the Reynolds factor of duct tables (ASHRAE Fundamentals 2005, ch. 35)"
MOLDED_MIDDLE = f"{MOLDED}; slower flow as threaded fittings, Hooper 1981"
DUCT = "ASHRAE Fundamentals 2005, ch. 35, CR3-6 with its factor of the Reynolds number"
SCREWED = "public K table of the Hydraulic Institute's family"


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """A published way to a loss coefficient.

    family: what shape of fitting it is about; methods of one family are comparable.
    angle: the one turn it was published for, None for any [degrees].
    bend: which radius of the fitting it needs: "", "usual" or "tight".
    least_reynolds: below which it is extrapolated [-]; 0 where its author states no limit, or it was not read.
    in_spread: False for methods that only the study of all methods shows; `why_not` says why.
    """

    name: str
    source: str
    family: Family
    angle: float | None = None
    bend: Literal["", "usual", "tight"] = ""
    least_reynolds: float = 0.0
    in_spread: bool = True
    why_not: str = ""

    @property
    def use(self) -> Use:
        """Which loss of a fitting's record it can serve."""
        if self.family == "expansion" or self.family == "contraction":
            return self.family
        return "turn"


_SLOW = "read from charts, some hundred times slower than the others"
_SWAMEE_HIGH = "an outlier: about three times every other method at a radius of one diameter"
_TEE_RUN_LOW = "an outlier: the constant in circulation, 0.05, is a tenth of the one remembered from the paper"
_LAMINAR_STEP = "an outlier below Re 4000, where it steps up threefold to fivefold"


def _two_or_three_k(name: str, source: str, family: Family, angle: float) -> Method:
    return Method(name=name, source=source, family=family, angle=angle)


_ALL = (
    Method(name="Rennels bend", source=RENNELS, family="bend", bend="usual"),
    Method(name="Rennels tight bend", source=RENNELS, family="bend", bend="tight"),
    Method(name="Crane bend", source=CRANE, family="bend", bend="usual"),
    Method(name="Crane standard elbow", source=CRANE, family="bend"),
    Method(name="Ito bend", source=ITO, family="bend", bend="usual", least_reynolds=2e4),
    Method(name="molded elbow", source=MOLDED_MIDDLE, family="bend"),
    Method(name="molded elbow, lowest", source=MOLDED, family="bend"),
    Method(name="molded elbow, highest", source=MOLDED_SLOWER, family="bend"),
    Method(name="screwed long 90", source=SCREWED, family="bend", angle=90.0),
    Method(name="Miller bend", source=MILLER, family="bend", bend="usual", in_spread=False, why_not=_SLOW),
    Method(
        name="Swamee bend",
        source=SWAMEE,
        family="bend",
        bend="usual",
        in_spread=False,
        why_not=_SWAMEE_HIGH,
    ),
    _two_or_three_k("Hooper threaded 90", HOOPER, "bend", 90.0),
    _two_or_three_k("Hooper flanged 90", HOOPER, "bend", 90.0),
    _two_or_three_k("Hooper long 90", HOOPER, "bend", 90.0),
    _two_or_three_k("Hooper standard 45", HOOPER, "bend", 45.0),
    _two_or_three_k("Hooper long 45", HOOPER, "bend", 45.0),
    _two_or_three_k("Darby threaded 90", DARBY, "bend", 90.0),
    _two_or_three_k("Darby flanged 90", DARBY, "bend", 90.0),
    _two_or_three_k("Darby long 90", DARBY, "bend", 90.0),
    _two_or_three_k("Darby threaded 45", DARBY, "bend", 45.0),
    _two_or_three_k("Darby long 45", DARBY, "bend", 45.0),
    Method(name="duct miter", source=DUCT, family="miter", least_reynolds=1e4),
    Method(name="fabricated miter, lowest", source=MOLDED, family="miter"),
    Method(name="Rennels miter", source=RENNELS, family="miter"),
    Method(name="Crane miter", source=CRANE, family="miter"),
    Method(name="Blevins miter", source=BLEVINS, family="miter"),
    Method(name="Miller miter", source=MILLER, family="miter", in_spread=False, why_not=_SLOW),
    _two_or_three_k("Hooper mitered 90", HOOPER, "miter", 90.0),
    _two_or_three_k("Hooper mitered 45", HOOPER, "miter", 45.0),
    _two_or_three_k("Darby mitered 90", DARBY, "miter", 90.0),
    _two_or_three_k("Darby mitered 45", DARBY, "miter", 45.0),
    Method(name="molded tee run", source=MOLDED_MIDDLE, family="tee run", angle=0.0),
    Method(name="molded tee run, lowest", source=MOLDED, family="tee run", angle=0.0),
    Method(name="Crane tee run", source=CRANE, family="tee run", angle=0.0),
    _two_or_three_k("Hooper threaded tee run", HOOPER, "tee run", 0.0),
    _two_or_three_k("Darby threaded tee run", DARBY, "tee run", 0.0),
    _two_or_three_k("Darby flanged tee run", DARBY, "tee run", 0.0),
    Method(
        name="Hooper flanged tee run",
        source=HOOPER,
        family="tee run",
        angle=0.0,
        in_spread=False,
        why_not=_TEE_RUN_LOW,
    ),
    Method(name="molded tee branch", source=MOLDED_MIDDLE, family="tee branch", angle=90.0),
    Method(name="molded tee branch, lowest", source=MOLDED, family="tee branch", angle=90.0),
    Method(name="molded tee branch, highest", source=MOLDED_SLOWER, family="tee branch", angle=90.0),
    Method(name="Crane tee branch", source=CRANE, family="tee branch", angle=90.0),
    _two_or_three_k("Hooper threaded tee branch", HOOPER, "tee branch", 90.0),
    _two_or_three_k("Hooper flanged tee branch", HOOPER, "tee branch", 90.0),
    _two_or_three_k("Darby threaded tee branch", DARBY, "tee branch", 90.0),
    _two_or_three_k("Darby flanged tee branch", DARBY, "tee branch", 90.0),
    Method(name="molded expansion, lowest", source=MOLDED, family="expansion"),
    Method(name="molded expansion, highest", source=MOLDED, family="expansion"),
    Method(name="sudden expansion", source=BORDA, family="expansion"),
    Method(name="Rennels 30 degree cone expansion", source=RENNELS, family="expansion"),
    Method(name="Rennels 60 degree cone expansion", source=RENNELS, family="expansion"),
    Method(name="Crane 30 degree cone expansion", source=CRANE, family="expansion"),
    Method(
        name="Hooper sudden expansion",
        source=HOOPER_SIZES,
        family="expansion",
        in_spread=False,
        why_not=_LAMINAR_STEP,
    ),
    Method(name="molded reducer", source=MOLDED, family="contraction"),
    Method(name="molded reducer, lowest", source=MOLDED, family="contraction"),
    Method(name="molded reducer, highest", source=MOLDED, family="contraction"),
    Method(name="molded bushing", source=MOLDED, family="contraction"),
    Method(name="molded bushing, lowest", source=MOLDED, family="contraction"),
    Method(name="molded bushing, highest", source=MOLDED, family="contraction"),
    Method(name="Crane sudden contraction", source=CRANE, family="contraction"),
    Method(name="Rennels sudden contraction", source=RENNELS, family="contraction"),
    Method(name="Rennels 60 degree cone contraction", source=RENNELS, family="contraction"),
    Method(name="Crane 60 degree cone contraction", source=CRANE, family="contraction"),
    Method(
        name="Hooper sudden contraction",
        source=HOOPER_SIZES,
        family="contraction",
        in_spread=False,
        why_not=_LAMINAR_STEP,
    ),
)

METHODS: Mapping[str, Method] = {method.name: method for method in _ALL}
