"""The yardstick for the solver: the same calls of fluids for every piece at every rate, and nothing else.

No records, no bands, no cautions, nothing remembered from one piece to the next: about the least that a
script written for one job would do. The measured loss of a molded elbow, which fluids does not know, is ventsize's.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fluids.fittings import Darby3K, Hooper2K, bend_rounded, diffuser_conical, diffuser_sharp
from fluids.friction import friction_factor

from ventsize.flow import measured

INCH = 0.0254
OPEN_ENDS = {"terminal-open": 1.0, "entrance-open": 0.78}  # leaving, entering
HOOPER = {
    "elbow-90-long": ("Elbow, 90°, Long-radius (R/D = 1.5), All types",),
    "elbow-90-short": (
        "Elbow, 90°, Standard (R/D = 1), Screwed",
        "Elbow, 90°, Standard (R/D = 1), Flanged/welded",
    ),
}
DARBY = {
    "elbow-90-long": ("Elbow, 90°, threaded, long radius, (r/D = 1.5)",),
    "elbow-90-short": (
        "Elbow, 90°, threaded, standard, (r/D = 1)",
        "Elbow, 90°, flanged, welded, bends, (r/D = 1)",
    ),
}
BENDS = {
    "elbow-90-long": (("Crane", 1.5), ("Rennels", 1.5), ("Ito", 1.5)),
    "elbow-90-short": (
        ("Crane standard", 1.0), ("Crane", 1.0), ("Rennels", 1.0), ("Rennels", 0.65), ("Ito", 1.0),
    ),
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class BarePiece:
    """A piece as numbers: bore before and after, length, roughness [m]."""

    name: str
    bore: float
    bore_after: float
    length: float
    roughness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BareStream:
    """What flows: mass flow [kg/s], density [kg/m³], viscosity [Pa·s]."""

    mass_flow: float
    density: float
    viscosity: float


def bare_loop(chain: Sequence[BarePiece], stream: BareStream) -> float:
    """Pressure drop of a chain by the nominal methods [Pa]; the others are called and thrown away."""
    drop = 0.0
    for piece in chain:
        velocity = stream.mass_flow / (stream.density * math.pi / 4 * piece.bore**2)
        reynolds = stream.density * velocity * piece.bore / stream.viscosity
        factor = friction_factor(Re=reynolds, eD=piece.roughness / piece.bore)
        if piece.length:
            k = factor * piece.length / piece.bore
        elif piece.name in OPEN_ENDS:
            k = OPEN_ENDS[piece.name]
        elif piece.name == "increaser":
            k = _increaser(piece, reynolds, factor)
        else:
            k = _elbow(piece, reynolds, factor)
        drop += k * stream.density * velocity**2 / 2
    return drop


def _elbow(piece: BarePiece, reynolds: float, factor: float) -> float:
    by_hooper = [Hooper2K(Di=piece.bore / INCH, Re=reynolds, name=name) for name in HOOPER[piece.name]]
    for name in DARBY[piece.name]:
        Darby3K(Di=piece.bore, Re=reynolds, name=name)
    for method, diameters in BENDS[piece.name]:
        bend_rounded(
            Di=piece.bore, angle=90.0, fd=factor, bend_diameters=diameters, Re=reynolds,
            roughness=piece.roughness, method=method,
        )  # fmt: skip
    measured_there = measured.elbow(bore=piece.bore, reynolds=reynolds, angle=90.0)
    return float(by_hooper[0] if piece.name == "elbow-90-long" else measured_there)


def _increaser(piece: BarePiece, reynolds: float, factor: float) -> float:
    for angle, method in ((30.0, "Crane"), (30.0, "Rennels"), (60.0, "Rennels")):
        diffuser_conical(
            Di1=piece.bore, Di2=piece.bore_after, angle=angle, fd=factor, Re=reynolds,
            roughness=piece.roughness, method=method,
        )  # fmt: skip
    return float(diffuser_sharp(Di1=piece.bore, Di2=piece.bore_after))
