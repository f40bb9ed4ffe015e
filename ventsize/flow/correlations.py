"""The published methods behind `ventsize.catalog.methods`: each name with its function.

They come from `fluids`, and what was measured from `measured`; here they get one form. Coefficients stand on the
velocity in `bore`, which is the smaller one of a change of size.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import lru_cache, partial
from typing import NamedTuple

from fluids import fittings as published
from fluids.friction import ft_Crane

from ventsize.flow import measured

INCH = 0.0254
ITO_TURBULENT = 360.0  # Reynolds number over (radius / bore) squared, above which Ito's bends are turbulent
TEE_RUN_DIAMETERS, TEE_BRANCH_DIAMETERS = 20.0, 60.0  # Crane TP-410: K = 20 f_T and 60 f_T


class Situation(NamedTuple):
    """What a method is asked about.

    bore, other_bore: inside diameters, the smaller and the larger of a change of size [m]
    angle: how far the gas turns [degrees]
    bend, tight_bend: centre-line radius over bore [-]
    reynolds, friction_factor: in `bore` [-]; roughness: of its inside [m]
    """

    bore: float
    other_bore: float
    angle: float
    bend: float
    tight_bend: float
    reynolds: float
    friction_factor: float
    roughness: float


Correlation = Callable[[Situation], float]


def _two_k(key: str) -> Correlation:
    k_1, k_infinity = published.Hooper[key]

    def loss(at: Situation) -> float:
        return published.Hooper2K(at.bore / INCH, at.reynolds, K1=k_1, Kinfty=k_infinity)

    return loss


def _three_k(key: str) -> Correlation:
    k_1, k_i, k_d = published.Darby[key]

    def loss(at: Situation) -> float:
        return published.Darby3K(Di=at.bore, Re=at.reynolds, K1=k_1, Ki=k_i, Kd=k_d)

    return loss


def _bend(at: Situation, *, method: str) -> float:
    return published.bend_rounded(
        Di=at.bore,
        angle=at.angle,
        fd=at.friction_factor,
        bend_diameters=at.bend,
        Re=at.reynolds,
        roughness=at.roughness,
        method=method,
    )


def _ito(at: Situation) -> float:
    # Below this Reynolds number Ito's formula for turbulent flow gives way to one for laminar bends, a step down;
    # the turbulent one is held at its edge instead, so that the loss never falls as the flow rises.
    edge = ITO_TURBULENT * at.bend * at.bend * (1.0 + 1e-9)
    return _bend(at._replace(reynolds=max(at.reynolds, edge)), method="Ito")


def _rennels_tight(at: Situation) -> float:
    return _bend(at._replace(bend=at.tight_bend), method="Rennels")


@lru_cache(maxsize=1024)
def _fully_rough(bore: float) -> float:
    return ft_Crane(bore)


@lru_cache(maxsize=1024)
def _crane_bend(bore: float, angle: float, bend: float) -> float:
    return published.bend_rounded(Di=bore, angle=angle, bend_diameters=bend, method="Crane")


@lru_cache(maxsize=1024)
def _crane_standard(bore: float, angle: float) -> float:
    return published.bend_rounded(Di=bore, angle=angle, method="Crane standard")


def _miter(at: Situation, *, method: str) -> float:
    return published.bend_miter(angle=at.angle, Di=at.bore, Re=at.reynolds, roughness=at.roughness, method=method)


def _sudden_expansion(at: Situation, *, method: str) -> float:
    return published.diffuser_sharp(
        Di1=at.bore, Di2=at.other_bore, Re=at.reynolds, fd=at.friction_factor, method=method
    )


def _cone_expansion(at: Situation, *, method: str, angle: float) -> float:
    return published.diffuser_conical(
        Di1=at.bore, Di2=at.other_bore, angle=angle, fd=at.friction_factor, Re=at.reynolds, method=method
    )


def _sudden_contraction(at: Situation, *, method: str) -> float:
    # The Reynolds number, which only Hooper's method uses, is that of the larger pipe, upstream.
    upstream = at.reynolds * at.bore / at.other_bore
    return published.contraction_sharp(
        Di1=at.other_bore, Di2=at.bore, fd=at.friction_factor, Re=upstream, method=method
    )


def _cone_contraction(at: Situation, *, method: str, angle: float) -> float:
    return published.contraction_conical(
        Di1=at.other_bore, Di2=at.bore, angle=angle, fd=at.friction_factor, Re=at.reynolds, method=method
    )


# The keys of fluids' tables are its own. "Used as" is Hooper's tee used as an elbow, flow through the branch.
TWO_K = {
    "Hooper threaded 90": "Elbow, 90°, Standard (R/D = 1), Screwed",
    "Hooper flanged 90": "Elbow, 90°, Standard (R/D = 1), Flanged/welded",
    "Hooper long 90": "Elbow, 90°, Long-radius (R/D = 1.5), All types",
    "Hooper standard 45": "Elbow, 45°, Standard (R/D = 1), All types",
    "Hooper long 45": "Elbow, 45°, Long-radius (R/D 1.5), All types",
    "Hooper mitered 90": "Elbow, 90°, Mitered (R/D = 1.5), 1 weld (90° angle)",
    "Hooper mitered 45": "Elbow, 45°, Mitered (R/D=1.5), 1 weld (45° angle)",
    "Hooper threaded tee run": "Tee, Run, Screwed",
    "Hooper flanged tee run": "Tee, Through, Flanged or welded",
    "Hooper threaded tee branch": "Elbow, Used as, Standard, Screwed",
    "Hooper flanged tee branch": "Elbow, Elbow, Standard, Flanged/welded",
}
THREE_K = {
    "Darby threaded 90": "Elbow, 90°, threaded, standard, (r/D = 1)",
    "Darby flanged 90": "Elbow, 90°, flanged, welded, bends, (r/D = 1)",
    "Darby long 90": "Elbow, 90°, threaded, long radius, (r/D = 1.5)",
    "Darby threaded 45": "Elbow, 45°, threaded standard, (r/D = 1)",
    "Darby long 45": "Elbow, 45°, long radius, (r/D = 1.5)",
    "Darby mitered 90": "Elbow, 90°, mitered, 1 weld, (90°)",
    "Darby mitered 45": "Elbow, 45°, mitered, 1 weld, (45°)",
    "Darby threaded tee run": "Tee, Run-through, threaded, (r/D = 1)",
    "Darby flanged tee run": "Tee, Run-through, flanged, (r/D = 1)",
    "Darby threaded tee branch": "Tee, Through-branch, (as elbow), threaded, (r/D = 1)",
    "Darby flanged tee branch": "Tee, Through-branch, (as elbow), flanged, (r/D = 1)",
}

CORRELATIONS: Mapping[str, Correlation] = {
    **{name: _two_k(key) for name, key in TWO_K.items()},
    **{name: _three_k(key) for name, key in THREE_K.items()},
    "Rennels bend": partial(_bend, method="Rennels"),
    "Rennels tight bend": _rennels_tight,
    "Crane bend": lambda at: _crane_bend(at.bore, at.angle, at.bend),
    "Crane standard elbow": lambda at: _crane_standard(at.bore, at.angle),
    "Ito bend": _ito,
    "Miller bend": partial(_bend, method="Miller"),
    "Swamee bend": partial(_bend, method="Swamee"),
    "molded elbow": lambda at: measured.elbow(bore=at.bore, reynolds=at.reynolds, angle=at.angle),
    "molded elbow, lowest": lambda at: measured.elbow_lowest(bore=at.bore, angle=at.angle),
    "molded elbow, highest": lambda at: measured.elbow_highest(bore=at.bore, reynolds=at.reynolds, angle=at.angle),
    "screwed long 90": lambda at: measured.screwed_long_90(bore=at.bore),
    "duct miter": lambda at: measured.miter(angle=at.angle, reynolds=at.reynolds),
    "fabricated miter, lowest": lambda at: measured.fabricated_miter(angle=at.angle),
    "Rennels miter": partial(_miter, method="Rennels"),
    "Crane miter": partial(_miter, method="Crane"),
    "Blevins miter": partial(_miter, method="Blevins"),
    "Miller miter": partial(_miter, method="Miller"),
    "molded tee run": lambda at: measured.tee_run(bore=at.bore, reynolds=at.reynolds),
    "molded tee run, lowest": lambda at: measured.tee_run_lowest(bore=at.bore),
    "Crane tee run": lambda at: TEE_RUN_DIAMETERS * _fully_rough(at.bore),
    "molded tee branch": lambda at: measured.tee_branch(bore=at.bore, reynolds=at.reynolds),
    "molded tee branch, lowest": lambda at: measured.tee_branch_lowest(bore=at.bore),
    "molded tee branch, highest": lambda at: measured.tee_branch_highest(bore=at.bore, reynolds=at.reynolds),
    "Crane tee branch": lambda at: TEE_BRANCH_DIAMETERS * _fully_rough(at.bore),
    "molded expansion, lowest": lambda at: measured.expansion_lowest(at.bore / at.other_bore),
    "molded expansion, highest": lambda at: measured.expansion_highest(at.bore / at.other_bore),
    "molded reducer": lambda at: measured.reducer(at.bore / at.other_bore, part=0.5),
    "molded reducer, lowest": lambda at: measured.reducer(at.bore / at.other_bore, part=0.0),
    "molded reducer, highest": lambda at: measured.reducer(at.bore / at.other_bore, part=1.0),
    "molded bushing": lambda at: measured.reducer(at.bore / at.other_bore, part=0.5, table=measured.BUSHING),
    "molded bushing, lowest": lambda at: measured.reducer(at.bore / at.other_bore, part=0.0, table=measured.BUSHING),
    "molded bushing, highest": lambda at: measured.reducer(at.bore / at.other_bore, part=1.0, table=measured.BUSHING),
    "sudden expansion": partial(_sudden_expansion, method="Rennels"),
    "Rennels 30 degree cone expansion": partial(_cone_expansion, method="Rennels", angle=30.0),
    "Rennels 60 degree cone expansion": partial(_cone_expansion, method="Rennels", angle=60.0),
    "Crane 30 degree cone expansion": partial(_cone_expansion, method="Crane", angle=30.0),
    "Hooper sudden expansion": partial(_sudden_expansion, method="Hooper"),
    "Crane sudden contraction": partial(_sudden_contraction, method="Crane"),
    "Rennels sudden contraction": partial(_sudden_contraction, method="Rennels"),
    "Rennels 60 degree cone contraction": partial(_cone_contraction, method="Rennels", angle=60.0),
    "Crane 60 degree cone contraction": partial(_cone_contraction, method="Crane", angle=60.0),
    "Hooper sudden contraction": partial(_sudden_contraction, method="Hooper"),
}


def laminar_expansion(area_ratio: float) -> float:
    """Sudden expansion of a fully laminar stream, on the smaller pipe's velocity [-].

    The Borda-Carnot balance with a parabolic velocity on both sides: energy factor 2, momentum factor 4/3.

    area_ratio: smaller over larger area [-]
    """
    return 2.0 - 8.0 / 3.0 * area_ratio + 2.0 / 3.0 * area_ratio * area_ratio


def laminar_contraction(area_ratio: float, *, reynolds: float) -> float:
    """Sudden contraction of a laminar stream, on the smaller pipe's velocity [-]. Source: Hooper 1988.

    area_ratio: smaller over larger area [-]
    reynolds: in the smaller pipe [-]
    """
    # Hooper's Reynolds number is that of the larger pipe, upstream.
    upstream = reynolds * math.sqrt(area_ratio)
    return (1.2 + 160.0 / upstream) * (1.0 - area_ratio * area_ratio)
